package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"relath/advisor/report"
	"relath/kb/strict"
)

func (a *app) starters() *cobra.Command {
	var id string
	c := &cobra.Command{
		Use:   "new",
		Short: "Begin a description from a typical assembly of an era",
		Long: `new writes a description file to begin from: a starter, a typical assembly of an
era, with what to confirm on site. Without --starter it lists the starters.`,
		Example: `  relath new
  relath new --starter wall-1981-2000 -o house.yaml`,
		Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			base, err := a.base()
			if err != nil {
				return err
			}
			if id == "" {
				m := a.maker(base)
				return a.page("starters", m.Starters(), given(report.StarterData(base)))
			}
			s := base.Starter(id)
			if s == nil {
				known := make([]string, len(base.Starters))
				for i, x := range base.Starters {
					known[i] = x.ID
				}
				return fmt.Errorf("starter %q is not in the base; %srelath new lists them", id, meant(id, known))
			}
			return a.write([]byte(report.StarterFile(s)))
		},
	}
	c.Flags().StringVar(&id, "starter", "", "id of the starter")
	return c
}

// meant words the id that was probably meant.
func meant(id string, known []string) string {
	if near := strict.Suggest(id, known); near != "" {
		return fmt.Sprintf("did you mean %q? ", near)
	}
	return ""
}
