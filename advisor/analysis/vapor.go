package analysis

import (
	"fmt"
	"math"
	"slices"

	"relath/kb"
	"relath/kb/quantity"
)

// layered gathers the permeances of one element before its stack is made.
type layered struct {
	*model
	layer    string
	material *kb.Material
	depth    float64 // m
	readings []reading
	add      []func(s *stack)
	inputs   []Input
	cups     []Input  // behind the values by cup
	doubtful []string // names of materials whose only value is of high doubt
	lacks    string
	system   *kb.System       // the measured system used, nil for none
	covered  int              // coats that the system covers
	reshape  func(r *reading) // how two cup values become a curve; nil for a straight line
	moves    *int             // variable that everything moves with; nil for one for each material
}

// stackOf gives the vapor side of a material of a depth in m with its coats. A
// measured system of substrate and coats beats the sum of its parts; further
// coats act in series with it. Where the layer has open joints they act beside
// boards and coats.
func (m *model) stackOf(layer string, of *kb.Material, depth float64, sealed bool, faces ...[]*kb.Material) (stack, *layered) {
	g := &layered{model: m, layer: layer, material: of, depth: depth}
	return g.stack(sealed, faces...), g
}

// stack puts the layer with its coats together; it is empty where something
// lacks.
func (g *layered) stack(sealed bool, faces ...[]*kb.Material) stack {
	g.body()
	for _, coats := range faces {
		g.face(coats)
	}
	if !sealed {
		g.joints()
	}
	if g.lacks != "" {
		return stack{}
	}
	s := stack{rh: stopsOf(g.readings)}
	for _, add := range g.add {
		add(&s)
	}
	const cups = 2
	for _, face := range s.faces {
		if m := face.measured; m != nil && m.binds(len(s.rh)+cups) {
			g.inputs, g.cups = append(g.inputs, m.inputs...), append(g.cups, m.cups...)
		}
	}
	return s
}

// ask reads a permeance in the shape that is wanted.
func (g *layered) ask(ask func(method string) (kb.Working, bool)) (reading, bool) {
	r, ok := readPermeance(ask)
	if ok && g.reshape != nil {
		g.reshape(&r)
	}
	return r, ok
}

// read notes the permeance of a material or system and gives its variable.
func (g *layered) read(id, name string, ask func(method string) (kb.Working, bool)) (r reading, variable int, ok bool) {
	const property = "permeance"
	r, ok = g.ask(ask)
	if !ok {
		return r, 0, false
	}
	if r.doubt {
		g.doubtful = append(g.doubtful, name)
	}
	g.readings = append(g.readings, r)
	for _, v := range r.values {
		g.inputs = append(g.inputs, Input{Layer: g.layer, Material: id, Property: property, Value: v})
	}
	for _, v := range r.cupped {
		g.cups = append(g.cups, Input{Layer: g.layer, Material: id, Property: property, Value: v})
	}
	if g.moves != nil {
		return r, *g.moves, true
	}
	in := Input{Layer: g.layer, Material: id, Property: property, Value: r.values[0]}
	variable = g.variableOf(ofVapor, in, r.mark)
	g.reading(variable, func(at position) float64 { return pick(r.curve.at(middle), at) })
	if v := &g.variables[variable]; v.cup == nil {
		v.cup = func(at position) float64 { return pick(r.dry, at) }
	}
	return r, variable, true
}

// askMaterial asks a material for its permeance at a thickness.
func askMaterial(read *kb.Reader, m *kb.Material, depth float64) func(string) (kb.Working, bool) {
	return func(method string) (kb.Working, bool) { return read.Working(m, "permeance", method, depth) }
}

// body reads the layer itself.
func (g *layered) body() {
	r, variable, ok := g.read(g.material.ID, g.material.Name, askMaterial(g.model.read, g.material, g.depth))
	if !ok {
		g.lacks = fmt.Sprintf("permeance of %s (%s)", g.layer, g.material.Name)
		return
	}
	g.add = append(g.add, func(s *stack) { s.body = r.film(s.rh, variable, 1) })
}

// face reads the coats of one face.
func (g *layered) face(coats []*kb.Material) {
	if len(coats) == 0 || g.lacks != "" {
		return
	}
	put := g.coats(coats)
	g.add = append(g.add, func(s *stack) { s.faces = append(s.faces, put(s)) })
}

