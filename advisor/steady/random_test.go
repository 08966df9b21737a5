package steady

import (
	"math"
	"math/rand/v2"

	"relath/advisor/moistair"
)

// randomLayers returns from 2 to 7 layers whose equivalent air layers lie
// between low and high in m, evenly over their logarithm; some are sheets.
func randomLayers(rng *rand.Rand, low, high float64) []Layer {
	layers := make([]Layer, 2+rng.IntN(6))
	for i := range layers {
		r := 0.0
		if rng.IntN(4) > 0 {
			r = 1.5 * rng.Float64() * rng.Float64()
		}
		layers[i] = airLayer(r, low*math.Pow(high/low, rng.Float64()))
	}
	layers[0].R += 0.02
	return layers
}

// addVent gives one of the layers but the outermost a vent.
func addVent(rng *rand.Rand, layers []Layer) {
	layers[rng.IntN(len(layers)-1)].Vent = math.Pow(10, -11+3*rng.Float64())
}

// addCurve makes one permeance rise with humidity.
func addCurve(rng *rand.Rand, layers []Layer) {
	layer := &layers[rng.IntN(len(layers))]
	base := layer.Permeance[0].Permeance
	layer.Permeance = Curve{{0.2, base / 3}, {0.5, base}, {0.8, base * 5}}
}

// randomClimate has indoor air between 15 and 27 °C, outdoor means that swing
// around a random mean, and air of any humidity.
func randomClimate(rng *rand.Rand) [12]Month {
	var months [12]Month
	mean, swing := -5+30*rng.Float64(), 18*rng.Float64()
	ti, rhi, rhe := 15+12*rng.Float64(), 0.2+0.7*rng.Float64(), 0.3+0.65*rng.Float64()
	for i := range months {
		te := mean - swing*math.Cos(2*math.Pi*float64(i)/12) + 2*rng.Float64()
		months[i] = Month{
			Days: 28 + float64(rng.IntN(4)), IndoorT: ti, OutdoorT: te,
			IndoorP:  rhi * moistair.SaturationPressureISO(ti) * (0.8 + 0.2*rng.Float64()),
			OutdoorP: rhe * moistair.SaturationPressureISO(te) * (0.8 + 0.2*rng.Float64()),
		}
	}
	return months
}

// randomInput returns a moderate assembly, some with vapor films, some with a
// vent.
func randomInput(rng *rand.Rand) *Input {
	in := isoInput(randomClimate(rng), randomLayers(rng, 0.05, 5)...)
	if rng.IntN(2) == 0 {
		in.Inside.VaporResistance, in.Outside.VaporResistance = 1e8, 2e7
	}
	if rng.IntN(3) == 0 {
		addVent(rng, in.Layers)
	}
	return in
}

// extremeInput returns an assembly with permeances from none to that of air,
// slices, curves and vents.
func extremeInput(rng *rand.Rand) *Input {
	in := isoInput(randomClimate(rng), randomLayers(rng, 1e-3, 1e5)...)
	in.Unsliced = rng.IntN(3) == 0
	if rng.IntN(10) == 0 { // humidity of weather records can exceed that over ice
		in.Months[0].OutdoorP *= 1.5
	}
	if rng.IntN(2) == 0 {
		in.Inside.VaporResistance, in.Outside.VaporResistance = 1e8, 2e7
	}
	if rng.IntN(2) == 0 {
		addVent(rng, in.Layers)
	}
	if rng.IntN(2) == 0 {
		addCurve(rng, in.Layers)
	}
	if rng.IntN(4) == 0 {
		in.Layers[rng.IntN(len(in.Layers))].Permeance = constant(0)
	}
	return in
}
