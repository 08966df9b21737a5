package assembly

import (
	"fmt"

	"relath/kb/quantity"
	"relath/kb/strict"
)

// ground reads what is described of an assembly against the ground.
func (r *resolver) ground(a *Assembly) {
	d := a.Described
	if d.Footing != "" && a.Kind != "basement-wall" {
		r.problem(d.Pos, fmt.Sprintf("footing-break belongs to a basement-wall, not to a %s", a.Kind), "")
	}
	if d.Edge == nil {
		return
	}
	if a.Kind != "slab" {
		r.problem(d.Edge.Pos, fmt.Sprintf("edge belongs to a slab, not to a %s", a.Kind), "")
		return
	}
	a.Edge = r.edge(d.Edge)
}

// edge reads the insulation at the edge of a slab.
func (r *resolver) edge(e *Edge) *ResolvedEdge {
	out := &ResolvedEdge{}
	if e.Insulation.Value == None {
		if !e.Depth.IsZero() {
			r.problem(e.Depth.Pos, "depth without insulation", "leave it out")
		}
		return out
	}
	if v, ok := e.Insulation.SI(quantity.ThermalResistance, r.problem); ok {
		out.Resistance = v
		r.within(e.Insulation, v, 0, 20, "insulation", "none, or R-0 to R-110")
	}
	if e.Depth.IsZero() {
		r.problem(e.Pos, "depth of the insulation at the edge is not given", "how far it goes down or under the slab: edge: {insulation: R-10, depth: 2 ft}")
		return out
	}
	if v, ok := e.Depth.SI(quantity.Length, r.problem); ok {
		out.Depth = v
		r.within(e.Depth, v, 1e-3, 10, "depth", "more than 0 and at most 32 ft")
	}
	return out
}

// space reads what is described of the attic, crawl space or rafter gap.
func (r *resolver) space(a *Assembly) {
	s := a.Described.Space
	if s == nil {
		return
	}
	crawl := a.Between[0] == "crawl"
	if !crawl && a.Between[0] != "attic" && a.Kind != "roof" {
		r.problem(s.Pos, fmt.Sprintf("space belongs to an assembly below an attic, over a crawl space, or to a roof, not to a %s from %s", a.Kind, a.Between[0]), "")
		return
	}
	if !crawl && (s.Ground != "" || s.Air != "") {
		r.problem(s.Pos, "ground and air of a space belong to a crawl space", "")
	}
	a.Space.Ground, a.Space.Air = s.Ground, s.Air
	a.Space.VentsSet = !s.Vents.IsZero()
	if a.Space.VentsSet && s.Vents.Value != None {
		if v, ok := s.Vents.SI(quantity.Area, r.problem); ok {
			a.Space.Vents = v
			r.within(s.Vents, v, 0, 1e3, "vents", "none, or 0 to 10,000 ft2")
		}
	}
	a.Space.High, a.Space.HighSet = r.share(s.High)
}

// share reads a share of 0 to 100 %.
func (r *resolver) share(m strict.Text) (share float64, set bool) {
	if m.IsZero() {
		return 0, false
	}
	v, ok := m.SI(quantity.Ratio, r.problem)
	if ok {
		r.within(m, v, 0, 1, "share", "0 to 100 %")
	}
	return v, ok
}
