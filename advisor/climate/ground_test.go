package climate

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestGroundObeysHeatConduction(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Ground{
			Mean: 10, Amplitude: rapid.Float64Range(1, 20).Draw(t, "amplitude"),
			Coldest: 20 * 86400, Diffusivity: rapid.Float64Range(2e-7, 2e-6).Draw(t, "diffusivity"),
		}
		z := rapid.Float64Range(0.1, 6).Draw(t, "depth")
		now := rapid.Float64Range(0, secondsPerYear).Draw(t, "time")
		const dz, dt = 0.01, 3600.0
		rate := (g.Temperature(z, now+dt) - g.Temperature(z, now-dt)) / (2 * dt)
		curvature := (g.Temperature(z+dz, now) - 2*g.Temperature(z, now) + g.Temperature(z-dz, now)) / (dz * dz)
		scale := g.Amplitude * 2 * math.Pi / secondsPerYear
		if math.Abs(rate-g.Diffusivity*curvature) > 1e-3*scale {
			t.Fatalf("dT/dt %g, α d²T/dz² %g", rate, g.Diffusivity*curvature)
		}
	})
}

func TestGroundSwing(t *testing.T) {
	g := Ground{Mean: 9, Amplitude: 14, Coldest: 25 * 86400, Diffusivity: 7e-7}
	if got := g.Temperature(0, g.Coldest); math.Abs(got-(9-14)) > 1e-9 {
		t.Errorf("coldest surface is %g °C", got)
	}
	// One damping depth down the swing is 1/e and comes 1/(2π) of a year later.
	d := g.Depth()
	if got, want := g.Temperature(d, g.Coldest+secondsPerYear/(2*math.Pi)), 9-14/math.E; math.Abs(got-want) > 1e-9 {
		t.Errorf("coldest at the damping depth is %g, not %g °C", got, want)
	}
	if got := g.Temperature(30*d, 0); math.Abs(got-9) > 1e-9 {
		t.Errorf("deep ground is %g °C", got)
	}
	if !math.IsNaN(g.Temperature(-1, 0)) || !math.IsNaN(Ground{Mean: 9}.Temperature(1, 0)) {
		t.Error("depth below zero or no diffusivity must give NaN")
	}
}

// A place whose months lie on a cosine gives back that cosine, up to the unequal
// lengths of the months.
func TestGroundOfCosinePlace(t *testing.T) {
	p := inventedPlace()
	const mean, amplitude, coldest = 8.0, 13.0, 21.0
	for m := range p.Months {
		p.Months[m].Temperature = mean - amplitude*math.Cos(2*math.Pi*(midMonth(m)-coldest)/DaysPerYear)
	}
	g := p.Ground(7e-7)
	if math.Abs(g.Mean-mean) > 0.02 || math.Abs(g.Amplitude-amplitude) > 0.02 || math.Abs(g.Coldest/86400-coldest) > 0.2 {
		t.Errorf("ground is %+v", g)
	}
	south := inventedPlace()
	for m := range south.Months {
		south.Months[m].Temperature = mean + amplitude*math.Cos(2*math.Pi*(midMonth(m)-coldest)/DaysPerYear)
	}
	if g := south.Ground(7e-7); math.Abs(g.Coldest/86400-coldest-DaysPerYear/2.0) > 0.2 {
		t.Errorf("southern ground is coldest on day %g", g.Coldest/86400)
	}
}
