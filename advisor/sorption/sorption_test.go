package sorption_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"relath/advisor/sorption"
)

// board is a wood-based board by the isotherm of an 11.1 mm OSB (ASHRAE
// Handbook—Fundamentals 2021, ch. 26, Table 7) with round other values.
func board() sorption.Data {
	return sorption.Data{
		Density: 650, SpecificHeat: 1880, Conductivity: 0.1, ConductivitySupplement: 1.5,
		Isotherm: sorption.Isotherm{
			ByMass:         []sorption.Point{{0.489, 0.054}, {0.691, 0.082}, {0.886, 0.147}},
			FreeSaturation: 600,
		},
		Absorption: 0.0022,
		Vapor:      sorption.Vapor{DryCup: 5e-13, WetCup: 2.7e-12},
	}
}

func functions(t testing.TB, d sorption.Data) sorption.Functions {
	t.Helper()
	f, err := sorption.New(d)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func table(t testing.TB, d sorption.Data) *sorption.Table {
	t.Helper()
	table, err := functions(t, d).Tabulate()
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// failer is a test or a rapid test.
type failer interface {
	Helper()
	Errorf(format string, args ...any)
}

func near(t failer, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		t.Errorf("%s is %.9g, not %.9g within %g", what, got, want, relative)
	}
}

// drawData draws possible base data of any form.
func drawData(t *rapid.T) sorption.Data {
	saturation := rapid.Float64Range(50, 900).Draw(t, "saturation")
	d := sorption.Data{
		Density: 500, SpecificHeat: 1000, Conductivity: 0.1,
		Absorption: rapid.SampledFrom([]float64{0, 0.002, 0.3}).Draw(t, "absorption"),
		Vapor: sorption.Vapor{
			DryCup: rapid.Float64Range(1e-14, 1e-10).Draw(t, "dry"),
			WetCup: rapid.Float64Range(1e-14, 1e-10).Draw(t, "wet"),
		},
	}
	d.Isotherm.FreeSaturation = saturation
	if rapid.Bool().Draw(t, "two points") {
		d.Isotherm.W80 = saturation * rapid.Float64Range(0.001, 0.79).Draw(t, "share")
		return d
	}
	phi, w := 0.0, 0.0
	for range rapid.IntRange(1, 6).Draw(t, "points") {
		phi += (0.97 - phi) * rapid.Float64Range(0.2, 0.8).Draw(t, "step")
		w += (0.9*phi*saturation - w) * rapid.Float64Range(0.01, 0.6).Draw(t, "rise")
		d.Isotherm.ByVolume = append(d.Isotherm.ByVolume, sorption.Point{Humidity: phi, Value: w})
	}
	return d
}

func TestIsothermPassesThroughItsPoints(t *testing.T) {
	d := board()
	f := functions(t, d)
	for _, p := range d.Isotherm.ByMass {
		near(t, "moisture content", f.Content(p.Humidity), p.Value*d.Density, 1e-12)
		near(t, "humidity", f.Humidity(p.Value*d.Density), p.Humidity, 1e-9)
	}
	near(t, "free saturation", f.Content(1), 600, 1e-12)
	if f.Content(0) != 0 || f.Humidity(0) != 0 || f.Humidity(700) != 1 {
		t.Error("the ends of the isotherm are not 0 and 1")
	}
}

func TestPointAtSaturationIsFreeSaturation(t *testing.T) {
	d := board()
	d.Isotherm.ByMass = append(d.Isotherm.ByMass, sorption.Point{Humidity: 1, Value: 1.2})
	d.Isotherm.FreeSaturation = 0
	near(t, "free saturation", functions(t, d).FreeSaturation, 1.2*650, 1e-12)
}

func TestCupsReproduceBothTests(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dry := rapid.Float64Range(1e-14, 1e-10).Draw(t, "dry")
		wet := rapid.Float64Range(1e-14, 1e-10).Draw(t, "wet")
		cups, err := sorption.Cups(dry, wet)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "dry cup", 2*quad.Fixed(cups, 0, 0.5, 30, nil, 0), dry, 1e-9)
		near(t, "wet cup", 2*quad.Fixed(cups, 0.5, 1, 30, nil, 0), wet, 1e-9)
	})
}

