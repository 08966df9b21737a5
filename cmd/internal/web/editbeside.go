package web

import "relath/advisor/assembly"

// beside changes what an assembly says beside its layers: the edge of a slab, the
// footing of a basement wall, and the attic, crawl space or rafter gap on its
// first side.
func (e *editor) beside(a *assembly.Described) {
	if e.form.Has("footing-break") {
		a.Footing = assembly.Answer(e.form.Get("footing-break"))
	}
	edge := edgeOf(a)
	e.take("edge-insulation", &edge.Insulation)
	e.take("edge-depth", &edge.Depth)
	a.Edge = nil
	if !edge.Insulation.IsZero() || !edge.Depth.IsZero() {
		a.Edge = &edge
	}
	space := spaceOf(a)
	e.take("vents", &space.Vents)
	e.take("high-vents", &space.High)
	if e.form.Has("crawl-ground") {
		space.Ground = assembly.Ground(e.form.Get("crawl-ground"))
	}
	if e.form.Has("crawl-air") {
		space.Air = assembly.SpaceAir(e.form.Get("crawl-air"))
	}
	a.Space = nil
	if !space.Vents.IsZero() || !space.High.IsZero() || space.Ground != "" || space.Air != "" {
		a.Space = &space
	}
}

// edgeOf gives the edge of a slab, empty where none is described.
func edgeOf(a *assembly.Described) assembly.Edge {
	if a.Edge == nil {
		return assembly.Edge{}
	}
	return *a.Edge
}

// spaceOf gives the space on the first side, empty where none is described.
func spaceOf(a *assembly.Described) assembly.Space {
	if a.Space == nil {
		return assembly.Space{}
	}
	return *a.Space
}
