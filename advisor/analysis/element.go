package analysis

import (
	"slices"

	"relath/kb"
	"relath/kb/quantity"
)

// element is one slab of the flat input: a solid part with its coats, one fill
// of a framed part, or an air space. Elements run from the first side inward.
type element struct {
	part   int            // index of the part
	fill   int            // index of the fill within a framed part, -1 otherwise
	heat   quantity.Range // thermal resistance, m²·K/W
	vapor  vaporCurve
	vent   quantity.Range // permeance of the outdoor air that moves through, 0 without
	inputs []Input        // values behind heat and vapor, in reading order
	known  bool           // whether the vapor curve is known
	lacks  string         // what is missing otherwise
}

// vaporCurve is a permeance in kg/(s·m²·Pa) over rising humidity, with its
// range at each point. One point is a constant.
type vaporCurve []kb.Point

// at gives the permeance at a humidity.
func (c vaporCurve) at(rh float64) quantity.Range { return kb.Working{Curve: c}.At(rh) }

// constant makes a curve of one value.
func constant(r quantity.Range) vaporCurve { return vaporCurve{{RH: 0.5, SI: r}} }

// The humidities at which curves are joined when layers of different curves
// act as one, such as a board with its coats.
func humidities() []float64 { return []float64{0.1, 0.25, 0.3, 0.5, 0.7, 0.75, 0.9} }

// combine evaluates a formula over several curves at every humidity that one
// of them names.
func combine(curves []vaporCurve, formula func([]float64) float64) vaporCurve {
	var stops []float64
	for _, c := range curves {
		for _, p := range c {
			stops = append(stops, p.RH)
		}
	}
	slices.Sort(stops)
	stops = slices.Compact(stops)
	out := make(vaporCurve, len(stops))
	low, best, high := make([]float64, len(curves)), make([]float64, len(curves)), make([]float64, len(curves))
	for i, rh := range stops {
		for j, c := range curves {
			r := c.at(rh)
			low[j], best[j], high[j] = r.Low, r.Best, r.High
		}
		out[i] = kb.Point{RH: rh, SI: quantity.Range{Low: formula(low), Best: formula(best), High: formula(high)}}
	}
	return out
}

// series is the permeance of layers one behind the other.
func series(m []float64) float64 {
	z := 0.0
	for _, v := range m {
		z += 1 / max(v, minPermeance)
	}
	return 1 / z
}

// minPermeance stands for any smaller permeance; package steady has the same
// bound.
const minPermeance = 1e-15

// permeanceOf gives the permeance of a material over humidity: a measured
// curve first, else the cup values at the mean humidity of each cup, else one
// number. ASHRAE Handbook—Fundamentals 2021, ch. 26 prints curves; a dry cup
// stands at 25 % and a wet cup at 75 % humidity (mean of its two sides), with
// linear interpolation between, a convention of ours.
func permeanceOf(m *kb.Material, thickness float64) (vaporCurve, []*kb.Value, bool) {
	const property = "permeance"
	if w, ok := m.Working(property, kb.AsCurve, thickness); ok && len(w.Curve) > 0 && !w.Doubt {
		return w.Curve, valuesOf(w), true
	}
	dry, hasDry := m.Working(property, kb.DryCup, thickness)
	wet, hasWet := m.Working(property, kb.WetCup, thickness)
	switch {
	case hasDry && hasWet && dry.Value != wet.Value:
		return cups(dry.SI, wet.SI), append(valuesOf(dry), valuesOf(wet)...), true
	case hasDry:
		return constant(dry.SI), valuesOf(dry), true
	case hasWet:
		return constant(wet.SI), valuesOf(wet), true
	}
	if w, ok := m.Working(property, kb.AnyMethod, thickness); ok {
		return constant(w.SI), valuesOf(w), true
	}
	return nil, nil, false
}

// cups makes a curve of two cup values; a material is never tighter wet than
// dry, so that ranges that cross are put in order.
func cups(dry, wet quantity.Range) vaporCurve {
	wet.Low, wet.Best, wet.High = max(wet.Low, dry.Low), max(wet.Best, dry.Best), max(wet.High, dry.High)
	return vaporCurve{{RH: 0.25, SI: dry}, {RH: 0.75, SI: wet}}
}

// valuesOf lists the values behind a working value.
func valuesOf(w kb.Working) []*kb.Value {
	return append([]*kb.Value{w.Value}, w.Widened...)
}
