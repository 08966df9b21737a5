package moistair_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"relath/advisor/moistair"
)

// saturations pairs each saturation formula with its inverse.
var saturations = []struct {
	name              string
	pressure, inverse func(float64) float64
}{
	{"ASHRAE", moistair.SaturationPressure, moistair.DewPoint},
	{"over water", moistair.SaturationPressureOverWater, moistair.DewPointOverWater},
	{"ISO 13788", moistair.SaturationPressureISO, moistair.DewPointISO},
}

func TestInverseOfSaturation(t *testing.T) {
	for _, s := range saturations {
		t.Run(s.name, rapid.MakeCheck(func(t *rapid.T) {
			tc := rapid.Float64Range(-40, 60).Draw(t, "t")
			p := s.pressure(tc)
			if got := s.inverse(p); !(math.Abs(got-tc) < 1e-3) {
				t.Fatalf("dew point of air saturated at %g °C is %g °C", tc, got)
			}
			if got := s.pressure(s.inverse(p)); !(math.Abs(got/p-1) < 1e-6) {
				t.Fatalf("saturation pressure at the dew point of %g Pa is %g Pa", p, got)
			}
		}))
	}
}

func TestSaturationRises(t *testing.T) {
	for _, s := range saturations {
		t.Run(s.name, rapid.MakeCheck(func(t *rapid.T) {
			low := rapid.Float64Range(-100, 199.99).Draw(t, "low")
			high := low + rapid.Float64Range(0.001, 5).Draw(t, "step")
			if high <= 200 && !(s.pressure(high) > s.pressure(low)) {
				t.Fatalf("%g Pa at %g °C, %g Pa at %g °C", s.pressure(low), low, s.pressure(high), high)
			}
		}))
	}
}

func TestInverseOverWholeRange(t *testing.T) {
	for _, s := range saturations {
		for tc := -100.0; tc <= 200; tc += 0.25 {
			if got := s.inverse(s.pressure(tc)); !(math.Abs(got-tc) < 1e-3) {
				t.Errorf("%s: dew point of air saturated at %g °C is %g °C", s.name, tc, got)
			}
		}
	}
}

// TestTriplePoint: ice and water meet at 611.657 Pa (published triple point of
// water), and the dew point does not fall between the branches.
func TestTriplePoint(t *testing.T) {
	at, above := moistair.SaturationPressure(0.01), moistair.SaturationPressure(math.Nextafter(0.01, 1))
	if math.Abs(at-611.657) > 0.001 || math.Abs(above-611.657) > 0.001 {
		t.Errorf("saturation pressure at the triple point is %g and %g Pa, not 611.657", at, above)
	}
	for p := at - 1e-5; p < at+1e-5; p += 1e-7 {
		if got := moistair.DewPoint(p); math.Abs(got-0.01) > 1e-5 {
			t.Fatalf("dew point at %.9g Pa is %g °C, not 0.01", p, got)
		}
	}
}

// TestOverIceAndWater: ice holds the lower pressure, and above the triple point
// the two formulas are the same.
func TestOverIceAndWater(t *testing.T) {
	for tc := -100.0; tc < 0; tc++ {
		if !(moistair.SaturationPressure(tc) < moistair.SaturationPressureOverWater(tc)) {
			t.Errorf("at %g °C the pressure over ice is not below that over water", tc)
		}
	}
	for tc := 0.02; tc <= 200; tc += 0.5 {
		if moistair.SaturationPressure(tc) != moistair.SaturationPressureOverWater(tc) {
			t.Errorf("at %g °C the two formulas differ", tc)
		}
	}
}

func TestHumidityRatioRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		total := rapid.Float64Range(60e3, 110e3).Draw(t, "pressure")
		p := rapid.Float64Range(0, 0.99).Draw(t, "share") * total
		back := moistair.VaporPressureFromHumidityRatio(moistair.HumidityRatio(p, total), total)
		if !(math.Abs(back-p) <= 1e-9*total) {
			t.Fatalf("vapor pressure %g Pa came back as %g Pa", p, back)
		}
	})
}

// TestWetBulbBalance: the wet bulb closes the balance of adiabatic saturation,
// h + (W* − W)·h_w = h*, with h_w the enthalpy of the water at the wet bulb:
// 4.186t* kJ/kg for liquid, −329 + 2.1t* for ice (ASHRAE
// Handbook—Fundamentals 2021, ch. 1, eq. 31 with the constants of eq. 33 and 35).
func TestWetBulbBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tc := rapid.Float64Range(-40, 60).Draw(t, "t")
		total := rapid.Float64Range(70e3, 105e3).Draw(t, "pressure")
		p := rapid.Float64Range(0, 1).Draw(t, "rh") * moistair.SaturationPressure(tc)
		w := moistair.HumidityRatio(p, total)
		wet := moistair.WetBulb(tc, w, total)
		if !(wet <= tc) || p > 0.01 && !(wet >= moistair.DewPoint(p)-1e-3) {
			t.Fatalf("wet bulb %g °C is not between dew point %g and %g °C", wet, moistair.DewPoint(p), tc)
		}
		water := 4186 * wet
		if wet < 0 {
			water = -329e3 + 2100*wet
		}
		saturated := moistair.HumidityRatio(moistair.SaturationPressure(wet), total)
		off := moistair.Enthalpy(tc, w) + (saturated-w)*water - moistair.Enthalpy(wet, saturated)
		// 0.001 K is 1 J/kg of dry air and more with its vapor.
		if !(math.Abs(off) < 1) {
			t.Fatalf("balance at %g °C, wet bulb %g °C is off by %g J/kg", tc, wet, off)
		}
	})
}

