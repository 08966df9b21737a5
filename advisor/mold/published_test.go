package mold

import (
	"math"
	"testing"

	"relath/advisor/internal/checks"
)

// justBelow20 is 20 °C for check values that take the cubic at 20 °C, where the
// model switches to the lowest critical humidity.
func justBelow20(t float64) float64 {
	if t == 20 {
		return math.Nextafter(t, 0)
	}
	return t
}

// modelNamed reads the model column of a check file.
func modelNamed(t *testing.T, name string) *Model {
	t.Helper()
	if name == "original" {
		return Original(false, false)
	}
	class, err := ParseClass(name)
	if err != nil {
		t.Fatal(err)
	}
	return ForFace(class)
}

// hold advances s by hours of constant conditions.
func hold(s *State, m *Model, hours int, t, rhPercent float64) {
	for range hours {
		s.Advance(m, t, rhPercent/100)
	}
}

// hoursTo returns the hours of constant conditions after which the index of a
// clean face first reaches the target, or 0 when it does not within the limit.
func hoursTo(m *Model, target, t, rhPercent float64, limit int) int {
	var s State
	for hour := 1; hour <= limit; hour++ {
		s.Advance(m, t, rhPercent/100)
		if s.Index() >= target {
			return hour
		}
	}
	return 0
}

func TestCriticalHumidityOfPine(t *testing.T) {
	f := checks.Open(t, "mold-critical-humidity.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "critical_pct", criticalPine(row.Float("t_c")))
	}
}

func TestResponseTimes(t *testing.T) {
	f := checks.Open(t, "mold-response-times.csv")
	m := Original(false, false)
	for _, row := range f.Rows() {
		temperature, rh := row.Float("t_c"), row.Float("rh_pct")
		f.Check(t, row, "weeks_first", m.weeksToFirst(temperature, rh))
		f.Check(t, row, "weeks_visible", m.weeksToVisible(temperature, rh))
	}
}

func TestOriginalCoefficient(t *testing.T) {
	f := checks.Open(t, "mold-original-k1.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "k1", Original(false, false).coefficient(1, 20, row.Float("rh_pct")))
	}
}

func TestPublishedCoefficient(t *testing.T) {
	f := checks.Open(t, "mold-published-k1.csv")
	for _, row := range f.Rows() {
		k1 := Original(false, false).coefficient(1, row.Float("t_c"), row.Float("rh_pct"))
		f.Check(t, row, "k1", k1)
	}
}

func TestCeilings(t *testing.T) {
	f := checks.Open(t, "mold-ceilings.csv")
	for _, row := range f.Rows() {
		m := modelNamed(t, row.Text("class"))
		f.Check(t, row, "ceiling", m.Ceiling(justBelow20(20), row.Float("rh_pct")/100))
	}
}

func TestIndexCourses(t *testing.T) {
	f := checks.Open(t, "mold-index-courses.csv")
	for _, row := range f.Rows() {
		m := modelNamed(t, row.Text("class"))
		temperature, rh := justBelow20(row.Float("t_c")), row.Float("rh_pct")
		for _, target := range []struct {
			column string
			index  float64
		}{{"weeks_1", 1}, {"weeks_3", 3}} {
			hours := hoursTo(m, target.index, temperature, rh, 70*hoursPerWeek)
			if row.Has(target.column) {
				f.Check(t, row, target.column, float64(hours)/hoursPerWeek)
			} else if m.Ceiling(temperature, rh/100) >= target.index {
				t.Errorf("row %d: ceiling lets the index reach %g", row.Line(), target.index)
			}
		}
		for _, mark := range []struct {
			column string
			weeks  int
		}{{"week_4", 4}, {"week_8", 8}, {"week_12", 12}, {"week_26", 26}, {"week_52", 52}} {
			var s State
			hold(&s, m, mark.weeks*hoursPerWeek, temperature, rh)
			f.Check(t, row, mark.column, s.Index())
		}
	}
}

