package mold

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func allModels() []*Model {
	return []*Model{
		ForFace(VerySensitive), ForFace(Sensitive), ForFace(MediumResistant), ForFace(Resistant),
		ForInterface(Resistant, Sensitive), ForInterface(VerySensitive, MediumResistant),
		Original(false, false), Original(true, true),
	}
}

func TestIndexStaysWithinScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(allModels()).Draw(t, "model")
		var s State
		for range rapid.IntRange(1, 400).Draw(t, "spells") {
			temperature := rapid.Float64Range(-30, 60).Draw(t, "temperature")
			rh := rapid.Float64Range(0, 1.1).Draw(t, "rh")
			before := s.Index()
			hold(&s, m, 24, temperature, 100*rh)
			ceiling := m.Ceiling(temperature, rh)
			if s.Index() < 0 || s.Index() > 6 || s.Peak() < s.Index() {
				t.Fatalf("index %g, peak %g", s.Index(), s.Peak())
			}
			if s.Index() > max(before, ceiling) {
				t.Fatalf("index rose from %g to %g above its ceiling %g", before, s.Index(), ceiling)
			}
		}
	})
}

func TestDamperAirNeverGrowsLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(allModels()).Draw(t, "model")
		temperature := rapid.Float64Range(-5, 55).Draw(t, "temperature")
		low := rapid.Float64Range(0.5, 1).Draw(t, "low")
		high := rapid.Float64Range(low, 1).Draw(t, "high")
		var dry, damp State
		hold(&dry, m, 1000, temperature, 100*low)
		hold(&damp, m, 1000, temperature, 100*high)
		if damp.Index() < dry.Index() {
			t.Fatalf("%.3f at %.3f, %.3f at %.3f", dry.Index(), low, damp.Index(), high)
		}
	})
}

func TestMoreSensitiveClassNeverGrowsLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		temperature := rapid.Float64Range(1, 49).Draw(t, "temperature")
		rh := rapid.Float64Range(75, 100).Draw(t, "rh")
		previous := 7.0
		for c := VerySensitive; c <= Resistant; c++ {
			var s State
			hold(&s, ForFace(c), 4000, temperature, rh)
			if s.Index() > previous {
				t.Fatalf("%s reaches %g, the more sensitive class %g", c, s.Index(), previous)
			}
			previous = s.Index()
		}
	})
}

func TestInterfaceTakesRateOfOneAndCeilingOfOther(t *testing.T) {
	glassOnPaper := ForInterface(Resistant, Sensitive)
	var alone, touched State
	hold(&alone, ForFace(Resistant), 8*hoursPerWeek, 22, 95)
	hold(&touched, glassOnPaper, 8*hoursPerWeek, 22, 95)
	if !(touched.Index() > 5*alone.Index()) {
		t.Errorf("glass on paper %g, glass alone %g", touched.Index(), alone.Index())
	}
	if got, want := glassOnPaper.Ceiling(22, 0.95), ForFace(Resistant).Ceiling(22, 0.95); got != want {
		t.Errorf("ceiling %g, that of the resistant face is %g", got, want)
	}
	if got, want := glassOnPaper.CriticalHumidity(22), ForFace(Sensitive).CriticalHumidity(22); got != want {
		t.Errorf("critical humidity %g, that of the sensitive face is %g", got, want)
	}
	paperOnGlass := ForInterface(Sensitive, Resistant)
	if *paperOnGlass != *ForFace(Sensitive) {
		t.Errorf("the more sensitive face is changed by the other: %+v", paperOnGlass)
	}
}

// The printed model lets a resistant face grow mold at 84 % and 10 °C, where the
// curve of pine is 82.03 %; the floor of its class keeps it at 85 %.
func TestResistantFloorHoldsInTheCold(t *testing.T) {
	m := ForFace(MediumResistant)
	if got := m.CriticalHumidity(10); got != 0.85 {
		t.Errorf("critical humidity at 10 °C is %g, not 0.85", got)
	}
	var s State
	hold(&s, m, 8760, 10, 84)
	if s.Index() != 0 {
		t.Errorf("index %g at 10 °C and 84 %%", s.Index())
	}
	if got := ForFace(Resistant).CriticalHumidity(5); math.Abs(got-0.88016) > 1e-5 {
		t.Errorf("critical humidity at 5 °C is %g: the curve is above the floor there", got)
	}
}

func TestNoGrowthBeyondTemperatureLimits(t *testing.T) {
	for _, m := range allModels() {
		for _, temperature := range []float64{-10, 0, 50, 70} {
			s := State{index: 2}
			s.Advance(m, temperature, 1)
			if !(s.Index() < 2) || m.Ceiling(temperature, 1) != 0 || m.CriticalHumidity(temperature) != 1 {
				t.Errorf("at %g °C: index %g, ceiling %g", temperature, s.Index(), m.Ceiling(temperature, 1))
			}
		}
	}
}

