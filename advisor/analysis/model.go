package analysis

import (
	"fmt"

	"relath/advisor/assembly"
	"relath/advisor/steady"
	"relath/kb"
	"relath/kb/quantity"
)

// model is one variant made ready for the methods.
type model struct {
	base      *kb.Base
	of        *assembly.Assembly
	variant   *assembly.Variant
	elements  []element              // from the first side inward
	framing   map[int]quantity.Range // thermal resistance of the framing of framed parts
	core      int                    // part that holds the insulation or the structure
	lacks     []string               // values that keep the moisture methods from running
	heatless  []string               // values that keep the U-factor from being computed
	months    [12]steady.Month
	ambient   bool // whether both sides have a climate
	workspace steady.Workspace
}

// newModel gathers the elements of a variant.
func newModel(base *kb.Base, a *assembly.Assembly, v *assembly.Variant) *model {
	m := &model{base: base, of: a, variant: v, framing: make(map[int]quantity.Range)}
	for i, p := range v.Layers {
		switch {
		case p.Cavity:
			m.elements = append(m.elements, m.gap(i, p))
		case p.Framed:
			m.framed(i, p)
		default:
			m.elements = append(m.elements, m.solid(i, p))
		}
	}
	m.core = coreOf(m)
	for i := range m.elements {
		if e := m.elements[i]; !e.known {
			m.lacks = append(m.lacks, e.lacks)
		}
	}
	m.climate()
	return m
}

func (m *model) solid(i int, p *assembly.Part) element {
	e := element{part: i, fill: -1}
	heat, inputs, lacks := heatOf(p.Material, p.Depth, p.Name)
	if lacks != "" {
		m.heatless = append(m.heatless, lacks)
	}
	e.heat, e.inputs = heat, inputs
	vapor := vaporOf(m.base, p)
	e.vapor, e.lacks, e.known = vapor.curve, vapor.lacks, vapor.lacks == ""
	e.inputs = append(e.inputs, vapor.inputs...)
	return e
}

// framed adds the fills of a framed part, one element each, and the
// resistance of its framing.
func (m *model) framed(i int, p *assembly.Part) {
	wood, _, lacks := heatOf(p.Material, p.Depth, p.Name)
	if lacks != "" {
		m.heatless = append(m.heatless, lacks)
	}
	m.framing[i] = wood
	for f, fill := range p.Fills {
		e := element{part: i, fill: f}
		if fill.Material == nil {
			e.heat = quantity.Exact(airSpace(fill.Depth, flowOf(m.of.Kind, m.of.Slope)))
			e.vapor, e.inputs, e.known = m.stillAir()
			m.elements = append(m.elements, e)
			continue
		}
		heat, inputs, lacks := heatOf(fill.Material, fill.Depth, p.Name)
		if lacks != "" {
			m.heatless = append(m.heatless, lacks)
		}
		e.heat, e.inputs = heat, inputs
		curve, values, ok := permeanceOf(fill.Material, fill.Depth)
		e.vapor, e.known = curve, ok
		if !ok {
			e.lacks = fmt.Sprintf("permeance of the fill of %s (%s)", p.Name, fill.Material.Name)
		}
		for _, v := range values {
			e.inputs = append(e.inputs, Input{Layer: p.Name, Material: fill.Material.ID, Property: "permeance", Value: v})
		}
		m.elements = append(m.elements, e)
	}
}

// stillAir gives the permeance of an air space without exchange.
func (m *model) stillAir() (vaporCurve, []Input, bool) {
	const id = "closed-gap-air-layer"
	a := m.base.Assumption(id)
	if a == nil || a.SI.Best <= 0 {
		return nil, nil, false
	}
	r := quantity.Range{
		Low: kb.StillAirPermeability / a.SI.High, Best: kb.StillAirPermeability / a.SI.Best, High: kb.StillAirPermeability / a.SI.Low,
	}
	return constant(r), []Input{{Material: id, Property: "equivalent-air-layer"}}, true
}

// The density of the air that moves through a gap [kg/m³].
const gapAir = 1.2

