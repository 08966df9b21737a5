package analysis

import (
	"relath/advisor/sorption"
	"relath/kb"
)

// Simulated says how the hourly model takes a material as a bare layer of its
// usual thickness.
type Simulated struct {
	Table   *sorption.Table // nil where something is lacking
	Assumed []string        // stand-ins and defaults, in words
	Lacks   string          // not empty: what is missing, or why the values do not fit together
}

// Simulate gathers what the hourly model needs of a board, fill, plaster,
// masonry or framing material. Sheets and coats are vapor resistances without
// storage; they and what is no layer lack a thickness here.
func Simulate(base *kb.Base, m *kb.Material) Simulated {
	depth := m.Thickness.UsualSI
	switch {
	case m.Form == kb.Sheet || m.Form == kb.Coat || m.Form == kb.Unit || m.Form == kb.Joint:
		return Simulated{Lacks: "a layer: the form is " + string(m.Form)}
	case depth == 0:
		return Simulated{Lacks: "a usual thickness"}
	}
	solid := matterOf(base, m.Name, m, depth)
	s := Simulated{Assumed: solid.assumed, Lacks: solid.lacks}
	curve, _, ok := hourlyPermeance(m, depth)
	if !ok && s.Lacks == "" {
		s.Lacks = "permeance"
	}
	if s.Lacks != "" {
		return s
	}
	b := body{depth: depth, solid: &solid, bare: curve}
	table, err := b.table(best, 1)
	if err != nil {
		s.Lacks = err.Error()
		return s
	}
	s.Table = table
	return s
}
