package analysis

import (
	"math"
	"math/rand/v2"
	"testing"

	"relath/advisor/steady"
)

// No assembly dries faster than the upper bound: random layers, curves, vents
// and climates, hot and cold, against the drying capacity itself.
func TestDryingAtMost(t *testing.T) {
	random := rand.New(rand.NewPCG(13788, 1))
	between := func(low, high float64) float64 { return low + random.Float64()*(high-low) }
	permeance := func() float64 { return math.Exp(between(math.Log(1e-13), math.Log(5e-8))) }
	tight := 0
	for i := range 2000 {
		s := &Screen{ambient: true}
		s.in.Inside.R, s.in.Outside.R = 0.13, 0.04
		warm, swing := between(-15, 27), between(0, 18)
		for m := range s.in.Months {
			out := warm - swing*math.Cos(2*math.Pi*float64(m)/12)
			s.in.Months[m] = steady.Month{Days: 30, IndoorT: 21, IndoorP: between(500, 1500), OutdoorT: out, OutdoorP: between(0.4, 1.1) * 611 * math.Exp(0.065*out)}
		}
		for range 2 + random.IntN(7) {
			l := steady.Layer{R: between(0, 2), Permeance: steady.Curve{{RH: 0.25, Permeance: permeance()}}}
			if random.IntN(3) == 0 {
				l.R = 0
			}
			if random.IntN(2) == 0 {
				l.Permeance = append(l.Permeance, steady.Point{RH: 0.75, Permeance: l.Permeance[0].Permeance * between(1, 20)})
			}
			if random.IntN(5) == 0 {
				l.Vent = permeance()
			}
			s.in.Layers = append(s.in.Layers, l)
		}
		s.in.Layers[len(s.in.Layers)-1].Vent = 0
		atMost := s.DryingAtMost()
		got, err := s.Drying(func(float64) bool { return false })
		if err != nil {
			t.Fatal(err)
		}
		if got > atMost*(1+1e-9) {
			t.Errorf("case %d dries at %g, the bound is %g: %+v", i, got, atMost, s.in.Layers)
		}
		if got > 0.5*atMost {
			tight++
		}
	}
	if tight < 200 {
		t.Errorf("the bound is within twice the value in %d cases of 2000 only", tight)
	}
}
