package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"relath/advisor/report"
	"relath/kb"
)

// usual stands for the coats that were measured on a substrate.
const usual = "usual"

func (a *app) show() *cobra.Command {
	var coats string
	c := &cobra.Command{
		Use:   "show ID",
		Short: "Show all that the base holds about a material, a place or another entry",
		Long: `show prints the card of a material or coating: every value with its range,
conditions, source and mark of evidence, what the trade says beside what the
handbooks say, which is used and why, its duties, what it is made of, how it
dries, and its cautions. It also shows measured systems, places, and all that
explain explains.

With --coats it answers the paint question: the material bare, with its first
coats, and with 1, 2, 3 and 5 of the last one. The coats run from the material
outward; without a list they are those that were measured on it.`,
		Example: `  relath show gypsum-board
  relath show gypsum-board --coats
  relath show lime-plaster --coats=limewash --si
  relath show osb -o osb.html`,
		Args: one("ID"),
		RunE: func(c *cobra.Command, args []string) error {
			base, err := a.base()
			if err != nil {
				return err
			}
			if c.Flags().Changed("coats") {
				return a.coats(base, args[0], coats)
			}
			return a.entry(base, args[0])
		},
	}
	c.Flags().StringVar(&coats, "coats", "", "show it with coats: a list such as latex-primer,latex-paint")
	c.Flags().Lookup("coats").NoOptDefVal = usual
	return c
}

// entry shows whatever entry an id names.
func (a *app) entry(base *kb.Base, id string) error {
	m := a.maker(base)
	if mat := base.Material(id); mat != nil {
		return a.page("material", m.Material(mat), given(m.MaterialData(mat)))
	}
	if s := base.System(id); s != nil {
		return a.page("system", m.System(s), given(nil))
	}
	if p := base.Place(id); p != nil {
		list := []*kb.Place{p}
		return a.page("places", m.Places(list, p.Name), given(report.PlacesData(list)))
	}
	return a.explained(base, id)
}

// coats shows a material with its coats.
func (a *app) coats(base *kb.Base, id, list string) error {
	mat, err := material(base, id)
	if err != nil {
		return err
	}
	coats := report.UsualCoats(base, mat)
	if list != usual {
		coats = nil
		for _, name := range strings.Split(list, ",") {
			c, err := material(base, strings.TrimSpace(name))
			if err != nil {
				return err
			}
			if c.Form != kb.Coat {
				return fmt.Errorf("%q is not a coating", c.ID)
			}
			coats = append(coats, c)
		}
	}
	if len(coats) == 0 {
		return fmt.Errorf("no coats were measured on %q; name them, for example --coats=limewash", id)
	}
	m := a.maker(base)
	return a.page("coats", m.Coats(mat, coats), given(m.CoatsData(mat, coats)))
}

// material finds a material by id.
func material(base *kb.Base, id string) (*kb.Material, error) {
	if m := base.Material(id); m != nil {
		return m, nil
	}
	known := make([]string, len(base.Materials))
	for i, m := range base.Materials {
		known[i] = m.ID
	}
	return nil, fmt.Errorf("material %q is not in the base; %srelath search finds materials by name", id, meant(id, known))
}
