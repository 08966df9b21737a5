package house

import (
	"math"
	"math/cmplx"

	"relath/advisor/moistair"
)

// airVolume is a room whose air takes up water once a day.
type airVolume struct {
	volume      float64 // m³
	temperature float64 // °C
	airChange   float64 // 1/s
	mass        float64 // kg given off in a day
	duration    float64 // s in which it is given off
	faces       []bufferFace
}

// bufferFace is a face that takes part.
type bufferFace struct {
	area  float64 // m²
	bare  float64 // moisture buffer value without coats, kg/m² for the whole range
	coats float64 // vapor resistance of the coats, s·m²·Pa/kg
}

// The resolution of a swing: harmonics of the day and moments of it.
const (
	harmonics = 60
	moments   = 96
)

// swing returns the difference between the highest and the lowest relative
// humidity of the day, as a fraction, when water is given off evenly for a part
// of the day, air is exchanged with air of constant humidity, and the faces take
// part by their effusivity: the sum over the harmonics of the source divided by
// the admittance of air, ventilation and faces together. It is linear in the
// mass; above 1 the air cannot hold the water.
func (a airVolume) swing() float64 {
	const omega = 2 * math.Pi / dayLength
	capacity := a.volume / (moistair.GasConstantWaterVapor * (a.temperature + moistair.ZeroCelsius)) // kg/Pa
	share := math.Min(a.duration/dayLength, 1)
	rate := a.mass / a.duration
	var terms [harmonics]complex128
	for n := 1; n <= harmonics; n++ {
		w := omega * float64(n)
		y := complex(capacity*a.airChange, capacity*w)
		for _, f := range a.faces {
			y += complex(f.area, 0) * admittance(effusivity(f.bare), f.coats, w)
		}
		// Coefficient of a pulse of the rate over the share of the period.
		angle := math.Pi * float64(n) * share
		source := complex(2*rate*math.Sin(angle)/(math.Pi*float64(n)), 0) * cmplx.Rect(1, -angle)
		terms[n-1] = source / y
	}
	low, high := math.Inf(1), math.Inf(-1)
	for i := range moments {
		p := 0.0
		for n, c := range terms {
			p += real(c * cmplx.Rect(1, 2*math.Pi*float64((n+1)*i%moments)/moments))
		}
		low, high = math.Min(low, p), math.Max(high, p)
	}
	return (high - low) / moistair.SaturationPressureOverWater(a.temperature)
}
