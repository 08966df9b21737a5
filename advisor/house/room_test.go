package house

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb/quantity"
)

// Fans by hand. A bath of 60 ft² and 8 ft holds 480 ft³; 50 cfm change it in
// 9.6 minutes and take nine tenths of the extra vapor out in ln 10 × 9.6 × 60 =
// 1326.3 s. A kitchen of 160 ft² and 100 cfm: ln 10 × 12.8 × 60 = 1768.4 s. The
// house of 840 ft² and three bedrooms: 0.03 × 840 + 7.5 × 4 = 55.2 cfm, times
// 0.000471947 = 0.0260515 m³/s (ASHRAE Standard 62.2, recalled).
func TestFansByHand(t *testing.T) {
	r := run(t, loadBase(t), invented)
	fans := make(map[string]*Fan)
	for _, room := range r.Rooms {
		fans[room.Of.Room.Name.Value] = room.Fan
	}
	near(t, "bath fan", fans["bath"].OnDemand.Range.Best, 50*0.000471947, 1e-5)
	near(t, "bath fan, continuous", fans["bath"].Continuous.Range.Best, 20*0.000471947, 1e-5)
	near(t, "bath clears", fans["bath"].Clears.Range.Best, 1326.3, 1e-4)
	near(t, "kitchen clears", fans["kitchen"].Clears.Range.Best, 1768.4, 1e-4)
	near(t, "whole house", r.Balance.Fan.Range.Best, 0.0260515, 1e-4)
	if fans["bedroom"] != nil {
		t.Error("a bedroom needs no exhaust of its own")
	}
	for name, f := range fans {
		if f != nil && f.Alone.Range.Best <= f.Clears.Range.Best {
			t.Errorf("%s: air change alone clears faster than the fan", name)
		}
		if f != nil && f.Rise.Range.Best >= f.RiseAlone.Range.Best {
			t.Errorf("%s: the air gets damper with the fan than without", name)
		}
	}
}

// 2 lb of water, 0.907185 kg, over 2 h in a bath with a fan of 50 cfm, 0.0235974
// m³/s, in 480 ft³ = 13.59209 m³: 1.259979E−4 kg/s / 0.0235974 × (1 − e^(−12.5)) =
// 5.33944E−3 kg/m³, of the 17.29E−3 kg/m³ that air of 20 °C holds (2339 Pa / (461.5
// × 293.15)): 0.3088.
func TestRiseWithTheFan(t *testing.T) {
	near(t, "rise", riseOf(0.907185, 7200, 0.0235974, 13.59209, 20), 0.3088, 1e-3)
}

// The steady balance: its constant is that of ASHRAE Standard 160, 1.36E5
// Pa·m³/kg at room temperature (recalled); 9 kg in a day and 0.05 m³/s at 304 Pa
// outdoors and 20 °C give 304 + 461.5 × 293.15 × 1.041667E−4/0.05 = 585.9 Pa of the
// 2339 Pa that the air holds.
func TestBalanceByHand(t *testing.T) {
	near(t, "constant", 461.5*(21.4+273.15), 1.36e5, 1e-3)
	m := month{outdoorT: -6.3, outdoorP: 304, indoorT: 20}
	near(t, "humidity", roomHumidity(m, 9, 0.05), 585.9/2339, 1e-3)
	if rh := roomHumidity(m, 1000, 0.001); rh != 1 {
		t.Errorf("air holds no more than saturation, got %g", rh)
	}
}

// The balance speaks of months below 50 °F and says when it disagrees with the
// description.
func TestBalanceAgainstTheDescription(t *testing.T) {
	base := loadBase(t)
	b := run(t, base, invented).Balance
	for i, h := range b.Humidity {
		if h.Known != b.Heated[i] {
			t.Errorf("month %d: known %t, heated %t", i+1, h.Known, b.Heated[i])
		}
		if h.Known && !(0 < h.Range.Low && h.Range.Low <= h.Range.Best && h.Range.High <= 1) {
			t.Errorf("month %d: humidity %+v", i+1, h.Range)
		}
	}
	for _, c := range []struct{ humidity, says string }{{"15 %", "more than"}, {"80 %", "less than"}} {
		file := strings.NewReplacer("humidity: 35 %", "humidity: "+c.humidity, "2 lb}", "2 lb}\n  - {name: great room, use: living, area: 800 ft2}").Replace(invented)
		if text := strings.Join(run(t, base, file).Balance.Warnings, " "); !strings.Contains(text, c.says) {
			t.Errorf("humidity set to %s: %q does not say %q", c.humidity, text, c.says)
		}
	}
	if b := run(t, base, "format: 1\nhouse: Invented\nplace: des-moines-ia\n").Balance; b.Known || b.Missing == "" {
		t.Errorf("a house without rooms has a balance: %+v", b)
	}
}

