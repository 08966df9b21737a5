package cli

import (
	"github.com/spf13/cobra"

	"relath/advisor/assembly"
)

func (a *app) schema() *cobra.Command {
	return &cobra.Command{
		Use:   "schema",
		Short: "Print the JSON Schema of the description file",
		Long: `schema prints a JSON Schema for editors that complete and check as one types. It
knows keys and closed words; check knows units, ids and the order of layers too.`,
		Example: `  relath schema -o relath.schema.json`,
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			text, err := assembly.Schema()
			if err != nil {
				return internalError{err}
			}
			return a.write(append(text, '\n'))
		},
	}
}
