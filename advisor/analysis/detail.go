package analysis

import (
	"slices"

	"relath/advisor/steady"
	"relath/kb/quantity"
)

// detail computes what a report draws: how much water could leave from each
// layer when it is soaked, by season, the ways of vapor, and the months of the
// best case.
func (m *model) detail(out *Variant, ends []corner) error {
	out.Detail.Layers = make([]Soaked, len(m.variant.Layers))
	for i, at := range ends {
		in := m.compile(at)
		for part := range m.variant.Layers {
			if err := m.soak(&out.Detail.Layers[part], part, in, i == 0); err != nil {
				return err
			}
		}
	}
	out.Detail.Ways = m.ways()
	out.Detail.Input = m.compile(bestCase).Clone()
	return m.year(&out.Detail, out.Detail.Input)
}

// soak takes in what leaves a part that is wet on both faces, at one corner;
// the first corner is the best case.
func (m *model) soak(s *Soaked, part int, in *steady.Input, first bool) error {
	n := len(m.elements)
	inner, outer := m.facesOf(part)
	s.Part = part
	// A surface has the vapor pressure of its air: the outer layers are taken as
	// wet at their inner face only.
	inner, outer = max(inner, 1), min(outer, n-1)
	if m.variant.Layers[part].Cavity || inner > n-1 || outer < 1 {
		return nil
	}
	d, err := m.workspace.DryingYear(in, min(inner, outer), max(inner, outer))
	if err != nil {
		return err
	}
	s.Outward.take(seasons(in, &d.Outward), first)
	s.Inward.take(seasons(in, &d.Inward), first)
	if first {
		s.LandsOutward, s.LandsInward = m.landing(&d.Outward), m.landing(&d.Inward)
	}
	s.Known = true
	return nil
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
	widen(&s.Heating, v.Heating, first)
	widen(&s.Cooling, v.Cooling, first)
	widen(&s.Year, v.Year, first)
}

// widen takes a value into a range; the first is its best.
func widen(r *quantity.Range, v float64, first bool) {
	if first {
		*r = quantity.Exact(v)
		return
	}
	r.Low, r.High = min(r.Low, v), max(r.High, v)
}

// year keeps the months of the best case.
func (m *model) year(d *Detail, in *steady.Input) error {
	y, err := m.workspace.Year(in)
	if err != nil {
		return err
	}
	d.Planes = slices.Clone(y.Planes)
	for i := range d.Months {
		d.Months[i] = Month{Gain: slices.Clone(y.Gain[i]), Water: slices.Clone(y.Water[i])}
	}
	for i := range d.Months {
		p, err := m.workspace.Profile(in, in.Months[i])
		if err != nil {
			return err
		}
		d.Months[i].Temperature = slices.Clone(p.Temperature)
		d.Months[i].VaporPressure = slices.Clone(p.Pressure)
		d.Months[i].Saturation = slices.Clone(p.Saturation)
	}
	return nil
}
