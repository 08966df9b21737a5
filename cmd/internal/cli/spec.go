package cli

import (
	"github.com/spf13/cobra"

	"relath/advisor"
)

func (a *app) spec() *cobra.Command {
	var name string
	var plan []string
	var prices pricesFlag
	c := &cobra.Command{
		Use:   "spec FILE",
		Short: "Print the spec sheet of a plan",
		Long: `spec applies a plan, one or more swaps by their ids, to one assembly and prints
the sheet that each trade can build from: materials with the limits to hold,
layers, coats, how it is built, cured and inspected, who must agree, cautions and
sources, its cost where there are prices, and the changed description. Without
--plan it takes the first swap that advise proposes; --plan as-described changes
nothing.`,
		Example: `  relath spec house.yaml -o spec.html
  relath spec house.yaml --assembly "north wall" --plan variable-retarder-for-plastic-film@poly
  relath spec house.yaml --plan FIRST-ID --plan SECOND-ID
  relath spec house.yaml --plan as-described`,
		Args: one("FILE"),
		RunE: func(c *cobra.Command, args []string) error {
			if _, err := a.ready(); err != nil {
				return err
			}
			base, house, err := a.house(args[0])
			if err != nil {
				return err
			}
			list, err := advisor.Choose(house, name)
			if err != nil {
				return err
			}
			book, err := prices.book(a, base, house, args[0])
			if err != nil {
				return err
			}
			if len(list) > 1 {
				return &advisor.ChoiceError{What: "assembly", Allowed: names(list), Flag: "--assembly"}
			}
			p, err := advisor.Plan(c.Context(), a.tester(base), list[0], plan)
			if err != nil {
				return computed(err, new(*advisor.ChoiceError), new(*advisor.PlanError))
			}
			p.Cost = advisor.CostOf(base, book, p)
			m := a.maker(base)
			return a.page("spec", m.Spec(p), func() (any, error) { return m.SpecData(p) })
		},
	}
	c.Flags().StringVar(&name, "assembly", "", "the assembly of this name")
	c.Flags().StringSliceVar(&plan, "plan", nil, "id of a plan or of a swap, or several swaps in the order they are applied")
	prices.add(c)
	return c
}
