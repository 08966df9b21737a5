package climate

import "math"

const secondsPerYear = DaysPerYear * 86400.0

// Ground is undisturbed ground under a surface whose temperature swings with the
// year.
type Ground struct {
	Mean      float64 // of the year, °C
	Amplitude float64 // of the surface, K
	// Coldest is the moment of the year when the surface is coldest, s.
	Coldest float64
	// Diffusivity is the thermal diffusivity of the ground, m²/s.
	Diffusivity float64
}

// Ground returns the ground of a place with a thermal diffusivity in m²/s: its
// surface follows the first harmonic of the monthly means of air temperature.
func (p *Place) Ground(diffusivity float64) Ground {
	var mean, cosine, sine float64
	for m := range p.Months {
		first, end := monthDays(m)
		t, weight := p.Months[m].Temperature, float64(end-first)/DaysPerYear
		s, c := math.Sincos(2 * math.Pi * midMonth(m) / DaysPerYear)
		mean += weight * t
		cosine += 2 * weight * t * c
		sine += 2 * weight * t * s
	}
	// T = mean − A·cos(2π(τ − coldest)/P).
	phase := math.Atan2(-sine, -cosine)
	if phase < 0 {
		phase += 2 * math.Pi
	}
	return Ground{
		Mean: mean, Amplitude: math.Hypot(cosine, sine),
		Coldest: phase / (2 * math.Pi) * secondsPerYear, Diffusivity: diffusivity,
	}
}

// Depth returns the depth in m at which the yearly swing is 1/e of that of the
// surface: √(αP/π).
func (g Ground) Depth() float64 {
	return math.Sqrt(g.Diffusivity * secondsPerYear / math.Pi)
}

// Temperature returns the temperature in °C at a depth z in m and a time of the year
// in s: mean − A·e^(−z/d)·cos(2π(τ − coldest)/P − z/d), the periodic solution of heat
// conduction in a half-space. It is NaN unless diffusivity is above and depth not
// below zero.
func (g Ground) Temperature(z, time float64) float64 {
	if !(g.Diffusivity > 0 && z >= 0) {
		return math.NaN()
	}
	lag := z / g.Depth()
	return g.Mean - g.Amplitude*math.Exp(-lag)*math.Cos(2*math.Pi*(time-g.Coldest)/secondsPerYear-lag)
}