// Half a day of dryness costs six hours of decline, however often it comes back.
func TestDryClockStartsAnewAfterDampHour(t *testing.T) {
	m := Original(false, false)
	s := State{index: 3}
	for range 4 {
		s.Advance(m, 20, 0.97)
		before := s.Index()
		hold(&s, m, 12, 20, 40)
		if fall := before - s.Index(); math.Abs(fall-6*0.00133) > 1e-12 {
			t.Errorf("12 dry hours lower the index by %g", fall)
		}
	}
}

func TestSpruceAndKilnDrying(t *testing.T) {
	pine := Original(false, false).weeksToFirst(20, 97)
	if ratio := Original(true, false).weeksToFirst(20, 97) / pine; math.Abs(ratio-math.Exp(0.14)) > 1e-12 {
		t.Errorf("spruce takes %g times as long as pine to index 1", ratio)
	}
	if ratio := Original(false, true).weeksToFirst(20, 97) / pine; math.Abs(ratio-math.Exp(-0.33)) > 1e-12 {
		t.Errorf("a kiln-dried surface takes %g times as long as a resawn one", ratio)
	}
}

func TestGapIsNotCountedAsDry(t *testing.T) {
	for _, hour := range [][2]float64{{math.NaN(), 0.5}, {20, math.NaN()}} {
		var s State
		s.Advance(ForFace(Sensitive), hour[0], hour[1])
		s.Advance(ForFace(Sensitive), 20, 0.5)
		s.Advance(ForFace(Sensitive), 20, 0.95)
		var d Decay
		d.Advance(hour[0], hour[1])
		d.Advance(20, 0.5)
		if !math.IsNaN(s.Index()) || !math.IsNaN(s.Peak()) || !math.IsNaN(d.Activation()) || !math.IsNaN(d.MassLoss()) {
			t.Errorf("a gap leaves index %g, peak %g, activation %g", s.Index(), s.Peak(), d.Activation())
		}
	}
}

func TestAdvanceAllocatesNothing(t *testing.T) {
	m := ForInterface(Sensitive, VerySensitive)
	var s State
	var d Decay
	allocations := testing.AllocsPerRun(100, func() {
		s.Advance(m, 20, 0.97)
		d.Advance(20, 0.97)
	})
	if allocations != 0 {
		t.Errorf("%g allocations per hour", allocations)
	}
}

func TestClassNames(t *testing.T) {
	for c := VerySensitive; c <= Resistant; c++ {
		if got, err := ParseClass(c.String()); got != c || err != nil {
			t.Errorf("%s reads as %v, %v", c, got, err)
		}
	}
	if _, err := ParseClass("paper"); err == nil {
		t.Error("no error for a name that is no class")
	}
	if Class(17).constants() != VerySensitive.constants() {
		t.Error("a value that is no class must count as very sensitive")
	}
}

func TestDeclineFactorIsBounded(t *testing.T) {
	for _, factor := range []float64{-0.1, 1.1, math.NaN()} {
		if _, err := ForFace(Sensitive).WithDecline(factor); err == nil {
			t.Errorf("no error for a decline factor of %g", factor)
		}
	}
}

func TestDecayRecoversInTwoYears(t *testing.T) {
	d := Decay{activation: 1, loss: 0.05}
	for range 17520 - 1 {
		d.Advance(20, 0.9)
	}
	if d.Activation() <= 0 || d.MassLoss() != 0.05 {
		t.Errorf("an hour before two years: activation %g, loss %g", d.Activation(), d.MassLoss())
	}
	d.Advance(20, 0.9)
	if d.Activation() > 1e-9 {
		t.Errorf("after two years: activation %g", d.Activation())
	}
}

func TestDecayNeedsDampAndWarmth(t *testing.T) {
	for _, hour := range [][2]float64{{20, 0.95}, {0, 1}, {-5, 1}, {0.5, 0.951}} {
		var d Decay
		for range 8760 {
			d.Advance(hour[0], hour[1])
		}
		if d.Activation() != 0 || d.MassLoss() != 0 {
			t.Errorf("a year at %g °C and %g: activation %g, loss %g", hour[0], hour[1], d.Activation(), d.MassLoss())
		}
	}
}

func TestDecayStaysWithinBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var d Decay
		for range rapid.IntRange(1, 50).Draw(t, "spells") {
			temperature := rapid.Float64Range(-20, 60).Draw(t, "temperature")
			rh := rapid.Float64Range(0.9, 1.05).Draw(t, "rh")
			loss := d.MassLoss()
			for range 2000 {
				d.Advance(temperature, rh)
			}
			if d.Activation() < 0 || d.Activation() > 1 || d.MassLoss() < loss || d.MassLoss() > 1 {
				t.Fatalf("activation %g, loss %g after %g", d.Activation(), d.MassLoss(), loss)
			}
		}
	})
}

func BenchmarkYear(b *testing.B) {
	m := ForFace(Sensitive)
	for b.Loop() {
		var s State
		for hour := range 8760 {
			s.Advance(m, 15, 0.85+0.0001*float64(hour%1000))
		}
	}
}
