package analysis

import (
	"fmt"

	"relath/advisor/assembly"
	"relath/advisor/steady"
	"relath/kb"
)

// Compile makes the flat input of package steady of the best case of a variant:
// the one that facts are computed from and that combinations are screened with.
// It is an error when a value is missing or a side has no climate.
func Compile(base *kb.Base, a *assembly.Assembly, v *assembly.Variant) (*steady.Input, error) {
	m := newModel(base, a, v)
	if lacks := m.blocked(); lacks != "" {
		return nil, fmt.Errorf("assembly %q: %s", a.Name, lacks)
	}
	return m.compile(bestCase), nil
}

// compile makes the flat input of one corner, valid until the next call.
func (m *model) compile(at corner) *steady.Input {
	return m.flatten(func(element int) places { return places{vapor: at(element), air: m.air} })
}

// compileShifted makes the flat input with every variable at its own position,
// valid until the next call.
func (m *model) compileShifted(shift []position) *steady.Input {
	return m.flatten(func(int) places { return places{shift: shift} })
}

// compileReleased makes the flat input of a corner but for one variable that
// stays at its best value, valid until the next call. The air of the rooms is
// released as a whole.
func (m *model) compileReleased(c *atCorner, variable int) *steady.Input {
	air := c.air
	if m.variables[variable].kind == ofRooms {
		air = best
	}
	return m.flatten(func(element int) places { return places{vapor: c.at(element), air: air, released: variable + 1} })
}

// flatten writes the flat input; package steady lists layers from the inside.
func (m *model) flatten(at func(element int) places) *steady.Input {
	in := &m.input
	n := len(m.elements)
	if in.Layers == nil {
		in.Layers = make([]steady.Layer, n)
		in.Saturation = steady.ASHRAE
		in.Inside.R, in.Outside.R = filmsISO(m.of)
	}
	in.Months = m.monthsAt(at(0))
	for i := range m.elements {
		e, p := &m.elements[i], at(i)
		l := &in.Layers[n-1-i]
		l.R = e.heatAt(p)
		l.Permeance = e.vapor.fill(l.Permeance, p)
		if e.vent.High > 0 {
			l.Vent = pick(e.vent, p.ofVapor(e.ventVar))
		}
	}
	return in
}

// conduction gives the thermal model with the heat variables at their places.
func (m *model) conduction(p places, inside, outside float64) steady.Conduction {
	c := steady.Conduction{Inside: inside, Outside: outside}
	for i := range m.variant.Layers {
		l := steady.ThermalLayer{R: m.partHeat(i, p)}
		if f := m.framing[i]; f != nil {
			l.FramingR, l.FramingShare = f.at(p)
		}
		c.Layers = append(c.Layers, l)
	}
	return c
}

// partHeat gives the thermal resistance of a part, through its fill where it is
// framed.
func (m *model) partHeat(part int, p places) float64 {
	r := 0.0
	for i := range m.elements {
		if m.elements[i].part == part {
			r += m.elements[i].heatAt(p)
		}
	}
	return r
}

// at gives the resistance of framing and its share of the area.
func (f *framing) at(p places) (resistance, share float64) {
	return pick(f.heat, p.ofHeat(f.variable)), 1 - pick(f.fill, p.ofHeat(f.fillVar))
}