// Every use has its moisture in the base, every tightness its air change.
func TestDefaultsOfEveryWord(t *testing.T) {
	base := loadBase(t)
	for _, use := range assembly.Use("").Allowed() {
		if base.Assumption("moisture-"+use) == nil {
			t.Errorf("the base has no moisture for a %s", use)
		}
	}
	for _, word := range []string{"leaky", "typical", "tight"} {
		file := strings.Replace(invented, "5 ACH50", word, 1)
		if n := run(t, base, file).Balance.AirChange.Range; n.Low <= 0 {
			t.Errorf("%s: air change %+v", word, n)
		}
	}
	near(t, "air change of 5 ACH50", run(t, base, invented).Balance.AirChange.Range.Best, 5.0/20/3600, 1e-9)
	for bedrooms := 0; bedrooms <= 7; bedrooms++ {
		s := New(base, resolved(t, base, invented), analysis.Hourly{})
		w, more := s.houseMoisture(&trace{}, bedrooms), s.houseMoisture(&trace{}, bedrooms+1)
		if w.Best <= 0 || more.Best < w.Best {
			t.Errorf("%d bedrooms give off %g kg, %d %g kg", bedrooms, w.Best, bedrooms+1, more.Best)
		}
	}
}

// cornerOf solves heat flow in two dimensions at the outer corner of a
// homogeneous wall of unit thickness by finite volumes and gives the temperature
// ratios of its inner surface, in the corner and far from it. Only the ratio of
// wall to films matters, not the thickness.
func cornerOf(resistance, inside, outside float64) (corner, wall float64) {
	const cells, reach = 16, 16 * 5
	h, k := 1.0/cells, 1/resistance // k: conductivity of the wall of unit thickness
	solid := func(i, j int) bool { return i >= 0 && j >= 0 && i < reach && j < reach && (i < cells || j < cells) }
	out, in := 1/(outside+h/2/k), 1/(inside+h/2/k)
	through := k / h
	var t [reach][reach]float64
	for range 4000 {
		change := 0.0
		for i := range reach {
			for j := range reach {
				if !solid(i, j) {
					continue
				}
				sum, weight := 0.0, 0.0
				for _, n := range [4][2]int{{i - 1, j}, {i + 1, j}, {i, j - 1}, {i, j + 1}} {
					switch {
					case solid(n[0], n[1]):
						sum, weight = sum+through*t[n[0]][n[1]], weight+through
					case n[0] < 0 || n[1] < 0:
						weight += out
					case n[0] < reach && n[1] < reach:
						sum, weight = sum+in, weight+in
					}
				}
				next := t[i][j] + 1.9*(sum/weight-t[i][j])
				change = math.Max(change, math.Abs(next-t[i][j]))
				t[i][j] = next
			}
		}
		if change < 1e-8 {
			break
		}
	}
	surface := func(cell float64) float64 { return 1 - (1-cell)*in*inside }
	first, second := surface(t[cells-1][cells]), surface(t[cells-1][cells+1])
	return first - (second-first)/2, surface(t[cells-1][reach-1])
}

// The corner is bracketed by the two-dimensional solution for homogeneous walls
// from a solid brick wall to an insulated one.
func TestCornerAgainstTwoDimensions(t *testing.T) {
	s := New(loadBase(t), resolved(t, loadBase(t), invented), analysis.Hourly{})
	for _, resistance := range []float64{0.3, 0.6, 1, 2, 4} {
		corner, wall := cornerOf(resistance, 0.25, 0.04)
		near(t, "wall far from the corner", wall, (resistance+0.04)/(resistance+0.29), 1e-3)
		c := Corner{Assembly: "wall", Wall: exact(wall)}
		s.corner(&c)
		// The grid ends half a cell from the corner, which costs less than 0.01.
		const grid = 0.01
		if r := c.Ratio.Range; corner < r.Low-grid || corner > r.High+grid {
			t.Errorf("R %g: ratio %.3f in two dimensions, %.3f to %.3f by the factor", resistance, corner, r.Low, r.High)
		}
	}
}

// A corner is colder and damper than its wall, and a colder wall has a colder
// corner.
func TestCornersAreColder(t *testing.T) {
	base := loadBase(t)
	s := New(base, resolved(t, base, invented), analysis.Hourly{})
	last := -math.MaxFloat64
	for f := 0.3; f < 0.99; f += 0.05 {
		c := Corner{Assembly: "wall", Wall: exact(f)}
		s.corner(&c)
		if c.Ratio.Range.High >= f {
			t.Errorf("wall %.2f: corner %.3f", f, c.Ratio.Range.High)
		}
		if c.Temperature.Range.Best <= last {
			t.Errorf("wall %.2f: the corner is no warmer than that of a colder wall", f)
		}
		last = c.Temperature.Range.Best
		if h := c.Humidity.Range; h.Low > h.Best || h.Best > h.High || h.High > 1 {
			t.Errorf("wall %.2f: humidity %+v", f, h)
		}
	}
	warned := Corner{Assembly: "cold wall", Wall: exact(0.4)}
	s.corner(&warned)
	if len(warned.Warnings) == 0 {
		t.Errorf("a corner at %.0f %% humidity is not warned of", 100*warned.Humidity.Range.Best)
	}
}

// A number by hand: ratio 0.86 with the factor 2.1 leaves 0.86/(0.86 + 2.1 × 0.14)
// = 0.7452 (the rest of the wall is f/(1 − f) films).
func TestCornerByHand(t *testing.T) {
	base := loadBase(t)
	c := Corner{Assembly: "wall", Wall: analysis.Estimate{Known: true, Range: quantity.Exact(0.86)}}
	New(base, resolved(t, base, invented), analysis.Hourly{}).corner(&c)
	near(t, "ratio", c.Ratio.Range.Best, 0.86/(0.86+2.1*0.14), 1e-9)
	if got := fmt.Sprint(c.Month); got != "0" {
		t.Errorf("the ruling month is %s; in Des Moines it is January", got)
	}
}
