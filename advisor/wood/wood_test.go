package wood_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"relath/advisor/wood"
)

// equilibria pairs each equilibrium formula with its inverse.
var equilibria = []struct {
	name         string
	emc, inverse func(t, x float64) float64
}{
	{"Hailwood-Horrobin", wood.EMC, wood.EquilibriumHumidity},
	{"Glass", wood.EMCGlass, wood.EquilibriumHumidityGlass},
}

func near(got, want, tolerance float64) bool {
	return math.Abs(got-want) <= tolerance
}

func TestInverseOfEquilibrium(t *testing.T) {
	for _, e := range equilibria {
		t.Run(e.name, rapid.MakeCheck(func(t *rapid.T) {
			tc := rapid.Float64Range(-40, 60).Draw(t, "t")
			rh := rapid.Float64Range(0, 0.999).Draw(t, "rh")
			if got := e.inverse(tc, e.emc(tc, rh)); !near(got, rh, 1e-8) {
				t.Fatalf("humidity %g came back as %g at %g °C", rh, got, tc)
			}
		}))
	}
}

func TestEquilibriumRisesWithHumidity(t *testing.T) {
	for _, e := range equilibria {
		t.Run(e.name, rapid.MakeCheck(func(t *rapid.T) {
			tc := rapid.Float64Range(-40, 132.2).Draw(t, "t")
			low := rapid.Float64Range(0, 0.99).Draw(t, "low")
			high := low + rapid.Float64Range(1e-4, 0.009).Draw(t, "step")
			if !(e.emc(tc, high) > e.emc(tc, low)) {
				t.Fatalf("at %g °C it is %g at %g and %g at %g", tc, e.emc(tc, low), low, e.emc(tc, high), high)
			}
		}))
	}
}

// TestFahrenheitConstants: the handbook prints a second set of constants of
// eq. 4-5, for °F. The sets agree within 0.02 % moisture content up to 140 °F.
func TestFahrenheitConstants(t *testing.T) {
	fahrenheit := func(f, h float64) float64 {
		w := 330 + 0.452*f + 0.00415*f*f
		k := 0.791 + 0.000463*f - 0.000000844*f*f
		k1 := 6.34 + 0.000775*f - 0.0000935*f*f
		k2 := 1.09 + 0.0284*f - 0.0000904*f*f
		return 1800 / w * (k*h/(1-k*h) +
			(k1*k*h+2*k1*k2*k*k*h*h)/(1+k1*k*h+k1*k2*k*k*h*h))
	}
	for f := 30.0; f <= 140; f += 2 {
		for rh := 0.05; rh < 0.955; rh += 0.05 {
			want := fahrenheit(f, rh)
			if got := 100 * wood.EMC((f-32)/1.8, rh); !near(got, want, 0.02) {
				t.Errorf("at %g °F and %.2f it is %.4f %%, not %.4f", f, rh, got, want)
			}
		}
	}
}

func TestEquilibriumLimits(t *testing.T) {
	for _, e := range equilibria {
		if got := e.emc(20, 0); got != 0 {
			t.Errorf("%s: dry air keeps %g in the wood", e.name, got)
		}
		if e.emc(-30, 0.7) != e.emc(-1.2, 0.7) {
			t.Errorf("%s: frost does not hold the value of the coldest row", e.name)
		}
	}
	if wood.EMC(20, 1.02) != wood.EMC(20, 1) {
		t.Error("a humidity above 1 does not count as 1")
	}
}

// TestVoids: wood at its maximum moisture content holds water in all the volume
// that the cell walls leave, and wood at its sinking content has the density of
// water.
func TestVoids(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		basic := rapid.Float64Range(0.1, 1).Draw(t, "basic")
		// Per m³: 1000·basic kg of dry wood fill basic/1.54 m³.
		voids := 1 - basic/1.54
		if got := wood.MaximumContent(basic) * basic; !near(got, voids, 1e-12) {
			t.Fatalf("full wood holds %g m³ of water in %g m³ of voids", got, voids)
		}
		if got := wood.Density(basic, wood.SinkingContent(basic)); !near(got, 1000, 1e-9) {
			t.Fatalf("wood about to sink weighs %g kg/m³", got)
		}
	})
}

// TestSpecificGravity: eq. 4-13 of the Wood Handbook FPL-GTR-282,
// Gb/(1 − 0.265·Gb·(1 − x/30)), and green volume from 30 % on.
func TestSpecificGravity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		basic := rapid.Float64Range(0.2, 1).Draw(t, "basic")
		x := rapid.Float64Range(0, 30).Draw(t, "x")
		want := basic / (1 - 0.265*basic*(1-x/30))
		got := wood.SpecificGravity(basic, wood.VolumetricShrinkage(basic), x/100)
		if !near(got, want, 1e-12) {
			t.Fatalf("specific gravity is %g, not %g", got, want)
		}
		if wet := wood.SpecificGravity(basic, 0.12, 0.3+x); wet != basic {
			t.Fatalf("green specific gravity is %g, not %g", wet, basic)
		}
	})
}