// TestSpecificVolumeIsPerfectGas: dry air fills R·T/P, and the volume times the
// vapor concentration gives the humidity ratio back.
func TestSpecificVolumeIsPerfectGas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tc := rapid.Float64Range(-40, 60).Draw(t, "t")
		p := rapid.Float64Range(0, 1).Draw(t, "rh") * moistair.SaturationPressure(tc)
		w := moistair.HumidityRatio(p, pressure)
		content := moistair.SpecificVolume(tc, w, pressure) * moistair.VaporConcentration(tc, p)
		// R_v 461.5 and R_da/0.621945 differ by 5E−5.
		if !(math.Abs(content-w) <= 1e-4*w) {
			t.Fatalf("volume times concentration is %g, the humidity ratio %g", content, w)
		}
	})
}

func TestSchirmerBelowDIN(t *testing.T) {
	for tc := -30.0; tc <= 60; tc += 5 {
		ratio := moistair.AirPermeabilitySchirmer(tc, pressure) / moistair.AirPermeability(tc, pressure)
		if !(math.Abs(ratio-0.985) < 0.001) {
			t.Errorf("at %g °C the ratio of the two formulas is %g, not 0.985", tc, ratio)
		}
	}
}

// TestOutOfRange: every function answers NaN outside the range that it states.
func TestOutOfRange(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, s := range saturations {
		for _, tc := range []float64{nan, inf, -inf, -100.01, 200.01} {
			wantNaN(t, s.name+" saturation pressure", s.pressure(tc))
		}
		for _, p := range []float64{nan, inf, -inf, 0, -1, 1e-4, 1e7, 1e300, 5e-324} {
			wantNaN(t, s.name+" dew point", s.inverse(p))
		}
	}
	for _, p := range []float64{nan, -1, pressure, 2 * pressure, inf} {
		wantNaN(t, "HumidityRatio", moistair.HumidityRatio(p, pressure))
	}
	for _, w := range []float64{nan, -0.1} {
		wantNaN(t, "VaporPressureFromHumidityRatio", moistair.VaporPressureFromHumidityRatio(w, pressure))
		wantNaN(t, "WetBulb", moistair.WetBulb(20, w, pressure))
		wantNaN(t, "SpecificVolume", moistair.SpecificVolume(20, w, pressure))
	}
	for _, total := range []float64{nan, 0, -1} {
		wantNaN(t, "VaporPressureFromHumidityRatio", moistair.VaporPressureFromHumidityRatio(0.01, total))
		wantNaN(t, "WetBulb", moistair.WetBulb(20, 0.01, total))
		wantNaN(t, "SpecificVolume", moistair.SpecificVolume(20, 0.01, total))
		wantNaN(t, "AirPermeability", moistair.AirPermeability(20, total))
		wantNaN(t, "AirPermeabilitySchirmer", moistair.AirPermeabilitySchirmer(20, total))
	}
	for _, tc := range []float64{nan, -273.15, -inf} {
		wantNaN(t, "WetBulb", moistair.WetBulb(tc, 0.01, pressure))
		wantNaN(t, "VaporConcentration", moistair.VaporConcentration(tc, 1000))
		wantNaN(t, "SpecificVolume", moistair.SpecificVolume(tc, 0.01, pressure))
		wantNaN(t, "AirPermeability", moistair.AirPermeability(tc, pressure))
		wantNaN(t, "AirPermeabilitySchirmer", moistair.AirPermeabilitySchirmer(tc, pressure))
	}
	wantNaN(t, "Enthalpy", moistair.Enthalpy(nan, 0.01))
	wantNaN(t, "LatentHeatVaporization", moistair.LatentHeatVaporization(nan))
}

func wantNaN(t *testing.T, name string, got float64) {
	t.Helper()
	if !math.IsNaN(got) {
		t.Errorf("%s is %g outside its range, not NaN", name, got)
	}
}

func TestWetBulbLimits(t *testing.T) {
	if got := moistair.WetBulb(20, 0.05, pressure); got != 20 {
		t.Errorf("wet bulb of air above saturation is %g °C, not its temperature 20", got)
	}
	// Dry air at 5 °C could balance a wet wick just above 0 °C or ice below it.
	w := 0.0019
	if got := moistair.WetBulb(5, w, pressure); !(got >= 0 && got < 0.3) {
		t.Errorf("wet bulb is %g °C, not that of the wet wick", got)
	}
}

func FuzzNoPanic(f *testing.F) {
	f.Add(20.0, 1000.0, 101325.0)
	f.Add(math.Inf(-1), math.NaN(), 5e-324)
	f.Fuzz(func(t *testing.T, a, b, c float64) {
		for _, s := range saturations {
			s.pressure(a)
			s.inverse(b)
		}
		moistair.WetBulb(a, b, c)
		moistair.SpecificVolume(a, b, c)
	})
}

var sink float64

func BenchmarkSaturationPressure(b *testing.B) {
	for i := range b.N {
		sink = moistair.SaturationPressure(float64(i%100) - 40)
	}
}

func BenchmarkSaturationPressureISO(b *testing.B) {
	for i := range b.N {
		sink = moistair.SaturationPressureISO(float64(i%100) - 40)
	}
}

func BenchmarkDewPoint(b *testing.B) {
	for i := range b.N {
		sink = moistair.DewPoint(20 + float64(i%3000))
	}
}

func BenchmarkDewPointISO(b *testing.B) {
	for i := range b.N {
		sink = moistair.DewPointISO(20 + float64(i%3000))
	}
}

func BenchmarkWetBulb(b *testing.B) {
	for i := range b.N {
		sink = moistair.WetBulb(float64(i%60), 0.004, moistair.StandardPressure)
	}
}
