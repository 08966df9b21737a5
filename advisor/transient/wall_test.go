package transient_test

import (
	"math"

	"relath/advisor/moistair"
	"relath/advisor/sorption"
	"relath/advisor/transient"
)

// The wall of the benchmarks and of the tests of a whole year is invented, with
// round properties of the kind that ASHRAE Handbook—Fundamentals 2021, ch. 26
// prints. Its weather is made from sines and a fixed sequence of numbers.

func brick() sorption.Data {
	return sorption.Data{
		Density: 1800, SpecificHeat: 840, Conductivity: 0.7, ConductivitySupplement: 10,
		Isotherm:   sorption.Isotherm{W80: 10, FreeSaturation: 200},
		Absorption: 0.1, Vapor: sorption.Vapor{DryCup: 1.6e-11},
	}
}

func osb() sorption.Data {
	return sorption.Data{
		Density: 650, SpecificHeat: 1880, Conductivity: 0.1, ConductivitySupplement: 1.5,
		Isotherm: sorption.Isotherm{
			ByMass:         points(0.489, 0.054, 0.691, 0.082, 0.886, 0.147),
			FreeSaturation: 600,
		},
		Absorption: 0.0022,
		Vapor:      sorption.Vapor{Curve: points(0.1, 2.6e-14, 0.3, 6e-13, 0.5, 1.2e-12, 0.7, 2.3e-12, 0.9, 4.1e-12)},
	}
}

func batt() sorption.Data {
	return sorption.Data{
		Density: 12, SpecificHeat: 800, Conductivity: 0.04,
		Isotherm: sorption.Isotherm{
			ByMass:         points(0.506, 0.0021, 0.715, 0.0034, 0.881, 0.0075),
			FreeSaturation: 2,
		},
		Vapor: sorption.Vapor{DryCup: 1.7e-10},
	}
}

func gypsum() sorption.Data {
	return sorption.Data{
		Density: 625, SpecificHeat: 870, Conductivity: 0.16, ConductivitySupplement: 5,
		Isotherm: sorption.Isotherm{
			ByMass:         points(0.505, 0.004, 0.705, 0.0065, 0.908, 0.018, 0.94, 0.042),
			FreeSaturation: 400,
		},
		Absorption: 0.0019, Vapor: sorption.Vapor{DryCup: 2.7e-11, WetCup: 4.9e-11},
	}
}

func plaster() sorption.Data {
	return sorption.Data{
		Density: 1600, SpecificHeat: 850, Conductivity: 0.7, ConductivitySupplement: 8,
		Isotherm:   sorption.Isotherm{W80: 30, FreeSaturation: 250},
		Absorption: 0.05, Vapor: sorption.Vapor{DryCup: 1.5e-11, WetCup: 2e-11},
	}
}

func tableOf(t failer, d sorption.Data) *sorption.Table {
	t.Helper()
	f, err := sorption.New(d)
	if err != nil {
		t.Fatalf("material: %v", err)
	}
	return tabulate(t, f)
}

// points are pairs of relative humidity and value.
func points(pairs ...float64) []sorption.Point {
	var list []sorption.Point
	for i := 0; i < len(pairs); i += 2 {
		list = append(list, sorption.Point{Humidity: pairs[i], Value: pairs[i+1]})
	}
	return list
}

func coat(pairs ...float64) *transient.Sheet {
	return &transient.Sheet{Permeance: points(pairs...)}
}

// The layers of the wall.
const (
	veneer = iota
	space
	wrap
	sheathing
	insulation
	retarder
	board
	finish
)

