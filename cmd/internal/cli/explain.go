package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"relath/kb"
)

func (a *app) explain() *cobra.Command {
	return &cobra.Command{
		Use:   "explain [ID]",
		Short: "Explain a rule, code table, fact, source, model or another entry",
		Long: `explain says what an entry of the base means: when a rule speaks and why, what a
code table accepts, which model a fact comes from and what that model does not
see, who published a source and how many values rest on it, what a mark of
evidence stands for. Without an id it lists all that can be explained.`,
		Example: `  relath explain closed-to-both-sides
  relath explain drying-capacity
  relath explain ashrae-hof-2021
  relath explain recalled`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			base, err := a.base()
			if err != nil {
				return err
			}
			if len(args) == 1 {
				return a.explained(base, args[0])
			}
			m := a.maker(base)
			return a.page("entries", m.Entries(), given(m.Explained()))
		},
	}
}

// explained explains whatever entry an id names.
func (a *app) explained(base *kb.Base, id string) error {
	m := a.maker(base)
	doc, ok := m.Explain(id)
	if ok {
		return a.page("entry", doc, given(nil))
	}
	var known []string
	for _, e := range m.Explained() {
		known = append(known, e[0])
	}
	for _, x := range base.Materials {
		known = append(known, x.ID)
	}
	for _, x := range base.Places {
		known = append(known, x.ID)
	}
	return fmt.Errorf("%q is not in the base; %srelath search finds materials, relath explain lists the other entries", id, meant(id, known))
}
