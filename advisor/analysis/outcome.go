package analysis

import (
	"math"

	"relath/advisor/steady"
)

// The facts of the moisture methods, by their place in an outcome.
const (
	peakCondensate = iota
	carryOver
	condensationMonths
	summerCondensate
	dryingCapacity
	dryingOutward
	dryingInward
	permeanceOutward
	permeanceInward
	planeHumidity
	moistureCount
)

// moistureFacts gives their ids in the registry.
func moistureFacts() []string {
	return []string{
		"peak-condensate", "carry-over", "condensation-months", "summer-condensate",
		"drying-capacity", "drying-outward", "drying-inward",
		"permeance-outward", "permeance-inward", "plane-humidity",
	}
}

// outcome is what the moisture methods say of one input, in SI.
type outcome [moistureCount]float64

// condensing is the least gain of a month that counts as condensation, kg/m².
const condensing = 0.001

// evaluate runs the moisture methods on an input, with what dries or without.
// With parts it also notes the peak condensate at the faces of each part.
func (m *model) evaluate(in *steady.Input, parts []float64, drying bool) (outcome, error) {
	var o outcome
	year, err := m.workspace.Year(in)
	if err != nil {
		return o, err
	}
	m.readYear(year, in, &o, parts)
	if drying {
		if err := m.readDrying(in, &o); err != nil {
			return o, err
		}
	}
	if err := m.readFood(in, &o); err != nil {
		return o, err
	}
	o[permeanceOutward], o[permeanceInward] = m.paths(in)
	return o, nil
}

// readYear takes what the monthly method says.
func (m *model) readYear(y *steady.Year, in *steady.Input, o *outcome, parts []float64) {
	o[peakCondensate], o[carryOver] = y.PlanePeak, y.CarryOver
	for month := range y.Gain {
		for _, gain := range y.Gain[month] {
			if gain > condensing {
				o[condensationMonths]++
				break
			}
		}
	}
	m.clearWet()
	for k, plane := range y.Planes {
		most, cooling := 0.0, 0.0
		for month := range y.Water {
			water := y.Water[month][k]
			if plane.Fraction == 0 && water > condensing {
				m.wet[month] = append(m.wet[month], plane.Layer)
			}
			most = max(most, water)
			if in.Months[month].Cooling() {
				cooling += max(0, y.Gain[month][k])
			}
		}
		o[summerCondensate] = max(o[summerCondensate], cooling)
		if parts != nil && most > 0 {
			m.eachPartAt(plane, func(part int) { parts[part] = max(parts[part], most) })
		}
	}
}

func (m *model) clearWet() {
	for month := range m.wet {
		m.wet[month] = m.wet[month][:0]
	}
}

// eachPartAt calls f for the parts that a plane of package steady touches.
func (m *model) eachPartAt(p steady.Plane, f func(part int)) {
	n := len(m.elements)
	if p.Layer < n {
		f(m.elements[n-1-p.Layer].part)
	}
	if p.Fraction == 0 && p.Layer > 0 {
		f(m.elements[n-p.Layer].part)
	}
}

// dryingPlanes lists the inner planes from which drying is judged, in the
// numbers of package steady: all but the two surfaces and what lies outside of
// the innermost gap that exchanges air with the weather.
func (m *model) dryingPlanes() []int {
	n := len(m.elements)
	outermost := n - 1
	for i := range m.elements {
		if m.elements[i].vent.High > 0 {
			outermost = n - 1 - i
		}
	}
	var planes []int
	for j := 1; j <= max(1, outermost) && j < n; j++ {
		planes = append(planes, j)
	}
	return planes
}

// findSlowest finds the plane that dries slowest to both sides together. It is
// found once, in the best case, so that what it gives off to each side has a
// range; an assembly without an inner plane has none.
func (m *model) findSlowest(in *steady.Input) error {
	least := math.Inf(1)
	return m.workspace.DryingCapacities(in, m.planes, func(j int, a *steady.Arriving) {
		if both := yearly(in, &a.Outward) + yearly(in, &a.Inward); both < least {
			least, m.slowest = both, j
		}
	})
}

