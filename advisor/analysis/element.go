package analysis

import (
	"slices"

	"relath/advisor/steady"
	"relath/kb/quantity"
)

// element is one slab of the flat input: a solid part with its coats, one fill
// of a framed part, or an air space. Elements run from the first side inward.
type element struct {
	part     int            // index of the part
	fill     int            // index of the fill within a framed part, -1 otherwise
	heat     quantity.Range // thermal resistance, m²·K/W
	heatVar  int            // its variable, -1 for none
	vapor    stack
	vent     quantity.Range // permeance of the outdoor air that moves through, 0 without
	ventVar  int
	inputs   []Input  // values behind heat and vapor, in reading order
	cups     []Input  // values behind the permeances by cup
	known    bool     // whether the permeance is known
	lacks    string   // what is missing otherwise
	doubtful []string // names of materials whose only permeance is of high doubt
}

// heatAt gives the thermal resistance in m²·K/W.
func (e *element) heatAt(p places) float64 { return pick(e.heat, p.ofHeat(e.heatVar)) }

// alike gives for the tight end, the best value and the open end the first of them
// at which the element has the same permeance and the same exchange of air.
func (e *element) alike() [3]byte {
	var first [3]byte
	var curves [3]steady.Curve
	for i := range first {
		at := position(i - 1)
		curves[i], first[i] = e.vapor.fill(nil, places{vapor: at}), byte(i)
		for k := range i {
			if slices.Equal(curves[i], curves[k]) && pick(e.vent, at) == pick(e.vent, position(k-1)) {
				first[i] = byte(k)
				break
			}
		}
	}
	return first
}

// film is one vapor resistance: permeances in kg/(s·m²·Pa) at the stops of its
// stack.
type film struct {
	variable int
	times    float64 // how often it is there: coats of one paint
	at       []quantity.Range
}

func (f *film) resistance(stop int, p places) float64 {
	return f.times / max(pick(f.at[stop], p.ofVapor(f.variable)), minPermeance)
}

// coating is what the coats of one face resist: a measured system of substrate
// and first coats, or none, and further coats in series.
type coating struct {
	measured *measuredCoats
	coats    []film
}

// measuredCoats is what a measured system resists beyond its bare substrate. A system
// measured on another sample may read more open than its first coats in series;
// a coat never lowers resistance, so then those count.
type measuredCoats struct {
	system, bare film
	fewer        coating // all coats of the system but the last
	inputs, cups []Input // behind them
}

// binds says whether the first coats in series count at some of the stops, with
// all variables at the same end of their ranges.
func (m *measuredCoats) binds(stops int) bool {
	for stop := range stops {
		for _, end := range []position{tight, best, open} {
			p := places{vapor: end}
			if m.fewer.resistance(stop, p) > m.system.resistance(stop, p)-m.bare.resistance(stop, p) {
				return true
			}
		}
	}
	return false
}

func (c *coating) resistance(stop int, p places) float64 {
	z := 0.0
	if m := c.measured; m != nil {
		z = max(m.system.resistance(stop, p)-m.bare.resistance(stop, p), m.fewer.resistance(stop, p))
	}
	for i := range c.coats {
		z += c.coats[i].resistance(stop, p)
	}
	return z
}

// variables lists the variables of the coats.
func (c *coating) variables() []int {
	var list []int
	if c.measured != nil {
		list = append(c.measured.fewer.variables(), c.measured.system.variable)
	}
	for i := range c.coats {
		list = append(list, c.coats[i].variable)
	}
	return list
}

// joints is what passes between boards: the permeance that the joints add, and
// the share of the face that is board.
type joints struct {
	permeance, boards       quantity.Range
	permeanceVar, boardsVar int
}

// stack is the vapor side of an element: a body with coats in series, and
// joints beside them.
//
//	M = M_joint + (1 − share)/(1/M_body + Σ 1/M_coat)
type stack struct {
	rh     []float64 // rising relative humidities: a stop each; two more stops are the dry and the wet cup
	body   film
	faces  []coating
	joints *joints
}

// The last two stops of a stack.
func (s *stack) dryCup() int { return len(s.rh) }
func (s *stack) wetCup() int { return len(s.rh) + 1 }

// permeance gives the permeance at a stop with the variables at their places.
func (s *stack) permeance(stop int, p places) float64 {
	z := s.body.resistance(stop, p)
	for i := range s.faces {
		z += s.faces[i].resistance(stop, p)
	}
	m := 1 / z
	if j := s.joints; j != nil {
		m = pick(j.permeance, p.ofVapor(j.permeanceVar)) + pick(j.boards, p.ofVapor(j.boardsVar))*m
	}
	return min(m, steady.MaxPermeance)
}

// fill writes the permeances over humidity into a curve of package steady.
func (s *stack) fill(curve steady.Curve, p places) steady.Curve {
	curve = curve[:0]
	for i, rh := range s.rh {
		curve = append(curve, steady.Point{RH: rh, Permeance: s.permeance(i, p)})
	}
	return curve
}

// span gives the permeance at a stop with everything tight, best and open.
func (s *stack) span(stop int) quantity.Range {
	at := func(end position) float64 { return s.permeance(stop, places{vapor: end}) }
	return ordered(at(tight), at(best), at(open))
}

// at gives the permeance at a relative humidity.
func (s *stack) at(rh float64) quantity.Range {
	at := func(end position) float64 { return s.fill(nil, places{vapor: end}).At(rh) }
	return ordered(at(tight), at(best), at(open))
}

// curve gives the permeance over humidity with its range.
func (s *stack) curve() vaporCurve {
	points := make(vaporCurve, len(s.rh))
	for i, rh := range s.rh {
		points[i].RH, points[i].SI = rh, s.span(i)
	}
	return points
}

// ordered makes a range of a best value and two ends in either order.
func ordered(a, best, b float64) quantity.Range {
	return quantity.Range{Low: min(a, best, b), Best: best, High: max(a, best, b)}
}

// minPermeance stands for any smaller permeance.
const minPermeance = steady.MinPermeance

// series joins the ranges of layers one behind the other.
func series(list []quantity.Range) quantity.Range {
	if len(list) == 1 {
		return list[0]
	}
	var low, middle, high float64
	for _, m := range list {
		low += 1 / max(m.Low, minPermeance)
		middle += 1 / max(m.Best, minPermeance)
		high += 1 / max(m.High, minPermeance)
	}
	return quantity.Range{Low: 1 / low, Best: 1 / middle, High: 1 / high}
}

// vaporVariables lists the variables of the vapor side.
func (e *element) vaporVariables() []int {
	list := []int{e.vapor.body.variable}
	for i := range e.vapor.faces {
		list = append(list, e.vapor.faces[i].variables()...)
	}
	if j := e.vapor.joints; j != nil {
		list = append(list, j.permeanceVar, j.boardsVar)
	}
	if e.vent.High > 0 {
		list = append(list, e.ventVar)
	}
	return list
}
