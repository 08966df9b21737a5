package cli

import (
	"github.com/spf13/cobra"

	"relath/advisor/rule"
	"relath/advisor/swap"
)

// inFull is the number of swaps that a page of advice writes out in full.
const inFull = 5

func (a *app) advise() *cobra.Command {
	var name, layer string
	var all bool
	var fail failFlag
	var hourly hourlyFlags
	c := &cobra.Command{
		Use:   "advise FILE",
		Short: "Find swaps that let an assembly dry, each computed again",
		Long: `advise says what stands out in each assembly, then applies every swap it knows to
the description, computes the changed assembly again, and shows what holds up:
what changes, before and after, what it clears, what it makes worse, what the
code asks, who must agree and which cautions go with it. What was turned down
keeps its reason. Sometimes the answer is to leave it alone.`,
		Example: `  relath advise house.yaml
  relath advise house.yaml --assembly "north wall" --layer sheathing
  relath advise house.yaml --hourly
  relath advise house.yaml --all -o advice.html
  relath advise house.yaml --json | jq -r '.data[].proposals[].id'`,
		Args: one("FILE"),
		RunE: func(c *cobra.Command, args []string) error {
			if err := fail.check(); err != nil {
				return err
			}
			base, list, err := a.chosen(args[0], name)
			if err != nil {
				return err
			}
			advice, err := a.advised(c.Context(), base, list, swap.Options{Layer: layer}, &hourly)
			if err != nil {
				return err
			}
			m := a.maker(base)
			full := inFull
			if all {
				full = 0
			}
			if err := a.page("advice", m.Advice(advice, full), func() (any, error) { return m.AdviceData(advice) }); err != nil {
				return err
			}
			var found []rule.Finding
			for _, x := range advice {
				found = append(found, x.Findings...)
			}
			return fail.result(found)
		},
	}
	c.Flags().StringVar(&name, "assembly", "", "only the assembly of this name")
	c.Flags().StringVar(&layer, "layer", "", "only swaps of the layer of this name")
	c.Flags().BoolVar(&all, "all", false, "write every swap out in full")
	fail.add(c)
	hourly.addSwitch(c)
	return c
}