// firstPhase is the closed form of the weeks to an index up to 1 on a clean face
// at constant conditions.
func firstPhase(c constants, weeksToFirst, ceiling, index float64) float64 {
	kappa := c.before / weeksToFirst
	return (index + math.Log((1-math.Exp(-2.3*ceiling))/(1-math.Exp(2.3*(index-ceiling))))/2.3) / kappa
}

func TestFirstPhase(t *testing.T) {
	f := checks.Open(t, "mold-first-phase.csv")
	for _, row := range f.Rows() {
		m := modelNamed(t, row.Text("class"))
		exact := firstPhase(m.rate, m.weeksToFirst(20, 97), m.Ceiling(20, 0.97), 1)
		f.Check(t, row, "weeks", exact)
		hours := hoursTo(m, 1, 20, 97, 52*hoursPerWeek)
		if behind := float64(hours) - exact*hoursPerWeek; behind < -0.5 || behind > 1 {
			t.Errorf("%s: hourly steps reach index 1 %.2f hours after the closed form", row.Text("class"), behind)
		}
		if row.Has("first_hour") {
			f.Check(t, row, "first_hour", float64(hours))
		}
	}
	if hours := hoursTo(ForFace(VerySensitive), 3, 20, 97, 52*hoursPerWeek); hours != 500 {
		t.Errorf("very sensitive at 20 °C and 97 %%: index 3 at hour %d, not 500", hours)
	}
}

func TestDeclineAfterThirtyDays(t *testing.T) {
	f := checks.Open(t, "mold-decline.csv")
	for _, row := range f.Rows() {
		m, err := ForFace(VerySensitive).WithDecline(row.Float("factor"))
		if err != nil {
			t.Fatal(err)
		}
		s := State{index: 3}
		hold(&s, m, 30*24, 20, 40)
		f.Check(t, row, "index", s.Index())
	}
}

func TestPublishedTimeToFirstGrowth(t *testing.T) {
	f := checks.Open(t, "mold-published-time.csv")
	for _, row := range f.Rows() {
		hours := hoursTo(Original(false, false), 1, row.Float("t_c"), row.Float("rh_pct"), 8760)
		f.Check(t, row, "days", float64(hours)/24)
	}
}

// cycle runs the cycle of a row with the full decline of the original model, as
// the review did for both models, and returns the last index.
func cycle(t *testing.T, row checks.Row) float64 {
	m, err := modelNamed(t, row.Text("model")).WithDecline(1)
	if err != nil {
		t.Fatal(err)
	}
	a, b := int(row.Float("hours_a")), int(row.Float("hours_b"))
	var s State
	for hour := 0; hour < int(row.Float("days"))*24; hour += a + b {
		hold(&s, m, a, row.Float("t_a_c"), row.Float("rh_a_pct"))
		hold(&s, m, b, row.Float("t_b_c"), row.Float("rh_b_pct"))
	}
	return s.Index()
}

func TestPublishedCycles(t *testing.T) {
	f := checks.Open(t, "mold-published-cycles.csv")
	for _, row := range f.Rows() {
		reached := 0.0
		if cycle(t, row) >= row.Float("bound") {
			reached = 1
		}
		f.Check(t, row, "reached", reached)
	}
}

func TestCycles(t *testing.T) {
	f := checks.Open(t, "mold-cycles.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "index", cycle(t, row))
	}
}

func TestDecay(t *testing.T) {
	f := checks.Open(t, "mold-decay.csv")
	for _, row := range f.Rows() {
		temperature, rh := row.Float("t_c"), row.Float("rh_pct")/100
		var d Decay
		hours := 0
		for d.Activation() < 1 {
			d.Advance(temperature, rh)
			hours++
		}
		// The hour of activation already counts as attack; the exact moment is within it.
		exact := decayLag(temperature, 100*rh)
		if behind := float64(hours) - exact; behind < 0 || behind > 1 {
			t.Errorf("activation after %d hours, the equation says %.2f", hours, exact)
		}
		f.Check(t, row, "days", exact/24)
		before := d.MassLoss()
		for range 720 {
			d.Advance(temperature, rh)
		}
		f.Check(t, row, "pct_30_days", 100*(d.MassLoss()-before))
	}
}