func drawSpecies(t *rapid.T) (shrinkage, saturation float64) {
	return rapid.Float64Range(0.01, 0.13).Draw(t, "shrinkage"),
		rapid.Float64Range(0.2, 0.3).Draw(t, "saturation")
}

// TestMovementFromShrinkage: from green to dry a board loses its shrinkage, wet
// wood does not move, and the way between two contents does not matter.
func TestMovementFromShrinkage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, fs := drawSpecies(t)
		move := func(width, from, to float64) float64 {
			return wood.MovementFromShrinkage(width, s, fs, from, to)
		}
		if got := move(2, 0.6, 0); !near(got, -2*s, 1e-12) {
			t.Fatalf("from green to dry it moves %g, not %g", got, -2*s)
		}
		if got := move(2, 0.35, 0.8); got != 0 {
			t.Fatalf("above fiber saturation it moves %g", got)
		}
		a := rapid.Float64Range(0, 0.4).Draw(t, "a")
		b := rapid.Float64Range(0, 0.4).Draw(t, "b")
		there := move(2, a, b)
		if back := move(2+there, b, a); !near(there+back, 0, 1e-12) {
			t.Fatalf("there %g and back %g leave a rest", there, back)
		}
	})
}

// TestCoefficientIsSlope: the coefficient is the slope of linear shrinkage at
// 10 %, so both ways to a movement agree within 3 % from 6 to 14 %.
func TestCoefficientIsSlope(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, fs := drawSpecies(t)
		c := wood.Coefficient(s, fs)
		slope := wood.MovementFromShrinkage(1, s, fs, 0.10, 0.1001) / 0.0001
		if !near(slope, c, 1e-6) {
			t.Fatalf("slope is %g, coefficient %g", slope, c)
		}
		a := rapid.Float64Range(0.06, 0.14).Draw(t, "a")
		b := rapid.Float64Range(0.06, 0.14).Draw(t, "b")
		linear, exact := wood.Movement(1, c, a, b), wood.MovementFromShrinkage(1, s, fs, a, b)
		if !near(linear, exact, 0.03*math.Abs(exact)+1e-12) {
			t.Fatalf("from %g to %g it moves %g by the coefficient, %g by the shrinkage", a, b, linear, exact)
		}
	})
}

// TestSeasonalMovement: an invented floor of flat-sawn red oak strips of 83 mm
// with C 0.00369 per percent: 1.531 mm from 6 to 11 %.
func TestSeasonalMovement(t *testing.T) {
	tests := []struct {
		name             string
		laid, low, high  float64
		gap, swell, full float64 // mm
		inRange          bool
	}{
		{"between", 0.08, 0.06, 0.11, 0.6125, 0.9188, 1.5314, true},
		{"too wet", 0.14, 0.06, 0.11, 2.4502, 0, 1.5314, true},
		{"too dry", 0.06, 0.08, 0.11, 0, 1.5314, 0.9188, true},
		{"laid out of range", 0.19, 0.06, 0.11, 3.9815, 0, 1.5314, false},
		{"winter out of range", 0.08, 0.05, 0.11, 0.9188, 0.9188, 1.8376, false},
		{"summer out of range", 0.08, 0.06, 0.15, 0.6125, 2.1439, 2.7564, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := wood.SeasonalMovement(0.083, 0.369, test.laid, test.low, test.high)
			if !near(1000*got.Gap, test.gap, 6e-5) || !near(1000*got.Swell, test.swell, 6e-5) ||
				!near(1000*got.Total, test.full, 6e-5) || got.InRange != test.inRange {
				t.Errorf("movement is %+v, not %+v", got, test)
			}
		})
	}
	if got := wood.SeasonalMovement(0.083, 0.369, 0.08, 0.11, 0.06); !math.IsNaN(got.Gap+got.Swell+got.Total) || got.InRange {
		t.Errorf("low above high gives %+v", got)
	}
}

// TestHeatCapacityOfDryWood: without water only the line for dry wood is left,
// 0.1031 + 0.003867·T in kJ/(kg·K).
func TestHeatCapacityOfDryWood(t *testing.T) {
	for tc := -20.0; tc <= 60; tc += 10 {
		want := 103.1 + 3.867*(tc+273.15)
		if got := wood.HeatCapacity(tc, 0); !near(got, want, 1e-9) {
			t.Errorf("at %g °C it is %g J/(kg·K), not %g", tc, got, want)
		}
	}
}

