package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/takeoff"
	"relath/kb"
)

// orderFlags say what is ordered.
type orderFlags struct {
	name   string
	plan   []string
	prices pricesFlag
	start  string
	all    bool
}

func (a *app) order() *cobra.Command {
	var f orderFlags
	c := &cobra.Command{
		Use:   "order FILE",
		Short: "Print what to buy, what it costs, and in which order it is built",
		Long: `order takes the quantities of what a house proposes: net areas, lengths and
volumes place by place, and the list by kind of supplier with waste. With a price
book, given with --prices or named in the description, it gives the cost, with a start date the sequence of work with curing times.
What stands is left out; --plan adds a swap or plan for one assembly.`,
		Example: `  relath order house.yaml
  relath order house.yaml --assembly "north wall" --plan variable-retarder-for-plastic-film@poly
  relath order house.yaml --prices prices.yaml --start 2027-04-05
  relath order house.yaml -o list.csv
  relath order house.yaml -o order.xlsx`,
		Args: one("FILE"),
		RunE: func(c *cobra.Command, args []string) error { return a.runOrder(c, args[0], &f) },
	}
	flags := c.Flags()
	flags.StringVar(&f.name, "assembly", "", "the assembly that the plan changes")
	flags.StringSliceVar(&f.plan, "plan", nil, "id of a plan or of a swap, or several swaps in the order they are applied")
	f.prices.add(c)
	flags.StringVar(&f.start, "start", "", "date on which work begins, such as 2027-04-05")
	flags.BoolVar(&f.all, "all", false, "count what stands too")
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
	w := advisor.Ordering{Plan: f.plan, All: f.all}
	if f.name != "" && len(f.plan) == 0 {
		return w, fmt.Errorf("--assembly goes with --plan; without a plan the whole house is ordered")
	}
	if len(f.plan) > 0 {
		list, err := advisor.Choose(h, f.name)
		if err != nil {
			return w, err
		}
		if len(list) > 1 {
			return w, &advisor.ChoiceError{What: "assembly", Allowed: names(list), Flag: "--assembly"}
		}
		w.Assembly = list[0]
	}
	if f.start != "" {
		var err error
		if w.Start, err = takeoff.ParseDate(f.start); err != nil {
			return w, fmt.Errorf("--start: %w", err)
		}
		w.Schedule = true
	}
	var err error
	w.Prices, err = f.prices.book(a, base, h, file)
	return w, err
}

func names(list []*assembly.Assembly) []string {
	var out []string
	for _, x := range list {
		out = append(out, x.Name)
	}
	return out
}