// wall is a brick veneer wall over a year: eight layers, 80 cells, sun, rain, air
// change, an air leak and 2 kg/m² into the sheathing in January.
func wall(t failer, hours int) transient.Input {
	solid := func(d sorption.Data, thickness float64, cells int) transient.Layer {
		return transient.Layer{
			Material: tableOf(t, d), Thickness: thickness, Cells: cells, Temperature: 15, Humidity: 0.6,
		}
	}
	outside, inside := weather()
	return transient.Input{
		Layers: []transient.Layer{
			veneer: solid(brick(), 0.09, 24),
			space: {
				Thickness: 0.025, Temperature: 15, Humidity: 0.6,
				Cavity: &transient.Cavity{Resistance: 0.17, VaporResistance: 5e7, Exchange: transient.Constant(10)},
			},
			wrap:       {Sheet: coat(0.5, 2e-9)},
			sheathing:  solid(osb(), 0.011, 16),
			insulation: solid(batt(), 0.14, 16),
			retarder:   {Sheet: coat(0.3, 53e-12, 0.5, 240e-12, 0.7, 610e-12, 0.9, 2000e-12)},
			board:      solid(gypsum(), 0.0127, 14),
			finish:     solid(plaster(), 0.003, 10),
		},
		Outside: outside, Inside: inside, Hours: hours,
		Sources: []transient.Source{{
			At:    transient.Position{Layer: sheathing, Face: transient.InnerFace},
			Water: transient.Burst(hours, 14*24, 6, 2),
		}},
		Paths: []transient.AirPath{{
			At:   transient.Position{Layer: sheathing, Face: transient.InnerFace},
			From: transient.Inside, Flow: transient.Constant(1e-5),
		}},
		Probes: []transient.Position{
			{Layer: veneer, Face: transient.OuterFace},
			{Layer: sheathing, Face: transient.OuterFace},
			{Layer: sheathing, Face: transient.InnerFace},
			{Layer: board, Face: transient.OuterFace},
		},
	}
}

// weather is a year of a cold climate and the air of a heated house.
func weather() (outside, inside transient.Surface) {
	const hours = 8760
	series := func() transient.Series { return make(transient.Series, hours) }
	outside = transient.Surface{
		Temperature: series(), VaporPressure: series(), Sun: series(), LongWave: series(), Rain: series(),
		HeatTransfer: series(), VaporTransfer: transient.Constant(75e-9), Absorptance: 0.6,
	}
	inside = transient.Surface{
		Temperature: series(), VaporPressure: series(),
		HeatTransfer: transient.Constant(8), VaporTransfer: transient.Constant(25e-9),
	}
	draw := sequence(1)
	slow, cloud, wet := 0.0, 0.5, 0
	for h := range hours {
		year := 2 * math.Pi * float64(h) / hours
		hour := 2 * math.Pi * float64(h%24) / 24
		slow += (draw()-0.5)*1.5 - slow/60
		cloud = min(1, max(0, cloud+(draw()-0.5)*0.3))
		mean := 10 - 14*math.Cos(year) + 2*slow
		outside.Temperature[h] = mean - 5*(1-0.6*cloud)*math.Cos(hour-0.8)
		outside.VaporPressure[h] = (0.6 + 0.3*cloud) * moistair.SaturationPressure(mean-2)
		outside.VaporPressure[h] = min(outside.VaporPressure[h], moistair.SaturationPressure(outside.Temperature[h]))
		outside.Sun[h] = max(0, -math.Cos(hour)) * (500 + 150*math.Cos(year)) * (1 - 0.8*cloud)
		outside.LongWave[h] = -40 * (1 - cloud)
		outside.HeatTransfer[h] = 12 + 10*draw()
		if wet > 0 {
			wet--
			outside.Rain[h] = 1.5 * draw()
		} else if cloud > 0.7 && draw() < 0.05 {
			wet = 1 + int(8*draw())
		}
		inside.Temperature[h] = 21 - 2*math.Cos(year)
		inside.VaporPressure[h] = (0.45 - 0.1*math.Cos(year)) * moistair.SaturationPressure(inside.Temperature[h])
	}
	return outside, inside
}

// sequence returns a fixed sequence of numbers from 0 to 1: a linear congruential
// generator with the constants of Knuth's MMIX (recalled).
func sequence(seed uint64) func() float64 {
	return func() float64 {
		seed = seed*6364136223846793005 + 1442695040888963407
		return float64(seed>>11) / (1 << 53)
	}
}
