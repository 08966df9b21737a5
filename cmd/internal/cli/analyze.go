package cli

import (
	"github.com/spf13/cobra"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
)

func (a *app) analyze() *cobra.Command {
	var name string
	var fail failFlag
	var hourly hourlyFlags
	c := &cobra.Command{
		Use:   "analyze FILE",
		Short: "Analyze the assemblies of a house as they are described",
		Long: `analyze says of each assembly what stands out, what each layer is to heat and
vapor, how much water could leave from there to both sides by season, and what
the models say of the whole, with ranges, marks of evidence and sources. A house
of several assemblies, finishes, rooms or cold surfaces comes first as a whole.`,
		Example: `  relath analyze house.yaml
  relath analyze house.yaml --assembly "north wall" --si
  relath analyze house.yaml --hourly
  relath analyze house.yaml -o wall.html
  relath analyze house.yaml --pictures drawings
  relath analyze house.yaml --json | jq '.data[0].findings'
  relath analyze house.yaml --fail-on warn`,
		Args: one("FILE"),
		RunE: func(c *cobra.Command, args []string) error {
			if err := fail.check(); err != nil {
				return err
			}
			if _, err := a.ready(); err != nil {
				return err
			}
			base, house, list, err := a.analyzable(args[0], name)
			if err != nil {
				return err
			}
			results, under, err := a.analyzed(c.Context(), base, list, &hourly)
			if err != nil {
				return err
			}
			if err := a.analysisPage(c.Context(), base, house, name == "", results, under); err != nil {
				return err
			}
			var found []rule.Finding
			for _, r := range results {
				found = append(found, r.Findings...)
			}
			return fail.result(found)
		},
	}
	c.Flags().StringVar(&name, "assembly", "", "only the assembly of this name")
	fail.add(c)
	hourly.addSwitch(c)
	hourly.addExport(c)
	a.addPictures(c)
	return c
}

// analyzable loads a description and picks the assemblies of a name, without one
// all of them. A house may have only finishes, rooms and cold surfaces.
func (a *app) analyzable(file, name string) (*kb.Base, *assembly.Resolved, []*assembly.Assembly, error) {
	base, house, err := a.house(file)
	if err != nil || name == "" && len(house.Assemblies) == 0 && advisor.ManyParts(house) {
		return base, house, nil, err
	}
	list, err := advisor.Choose(house, name)
	return base, house, list, err
}

// result turns findings at the level into the error that sets the exit code.
func (f *failFlag) result(found []rule.Finding) error {
	if f.level != "" && f.reached(found) {
		return errFound
	}
	return nil
}
