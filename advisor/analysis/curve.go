package analysis

import (
	"slices"

	"relath/kb"
	"relath/kb/quantity"
)

// vaporCurve is a permeance in kg/(s·m²·Pa) over rising humidity, with its
// range at each point. One point is a constant.
type vaporCurve []kb.Point

// at gives the permeance at a humidity.
func (c vaporCurve) at(rh float64) quantity.Range { return kb.Working{Curve: c}.At(rh) }

// constant makes a curve of one value.
func constant(r quantity.Range) vaporCurve { return vaporCurve{{RH: middle, SI: r}} }

// The mean humidities at which a curve is read as a cup value, and the one at
// which permeances are shown.
const (
	dryCupHumidity = 0.25
	wetCupHumidity = 0.75
	middle         = 0.5
)

// reading is the permeance of a material or system over humidity and by the
// two cups, with the values behind it.
type reading struct {
	curve    vaporCurve
	cups     bool // the curve joins two cup values
	dry, wet quantity.Range
	values   []*kb.Value // behind the curve
	cupped   []*kb.Value // behind dry and wet
	mark     kb.Evidence
	doubt    bool // the only value known is of high doubt
}

// readPermeance gives the permeance of a material over humidity: a measured
// curve first, else the cup values at the mean humidity of each cup, else one
// number. ASHRAE Handbook—Fundamentals 2021, ch. 26 prints curves; a dry cup
// stands at 25 % and a wet cup at 75 % humidity (mean of its two sides), with
// linear interpolation between, a convention of ours. The cup values are those
// of the base by that method, which need not lie on the curve.
func readPermeance(ask func(method string) (kb.Working, bool)) (reading, bool) {
	r, ok := readCurve(ask)
	if !ok {
		return r, false
	}
	r.dry = r.byCup(ask, kb.DryCup, dryCupHumidity)
	r.wet = notTighter(r.byCup(ask, kb.WetCup, wetCupHumidity), r.dry)
	return r, true
}

// byCup reads the value of a cup, of the curve where the base has none by that
// method, and notes what is behind it.
func (r *reading) byCup(ask func(method string) (kb.Working, bool), method string, humidity float64) quantity.Range {
	si, values := r.curve.at(humidity), r.values
	if w, ok := ask(method); ok {
		si, values = w.SI, valuesOf(w)
	}
	for _, v := range values {
		if !slices.Contains(r.cupped, v) {
			r.cupped = append(r.cupped, v)
		}
	}
	return si
}

// readCurve finds the values that readPermeance computes with.
func readCurve(ask func(method string) (kb.Working, bool)) (reading, bool) {
	if w, ok := ask(kb.AsCurve); ok && len(w.Curve) > 0 && !w.Doubt {
		return readingOf(w), true
	}
	dry, hasDry := ask(kb.DryCup)
	wet, hasWet := ask(kb.WetCup)
	switch {
	case hasDry && hasWet && dry.Value != wet.Value:
		return reading{
			curve:  vaporCurve{{RH: dryCupHumidity, SI: dry.SI}, {RH: wetCupHumidity, SI: notTighter(wet.SI, dry.SI)}},
			cups:   true,
			values: append(valuesOf(dry), valuesOf(wet)...),
			mark:   dry.Evidence.Weaker(wet.Evidence),
			doubt:  dry.Doubt || wet.Doubt,
		}, true
	case hasDry:
		return readingOf(dry), true
	case hasWet:
		return readingOf(wet), true
	}
	if w, ok := ask(kb.AnyMethod); ok {
		return readingOf(w), true
	}
	return reading{}, false
}

// readingOf takes a working value as it stands.
func readingOf(w kb.Working) reading {
	r := reading{curve: w.Curve, values: valuesOf(w), mark: w.Evidence, doubt: w.Doubt}
	if len(w.Curve) == 0 {
		r.curve = constant(w.SI)
	}
	return r
}

// notTighter keeps a material from being tighter wet than dry, so that ranges
// from different sources that cross are put in order.
func notTighter(wet, dry quantity.Range) quantity.Range {
	return quantity.Range{Low: max(wet.Low, dry.Low), Best: max(wet.Best, dry.Best), High: max(wet.High, dry.High)}
}

// valuesOf lists the values behind a working value.
func valuesOf(w kb.Working) []*kb.Value {
	return append([]*kb.Value{w.Value}, w.Widened...)
}

// stopsOf lists the humidities of several curves, rising.
func stopsOf(readings []reading) []float64 {
	var stops []float64
	for _, r := range readings {
		for _, p := range r.curve {
			stops = append(stops, p.RH)
		}
	}
	slices.Sort(stops)
	return slices.Compact(stops)
}

// film reads a permeance at the stops of a stack.
func (r *reading) film(stops []float64, variable int, times float64) film {
	f := film{variable: variable, times: times, at: make([]quantity.Range, 0, len(stops)+2)}
	for _, rh := range stops {
		f.at = append(f.at, r.curve.at(rh))
	}
	f.at = append(f.at, r.dry, r.wet)
	return f
}
