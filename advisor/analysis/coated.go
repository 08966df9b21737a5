package analysis

import (
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// Coated is a layer with its coats as the methods see it: permeances in
// kg/(s·m²·Pa).
type Coated struct {
	Curve   []kb.Point     // over relative humidity; one point where it does not depend on it
	Dry     quantity.Range // by dry cup, mean of 0 and 50 % humidity
	Middle  quantity.Range // at 50 % humidity
	Wet     quantity.Range // by wet cup, mean of 50 and 100 %
	Classes []string       // vapor retarder class, or all it may be
	System  *kb.System     // the measured system behind it, nil for none
	Covered int            // coats that the system covers; the others act in series
	Inputs  []Input
	Missing string // not empty: which value the base lacks
}

// Coat gives the vapor side of a solid layer with its coats.
func Coat(base *kb.Base, p *assembly.Part) Coated {
	m := &model{room: newRoom(), base: base}
	s, g := m.stackOf(p.Name, p.Material, p.Depth, p.Sealed, p.CoatsOut, p.CoatsIn)
	c := Coated{System: g.system, Covered: g.covered, Inputs: g.inputs, Missing: g.lacks}
	for _, in := range g.cups {
		if !slices.Contains(c.Inputs, in) {
			c.Inputs = append(c.Inputs, in)
		}
	}
	if g.lacks != "" {
		return c
	}
	c.Curve = s.curve()
	c.Dry, c.Middle, c.Wet = s.span(s.dryCup()), s.at(middle), s.span(s.wetCup())
	c.Classes = classWords(c.Dry).Words
	return c
}
