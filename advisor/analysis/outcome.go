package analysis

import (
	"math"

	"relath/advisor/steady"
	"relath/kb/quantity"
)

// outcome is what the moisture methods say at one corner.
type outcome struct {
	peak, carry, summer   float64 // kg/m²
	months                float64 // with condensation
	outward, inward, both float64 // drying of the slowest plane, kg/(m² s)
	foodHumidity          float64 // highest at a food face, 0..1
	permeanceOut          float64
	permeanceIn           float64
	perPart               []float64  // peak condensate at the faces of each part
	wet                   [12][]bool // whether water lies at a plane between elements at the end of a month
}

// condensing is the least gain of a month that counts as condensation, kg/m².
const condensing = 0.001

// run evaluates one corner.
func (m *model) run(at corner) (outcome, error) {
	in := m.compile(at)
	var o outcome
	year, err := m.workspace.Year(in)
	if err != nil {
		return o, err
	}
	m.readYear(year, in, &o)
	if err := m.readDrying(in, &o); err != nil {
		return o, err
	}
	if err := m.readFood(in, &o); err != nil {
		return o, err
	}
	o.permeanceOut, o.permeanceIn = m.paths(in)
	return o, nil
}

// readYear takes what the monthly method says.
func (m *model) readYear(y *steady.Year, in *steady.Input, o *outcome) {
	o.peak, o.carry = y.PlanePeak, y.CarryOver
	o.perPart = make([]float64, len(m.variant.Layers))
	for month := range y.Gain {
		gains := false
		for _, g := range y.Gain[month] {
			gains = gains || g > condensing
		}
		if gains {
			o.months++
		}
	}
	for month := range o.wet {
		o.wet[month] = make([]bool, len(m.elements)+1)
	}
	for k, plane := range y.Planes {
		most, cooling := 0.0, 0.0
		for month := range y.Water {
			if plane.Fraction == 0 && y.Water[month][k] > condensing {
				o.wet[month][plane.Layer] = true
			}
			most = max(most, y.Water[month][k])
			if in.Months[month].Cooling() {
				cooling += max(0, y.Gain[month][k])
			}
		}
		o.summer = max(o.summer, cooling)
		for _, part := range m.partsAt(plane) {
			o.perPart[part] = max(o.perPart[part], most)
		}
	}
}

// partsAt lists the parts that a plane of package steady touches.
func (m *model) partsAt(p steady.Plane) []int {
	n := len(m.elements)
	var parts []int
	if p.Layer < n {
		parts = append(parts, m.elements[n-1-p.Layer].part)
	}
	if p.Fraction == 0 && p.Layer > 0 {
		parts = append(parts, m.elements[n-p.Layer].part)
	}
	return parts
}

// dryingPlanes lists the inner planes from which drying is judged, in the
// numbers of package steady: all but the two surfaces and what lies outside of
// the innermost gap that exchanges air with the weather.
func (m *model) dryingPlanes() []int {
	n := len(m.elements)
	outermost := n - 1
	for i, e := range m.elements {
		if e.vent.High > 0 {
			outermost = n - 1 - i
		}
	}
	var planes []int
	for j := 1; j <= outermost; j++ {
		planes = append(planes, j)
	}
	return planes
}

// readDrying finds the plane that dries slowest.
func (m *model) readDrying(in *steady.Input, o *outcome) error {
	planes := m.dryingPlanes()
	if len(planes) == 0 {
		planes = []int{1}
	}
	o.outward, o.inward, o.both = math.Inf(1), math.Inf(1), math.Inf(1)
	for _, j := range planes {
		d, err := m.workspace.DryingYear(in, j, j)
		if err != nil {
			return err
		}
		out, into := yearly(in, &d.Outward), yearly(in, &d.Inward)
		o.outward, o.inward, o.both = min(o.outward, out), min(o.inward, into), min(o.both, out+into)
	}
	return nil
}

// yearly is the day-weighted mean of what arrives.
func yearly(in *steady.Input, d *[12]steady.Drying) float64 {
	return seasons(in, d).Year
}

// seasons are the day-weighted means of what arrives.
func seasons(in *steady.Input, d *[12]steady.Drying) steady.Seasons {
	var values [12]float64
	for i := range d {
		values[i] = d[i].Arriving
	}
	return steady.SeasonMeans(&in.Months, &values)
}

// foodWarm is the lowest temperature at which a monthly humidity counts for
// mold, °C (ASHRAE Handbook—Fundamentals 2021, ch. 25).
const foodWarm = 5.0

// readFood finds the highest monthly humidity at an inner face of mold food;
// where water of the monthly method lies the face is saturated.
func (m *model) readFood(in *steady.Input, o *outcome) error {
	n := len(m.elements)
	for i := range in.Months {
		p, err := m.workspace.Profile(in, in.Months[i])
		if err != nil {
			return err
		}
		for j := 1; j < n; j++ {
			if p.Temperature[j] < foodWarm || !m.foodAt(j) {
				continue
			}
			rh := min(1, p.Pressure[j]/p.Saturation[j])
			if o.wet[i][j] {
				rh = 1
			}
			o.foodHumidity = max(o.foodHumidity, rh)
		}
	}
	return nil
}

// foodAt says whether plane j of package steady touches mold food.
func (m *model) foodAt(j int) bool {
	n := len(m.elements)
	for _, e := range []element{m.elements[n-1-j], m.elements[n-j]} {
		if mat := m.materialOf(e); mat != nil && isFood(mat) {
			return true
		}
	}
	return false
}

// paths gives the permeance from the core to both sides at 50 % humidity.
func (m *model) paths(in *steady.Input) (outward, inward float64) {
	n := len(m.elements)
	first, last := n, -1
	for i, e := range m.elements {
		if e.part == m.core {
			first, last = min(first, i), i
		}
	}
	z := 0.0
	for i := range first {
		l := in.Layers[n-1-i]
		if l.Vent > 0 {
			z = 1 / (1/max(z, 1e-30) + l.Vent)
		}
		z += 1 / max(l.Permeance.At(0.5), minPermeance)
	}
	outward = 1 / max(z, 1/steady.MaxPermeance)
	z = 0
	for i := last + 1; i < n; i++ {
		z += 1 / max(in.Layers[n-1-i].Permeance.At(0.5), minPermeance)
	}
	return outward, 1 / max(z, 1/steady.MaxPermeance)
}

// corners lists the five corners of the vapor ranges: best, all tight, all
// open, and the two mixed ones, split at the plane with the largest January
// humidity. One-sided corners do not bracket the monthly method.
func (m *model) corners() ([]corner, error) {
	in := m.compile(bestCase)
	january, err := m.workspace.Profile(in, in.Months[0])
	if err != nil {
		return nil, err
	}
	n := len(m.elements)
	split, wettest := n/2, -1.0
	for j := 1; j < n; j++ {
		if rh := january.Pressure[j] / january.Saturation[j]; rh > wettest {
			split, wettest = n-j, rh
		}
	}
	fixed := func(at int) corner { return func(int) int { return at } }
	mixed := func(outside, inside int) corner {
		return func(i int) int {
			if i < split {
				return outside
			}
			return inside
		}
	}
	return []corner{bestCase, fixed(tight), fixed(open), mixed(tight, open), mixed(open, tight)}, nil
}

// over gives the range of a value over the corners, the first being the best.
func over(outcomes []outcome, value func(*outcome) float64) quantity.Range {
	r := quantity.Exact(value(&outcomes[0]))
	for i := range outcomes {
		v := value(&outcomes[i])
		r.Low, r.High = min(r.Low, v), max(r.High, v)
	}
	return r
}
