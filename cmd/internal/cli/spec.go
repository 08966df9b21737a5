package cli

import (
	"context"

	"github.com/spf13/cobra"

	"relath/advisor"
	"relath/advisor/report"
	"relath/kb"
)

func (a *app) spec() *cobra.Command {
	f := choiceFlags{}
	c := &cobra.Command{
		Use:   "spec FILE",
		Short: "Print the specification of a house with its plans",
		Long: `spec applies a plan to each assembly and prints what each trade can build from:
sections in three parts under the numbers of the trade, products by the widest
range of properties with which every check still passes, quantities, the sequence
of the work, hold points, who must agree, cautions, care, a form for
substitutions, and the changed description. Without --plan and --prefer it takes
for each assembly the first swap of advise that clears a finding; --plan as-described changes
nothing and specifies what the file proposes.`,
		Example: `  relath spec house.yaml -o spec.html
  relath spec house.yaml --assembly "north wall" --plan variable-retarder-for-plastic-film@poly
  relath spec house.yaml --plan "north wall=FIRST-ID" --plan "attic=SECOND-ID" --start 2027-04-05
  relath spec house.yaml --plan as-described
  relath spec house.yaml --pictures drawings`,
		Args: one("FILE"),
		RunE: func(c *cobra.Command, args []string) error {
			if _, err := a.ready(); err != nil {
				return err
			}
			base, s, err := a.papers(c.Context(), args[0], &f, false)
			if err != nil {
				return err
			}
			m := a.maker(base)
			return a.page("spec", m.Spec(s), func() (any, error) { return m.SpecData(s) })
		},
	}
	f.add(c)
	a.addPictures(c)
	return c
}

// papers gathers what the papers of a house are made of.
func (a *app) papers(ctx context.Context, file string, f *choiceFlags, whole bool) (*kb.Base, report.Spec, error) {
	base, h, err := a.house(file)
	if err != nil {
		return nil, report.Spec{}, err
	}
	f.best = len(f.plans) == 0 && f.prefer == ""
	choice, err := f.choice(h)
	if err != nil {
		return nil, report.Spec{}, err
	}
	w := advisor.Wishes{Whole: whole}
	if w.Start, err = f.date(); err != nil {
		return nil, report.Spec{}, err
	}
	if w.Prices, err = f.prices.book(a, base, h, file); err != nil {
		return nil, report.Spec{}, err
	}
	s, err := advisor.Spec(ctx, a.tester(base), h, choice, w)
	return base, s, computed(err, new(*advisor.ChoiceError), new(*advisor.PlanError))
}
