package analysis

import (
	"maps"
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// Probe states the facts of one variant as single numbers: every value at its
// best but for one input, which is moved over its range. It shows at which value
// of that input an answer turns.
type Probe struct{ ready *model }

// NewProbe makes a variant ready. Errors are those of [Run].
func NewProbe(base *kb.Base, a *assembly.Assembly, v *assembly.Variant) (*Probe, error) {
	m := newModel(base, a, v)
	m.asked = askedOf(base)
	if m.blocked() != "" {
		return &Probe{ready: m}, nil
	}
	return &Probe{ready: m}, m.findSlowest(m.compile(bestCase))
}

// Moved is an input that a probe can move.
type Moved struct {
	Input    Input
	variable int
	of       *variable
}

// Movable finds the input of a driver or an estimate among what can be moved;
// it is not, where it has no range.
func (p *Probe) Movable(in Input) (Moved, bool) {
	for i := range p.ready.variables {
		v := &p.ready.variables[i]
		same := v.input.Material == in.Material && (v.input.Property == in.Property || isHeat(v.input.Property) && isHeat(in.Property))
		if same && v.reads != nil && v.reads(tight) != v.reads(open) {
			return Moved{Input: v.input, variable: i, of: v}, true
		}
	}
	return Moved{}, false
}

// Reads gives the value of the input, SI, at a place of its range: −1 to 1 from
// the tight end over the best value to the open end. A permeance is that at 50 %
// humidity, or with byCup that by the dry cup.
func (m Moved) Reads(at float64, byCup bool) float64 {
	if byCup && m.of.cup != nil {
		return m.of.cup(position(at))
	}
	return m.of.reads(position(at))
}

// At states the facts with the input at a place of its range, −1 to 1, and all
// else at its best. Errors are those of [Run].
func (p *Probe) At(moved Moved, at float64) (*Variant, error) {
	shift := make([]position, len(p.ready.variables))
	shift[moved.variable] = position(at)
	m := p.ready.settle(places{shift: shift})
	m.rough, m.settled = true, true
	return m.analyze(nil)
}

// settle copies the model with every range closed to the value at a place.
func (m *model) settle(p places) *model {
	out := *m
	out.elements = slices.Clone(m.elements)
	for i := range out.elements {
		e := &out.elements[i]
		e.heat = quantity.Exact(e.heatAt(p))
		e.vapor = e.vapor.settle(p)
		if e.vent.High > 0 {
			e.vent = quantity.Exact(pick(e.vent, p.ofVapor(e.ventVar)))
		}
	}
	out.framing = maps.Clone(m.framing)
	for part, f := range out.framing {
		own := *f
		own.heat, own.fill = quantity.Exact(pick(f.heat, p.ofHeat(f.variable))), quantity.Exact(pick(f.fill, p.ofHeat(f.fillVar)))
		out.framing[part] = &own
	}
	if c := m.corner; c != nil {
		out.corner = &roomCorner{open: quantity.Exact(pick(c.open, p.ofHeat(c.variable))), variable: c.variable}
	}
	out.rooms = rooms{heating: m.rooms.heating.settle(p), cooling: m.rooms.cooling.settle(p)}
	out.input.Layers = nil
	out.boundaries()
	return &out
}

// settle closes the ranges of the air of a season.
func (a airOf) settle(p places) airOf {
	at := a.at(p)
	a.temperature, a.humidity = quantity.Exact(at.Temperature), quantity.Exact(at.RelativeHumidity)
	return a
}

// settle closes the ranges of a stack.
func (s *stack) settle(p places) stack {
	out := stack{rh: s.rh, body: s.body.settle(p)}
	for i := range s.faces {
		out.faces = append(out.faces, s.faces[i].settle(p))
	}
	if j := s.joints; j != nil {
		own := *j
		own.permeance, own.boards = quantity.Exact(pick(j.permeance, p.ofVapor(j.permeanceVar))), quantity.Exact(pick(j.boards, p.ofVapor(j.boardsVar)))
		out.joints = &own
	}
	return out
}

func (c *coating) settle(p places) coating {
	var out coating
	if m := c.measured; m != nil {
		own := *m
		own.system, own.bare, own.fewer = m.system.settle(p), m.bare.settle(p), m.fewer.settle(p)
		out.measured = &own
	}
	for i := range c.coats {
		out.coats = append(out.coats, c.coats[i].settle(p))
	}
	return out
}

func (f *film) settle(p places) film {
	out := film{variable: f.variable, times: f.times, at: make([]quantity.Range, len(f.at))}
	for i, r := range f.at {
		out.at[i] = quantity.Exact(pick(r, p.ofVapor(f.variable)))
	}
	return out
}