// readDrying takes what dries from the slowest plane of this input, and from the
// slowest of the best case to each side.
func (m *model) readDrying(in *steady.Input, o *outcome) error {
	return m.workspace.DryingCapacities(in, m.planes, func(j int, a *steady.Arriving) {
		out, into := yearly(in, &a.Outward), yearly(in, &a.Inward)
		if j == m.planes[0] || out+into < o[dryingCapacity] {
			o[dryingCapacity] = out + into
		}
		if j == m.slowest {
			o[dryingOutward], o[dryingInward] = out, into
		}
	})
}

// yearly is the day-weighted mean of what arrives.
func yearly(in *steady.Input, arriving *[12]float64) float64 {
	return steady.SeasonMeans(&in.Months, arriving).Year
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

// readFood finds the highest monthly humidity at an inner face of mold food.
// Where water of the monthly method lies the plane is held at saturation, as it
// is in that method.
func (m *model) readFood(in *steady.Input, o *outcome) error {
	if len(m.foodPlanes) == 0 {
		return nil
	}
	err := m.workspace.Profiles(in, func(month int, p steady.Profile) {
		if len(m.wet[month]) == 0 {
			m.noteFood(o, p.Temperature, p.Saturation, p.Pressure)
		}
	})
	if err != nil {
		return err
	}
	for month, wet := range m.wet {
		if len(wet) == 0 {
			continue
		}
		p, err := m.workspace.Profile(in, in.Months[month])
		if err != nil {
			return err
		}
		m.temperature = append(m.temperature[:0], p.Temperature...)
		m.saturation = append(m.saturation[:0], p.Saturation...)
		pinned, err := m.workspace.Pin(in, in.Months[month], wet...)
		if err != nil {
			return err
		}
		m.noteFood(o, m.temperature, m.saturation, pinned.Pressure)
	}
	return nil
}

// noteFood takes in the humidities at the planes of one month.
func (m *model) noteFood(o *outcome, temperature, saturation, pressure []float64) {
	for _, j := range m.foodPlanes {
		if temperature[j] >= foodWarm {
			o[planeHumidity] = max(o[planeHumidity], min(1, pressure[j]/saturation[j]))
		}
	}
}

// foodAt lists the inner planes of package steady that touch mold food.
func (m *model) foodAt() []int {
	n := len(m.elements)
	var planes []int
	for j := 1; j < n; j++ {
		outer, inner := &m.elements[n-1-j], &m.elements[n-j]
		if m.foodFace(outer, false) || m.foodFace(inner, true) {
			planes = append(planes, j)
		}
	}
	return planes
}

// foodFace says whether the outer or the inner face of an element is food.
func (m *model) foodFace(e *element, outer bool) bool {
	p := m.variant.Layers[e.part]
	switch {
	case p.Cavity:
		return false
	case p.Framed:
		fill := p.Fills[e.fill].Material
		edge := outer && e.fill == 0 || !outer && e.fill == len(p.Fills)-1
		return fill != nil && isFood(fill) || edge && isFood(p.Material)
	case outer:
		return sensitive(m.outerClass(e.part))
	}
	return sensitive(m.innerClass(e.part))
}

// paths gives the permeance from the bay to both sides at 50 % humidity.
func (m *model) paths(in *steady.Input) (outward, inward float64) {
	n := len(m.elements)
	first, last := m.pathEnds()
	z := 0.0
	for i := range first {
		l := &in.Layers[n-1-i]
		if l.Vent > 0 && z > 0 {
			z = 1 / (1/z + l.Vent)
		}
		z += 1 / max(l.Permeance.At(middle), minPermeance)
	}
	outward = 1 / max(z, 1/steady.MaxPermeance)
	z = 0
	for i := last; i < n; i++ {
		z += 1 / max(in.Layers[n-1-i].Permeance.At(middle), minPermeance)
	}
	return outward, 1 / max(z, 1/steady.MaxPermeance)
}
