package transient

import "relath/advisor/sorption"

// What follows changes conventions of a compiled model, so that tests can measure
// what each of them does.

// SetLatentHeat sets the heat of evaporation in J/kg.
func (m *Model) SetLatentHeat(latent float64) { m.latent = latent }

// SetCap lets the nodes of layers that suck hold so many times their free
// saturation before water drains from them.
func (m *Model) SetCap(times float64) {
	for k := range m.slabs {
		s := &m.slabs[k]
		f := &m.table(s).Functions
		if f.Diffusivity == nil {
			continue
		}
		for i, v := range s.volume {
			m.soaked[s.first+i] += (times - 1) * v * f.FreeSaturation
		}
	}
}

// RunWith solves the model with the material functions that table gives for each
// solid layer at its mean temperature at the start of each hour.
func (m *Model) RunWith(table func(layer int, celsius float64) *sorption.Table) *Result {
	w := new(Workspace)
	w.prepare(m)
	r := newResult(m)
	step := firstStep
	for hour := range m.input.Hours {
		for k := range m.slabs {
			s := &m.slabs[k]
			sum, thickness := 0.0, 0.0
			for i, v := range s.volume {
				sum, thickness = sum+v*w.past[0][s.first+i].t, thickness+v
			}
			m.input.Layers[s.layer].Material = table(s.layer, sum/thickness)
		}
		w.beginHour(hour)
		var ok bool
		if step, ok = w.runHour(step); !ok {
			r.cut(hour)
			break
		}
		w.record(r, hour)
	}
	w.finish(r)
	return r
}
