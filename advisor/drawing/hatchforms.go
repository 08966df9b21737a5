package drawing

import "math"

// dots draws spots of a radius about a space apart.
func (h *hatch) dots(space, radius float64) {
	h.scatter(space, func(u, v float64) {
		p := h.at(u, v)
		b := Box{math.Max(p.X-radius, h.in.X0), math.Max(p.Y-radius, h.in.Y0), math.Min(p.X+radius, h.in.X1), math.Min(p.Y+radius, h.in.Y1)}
		path := b.Path()
		path.Fill = Soft
		h.items = append(h.items, Item{Path: path})
	})
}

// stones draws small uneven shapes, each filling a share of its place.
func (h *hatch) stones(space, share float64) {
	h.scatter(space, func(u, v float64) {
		corners := 3 + h.chance.IntN(3)
		radius := space / 2 * (0.6 + 0.4*h.chance.Float64()) * math.Sqrt(share)
		turn := h.chance.Float64() * math.Pi
		uv := make([][2]float64, 0, corners+1)
		for i := range corners {
			sin, cos := math.Sincos(turn + 2*math.Pi*float64(i)/float64(corners))
			uv = append(uv, [2]float64{u + radius*cos, v + radius*sin})
		}
		h.curve(soft, append(uv, uv[0])...)
	})
}

// strokes draws straight fibers of a length, up to an angle off the layer.
func (h *hatch) strokes(space, length, spread float64) {
	h.scatter(space, func(u, v float64) {
		sin, cos := math.Sincos(spread * (2*h.chance.Float64() - 1))
		h.stroke(soft, u-length/2*sin, v-length/2*cos, u+length/2*sin, v+length/2*cos)
	})
}

// earth draws bundles of three strokes that lean this way and that.
func (h *hatch) earth() {
	const cell = 4.4
	for row := 0; float64(row)*cell < h.along; row++ {
		for column := 0; float64(column)*cell < h.across; column++ {
			u, v := float64(column)*cell, float64(row)*cell
			lean := 1.2
			if (row+column)%2 == 1 {
				lean = -lean
			}
			for k := -1.0; k <= 1; k++ {
				middle := v + cell/2 + k*0.9
				h.stroke(soft, u+0.5, middle-lean, u+cell-0.9, middle+lean)
			}
		}
	}
}

// endGrain draws growth rings about a pith beside the box.
func (h *hatch) endGrain() {
	u0, v0 := -0.35*h.across, h.along*0.5
	most := math.Hypot(h.across-u0, h.along)
	for r := 1.3; r < most; r += 1.3 {
		var uv [][2]float64
		for a := -90.0; a <= 90; a += 4 {
			sin, cos := math.Sincos(a * math.Pi / 180)
			uv = append(uv, [2]float64{u0 + r*cos, v0 + r*sin})
		}
		h.curve(thin, uv...)
	}
}

// longGrain draws lines along the layer that waver a little.
func (h *hatch) longGrain() {
	lines := max(1, int(math.Round(h.across/0.95))-1)
	for i := range lines {
		u := h.across * float64(i+1) / float64(lines+1)
		phase := h.chance.Float64() * 2 * math.Pi
		var uv [][2]float64
		for v := 0.0; v < h.along+2; v += 2 {
			uv = append(uv, [2]float64{u + 0.14*math.Sin(phase+v/4.5), math.Min(v, h.along)})
		}
		h.curve(thin, uv...)
	}
}

// plies draws glue lines, and ticks across every other ply.
func (h *hatch) plies() {
	n := 3
	if h.across > 4 {
		n = 5
	}
	ply := h.across / float64(n)
	for i := 1; i < n; i++ {
		h.stroke(thin, float64(i)*ply, 0, float64(i)*ply, h.along)
	}
	for i := 1; i < n; i += 2 {
		for v := 0.6; v < h.along; v += 1.1 {
			h.stroke(thin, float64(i)*ply, v, float64(i+1)*ply, v)
		}
	}
}

// wave draws a rounded line to and fro between the faces.
func (h *hatch) wave() {
	length := math.Max(2.2, math.Min(6, 0.42*h.across))
	reach := 0.46 * h.across
	var uv [][2]float64
	const perWave = 16
	for i := 0; ; i++ {
		v := float64(i) * length / perWave
		s := math.Sin(2 * math.Pi * float64(i) / perWave)
		// Flatter at the turns than a sine, as a batt folds.
		uv = append(uv, [2]float64{h.across/2 + reach*math.Tanh(1.8*s)/math.Tanh(1.8), v})
		if v > h.along {
			break
		}
	}
	h.curve(soft, uv...)
}

// curls draws short waves that lie every way.
func (h *hatch) curls() {
	h.scatter(2.7, func(u, v float64) {
		sin, cos := math.Sincos(math.Pi * h.chance.Float64())
		var uv [][2]float64
		for i := -6; i <= 6; i++ {
			s := float64(i) / 6
			t := 0.45 * math.Sin(math.Pi*s)
			uv = append(uv, [2]float64{u + s*1.1*sin + t*cos, v + s*1.1*cos - t*sin})
		}
		h.curve(soft, uv...)
	})
}

// pile draws threads that stand on the second face.
func (h *hatch) pile() {
	for v := 0.4; v < h.along; v += 0.7 {
		h.stroke(thin, 0.15*h.across, v, h.across, v+0.15)
	}
}
