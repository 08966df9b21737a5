package analysis

import (
	"math"

	"relath/advisor/moistair"
	"relath/advisor/steady"
)

// boundary is the memory of an upper bound of the drying capacity.
type boundary struct {
	saturation []float64 // at steps of a quarter degree, Pa
	least      []float64 // least vapor resistance of each layer
	share      []float64 // of the thermal resistance up to each plane
	escape     []float64 // bound of what arrives outdoors from each plane
	sum        []float64 // over the year
}

const (
	coldest   = -95.0
	perDegree = 4
	steps     = (105 + 95) * perDegree
	// slack covers the kink of the saturation curve at freezing.
	slack = 2e-4
)

// fill tabulates the saturation pressure. The curve is convex, so that lines
// between its points lie above it.
func (b *boundary) fill() {
	b.saturation = make([]float64, steps+1)
	for i := range b.saturation {
		b.saturation[i] = moistair.SaturationPressure(coldest+float64(i)/perDegree) * (1 + slack)
	}
}

// atMost gives a saturation pressure that is not exceeded at a temperature.
func (b *boundary) atMost(t float64) float64 {
	x := (t - coldest) * perDegree
	i := int(min(max(x, 0), steps-1))
	return b.saturation[i] + (x-float64(i))*(b.saturation[i+1]-b.saturation[i])
}

// DryingAtMost gives an upper bound of the drying capacity at the worst plane,
// kg/(m²·s), in a fraction of the time. On its way from a wet plane vapor meets
// planes that hold at most saturation, so that no more arrives than each of
// them could send through the least resistance between it and the air; a vent
// counts as the weather itself. No vent lies inside of the planes that are judged.
func (s *Screen) DryingAtMost() float64 {
	b, n := &s.bounds, len(s.in.Layers)
	if b.saturation == nil {
		b.fill()
	}
	b.least, b.share = b.least[:0], b.share[:0]
	b.escape, b.sum = append(b.escape[:0], make([]float64, n+1)...), append(b.sum[:0], make([]float64, n+1)...)
	total := s.in.Inside.R
	for i := range s.in.Layers {
		b.share = append(b.share, total)
		total += s.in.Layers[i].R
		b.least = append(b.least, 1/widest(s.in.Layers[i].Permeance))
	}
	b.share = append(b.share, total)
	total += s.in.Outside.R
	days := 0.0
	for i := range s.in.Months {
		s.boundMonth(&s.in.Months[i], total)
		days += s.in.Months[i].Days
	}
	least := math.Inf(1)
	for k := 1; k <= s.outermost(); k++ {
		if b.sum[k]/days < least {
			least, s.suspect = b.sum[k]/days, k
		}
	}
	return least
}

// boundMonth adds the bounds of one month.
func (s *Screen) boundMonth(m *steady.Month, total float64) {
	b, n := &s.bounds, len(s.in.Layers)
	at := func(j int) float64 { return b.atMost(m.IndoorT - b.share[j]/total*(m.IndoorT-m.OutdoorT)) }
	b.escape[n] = math.Inf(1)
	z, beyond := 0.0, 0.0
	for j := n - 1; j >= 1; j-- {
		next := b.escape[j+1]
		if v := s.in.Layers[j].Vent; v > 0 {
			next += v * beyond
			z = 0
		}
		z += b.least[j]
		beyond = max(0, at(j)-m.OutdoorP)
		b.escape[j] = min(next, beyond/z)
	}
	enter := math.Inf(1)
	z = 0
	for j := 1; j < n; j++ {
		z += b.least[j-1]
		enter = min(enter, max(0, at(j)-m.IndoorP)/z)
		own := s.in.Layers[j-1].Vent * max(0, at(j)-m.OutdoorP)
		b.sum[j] += m.Days * (b.escape[j] + own + enter)
	}
}

// widest gives the largest permeance of a curve.
func widest(c steady.Curve) float64 {
	most := steady.MinPermeance
	for _, p := range c {
		most = max(most, p.Permeance)
	}
	return most
}
