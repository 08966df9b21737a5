package cli

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/kb"
)

func (a *app) compare() *cobra.Command {
	var name string
	var plans []string
	var prices pricesFlag
	var hourly hourlyFlags
	c := &cobra.Command{
		Use:   "compare FILE[:ASSEMBLY]...",
		Short: "Put assemblies and plans side by side",
		Long: `compare analyzes the assemblies of one or several descriptions and puts them side
by side, as tables and charts: what is computed, what it costs where there are
prices, how each could dry, where water collects, what stands out, who takes each
duty. With --plan it adds, for each id that advise gives, the assembly with that
plan or swap. A file and one of its assemblies can be named together.`,
		Example: `  relath compare house.yaml
  relath compare house.yaml -o walls.xlsx
  relath compare before.yaml after.yaml --assembly "north wall"
  relath compare "house.yaml:north wall" "other.yaml:south wall"
  relath compare house.yaml --pictures drawings
  relath compare house.yaml --assembly "north wall" --plan variable-retarder-for-plastic-film@poly`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			if _, err := a.ready(xlsxForm()); err != nil {
				return err
			}
			side := &beside{app: a, prices: prices, hourly: hourly, plans: plans}
			for _, arg := range args {
				file, of := fileAndName(arg)
				if of == "" {
					of = name
				}
				if err := side.add(c.Context(), file, of, prefix(file, args)); err != nil {
					return err
				}
			}
			m := a.maker(side.base)
			return a.page("comparison", m.Compare(side.list), func() (any, error) { return m.CompareData(side.list), nil },
				table{xlsxForm(), func() ([]byte, error) { return m.CompareXLSX(side.list) }})
		},
	}
	c.Flags().StringVar(&name, "assembly", "", "only the assembly of this name of each file")
	c.Flags().StringSliceVar(&plans, "plan", nil, "id of a plan or swap to put beside its assembly")
	prices.add(c)
	hourly.addSwitch(c)
	a.addPictures(c)
	return c
}

// fileAndName takes the name of an assembly off an argument, unless there is a
// file of the whole name.
func fileAndName(arg string) (file, name string) {
	at := strings.LastIndexByte(arg, ':')
	if at <= 0 {
		return arg, ""
	}
	if _, err := os.Stat(arg); err == nil {
		return arg, ""
	}
	return arg[:at], arg[at+1:]
}

// prefix names a file where there are several.
func prefix(file string, args []string) string {
	if slices.ContainsFunc(args, func(arg string) bool { other, _ := fileAndName(arg); return other != file }) {
		return file + ": "
	}
	return ""
}

// beside collects what is put side by side.
type beside struct {
	*app
	prices pricesFlag
	hourly hourlyFlags
	plans  []string
	base   *kb.Base
	list   []report.Beside
}

// add analyzes the assemblies of a name of a file and their plans.
func (b *beside) add(ctx context.Context, file, name, prefix string) error {
	base, house, err := b.house(file)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	list, err := advisor.Choose(house, name)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	if len(b.plans) > 0 && len(list) != 1 {
		return &advisor.ChoiceError{What: "assembly", Allowed: names(list), Flag: "--assembly"}
	}
	book, err := b.prices.book(b.app, base, house, file)
	if err != nil {
		return err
	}
	b.base = base
	plans, titles, err := b.planned(ctx, list)
	if err != nil {
		return err
	}
	var after []*assembly.Assembly
	for _, p := range plans {
		after = append(after, p.After.Assembly)
	}
	found, _, err := b.analyzed(ctx, base, after, &b.hourly)
	if err != nil {
		return err
	}
	costing := advisor.Costing(base, book)
	for i, p := range plans {
		b.list = append(b.list, report.Beside{
			Name: prefix + titles[i], About: p.Words(), Analysis: found[i], Costs: advisor.PriceOf(costing, p), Costing: costing,
		})
	}
	return nil
}

// planned gives assemblies as described and then with each of the plans.
func (b *beside) planned(ctx context.Context, list []*assembly.Assembly) ([]report.Plan, []string, error) {
	var plans []report.Plan
	var titles []string
	add := func(a *assembly.Assembly, id, title string) error {
		p, err := advisor.Plan(ctx, b.tester(b.base), a, []string{id})
		plans, titles = append(plans, p), append(titles, title)
		return computed(err, new(*advisor.ChoiceError), new(*advisor.PlanError))
	}
	for _, x := range list {
		if err := add(x, advisor.AsDescribed, x.Name); err != nil {
			return nil, nil, err
		}
	}
	for i, id := range b.plans {
		if err := add(list[0], id, fmt.Sprintf("with plan %d", i+1)); err != nil {
			return nil, nil, err
		}
	}
	return plans, titles, nil
}
