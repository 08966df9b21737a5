package cli

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/swap"
	"relath/advisor/takeoff"
	"relath/kb"
	"relath/kb/quantity"
)

// planFlags narrow the plans of advise.
type planFlags struct {
	prefer, thickness string
	keep, no          []string
	reno, front       bool
	prices            pricesFlag
	budget, only      string
}

func (f *planFlags) add(c *cobra.Command) {
	c.Flags().StringVar(&f.prefer, "prefer", "", "the plan that is best at this first: "+strings.Join(swap.Goal("").Allowed(), ", "))
	c.Flags().StringSliceVar(&f.keep, "keep", nil, "name of a layer that stays as it is in every plan")
	c.Flags().StringVar(&f.thickness, "max-thickness", "", `no plan thicker than this over all layers, such as "9 in"`)
	c.Flags().StringSliceVar(&f.no, "no", nil, `a material or family that no plan puts in, or "adhesive" for nothing with glue`)
	c.Flags().BoolVar(&f.reno, "reno", false, "what stays behind the room side stays: only its boards, plaster and coats change")
	f.prices.add(c)
	c.Flags().StringVar(&f.budget, "budget", "", "no plan that costs more, material and labor, in the currency of the price book")
	c.Flags().StringVar(&f.only, "only", "", "available: plans put in only materials that the price book has")
	c.Flags().BoolVar(&f.front, "front", false, "compute and list every combination that nothing beats")
}

// options checks the flags against the base and the price book.
func (f *planFlags) options(base *kb.Base, book *takeoff.PriceBook) (swap.PlanOptions, error) {
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
	if f.thickness != "" {
		var err error
		if o.MaxThickness, err = quantity.Parse(f.thickness, quantity.Length); err != nil {
			return o, fmt.Errorf("--max-thickness: %w", err)
		}
	}
	err := f.withPrices(base, book, &o)
	return o, err
}

// withPrices adds what asks for prices.
func (f *planFlags) withPrices(base *kb.Base, book *takeoff.PriceBook, o *swap.PlanOptions) error {
	if f.only != "" && f.only != "available" {
		return fmt.Errorf("--only %q is not known; allowed: available", f.only)
	}
	if book == nil {
		for _, asked := range []struct {
			flag string
			on   bool
		}{{"--prefer cost", o.Prefer == swap.Cost}, {"--budget", f.budget != ""}, {"--only available", f.only != ""}} {
			if asked.on {
				return fmt.Errorf("%s needs prices: give a price book with --prices, or name one in the description as prices", asked.flag)
			}
		}
		return nil
	}
	o.Costing, o.Available = advisor.Costing(base, book), f.only != ""
	if f.budget == "" {
		return nil
	}
	amount := strings.ReplaceAll(strings.TrimSpace(strings.TrimSuffix(f.budget, book.Currency)), ",", "")
	var err error
	if o.Budget, err = quantity.Parse(amount, quantity.Number); err != nil || o.Budget <= 0 {
		return fmt.Errorf("--budget %q is no amount; write a number above 0 in %s, such as 12000", f.budget, book.Currency)
	}
	return nil
}

// forPlans gives the wishes for hourly runs of plans, nil where none are made.
func (f *hourlyFlags) forPlans(a *app, list []*assembly.Assembly) (*advisor.Hourly, error) {
	if !f.on {
		return nil, nil
	}
	o, err := f.wishes(a, list, "verifying plans")
	return &o, err
}