// gap makes an element of a cavity. Air that is exchanged with the weather is
// a second path outward, m_a·0.62/P (ASHRAE Handbook—Fundamentals 2021, ch. 27,
// after TenWolde and Carll 1992). With nothing outside of it there is no second
// path.
func (m *model) gap(i int, p *assembly.Part) element {
	e := element{part: i, fill: -1, heat: quantity.Exact(airSpace(p.Depth, flowOf(m.of.Kind, m.of.Slope)))}
	e.vapor, e.inputs, e.known = m.stillAir()
	if !e.known {
		e.lacks = "equivalent air layer of a closed gap"
	}
	if p.Air == "closed" || i == 0 {
		return e
	}
	id := "air-change-" + string(p.Air)
	a := m.base.Assumption(id)
	if a == nil {
		return e
	}
	e.inputs = append(e.inputs, Input{Layer: p.Name, Material: id, Property: "air-change"})
	at := func(rate float64) float64 {
		v, err := steady.VentPermeance(rate*p.Depth*gapAir, standardPressure)
		if err != nil {
			return 0
		}
		return v
	}
	e.vent = quantity.Range{Low: at(a.SI.Low), Best: at(a.SI.Best), High: at(a.SI.High)}
	return e
}

// standardPressure is the total pressure of the air [Pa].
const standardPressure = 101325

// coreOf picks the part that separates inside from outside: among framed parts,
// else massive ones, else all, the one of the largest resistance.
func coreOf(m *model) int {
	heat := make(map[int]float64)
	for _, e := range m.elements {
		heat[e.part] += e.heat.Best
	}
	rank := func(p *assembly.Part) int {
		switch {
		case p.Framed:
			return 2
		case isMassive(p):
			return 1
		}
		return 0
	}
	core, best, most := 0, -1, -1.0
	for i, p := range m.variant.Layers {
		if p.Cavity {
			continue
		}
		if r := rank(p); r > best || r == best && heat[i] > most {
			core, best, most = i, r, heat[i]
		}
	}
	return core
}

// corner says at which end of their ranges the vapor values stand, for each
// element.
type corner func(element int) int

// The ends of a range. The nudged ends are those of the range or, for a value
// without one, a tenth below and above it: they show what a value moves.
const (
	nudgedLow  = -2
	tight      = -1
	best       = 0
	open       = 1
	nudgedHigh = 2
)

// nudge is the share by which a value without a range is moved.
const nudge = 0.1

func bestCase(int) int { return best }

func pick(r quantity.Range, at int) float64 {
	switch {
	case at == best:
		return r.Best
	case at == nudgedLow && r.Low == r.High:
		return r.Best * (1 - nudge)
	case at == nudgedHigh && r.Low == r.High:
		return r.Best * (1 + nudge)
	case at < best:
		return r.Low
	}
	return r.High
}

// compile makes the flat input of one corner; package steady lists layers from
// the inside.
func (m *model) compile(at corner) *steady.Input {
	in := &steady.Input{Months: m.months, Saturation: steady.ASHRAE}
	in.Inside.R, in.Outside.R = filmsISO(m.of)
	n := len(m.elements)
	in.Layers = make([]steady.Layer, n)
	for i := range m.elements {
		e := &m.elements[i]
		l := &in.Layers[n-1-i]
		l.R = e.heat.Best
		l.Permeance = make(steady.Curve, len(e.vapor))
		for j, p := range e.vapor {
			l.Permeance[j] = steady.Point{RH: p.RH, Permeance: min(pick(p.SI, at(i)), steady.MaxPermeance)}
		}
		if e.vent.High > 0 {
			l.Vent = pick(e.vent, at(i))
		}
	}
	return in
}

// conduction gives the thermal model; at is the end of the ranges.
func (m *model) conduction(at int, inside, outside float64) steady.Conduction {
	c := steady.Conduction{Inside: inside, Outside: outside}
	for i, p := range m.variant.Layers {
		r := 0.0
		for _, e := range m.elements {
			if e.part == i {
				r += pick(e.heat, at)
			}
		}
		l := steady.ThermalLayer{R: r}
		if p.Framed {
			l.FramingR, l.FramingShare = pick(m.framing[i], at), p.Fraction
		}
		c.Layers = append(c.Layers, l)
	}
	return c
}

// sideOf says on which side of the core a part lies.
func (m *model) sideOf(part int) string {
	switch {
	case part < m.core:
		return "outside"
	case part > m.core:
		return "inside"
	}
	return "bay"
}
