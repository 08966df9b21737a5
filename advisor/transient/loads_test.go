package transient_test

import (
	"math"
	"testing"

	"relath/advisor/internal/checks"
	"relath/advisor/moistair"
	"relath/advisor/sorption"
	"relath/advisor/transient"
)

func TestFilms(t *testing.T) {
	f := checks.Open(t, "transient-films.csv")
	for _, row := range f.Rows() {
		convection := transient.Convection(row.Float("wind"))
		f.Check(t, row, "convection", convection)
		f.Check(t, row, "radiation", transient.Radiation(row.Float("emissivity"), row.Float("celsius")))
		for _, column := range []string{"vapor", "vapor_lewis", "vapor_lewis_moist"} {
			f.Check(t, row, column, transient.VaporTransfer(convection))
		}
	}
}

// slab is one layer of an inert material at 20 °C.
func slab(t failer, thickness float64) transient.Layer {
	t.Helper()
	return transient.Layer{Material: inert(t, 1, 1e4), Thickness: thickness, Temperature: 20, Humidity: 0.5}
}

func TestSolAir(t *testing.T) {
	f := checks.Open(t, "transient-sol-air.csv")
	for _, row := range f.Rows() {
		outside := film(row.Float("air_c"), 0.3, row.Float("transfer"), 0)
		outside.Sun = transient.Constant(row.Float("sun"))
		outside.Absorptance = row.Float("absorptance")
		outside.LongWave = transient.Constant(row.Float("long_wave"))
		r := run(t, transient.Input{
			Layers: []transient.Layer{slab(t, 0.01)}, Outside: outside, Inside: sealed, Hours: 24,
		})
		f.Check(t, row, "face_c", r.Faces[transient.Outside].Temperature[23])
	}
}

func TestVentilatedGap(t *testing.T) {
	f := checks.Open(t, "transient-ventilated-gap.csv")
	for _, row := range f.Rows() {
		in := transient.Input{
			Layers: []transient.Layer{
				slab(t, 0.1),
				{
					Thickness: 0.02, Temperature: 10, Humidity: 0.5,
					Cavity: &transient.Cavity{
						Resistance: 0.18, VaporResistance: 1e8, Exchange: transient.Constant(row.Float("changes")),
					},
				},
				{
					Material:  tabulate(t, linear(1, 1e4, 10, 1e-11)),
					Thickness: 0.1, Temperature: 20, Humidity: 0.5,
				},
			},
			Outside: film(0, 0.8, 20, 0), Inside: film(20, 0.6, 8, 2e-8), Hours: 24 * 60,
			Probes: []transient.Position{{Layer: 1}},
		}
		r := run(t, in)
		last := in.Hours - 1
		gap := r.Probes[0]
		vapor := r.Air.Vapor[last]
		heat := r.Air.Heat[last] - transient.LatentHeat*vapor
		pressure := gap.Humidity[last] * moistair.SaturationPressure(gap.Temperature[last])
		f.Check(t, row, "resistance", 3600*(0-gap.Temperature[last])/heat)
		f.Check(t, row, "permeance_ng", 1e12*vapor/3600/(in.Outside.VaporPressure[0]-pressure))
	}
}

func TestAirLeak(t *testing.T) {
	layer := transient.Layer{
		Material: tabulate(t, linear(1, 1e4, 500, 1e-10)), Thickness: 0.01, Temperature: -5, Humidity: 1,
	}
	f := checks.Open(t, "transient-air-leak.csv")
	for _, row := range f.Rows() {
		r := run(t, transient.Input{
			Layers: []transient.Layer{layer}, Outside: film(-5, 1, tight, 0), Inside: film(20, 0.4, 0, 0),
			Paths: []transient.AirPath{{
				At:   transient.Position{Face: transient.OuterFace},
				From: transient.Inside, Flow: transient.Constant(0.1e-3 * transient.AirDensity),
			}},
			Hours: 24,
		})
		sum := 0.0
		for h := range r.Hours {
			sum += 1000 * r.Air.Vapor[h]
			near(t, "deposit that drains", r.Drained[h], r.Air.Vapor[h], 1e-6*r.Air.Vapor[h])
		}
		f.Check(t, row, "deposit_g_m2_day", sum)
	}
}

// TestHourlyValues: the face of an insulated slab follows the air at once.
func TestHourlyValues(t *testing.T) {
	outside := film(0, 0.5, tight, 0)
	outside.Temperature = transient.Series{0, 10, 4, -6}
	in := transient.Input{
		Layers:  []transient.Layer{{Material: inert(t, 1, 1e5), Thickness: 1e-3, Humidity: 0.5}},
		Outside: outside, Inside: sealed, Hours: 8,
	}
	interpolated := run(t, in).Faces[transient.Outside].Temperature
	in.Held = true
	held := run(t, in).Faces[transient.Outside].Temperature
	for h := range in.Hours {
		near(t, "interpolated value at the end of the hour", interpolated[h], outside.Temperature[(h+1)%4], 1e-3)
		near(t, "held value at the end of the hour", held[h], outside.Temperature[h%4], 1e-3)
	}
}

