package cli

import (
	"github.com/spf13/cobra"

	"relath/advisor/report"
)

func (a *app) check() *cobra.Command {
	return &cobra.Command{
		Use:   "check FILE",
		Short: "Check a description and say what was understood",
		Long: `check reads a description file and the price book that it names, reports every
problem with its line, and when there is none says what was understood:
assemblies, layers, what is left open and which defaults were taken.`,
		Example: `  relath check house.yaml
  relath check - < house.yaml`,
		Args: one("FILE"),
		RunE: func(_ *cobra.Command, args []string) error {
			base, house, err := a.house(args[0])
			if err != nil {
				return err
			}
			if _, err := new(pricesFlag).book(a, base, house, args[0]); err != nil {
				return err
			}
			m := a.maker(base)
			return a.page("check", m.Understood(house), given(report.UnderstoodData(house)))
		},
	}
}
