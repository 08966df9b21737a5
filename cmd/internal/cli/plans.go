package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/swap"
	"relath/kb"
	"relath/kb/quantity"
)

// planFlags narrow the plans of advise.
type planFlags struct {
	prefer, thickness string
	keep, no          []string
	reno, front       bool
}

func (f *planFlags) add(c *cobra.Command) {
	c.Flags().StringVar(&f.prefer, "prefer", "", "the plan that is best at this first: "+strings.Join(swap.Goal("").Allowed(), ", "))
	c.Flags().StringSliceVar(&f.keep, "keep", nil, "name of a layer that stays as it is in every plan")
	c.Flags().StringVar(&f.thickness, "max-thickness", "", `no plan thicker than this over all layers, such as "9 in"`)
	c.Flags().StringSliceVar(&f.no, "no", nil, `a material or family that no plan puts in, or "adhesive" for nothing with glue`)
	c.Flags().BoolVar(&f.reno, "reno", false, "what stays behind the room side stays: only its boards, plaster and coats change")
	c.Flags().BoolVar(&f.front, "front", false, "compute and list every combination that nothing beats")
}

// options checks the flags against the base.
func (f *planFlags) options(base *kb.Base) (swap.PlanOptions, error) {
	o := swap.PlanOptions{Prefer: swap.Goal(f.prefer), Keep: f.keep, No: f.no, Reno: f.reno, Front: f.front}
	if f.prefer != "" && !slices.Contains(o.Prefer.Allowed(), f.prefer) {
		return o, fmt.Errorf("--prefer %q is not known; allowed: %s", f.prefer, strings.Join(o.Prefer.Allowed(), ", "))
	}
	for _, name := range f.no {
		known := slices.ContainsFunc(base.Materials, func(m *kb.Material) bool { return m.ID == name || m.Family == name })
		if !known && name != "adhesive" {
			return o, fmt.Errorf("--no %q is no material and no family of the base, nor adhesive; relath search finds materials", name)
		}
	}
	if f.thickness == "" {
		return o, nil
	}
	var err error
	if o.MaxThickness, err = quantity.Parse(f.thickness, quantity.Length); err != nil {
		return o, fmt.Errorf("--max-thickness: %w", err)
	}
	return o, nil
}

// forPlans gives the wishes for hourly runs of plans, nil where none are made.
func (f *hourlyFlags) forPlans(a *app, list []*assembly.Assembly) (*advisor.Hourly, error) {
	if !f.on {
		return nil, nil
	}
	o, err := f.wishes(a, list, "verifying plans")
	return &o, err
}