func TestSeries(t *testing.T) {
	means := []float64{3, 5, 1, 7}
	s := transient.AtFullHours(means)
	want := transient.Series{5, 4, 3, 4}
	for k := range want {
		near(t, "value at a full hour", s[k], want[k], 1e-12)
	}
	burst := transient.Burst(10, 8, 4, 2)
	near(t, "amount in hour 9", burst[9], 0.5, 1e-12)
	near(t, "amount in hour 7", burst[7], 0, 0)
	if len(burst) != 10 {
		t.Errorf("the series has %d hours", len(burst))
	}
}

// TestSteadyStateIsTheSeriesOfResistances: layers with constant coefficients, a
// gap, sheets, a coat and films, after a long time at constant air.
func TestSteadyStateIsTheSeriesOfResistances(t *testing.T) {
	type part struct {
		layer                       transient.Layer
		resistance, vaporResistance float64
	}
	solid := func(thickness, conductivity, permeability float64) part {
		return part{transient.Layer{
			Material: tabulate(t, linear(conductivity, 1e4, 1, permeability)), Thickness: thickness,
			Temperature: 5, Humidity: 0.4,
		}, thickness / conductivity, thickness / permeability}
	}
	sheet := func(permeance float64) part {
		return part{transient.Layer{Sheet: coat(0.5, permeance)}, 0, 1 / permeance}
	}
	gap := part{transient.Layer{
		Thickness: 0.02, Temperature: 5, Humidity: 0.4,
		Cavity: &transient.Cavity{Resistance: 0.18, VaporResistance: 5e7},
	}, 0.18, 5e7}
	parts := []part{
		solid(0.02, 0.1, 5e-12), gap, sheet(2e-9), solid(0.011, 0.1, 2e-11), solid(0.14, 0.04, 1.7e-10),
		sheet(5e-11), solid(0.013, 0.2, 2.5e-11), sheet(3e-10),
	}
	outside, inside := film(-5, 0.7, 25, 75e-9), film(21, 0.35, 8, 25e-9)
	in := transient.Input{Outside: outside, Inside: inside, Hours: 24 * 365}
	resistance, vaporResistance := 1/25.0, 1/75e-9
	var at []float64 // resistance from the outdoor air to the inner face of each part
	var vaporAt []float64
	for i, p := range parts {
		in.Layers = append(in.Layers, p.layer)
		in.Probes = append(in.Probes, transient.Position{Layer: i, Face: transient.InnerFace})
		resistance, vaporResistance = resistance+p.resistance, vaporResistance+p.vaporResistance
		at, vaporAt = append(at, resistance), append(vaporAt, vaporResistance)
	}
	resistance, vaporResistance = resistance+1/8.0, vaporResistance+1/25e-9
	r := run(t, in)
	last := in.Hours - 1
	drop := inside.VaporPressure[0] - outside.VaporPressure[0]
	heat, vapor := 26/resistance, drop/vaporResistance
	near(t, "vapor flow in", r.Sides[1].Vapor[last]/3600, vapor, 1e-5*vapor)
	near(t, "vapor flow out", r.Sides[0].Vapor[last]/3600, -vapor, 1e-5*vapor)
	near(t, "heat flow", (r.Sides[1].Heat[last]-transient.LatentHeat*r.Sides[1].Vapor[last])/3600, heat, 1e-4*heat)
	for i := range parts {
		if parts[i].layer.Cavity != nil || i == len(parts)-1 {
			continue // its probe is the air, or the node before the coat
		}
		celsius := r.Probes[i].Temperature[last]
		near(t, "temperature", celsius, -5+26*at[i]/resistance, 2e-3)
		pressure := r.Probes[i].Humidity[last] * moistair.SaturationPressure(celsius)
		near(t, "vapor pressure", pressure, outside.VaporPressure[0]+drop*vaporAt[i]/vaporResistance, 0.05)
	}
	face := r.Faces[transient.Inside]
	pressure := face.Humidity[last] * moistair.SaturationPressure(face.Temperature[last])
	near(t, "vapor pressure on the coat", pressure, inside.VaporPressure[0]-vapor/25e-9, 0.05)
}

