package analysis

import (
	"relath/advisor/steady"
	"relath/kb/quantity"
)

// detail computes what a report draws: how much water could leave from each
// layer when it is soaked, by season, and the months of the best case.
func (m *model) detail(out *Variant, ends []corner) error {
	inputs := make([]*steady.Input, len(ends))
	for i, at := range ends {
		inputs[i] = m.compile(at)
	}
	out.Detail.Input = inputs[0]
	for i := range m.variant.Layers {
		wet, err := m.soaked(i, inputs)
		if err != nil {
			return err
		}
		out.Detail.Layers = append(out.Detail.Layers, wet)
	}
	return m.year(&out.Detail, inputs[0])
}

// soaked gives what leaves a part that is wet on both faces.
func (m *model) soaked(part int, inputs []*steady.Input) (Soaked, error) {
	n := len(m.elements)
	inner, outer := n, 0
	for i, e := range m.elements {
		if e.part == part {
			inner, outer = min(inner, n-1-i), max(outer, n-i)
		}
	}
	s := Soaked{Part: part}
	// A surface has the vapor pressure of its air: the outer layers are taken as
	// wet at their inner face only.
	inner, outer = max(inner, 1), min(outer, n-1)
	if m.variant.Layers[part].Cavity || inner > n-1 || outer < 1 {
		return s, nil
	}
	for i, in := range inputs {
		d, err := m.workspace.DryingYear(in, min(inner, outer), max(inner, outer))
		if err != nil {
			return s, err
		}
		out, into := seasons(in, &d.Outward), seasons(in, &d.Inward)
		s.Outward.take(out, i == 0)
		s.Inward.take(into, i == 0)
		if i == 0 {
			s.LandsOutward, s.LandsInward = m.landing(&d.Outward), m.landing(&d.Inward)
		}
	}
	s.Known = true
	return s, nil
}

// landing gives the part outside of the plane where most of the difference
// condenses over the year, -1 for none.
func (m *model) landing(d *[12]steady.Drying) int {
	most, plane := 0.0, -1
	for _, month := range d {
		if month.Plane >= 0 && month.Landing > most {
			most, plane = month.Landing, month.Plane
		}
	}
	if plane < 0 {
		return -1
	}
	n := len(m.elements)
	if plane == n {
		return m.elements[0].part
	}
	return m.elements[n-1-plane].part
}

// take widens seasons by those of another corner; the first sets them.
func (s *Seasons) take(v steady.Seasons, first bool) {
	s.HeatingKnown, s.CoolingKnown = v.HeatingDays > 0, v.CoolingDays > 0
	for _, pair := range []struct {
		into *quantity.Range
		v    float64
	}{{&s.Heating, v.Heating}, {&s.Cooling, v.Cooling}, {&s.Year, v.Year}} {
		if first {
			*pair.into = quantity.Exact(pair.v)
			continue
		}
		pair.into.Low, pair.into.High = min(pair.into.Low, pair.v), max(pair.into.High, pair.v)
	}
}

// year keeps the months of the best case.
func (m *model) year(d *Detail, in *steady.Input) error {
	y, err := m.workspace.Year(in)
	if err != nil {
		return err
	}
	d.Planes = append(d.Planes, y.Planes...)
	for i := range d.Months {
		d.Months[i] = Month{Gain: append([]float64(nil), y.Gain[i]...), Water: append([]float64(nil), y.Water[i]...)}
	}
	for i := range d.Months {
		p, err := m.workspace.Profile(in, in.Months[i])
		if err != nil {
			return err
		}
		d.Months[i].Temperature = append([]float64(nil), p.Temperature...)
		d.Months[i].VaporPressure = append([]float64(nil), p.Pressure...)
		d.Months[i].Saturation = append([]float64(nil), p.Saturation...)
	}
	return nil
}
