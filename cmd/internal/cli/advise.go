package cli

import (
	"github.com/spf13/cobra"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/advisor/takeoff"
	"relath/kb"
)

// inFull is the number of swaps that a page of advice writes out in full.
const inFull = 5

func (a *app) advise() *cobra.Command {
	var name, layer string
	var all bool
	var fail failFlag
	var hourly hourlyFlags
	var plans planFlags
	c := &cobra.Command{
		Use:   "advise FILE",
		Short: "Find swaps that let an assembly dry, each computed again",
		Long: `advise says what stands out in each assembly, then applies every swap it knows to
the description, computes the changed assembly again, and shows what holds up:
what changes, before and after, what it clears, what it makes worse, what the
code asks, who must agree and which cautions go with it. What was turned down
keeps its reason. Sometimes the answer is to leave it alone.

The swaps are then combined into a handful of plans for the whole assembly, each
the best at something, each computed again as a whole. With a price book, given
with --prices or named in the description, cost is one of the things.`,
		Example: `  relath advise house.yaml
  relath advise house.yaml --assembly "north wall" --layer sheathing
  relath advise house.yaml --prefer drying --keep siding --no adhesive
  relath advise house.yaml --prices prices.yaml --budget 9000 --only available
  relath advise house.yaml --hourly
  relath advise house.yaml --all -o advice.html
  relath advise house.yaml --pictures drawings
  relath advise house.yaml --json | jq -r '.data.assemblies[].proposals[].id'`,
		Args: one("FILE"),
		RunE: func(c *cobra.Command, args []string) error {
			if err := fail.check(); err != nil {
				return err
			}
			if _, err := a.ready(); err != nil {
				return err
			}
			base, list, finishes, err := a.advisable(args[0], name, layer)
			if err != nil {
				return err
			}
			var book *takeoff.PriceBook
			if len(list) > 0 {
				if book, err = plans.prices.book(a, base, list[0].House, args[0]); err != nil {
					return err
				}
			}
			narrow, err := plans.options(base, book)
			if err != nil {
				return err
			}
			advice, err := a.advised(c.Context(), base, list, swap.Options{Layer: layer}, &hourly)
			if err != nil {
				return err
			}
			if layer == "" {
				if narrow.Hourly, err = hourly.forPlans(a, list); err != nil {
					return err
				}
				if err := advisor.PlanAll(c.Context(), a.tester(base), advice, narrow); err != nil {
					return computed(err, new(*advisor.ChoiceError))
				}
			}
			m := a.maker(base)
			full := inFull
			if all {
				full = 0
			}
			if err := a.page("advice", m.Advice(advice, finishes, full), func() (any, error) { return m.HouseAdviceData(advice, finishes) }); err != nil {
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
	plans.add(c)
	a.addPictures(c)
	return c
}

// advisable loads a description and picks what to advise on: the assemblies of
// a name, and without a name or layer the finishes too. A house may have
// finishes only.
func (a *app) advisable(file, name, layer string) (*kb.Base, []*assembly.Assembly, []swap.FinishAdvice, error) {
	base, house, err := a.house(file)
	if err != nil {
		return nil, nil, nil, err
	}
	if name != "" || layer != "" {
		list, err := advisor.Choose(house, name)
		return base, list, nil, err
	}
	finishes := swap.Finishes(a.tester(base), house)
	if len(house.Assemblies) == 0 && len(finishes) > 0 {
		return base, nil, finishes, nil
	}
	list, err := advisor.Choose(house, name)
	return base, list, finishes, err
}
