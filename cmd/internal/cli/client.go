package cli

import (
	"github.com/spf13/cobra"
)

func (a *app) client() *cobra.Command {
	f := choiceFlags{}
	c := &cobra.Command{
		Use:   "client FILE",
		Short: "Print the page for those who live in the house",
		Long: `client prints two pages in plain words: what is proposed, each wall before and
after, three numbers that matter, what to expect, what to watch, the cost where
there are prices, and the cautions. Plans are chosen as for spec, which prints the
specification that goes with it.`,
		Example: `  relath client house.yaml -o client.pdf
  relath client house.yaml --assembly "north wall" --plan variable-retarder-for-plastic-film@poly
  relath client house.yaml --prices prices.yaml --start 2027-04-05`,
		Args: one("FILE"),
		RunE: func(c *cobra.Command, args []string) error {
			if _, err := a.ready(); err != nil {
				return err
			}
			base, s, err := a.papers(c.Context(), args[0], &f, true)
			if err != nil {
				return err
			}
			m := a.maker(base)
			return a.page("client", m.Client(s), func() (any, error) { return m.SpecData(s) })
		},
	}
	f.add(c)
	return c
}
