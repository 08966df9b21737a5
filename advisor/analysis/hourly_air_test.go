package analysis

import (
	"math"
	"strings"
	"testing"
)

// Room air that reaches the cold side of a bay wets the sheathing, the leakier the
// house the more; a sealed layer keeps it out, and without the option there is none.
func TestAirPath(t *testing.T) {
	base := loadBase(t)
	film := strings.Replace(openWall, "      - name: board\n", "      - {name: film, material: polyethylene-6mil, sealed: no}\n      - name: board\n", 1)
	wettest := func(tightness, layers string, on bool) (float64, bool) {
		text := strings.Replace(wallText("des-moines-ia", layers), "indoor:", "air: {tightness: "+tightness+"}\nindoor:", 1)
		a := resolve(t, base, text).Assemblies[0]
		r := hourlyOf(t, base, a, Hourly{Years: 1, AirPath: on})
		leaks := false
		for _, run := range r.Hourly.Runs {
			leaks = leaks || strings.Contains(run.Corner, "room air")
		}
		return r.Variants[0].Facts["wood-moisture"].Range.High, leaks
	}
	none, leaks := wettest("leaky", film, false)
	if leaks {
		t.Error("an air path without the option")
	}
	last := none
	for _, tightness := range []string{"tight", "typical", "leaky"} {
		w, leaks := wettest(tightness, film, true)
		if !leaks {
			t.Errorf("%s: no air path", tightness)
		}
		if w < last {
			t.Errorf("%s: wood %.3f, less than %.3f of what is tighter", tightness, w, last)
		}
		last = w
	}
	if last < 1.05*none {
		t.Errorf("a leaky house wets the wood to %.3f, %.3f without the air", last, none)
	}
	if _, leaks := wettest("leaky", strings.Replace(film, "sealed: no", "sealed: yes", 1), true); leaks {
		t.Error("an air path through a sealed layer")
	}
}

// The air of the path is the natural air change times the share, at the density of
// the transient model: a test result of 10 air changes at 50 Pa is 0.5 per hour by
// the rule of thumb (divisor 20), of which a fifth at most meets the bay.
func TestAirPathFlow(t *testing.T) {
	base := loadBase(t)
	text := strings.Replace(wallText("des-moines-ia", openWall), "indoor:", "air: {tightness: 10 ACH50}\nindoor:", 1)
	a := resolve(t, base, text).Assemblies[0]
	h := newHourlyModel(newModel(base, a, a.Variants[0]))
	const want = 0.5 / 3600 * 0.2 * 1.2 // kg/(s·m²)
	if got := h.airPath(&loads{}); math.Abs(got/want-1) > 1e-9 {
		t.Errorf("%g kg/(s·m²), not %g", got, want)
	}
}
