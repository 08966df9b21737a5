package cli

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"relath/advisor/census"
	"relath/kb"
	"relath/kb/lint"
)

func (a *app) baseVerb() *cobra.Command {
	c := &cobra.Command{
		Use:   "base",
		Short: "Look after the base: check it, report what it rests on",
		Long:  `base looks after the knowledge base and what a folder of --base lays over it.`,
		Example: `  relath base check --base my-materials
  relath base report -o evidence.html`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(a.baseCheck(), a.baseReport())
	return c
}

func (a *app) baseCheck() *cobra.Command {
	return &cobra.Command{
		Use:   "check",
		Short: "Check the base and a folder laid over it",
		Long: `check reads the base with the folder of --base and reports every problem with its
line: unknown keys, units, ids, sources, figures that contradict each other.`,
		Example: `  relath base check
  relath base check --base my-materials`,
		Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			base, err := a.positioned()
			if err != nil {
				return err
			}
			problems := lint.Check(base)
			for _, p := range problems {
				fmt.Fprintln(a.Err, p)
			}
			switch n := len(problems); {
			case n == 1:
				return errors.New("the base has a problem")
			case n > 1:
				return fmt.Errorf("the base has %d problems", n)
			}
			m := a.maker(base)
			return a.page("base", m.BaseSound(), given(nil))
		},
	}
}

// positioned decodes the base from its files, so that problems have lines.
func (a *app) positioned() (*kb.Base, error) {
	var err error
	a.opened, err = kb.Decode(kb.Options{Overlay: a.overlay})
	return a.opened, err
}

func (a *app) baseReport() *cobra.Command {
	return &cobra.Command{
		Use:   "report",
		Short: "Report what the numbers of the base rest on",
		Long: `report counts the values of the base by mark of evidence, by property, family and
source, and shows which values decide the most, where sources disagree, what can
be simulated hour by hour, and what is missing.`,
		Example: `  relath base report
  relath base report -o evidence.html`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			base, err := a.base()
			if err != nil {
				return err
			}
			counted, err := census.Take(c.Context(), base)
			if err != nil {
				return computed(err)
			}
			m := a.maker(base)
			return a.page("evidence", m.Census(counted), given(counted))
		},
	}
}