// TestRainBeyondSaturation: rain on a full layer runs off, and all water is found.
func TestRainBeyondSaturation(t *testing.T) {
	functions := linear(1, 1e6, 200, 1e-11)
	functions.Diffusivity, functions.Redistribution = func(float64) float64 { return 1e-7 }, 1
	outside := film(10, 0.9, 20, 1e-7)
	outside.Rain = transient.Constant(0.5)
	const hours = 100
	r := run(t, transient.Input{
		Layers:  []transient.Layer{{Material: tabulate(t, functions), Thickness: 0.05, Temperature: 10, Humidity: 0.5}},
		Outside: outside, Inside: sealed, Hours: hours,
	})
	near(t, "content of the full layer", r.Layers[0].Content[hours-1], 0.05*200, 1e-6)
	last := r.Supplied[hours-1] - r.Runoff[hours-1] - r.Drained[hours-1] + r.Sides[0].Vapor[hours-1]
	near(t, "water of an hour on a full layer", last, 0, 1e-6)
	if r.Runoff[0] > 0.1 {
		t.Errorf("%g kg/m² runs off a dry layer", r.Runoff[0])
	}
}

// TestLeakIntoAWholeLayer: half of what a board can hold stays, the water goes to
// every place in it.
func TestLeakIntoAWholeLayer(t *testing.T) {
	board := transient.Layer{
		Material: tabulate(t, linear(1, 1e6, 400, 1e-11)), Thickness: 0.01, Temperature: 20, Humidity: 0.2,
	}
	in := transient.Input{
		Layers: []transient.Layer{board}, Outside: sealed, Inside: sealed, Hours: 10,
		Sources: []transient.Source{{
			At: transient.Position{Face: transient.Whole}, Water: transient.Burst(10, 2, 4, 2),
		}},
		Probes: []transient.Position{{Face: transient.OuterFace}, {Face: transient.Middle}, {Face: transient.InnerFace}},
	}
	r := run(t, in)
	near(t, "content before", r.Layers[0].Content[1], 0.8, 1e-6)
	near(t, "content amid", r.Layers[0].Content[3], 1.8, 1e-6)
	near(t, "content after", r.Layers[0].Content[9], 2.8, 1e-6)
	for _, probe := range r.Probes {
		near(t, "humidity", probe.Humidity[9], 0.7, 1e-5)
	}
	in.Sources[0].Water = transient.Burst(10, 2, 4, 6)
	r = run(t, in)
	near(t, "content of the full board", r.Layers[0].Content[9], 4, 1e-6)
	drained := 0.0
	for _, x := range r.Drained {
		drained += x
	}
	near(t, "drained water", drained, 0.8+6-4, 1e-6)
}

// TestSuctionWhileWet: redistribution is slower than suction by its share.
func TestSuctionWhileWet(t *testing.T) {
	taken := func(redistribution float64) float64 {
		functions := linear(1, 1e6, 200, 1e-18)
		functions.Diffusivity = func(float64) float64 { return 1e-9 }
		functions.Redistribution = redistribution
		wet := transient.Layer{Material: tabulate(t, functions), Thickness: 0.01, Temperature: 20, Humidity: 0.9}
		dry := wet
		dry.Humidity = 0.1
		r := run(t, transient.Input{
			Layers: []transient.Layer{wet, dry}, Outside: sealed, Inside: sealed, Hours: 1, Tolerance: 1e-4,
		})
		return r.Layers[1].Content[0] - 0.2
	}
	// As long as no far face is felt, the amount goes by the root of diffusivity.
	near(t, "ratio of the amounts", taken(0.1)/taken(1), math.Sqrt(0.1), 0.02)
}

func TestFrost(t *testing.T) {
	outside := film(-5, 0.95, tight, 1e-6)
	outside.Temperature = append(make(transient.Series, 0), -5, -5, -5, -5, -5, -5, -5, -5, -5, -5, 5, 5, -5, -5)
	layer := transient.Layer{Material: inert(t, 1, 1e3), Thickness: 1e-3, Temperature: -5, Humidity: 0.95}
	r := run(t, transient.Input{
		Layers: []transient.Layer{layer}, Outside: outside, Inside: sealed, Hours: 14, Held: true,
	})
	if got := r.Layers[0].Frost; got != 10 {
		t.Errorf("frost for %d hours on end, not 10", got)
	}
}

// TestProbesAtASheet: the two faces of a sheet are the nodes on its two sides.
func TestProbesAtASheet(t *testing.T) {
	in := transient.Input{
		Layers: []transient.Layer{
			{Material: tabulate(t, linear(1, 1e6, 50, 1e-11)), Thickness: 0.01, Temperature: 20, Humidity: 0.8},
			{Sheet: &transient.Sheet{Permeance: []sorption.Point{{Value: 1e-12}}}},
			{Material: tabulate(t, linear(1, 1e6, 50, 1e-11)), Thickness: 0.01, Temperature: 20, Humidity: 0.3},
		},
		Outside: sealed, Inside: sealed, Hours: 1,
		Probes: []transient.Position{{Layer: 1, Face: transient.OuterFace}, {Layer: 1, Face: transient.InnerFace}},
	}
	r := run(t, in)
	near(t, "humidity on the outer side", r.Probes[0].Humidity[0], 0.8, 1e-3)
	near(t, "humidity on the inner side", r.Probes[1].Humidity[0], 0.3, 1e-3)
}
