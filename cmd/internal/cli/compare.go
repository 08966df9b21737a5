package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/kb"
)

func (a *app) compare() *cobra.Command {
	var name string
	var plans []string
	c := &cobra.Command{
		Use:   "compare FILE...",
		Short: "Put assemblies and plans side by side",
		Long: `compare analyzes the assemblies of one or several descriptions and puts them side
by side: what is computed, what stands out, who takes each duty. With --plan it
adds, for each id that advise gives, the assembly with that plan or swap.`,
		Example: `  relath compare house.yaml
  relath compare before.yaml after.yaml --assembly "north wall"
  relath compare house.yaml --assembly "north wall" --plan variable-retarder-for-plastic-film@poly`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			if _, err := a.ready(); err != nil {
				return err
			}
			side := &beside{app: a}
			for _, file := range args {
				base, list, err := a.chosen(file, name)
				if err != nil {
					return fmt.Errorf("%s: %w", file, err)
				}
				if err := side.add(c, base, list, prefix(file, len(args)), plans); err != nil {
					return err
				}
			}
			m := a.maker(side.base)
			return a.page("comparison", m.Compare(side.names, side.list), func() (any, error) { return m.CompareData(side.names, side.list), nil })
		},
	}
	c.Flags().StringVar(&name, "assembly", "", "only the assembly of this name of each file")
	c.Flags().StringSliceVar(&plans, "plan", nil, "id of a plan or swap to put beside its assembly")
	return c
}

// prefix names a file where there are several.
func prefix(file string, files int) string {
	if files == 1 {
		return ""
	}
	return file + ": "
}

// beside collects what is put side by side.
type beside struct {
	*app
	base  *kb.Base
	names []string
	list  []report.Analysis
}

// add analyzes the assemblies of a file and their plans.
func (b *beside) add(c *cobra.Command, base *kb.Base, list []*assembly.Assembly, file string, plans []string) error {
	b.base = base
	if len(plans) > 0 && len(list) != 1 {
		var names []string
		for _, x := range list {
			names = append(names, x.Name)
		}
		return &advisor.ChoiceError{What: "assembly", Allowed: names, Flag: "--assembly"}
	}
	found, err := advisor.Analyze(c.Context(), b.tester(base), list)
	if err != nil {
		return computed(err)
	}
	for i, x := range list {
		b.names, b.list = append(b.names, file+x.Name), append(b.list, found[i])
	}
	for _, id := range plans {
		p, err := advisor.Plan(c.Context(), b.tester(base), list[0], []string{id})
		if err != nil {
			return computed(err, new(*advisor.ChoiceError), new(*advisor.PlanError))
		}
		b.names = append(b.names, file+"with "+id)
		b.list = append(b.list, report.Analysis{Result: p.After, Findings: p.Findings, Cautions: p.Cautions})
	}
	return nil
}