func TestOneCupIsConstant(t *testing.T) {
	for _, vapor := range []sorption.Vapor{{DryCup: 3e-12}, {WetCup: 3e-12}, {DryCup: 3e-12, WetCup: 3e-12}} {
		d := board()
		d.Vapor = vapor
		f := functions(t, d)
		near(t, "permeability", f.Permeability(0.1), 3e-12, 1e-9)
		near(t, "permeability", f.Permeability(0.9), 3e-12, 1e-9)
	}
}

func TestCurveWinsAndIsLinear(t *testing.T) {
	d := board()
	d.Vapor.Curve = []sorption.Point{{0.2, 1e-12}, {0.6, 3e-12}}
	f := functions(t, d)
	for phi, want := range map[float64]float64{0: 1e-12, 0.2: 1e-12, 0.3: 1.5e-12, 0.6: 3e-12, 1: 3e-12} {
		near(t, "permeability", f.Permeability(phi), want, 1e-12)
	}
}

func TestWaterInConductivityAndHeat(t *testing.T) {
	f := functions(t, board())
	// 10 % by mass with 1.5 % per percent: 15 % more.
	near(t, "conductivity", f.Conductivity(65), 0.115, 1e-12)
	near(t, "heat capacity", f.HeatCapacity(65), 650*1880+65*4187, 1e-12)
}

func TestImpossibleData(t *testing.T) {
	tests := []struct {
		name   string
		change func(*sorption.Data)
		want   string
	}{
		{"density", func(d *sorption.Data) { d.Density = 0 }, "density 0"},
		{"specific heat", func(d *sorption.Data) { d.SpecificHeat = math.NaN() }, "specific heat NaN"},
		{"conductivity", func(d *sorption.Data) { d.Conductivity = math.Inf(1) }, "conductivity +Inf"},
		{"supplement", func(d *sorption.Data) { d.ConductivitySupplement = -1 }, "conductivity supplement -1"},
		{"absorption", func(d *sorption.Data) { d.Absorption = -1 }, "absorption coefficient -1"},
		{"no isotherm", func(d *sorption.Data) { d.Isotherm.ByMass = nil }, "0 forms"},
		{"two isotherms", func(d *sorption.Data) { d.Isotherm.W80 = 80 }, "2 forms"},
		{"no saturation", func(d *sorption.Data) { d.Isotherm.FreeSaturation = 0 }, "free saturation 0"},
		{"saturation of water", func(d *sorption.Data) { d.Isotherm.FreeSaturation = 1100 }, "density of water"},
		{"w80 at 0.8 of saturation", func(d *sorption.Data) {
			d.Isotherm = sorption.Isotherm{W80: 80, FreeSaturation: 100}
		}, "80 kg/m³ at 80 %"},
		{"last point too high", func(d *sorption.Data) { d.Isotherm.FreeSaturation = 100 }, "88.6 %"},
		{"humidity falls", func(d *sorption.Data) { d.Isotherm.ByMass[1].Humidity = 0.3 }, "0.3 after 0.489"},
		{"humidity in percent", func(d *sorption.Data) { d.Isotherm.ByMass[2].Humidity = 88.6 }, "at most 1"},
		{"content falls", func(d *sorption.Data) { d.Isotherm.ByMass[1].Value = 0.01 }, "0.01 after 0.054"},
		{"content not a number", func(d *sorption.Data) { d.Isotherm.ByMass[2].Value = math.NaN() }, "NaN after"},
		{"no vapor", func(d *sorption.Data) { d.Vapor = sorption.Vapor{} }, "no curve and no cup"},
		{"negative cup", func(d *sorption.Data) { d.Vapor.WetCup = -1 }, "wet-cup value -1"},
		{"curve falls back", func(d *sorption.Data) {
			d.Vapor.Curve = []sorption.Point{{0.5, 1e-12}, {0.5, 2e-12}}
		}, "0.5 after 0.5"},
		{"impermeable", func(d *sorption.Data) { d.Vapor.Curve = []sorption.Point{{0.5, 0}} }, "value 0"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			d := board()
			test.change(&d)
			_, err := sorption.New(d)
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("error is %v, not %q", err, test.want)
			}
		})
	}
}