// coats reads coats, from the substrate outward, and gives what puts them at the
// stops of a stack.
func (g *layered) coats(coats []*kb.Material) func(s *stack) coating {
	measure, covered := g.measured(coats)
	var films []func(s *stack) film
	for coats = coats[covered:]; len(coats) > 0 && g.lacks == ""; {
		n := 1
		for n < len(coats) && coats[n] == coats[0] {
			n++
		}
		of := coats[0]
		r, variable, ok := g.read(of.ID, of.Name, askMaterial(g.model.read, of, 0))
		if !ok {
			g.lacks = fmt.Sprintf("permeance of %s on %s", of.Name, g.layer)
		}
		films = append(films, func(s *stack) film { return r.film(s.rh, variable, float64(n)) })
		coats = coats[n:]
	}
	return func(s *stack) coating {
		var c coating
		if measure != nil {
			c.measured = measure(s)
		}
		for _, put := range films {
			c.coats = append(c.coats, put(s))
		}
		return c
	}
}

// measured reads the nearest measured system and gives how many coats it covers.
// What the system resists beyond its bare substrate, at the thickness that was
// measured, is added to the layer.
func (g *layered) measured(coats []*kb.Material) (put func(s *stack) *measuredCoats, covered int) {
	system := nearestSystem(g.base, g.material, coats)
	if system == nil {
		return nil, 0
	}
	depth := system.ThicknessSI
	const rounding = 0.02 // between 12.5 mm and 1/2 in
	if math.Abs(depth-g.depth) <= rounding*g.depth || depth == 0 {
		depth = g.depth
	}
	bare, ok := g.ask(askMaterial(g.model.read, g.material, depth))
	if !ok {
		return nil, 0
	}
	r, variable, ok := g.read(system.ID, system.Name, func(method string) (kb.Working, bool) { return system.Working("permeance", method) })
	if !ok {
		return nil, 0
	}
	covered = len(system.Coats)
	fewer := g.fewer(coats[:covered-1], variable)
	g.system, g.covered = system, covered
	return func(s *stack) *measuredCoats {
		m := fewer(s)
		m.system, m.bare = r.film(s.rh, variable, 1), bare.film(s.rh, s.body.variable, 1)
		return &m
	}, covered
}

// fewer reads the coats of a system but the last, as far as they are known. They
// are inputs only where they keep the system from reading too open, and move
// with it.
func (g *layered) fewer(coats []*kb.Material, variable int) func(s *stack) measuredCoats {
	h := *g
	h.inputs, h.cups, h.doubtful, h.moves = nil, nil, nil, &variable
	put := h.coats(coats)
	if h.lacks != "" {
		return func(*stack) measuredCoats { return measuredCoats{} }
	}
	g.readings = h.readings
	return func(s *stack) measuredCoats { return measuredCoats{fewer: put(s), inputs: h.inputs, cups: h.cups} }
}

// nearestSystem finds the measured system with the same substrate that covers
// the most of the coats, counted from the substrate.
func nearestSystem(base *kb.Base, substrate *kb.Material, coats []*kb.Material) *kb.System {
	var nearest *kb.System
	for _, s := range base.Systems {
		if s.Substrate != substrate.ID || len(s.Coats) > len(coats) || len(s.Coats) == 0 {
			continue
		}
		if nearest != nil && len(s.Coats) <= len(nearest.Coats) {
			continue
		}
		if slices.EqualFunc(s.Coats, coats[:len(s.Coats)], func(id string, m *kb.Material) bool { return id == m.ID }) {
			nearest = s
		}
	}
	return nearest
}

// joints puts the joints of boards and laps beside the coated boards.
func (g *layered) joints() {
	permeance, ok := g.model.read.Working(g.material, "joint-permeance", kb.AnyMethod, g.depth)
	if !ok || g.lacks != "" {
		return
	}
	j := &joints{permeance: permeance.SI, boards: quantity.Exact(1)}
	j.permeanceVar = g.jointVariable("joint-permeance", permeance)
	g.reading(j.permeanceVar, func(at position) float64 { return pick(j.permeance, at) })
	j.boardsVar = j.permeanceVar
	if share, ok := g.model.read.Working(g.material, "joint-share", kb.AnyMethod, g.depth); ok {
		j.boards = quantity.Range{Low: 1 - share.SI.High, Best: 1 - share.SI.Best, High: 1 - share.SI.Low}
		j.boardsVar = g.jointVariable("joint-share", share)
		g.reading(j.boardsVar, func(at position) float64 { return 1 - pick(j.boards, at) })
	}
	g.add = append(g.add, func(s *stack) { s.joints = j })
}

func (g *layered) jointVariable(property string, w kb.Working) int {
	for _, v := range valuesOf(w) {
		in := Input{Layer: g.layer, Material: g.material.ID, Property: property, Value: v}
		g.inputs, g.cups = append(g.inputs, in), append(g.cups, in)
	}
	return g.variableOf(ofVapor, Input{Layer: g.layer, Material: g.material.ID, Property: property, Value: w.Value}, w.Evidence)
}
