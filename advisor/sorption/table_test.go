package sorption_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"relath/advisor/sorption"
)

func TestCoordinate(t *testing.T) {
	near(t, "suction offset", math.Exp(-sorption.MaxCoordinate), sorption.SuctionOffset, 1e-12)
	rapid.Check(t, func(t *rapid.T) {
		phi := rapid.Float64Range(1e-9, 1).Draw(t, "humidity")
		near(t, "humidity", sorption.HumidityAt(sorption.Coordinate(phi)), phi, 1e-9)
	})
	if x := sorption.Coordinate(0); x != sorption.MinCoordinate {
		t.Errorf("coordinate of dry is %g", x)
	}
	if x := sorption.Coordinate(1.2); x != sorption.MaxCoordinate {
		t.Errorf("coordinate above saturation is %g", x)
	}
}

// TestTableAgreesWithFunctions compares the table with the smooth analytic forms
// between its knots.
func TestTableAgreesWithFunctions(t *testing.T) {
	d := board()
	d.Isotherm = sorption.Isotherm{W80: 90, FreeSaturation: 600}
	f, table := functions(t, d), table(t, d)
	var v sorption.Values
	for phi := 0.005; phi <= 1; phi += 0.00037 {
		table.At(sorption.Coordinate(phi), &v)
		w := f.Content(phi)
		near(t, "moisture content", v.Content, w, 1e-5)
		near(t, "permeability", v.Permeability, f.Permeability(phi), 1e-6)
		near(t, "flux potential", v.Liquid, quad.Fixed(f.Diffusivity, 0, w, 40, nil, 0), 1e-5)
	}
}

// TestTableOfMeasuredPoints: kinks of the forms at the measured points are
// rounded by the table, by at most 2E−3 of the largest permeability.
func TestTableOfMeasuredPoints(t *testing.T) {
	d := board()
	d.Vapor.Curve = []sorption.Point{{0.1, 2.4e-13}, {0.3, 5.6e-12}, {0.9, 3.8e-11}}
	f, table := functions(t, d), table(t, d)
	var v sorption.Values
	for phi := 0.02; phi <= 1; phi += 0.00037 {
		table.At(sorption.Coordinate(phi), &v)
		near(t, "moisture content", v.Content, f.Content(phi), 3e-3)
		if want := f.Permeability(phi); math.Abs(v.Permeability-want) > 2e-3*3.8e-11 {
			t.Errorf("permeability at %g is %g, not %g", phi, v.Permeability, want)
		}
	}
}

func TestTableIsMonotoneAndItsSlopesAreItsOwn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, err := sorption.New(drawData(t))
		if err != nil {
			t.Fatal(err)
		}
		table, err := f.Tabulate()
		if err != nil {
			t.Fatal(err)
		}
		var v, last sorption.Values
		for x := sorption.MinCoordinate - 1; x < sorption.MaxCoordinate+1; x += 0.0173 {
			table.At(x, &v)
			if v.Content < last.Content || v.Liquid < last.Liquid || v.ContentSlope < 0 || v.LiquidSlope < 0 {
				t.Fatalf("at %g: %+v after %+v", x, v, last)
			}
			last = v
		}
		checkSlopes(t, table, rapid.Float64Range(-3.4, 9.2).Draw(t, "x"))
	})
}

func checkSlopes(t *rapid.T, table *sorption.Table, x float64) {
	const step = 1e-6
	var v sorption.Values
	table.At(x, &v)
	for _, slope := range []struct {
		name      string
		got, size float64
		value     func(v *sorption.Values) float64
	}{
		{"moisture content", v.ContentSlope, v.Content, func(v *sorption.Values) float64 { return v.Content }},
		{"permeability", v.PermeabilitySlope, v.Permeability, func(v *sorption.Values) float64 { return v.Permeability }},
		{"flux potential", v.LiquidSlope, v.Liquid, func(v *sorption.Values) float64 { return v.Liquid }},
	} {
		want := fd.Derivative(func(x float64) float64 {
			var v sorption.Values
			table.At(x, &v)
			return slope.value(&v)
		}, x, &fd.Settings{Formula: fd.Central, Step: step})
		if math.Abs(slope.got-want) > 1e-4*math.Abs(want)+1e-8*slope.size {
			t.Errorf("slope of %s at %g is %g, not %g", slope.name, x, slope.got, want)
		}
	}
}

func TestTableBeyondItsEnds(t *testing.T) {
	table := table(t, board())
	var v sorption.Values
	table.At(sorption.MaxCoordinate+3, &v)
	near(t, "content above saturation", v.Content, 600, 1e-9)
	near(t, "permeability above saturation", v.Permeability, table.Functions.Permeability(1), 1e-9)
	if v.ContentSlope != 0 || v.LiquidSlope != 0 || v.PermeabilitySlope != 0 {
		t.Errorf("slopes above saturation are %+v", v)
	}
	table.At(sorption.MinCoordinate-3, &v)
	if v.Content < 0 || v.Content > 1e-9 || v.ContentSlope != 0 {
		t.Errorf("dry is %+v", v)
	}
}

func TestUntabulable(t *testing.T) {
	good := functions(t, board())
	tests := []struct {
		name   string
		change func(*sorption.Functions)
		want   string
	}{
		{"no content", func(f *sorption.Functions) { f.Content = nil }, "are needed"},
		{"not a number", func(f *sorption.Functions) { f.Density = math.NaN() }, "density NaN"},
		{"not saturation", func(f *sorption.Functions) { f.FreeSaturation = 500 }, "is not free saturation"},
		{"falls", func(f *sorption.Functions) {
			f.Content = func(phi float64) float64 { return 1200 * phi * (1 - phi/2) * (1.5 - phi) }
			f.FreeSaturation = 300
		}, "falls"},
		{"impermeable", func(f *sorption.Functions) {
			f.Permeability = func(phi float64) float64 { return 1 - phi }
		}, "vapor permeability 0"},
		{"negative diffusivity", func(f *sorption.Functions) {
			f.Diffusivity = func(float64) float64 { return -1 }
		}, "liquid diffusivity"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			f := good
			test.change(&f)
			_, err := f.Tabulate()
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("error is %v, not %q", err, test.want)
			}
		})
	}
}

func TestKnots(t *testing.T) {
	table := table(t, board())
	knots := table.Knots()
	last := knots[len(knots)-1]
	near(t, "last humidity", last.Humidity, 1, 1e-12)
	near(t, "last content", last.Content, 600, 1e-9)
	near(t, "last diffusivity", last.Diffusivity, 3.8*(0.0022/600)*(0.0022/600), 1e-9)
	near(t, "last conductivity", last.Conductivity, table.Functions.Conductivity(600), 1e-9)
}

func BenchmarkTableAt(b *testing.B) {
	table := table(b, board())
	var v sorption.Values
	x, sum := 0.0, 0.0
	b.ReportAllocs()
	for b.Loop() {
		table.At(x, &v)
		sum += v.ContentSlope
		if x += 0.01; x > 9 {
			x = 0
		}
	}
	if sum < 0 {
		b.Error(sum)
	}
}
