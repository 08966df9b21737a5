package analysis

import (
	"relath/advisor/assembly"
	"relath/advisor/moistair"
	"relath/advisor/wood"
	"relath/kb/quantity"
)

// pinMeter is the assumption on the error of a moisture meter in wood.
const pinMeter = "reading-pin-meter"

// woodReadings holds the readings of wood moisture against what the monthly
// method computes: wood in equilibrium with the air at its faces in the month of
// the reading (Wood Handbook FPL-GTR-282, eq. 4-5), over both faces and all
// corners, the best value midway between the faces. The method has no storage:
// wood lags behind the month by weeks.
func (m *model) woodReadings(out *Variant) error {
	for i := range out.Layers {
		f := out.Layers[i].Facts
		f["wood-reading"] = word("none")
		f["wood-moisture-read"] = Estimate{Missing: "no reading of a moisture meter is given"}
		f["wood-moisture-computed"] = Estimate{Missing: "no reading of a moisture meter is given"}
	}
	meter := m.base.Assumption(pinMeter)
	if meter == nil {
		return nil
	}
	furthest := make(map[int]float64)
	for _, t := range m.of.Taken {
		part := m.partNamed(t.Layer)
		if !ofWood(t) || part < 0 {
			continue
		}
		f := out.Layers[part].Facts
		read := quantity.Range{Low: max(0, t.Moisture-meter.SI.Best), Best: t.Moisture, High: t.Moisture + meter.SI.Best}
		computed := Estimate{Missing: m.blocked()}
		if computed.Missing == "" {
			r, err := m.woodMoisture(part, t.Month)
			if err != nil {
				return err
			}
			computed = measured(r)
			computed.Evidence, computed.Inputs = out.Facts["plane-humidity"].Evidence, m.inputs()
		}
		above := read.Best - computed.Range.Best
		if old, ok := furthest[part]; ok && old >= above {
			continue
		}
		furthest[part] = above
		f["wood-moisture-read"] = measured(read)
		f["wood-moisture-computed"] = computed
		f["wood-reading"] = word(against(read, computed))
	}
	return nil
}

// against says how a reading stands to what is computed.
func against(read quantity.Range, computed Estimate) string {
	switch {
	case !computed.Known:
		return "not-compared"
	case read.Low > computed.Range.High:
		return "wetter"
	case read.High < computed.Range.Low:
		return "drier"
	}
	return "as-computed"
}

// ofWood says whether a reading is of wood moisture in a month.
func ofWood(t assembly.Taken) bool { return t.Moisture > 0 && t.Month >= 0 }

// readingsOn lists the readings of wood moisture on a part.
func (m *model) readingsOn(part int) []assembly.Taken {
	var list []assembly.Taken
	for _, t := range m.of.Taken {
		if ofWood(t) && t.Layer == m.variant.Layers[part].Name {
			list = append(list, t)
		}
	}
	return list
}

// partNamed gives the part of a layer, or -1 where a doubt leaves it out.
func (m *model) partNamed(name string) int {
	for i, p := range m.variant.Layers {
		if p.Name == name {
			return i
		}
	}
	return -1
}

// woodMoisture gives the moisture of wood at the faces of a part in a month, by
// mass.
func (m *model) woodMoisture(part, month int) (quantity.Range, error) {
	var r quantity.Range
	ends, err := m.corners()
	if err != nil {
		return r, err
	}
	inner, outer := m.facesOf(part)
	for i, at := range ends {
		in := m.compile(at)
		var o outcome
		year, err := m.workspace.Year(in)
		if err != nil {
			return r, err
		}
		m.readYear(year, in, &o, nil)
		p, err := m.workspace.Profile(in, in.Months[month])
		if err != nil {
			return r, err
		}
		m.temperature = append(m.temperature[:0], p.Temperature...)
		m.saturation = append(m.saturation[:0], p.Saturation...)
		pressure := p.Pressure
		if wet := m.wet[month]; len(wet) > 0 {
			pinned, err := m.workspace.Pin(in, in.Months[month], wet...)
			if err != nil {
				return r, err
			}
			pressure = pinned.Pressure
		}
		at := func(plane int) float64 {
			return wood.EMC(m.temperature[plane], min(1, pressure[plane]/moistair.SaturationPressureOverWater(m.temperature[plane])))
		}
		a, b := at(inner), at(outer)
		widen(&r, (a+b)/2, i == 0)
		widen(&r, a, false)
		widen(&r, b, false)
	}
	return r, nil
}

// facesOf gives the planes of package steady at the faces of a part.
func (m *model) facesOf(part int) (inner, outer int) {
	n := len(m.elements)
	inner, outer = n, 0
	for i := range m.elements {
		if m.elements[i].part == part {
			inner, outer = min(inner, n-1-i), max(outer, n-i)
		}
	}
	return inner, outer
}
