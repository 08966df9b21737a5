package cli

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/swap"
	"relath/advisor/takeoff"
)

// choiceFlags say which plans are built, for which prices and from when.
type choiceFlags struct {
	assembly string
	plans    []string
	best     bool
	prefer   string
	prices   pricesFlag
	start    string
}

func (f *choiceFlags) add(c *cobra.Command) {
	flags := c.Flags()
	flags.StringVar(&f.assembly, "assembly", "", "only the assembly of this name")
	flags.StringSliceVar(&f.plans, "plan", nil, `id of a plan or of a swap, "ASSEMBLY=ID", or "ROOM PART=ID" for a finish; may be given for each`)
	flags.StringVar(&f.prefer, "prefer", "", "for every assembly without --plan, the plan that is best at this: "+strings.Join(swap.Goal("").Allowed(), ", "))
	f.prices.add(c)
	flags.StringVar(&f.start, "start", "", "date on which work begins, such as 2027-04-05")
}

// choice checks the flags against the house.
func (f *choiceFlags) choice(h *assembly.Resolved) (advisor.Choice, error) {
	c := advisor.Choice{Assembly: f.assembly, Plans: f.plans, Best: f.best, Prefer: swap.Goal(f.prefer)}
	if f.prefer != "" && !slices.Contains(c.Prefer.Allowed(), f.prefer) {
		return c, fmt.Errorf("--prefer %q is not known; allowed: %s", f.prefer, strings.Join(c.Prefer.Allowed(), ", "))
	}
	if f.assembly != "" {
		if _, err := advisor.Choose(h, f.assembly); err != nil {
			return c, err
		}
	}
	return c, nil
}

// date reads --start; it is zero where it is not given.
func (f *choiceFlags) date() (time.Time, error) {
	if f.start == "" {
		return time.Time{}, nil
	}
	d, err := takeoff.ParseDate(f.start)
	if err != nil {
		return d, fmt.Errorf("--start: %w", err)
	}
	return d, nil
}

func names(list []*assembly.Assembly) []string {
	var out []string
	for _, x := range list {
		out = append(out, x.Name)
	}
	return out
}
