package cli

import (
	"github.com/spf13/cobra"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/kb"
)

// orderFlags say what is ordered.
type orderFlags struct {
	choiceFlags
	all bool
}

func (a *app) order() *cobra.Command {
	var f orderFlags
	c := &cobra.Command{
		Use:   "order FILE",
		Short: "Print what to buy, what it costs, and in which order it is built",
		Long: `order takes the quantities of what a house proposes: net areas, lengths and
volumes place by place, and the list by kind of supplier with waste. With a price
book, given with --prices or named in the description, it gives the cost, with a
start date the sequence of work with curing times.
What stands is left out. Plans are added with --plan, --prefer or --best, for one
assembly or for all of them.`,
		Example: `  relath order house.yaml
  relath order house.yaml --best
  relath order house.yaml --plan "north wall=variable-retarder-for-plastic-film@poly"
  relath order house.yaml --prices prices.yaml --start 2027-04-05
  relath order house.yaml -o list.csv
  relath order house.yaml -o order.xlsx`,
		Args: one("FILE"),
		RunE: func(c *cobra.Command, args []string) error { return a.runOrder(c, args[0], &f) },
	}
	f.add(c)
	c.Flags().BoolVar(&f.best, "best", false, "for every assembly without --plan, the first swap of advise that clears a finding")
	c.Flags().BoolVar(&f.all, "all", false, "count what stands too")
	return c
}

func (a *app) runOrder(c *cobra.Command, file string, f *orderFlags) error {
	if _, err := a.ready(csvForm(), xlsxForm()); err != nil {
		return err
	}
	base, h, err := a.house(file)
	if err != nil {
		return err
	}
	w, err := f.wishes(a, base, h, file)
	if err != nil {
		return err
	}
	o, err := advisor.Order(c.Context(), a.tester(base), h, w)
	if err != nil {
		return computed(err, new(*advisor.ChoiceError), new(*advisor.PlanError))
	}
	m := a.maker(base)
	return a.page("order", m.Order(o), func() (any, error) { return m.OrderData(o), nil },
		table{csvForm(), func() ([]byte, error) { return m.OrderCSV(o) }},
		table{xlsxForm(), func() ([]byte, error) { return m.OrderXLSX(o) }})
}

// wishes reads the flags.
func (f *orderFlags) wishes(a *app, base *kb.Base, h *assembly.Resolved, file string) (advisor.Ordering, error) {
	w := advisor.Ordering{All: f.all}
	var err error
	if w.Choice, err = f.choice(h); err != nil {
		return w, err
	}
	if w.Start, err = f.date(); err != nil {
		return w, err
	}
	w.Schedule = !w.Start.IsZero()
	w.Prices, err = f.prices.book(a, base, h, file)
	return w, err
}
