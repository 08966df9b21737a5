package steady

import "math"

// sliceR is the largest thermal resistance of a slice, m²·K/W, in which
// ISO 13788 looks for condensation inside a layer (recalled).
const sliceR = 0.25

// firstPassRH is the relative humidity at which permeances are first read, to
// find the humidity at which they are read the second time.
const firstPassRH = 0.5

// Workspace is the memory of the moisture methods. The zero value is ready.
// One workspace serves any number of inputs, one after the other; it must not
// be used by two goroutines at once. What a method returns through slices or
// pointers is valid until the next call.
type Workspace struct {
	in     *Input
	net    network
	curve  bool                         // a permeance depends on humidity
	tables [saturations]saturationTable // made when first needed

	planes []Plane
	start  []int     // plane at the inner face of each layer, then the outer surface
	share  []float64 // part of the thermal resistance between room air and the plane
	firstZ []float64 // vapor resistances at firstPassRH, as network.z
	sat    []float64 // saturation pressures at the planes, Pa
	t      []float64 // temperatures of a profile, °C
	leave  []float64 // flows of pinned planes

	valid   [12]Month // checked last
	checked bool

	water      []float64 // at the planes, kg/m²
	condensing [12]bool  // months that wet a dry assembly
	year       Year
	months     []float64 // memory of the tables in year
	shares     []float64
}

// Plane is a place where water can gather: the inner face of Layers[Layer], or
// with a Fraction above 0 the place that far into the layer, as a fraction of
// its resistances. Layer is the number of layers at the outer surface.
type Plane struct {
	Layer    int
	Fraction float64
}

// load lays out planes and resistances of in, with slices or between layers
// only.
func (w *Workspace) load(in *Input, sliced bool) {
	w.in = in
	w.curve = false
	if table := &w.tables[in.Saturation]; table.cubics == nil {
		*table = newSaturationTable(in.Saturation)
	}
	w.planes, w.start, w.share = w.planes[:0], w.start[:0], w.share[:0]
	w.firstZ = w.firstZ[:0]

	total := in.Inside.R + in.Outside.R
	for i := range in.Layers {
		total += in.Layers[i].R
	}
	r := in.Inside.R
	for i := range in.Layers {
		layer := &in.Layers[i]
		w.curve = w.curve || len(layer.Permeance) > 1
		w.start = append(w.start, len(w.planes))
		n := 1
		if sliced {
			n = sliceCount(layer.R)
		}
		z := layer.Permeance.resistance(firstPassRH) / float64(n)
		for s := range n {
			part := float64(s) / float64(n)
			w.planes = append(w.planes, Plane{Layer: i, Fraction: part})
			w.share = append(w.share, (r+part*layer.R)/total)
			w.firstZ = append(w.firstZ, z)
		}
		r += layer.R
	}
	w.start = append(w.start, len(w.planes))
	w.planes = append(w.planes, Plane{Layer: len(in.Layers)})
	w.share = append(w.share, r/total)
	w.prepareNetwork()
}

// validate is [Input.Validate]; months that it has just accepted are not looked at
// again.
func (w *Workspace) validate(in *Input) error {
	if !w.checked || in.Months != w.valid {
		w.checked = false
		if err := in.Validate(); err != nil {
			return err
		}
		w.valid, w.checked = in.Months, true
		return nil
	}
	return in.validateLayers()
}

// sliceCount returns into how many slices a layer of resistance r is split.
func sliceCount(r float64) int {
	// A layer of exactly n slices stays at n whatever the last digit of r.
	return max(1, int(math.Ceil(r/sliceR-1e-9)))
}

func (w *Workspace) prepareNetwork() {
	n := len(w.planes)
	w.net.resize(n)
	w.net.zIn, w.net.zOut = w.in.Inside.VaporResistance, w.in.Outside.VaporResistance
	for i := range w.in.Layers {
		w.net.vent[w.start[i+1]] = w.in.Layers[i].Vent
	}
	copy(w.net.z, w.firstZ)
}

// setMonth gives the network the air of month m and the saturation pressures
// sat at its planes.
func (w *Workspace) setMonth(m *Month, sat []float64) {
	w.net.pIn, w.net.pOut = m.IndoorP, m.OutdoorP
	w.net.sat = sat
}

// saturate fills sat with the saturation pressures at the planes in month m.
func (w *Workspace) saturate(m *Month, sat []float64) {
	table := &w.tables[w.in.Saturation]
	drop := m.IndoorT - m.OutdoorT
	for k, s := range w.share {
		sat[k] = table.pressure(m.IndoorT - s*drop)
	}
}

// readPermeances sets the vapor resistances of the month: the pressures of a
// first pass, solved with all permeances at 50 % relative humidity, give the
// mean of the relative humidities at the faces of each layer, and there its
// curve is read. Nothing is iterated further.
func (w *Workspace) readPermeances(solve func(*network)) {
	if !w.curve {
		return
	}
	copy(w.net.z, w.firstZ)
	solve(&w.net)
	for i := range w.in.Layers {
		curve := w.in.Layers[i].Permeance
		if len(curve) == 1 {
			continue
		}
		from, to := w.start[i], w.start[i+1]
		z := curve.resistance((w.humidity(from)+w.humidity(to))/2) / float64(to-from)
		for k := from; k < to; k++ {
			w.net.z[k] = z
		}
	}
}

// humidity returns the relative humidity at plane k, at most 1.
func (w *Workspace) humidity(k int) float64 {
	return min(1, w.net.p[k]/w.net.sat[k])
}