// TestOutOfRange: every function answers NaN outside the range that it states.
func TestOutOfRange(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, values := range map[string][]float64{
		"EMC": {
			wood.EMC(nan, 0.5), wood.EMC(133, 0.5), wood.EMC(inf, 0.5),
			wood.EMC(20, nan), wood.EMC(20, -0.01),
		},
		"EMCGlass": {
			wood.EMCGlass(nan, 0.5), wood.EMCGlass(133, 0.5), wood.EMCGlass(20, nan),
			wood.EMCGlass(20, -0.01), wood.EMCGlass(20, 1), wood.EMCGlass(20, inf),
		},
		"EquilibriumHumidity": {
			wood.EquilibriumHumidity(nan, 0.1), wood.EquilibriumHumidity(133, 0.1),
			wood.EquilibriumHumidity(20, nan), wood.EquilibriumHumidity(20, -0.01),
			wood.EquilibriumHumidity(20, 0.29), wood.EquilibriumHumidity(20, inf),
		},
		"EquilibriumHumidityGlass": {
			wood.EquilibriumHumidityGlass(nan, 0.1), wood.EquilibriumHumidityGlass(133, 0.1),
			wood.EquilibriumHumidityGlass(20, nan), wood.EquilibriumHumidityGlass(20, -0.01),
		},
		"MaximumContent":      {wood.MaximumContent(nan), wood.MaximumContent(0), wood.MaximumContent(1.6)},
		"SinkingContent":      {wood.SinkingContent(nan), wood.SinkingContent(0), wood.SinkingContent(1.1)},
		"VolumetricShrinkage": {wood.VolumetricShrinkage(nan), wood.VolumetricShrinkage(0), wood.VolumetricShrinkage(2)},
		"SpecificGravity": {
			wood.SpecificGravity(nan, 0.1, 0.1), wood.SpecificGravity(0, 0.1, 0.1),
			wood.SpecificGravity(0.5, 1, 0.1), wood.SpecificGravity(0.5, -0.1, 0.1),
			wood.SpecificGravity(0.5, 0.1, nan), wood.SpecificGravity(0.5, 0.1, -0.1),
		},
		"Density":      {wood.Density(nan, 0.1), wood.Density(0, 0.1), wood.Density(0.5, -0.1)},
		"Conductivity": {wood.Conductivity(nan, 0.1), wood.Conductivity(0.5, 0.26), wood.Conductivity(0.5, -0.1), wood.Conductivity(0, 0.1)},
		"HeatCapacity": {
			wood.HeatCapacity(nan, 0.1), wood.HeatCapacity(-61, 0.1), wood.HeatCapacity(151, 0.1),
			wood.HeatCapacity(20, nan), wood.HeatCapacity(20, 0.31), wood.HeatCapacity(20, -0.1),
		},
		"Coefficient": {
			wood.Coefficient(nan, 0.3), wood.Coefficient(0, 0.3), wood.Coefficient(1, 0.3),
			wood.Coefficient(0.08, nan), wood.Coefficient(0.08, 0.1),
		},
		"MovementFromShrinkage": {
			wood.MovementFromShrinkage(nan, 0.08, 0.3, 0.1, 0.2), wood.MovementFromShrinkage(1, 1, 0.3, 0.1, 0.2),
			wood.MovementFromShrinkage(1, -0.1, 0.3, 0.1, 0.2), wood.MovementFromShrinkage(1, 0.08, 0, 0.1, 0.2),
			wood.MovementFromShrinkage(1, 0.08, 0.3, -0.1, 0.2), wood.MovementFromShrinkage(1, 0.08, 0.3, 0.1, nan),
		},
		"Movement": {wood.Movement(nan, 0.3, 0.1, 0.2), wood.Movement(1, 0.3, nan, 0.2)},
	} {
		for i, got := range values {
			if !math.IsNaN(got) {
				t.Errorf("%s, value %d: %g outside its range, not NaN", name, i, got)
			}
		}
	}
	if wood.InMovementRange(nan, 0.1) || wood.InMovementRange(0.1, nan) {
		t.Error("NaN lies within the range of movement")
	}
}

var sink float64

func BenchmarkEMC(b *testing.B) {
	for i := range b.N {
		sink = wood.EMC(20, float64(i%100)/100)
	}
}

func BenchmarkEquilibriumHumidity(b *testing.B) {
	for i := range b.N {
		sink = wood.EquilibriumHumidity(20, float64(i%28)/100)
	}
}

func BenchmarkEMCGlass(b *testing.B) {
	for i := range b.N {
		sink = wood.EMCGlass(20, float64(i%100)/100)
	}
}

func BenchmarkEquilibriumHumidityGlass(b *testing.B) {
	for i := range b.N {
		sink = wood.EquilibriumHumidityGlass(20, float64(i%28)/100)
	}
}

// A limit just met does not count; too cold and too hot, no fungi work.
func TestDampHours(t *testing.T) {
	var w wood.DampHours
	for _, hour := range [][2]float64{{20, 0.16}, {20, 0.161}, {20, 0.2}, {1, 0.281}, {20, 0.281}, {40, 0.5}} {
		w.Advance(hour[0], hour[1])
	}
	want := wood.DampHours{AbovePaint: 5, AboveSafe: 3, AboveDecay: 3, DecayHours: 1, Highest: 0.5}
	if w != want {
		t.Errorf("counted %+v, not %+v", w, want)
	}
}
