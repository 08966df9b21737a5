package analysis

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// oldWall is a wall of before 1930 with an empty bay.
const oldWall = `
      - name: siding
        material: bevel-wood-siding
        thickness: 1/2 in
        coats: {out: [{coating: oil-paint, count: 8}]}
      - {name: paper, material: rosin-paper}
      - {name: boards, material: horizontal-board-sheathing, thickness: 7/8 in}
      - name: bay
        framing: {material: old-pine-lumber, depth: 3-3/4 in, spacing: 16 in}
      - name: plaster
        material: lime-plaster-on-wood-lath
        thickness: 7/8 in
        coats: {in: [{coating: oil-paint, count: 3}]}
`

func leakOf(t testing.TB, base *kb.Base, a *assembly.Assembly, o Leak) *LeakResult {
	t.Helper()
	r, err := RunLeak(context.Background(), base, a, o)
	if err != nil {
		t.Fatal(err)
	}
	if r.Missing != "" {
		t.Fatalf("no answer: %s", r.Missing)
	}
	return r
}

// A leak of nothing changes nothing, to the last digit.
func TestZeroLeakEqualsNoLeak(t *testing.T) {
	base := loadBase(t)
	a := resolve(t, base, wallText("des-moines-ia", openWall)).Assemblies[0]
	m := newModel(base, a, a.Variants[0])
	l, _, err := loadsOf(base, a, Hourly{})
	if err != nil {
		t.Fatal(err)
	}
	wishes, err := Leak{On: []LeakDay{{1, 15}}}.filled(base)
	if err != nil {
		t.Fatal(err)
	}
	wishes.Amount = 0
	s := &leakStudy{out: &LeakResult{Assembly: a, Wetted: 3, Face: LeakInner}, of: newHourlyModel(m), loads: l, wishes: wishes}
	if err := errors.Join(s.compile(), s.run(context.Background())); err != nil {
		t.Fatal(err)
	}
	for i := range s.without {
		for part := range s.without[i].content {
			dry, wet := s.without[i].content[part], s.with[i][0].content[part]
			if !slices.Equal(dry[:len(wet)], wet) {
				t.Errorf("corner %d: the water of part %d differs", i, part)
			}
		}
		for spot := range s.without[i].index {
			dry, wet := s.without[i].index[spot], s.with[i][0].index[spot]
			if !slices.Equal(dry[:len(wet)], wet) {
				t.Errorf("corner %d: the mold index of face %d differs", i, spot)
			}
		}
	}
}

// All water of a leak is accounted for: what left, what stays and what ran off are
// what was supplied. The air in gaps holds the 1E−5 that are left.
func TestLeakWaterIsAccountedFor(t *testing.T) {
	base := loadBase(t)
	for name, layers := range map[string]string{"open": openWall, "old": oldWall} {
		a := resolve(t, base, wallText("des-moines-ia", layers)).Assemblies[0]
		r := leakOf(t, base, a, Leak{})
		if len(r.Cases) != 2 || r.Cases[0].Season != "winter" || r.Cases[1].Season != "summer" {
			t.Fatalf("%s: cases %+v", name, r.Cases)
		}
		for _, c := range r.Cases {
			if math.Abs(c.Supplied.Best-2) > 1e-9 {
				t.Errorf("%s, %s: %g kg/m² supplied, the default is 2", name, c.On, c.Supplied.Best)
			}
			sum := c.Outside.Best + c.Inside.Best + c.Stored.Best + c.Drained.Best
			if math.Abs(sum-c.Supplied.Best) > 1e-4*c.Supplied.Best {
				t.Errorf("%s, %s: %g kg/m² accounted for of %g", name, c.On, sum, c.Supplied.Best)
			}
			if !(c.Peak.Best <= c.Kept.Best*1.02 && c.Kept.Best <= c.Supplied.Best+1e-9) {
				t.Errorf("%s, %s: peak %g, taken up %g, supplied %g", name, c.On, c.Peak.Best, c.Kept.Best, c.Supplied.Best)
			}
			for _, x := range []quantity.Range{c.Peak, c.Kept, c.Dry.Time, c.Wood.Time} {
				if !(x.Low <= x.Best && x.Best <= x.High) {
					t.Errorf("%s, %s: range %+v is out of order", name, c.On, x)
				}
			}
		}
	}
}

// Rain that leaks in is the share of what the wind drives against the wall.
func TestRainLeaksByItsShare(t *testing.T) {
	base := loadBase(t)
	a := resolve(t, base, wallText("des-moines-ia", openWall)).Assemblies[0]
	l, _, err := loadsOf(base, a, Hourly{})
	if err != nil {
		t.Fatal(err)
	}
	want := 0.0
	for _, x := range l.rain {
		want += 0.01 * x
	}
	r := leakOf(t, base, a, Leak{Rain: true}) // 1 % is the default
	if c := r.Cases[0]; math.Abs(c.Supplied.Best-want) > 1e-9 || c.Season != "rain" || c.Dry.Applies {
		t.Errorf("%g kg/m² in %s, want %g of rain without a drying time", c.Supplied.Best, c.Season, want)
	}
}

// The default place of a leak is the face of the sheathing toward the bay.
func TestDefaultPlaceOfLeak(t *testing.T) {
	base := loadBase(t)
	want := map[string]string{
		"Alder Court/north wall": "sheathing inner", "Cedar Row/south wall": "sheathing inner",
		"Cedar Row/garage wall": "garage board inner", "Elm Terrace/west wall": "boards inner",
		"Elm Terrace/attic floor": "plaster outer", "Hickory Hill/north wall": "boards inner",
		"Larch Lane/east wall": "boards inner", "Mill Row/south wall": "brick whole",
		"Mill Row/north wall": "brick inner", "Plum Grove/west wall": "sheathing inner",
	}
	for _, a := range shipped(t, base) {
		expected, ok := want[a.House.House.House+"/"+a.Name]
		if !ok {
			continue
		}
		part, face, err := Leak{}.place(newModel(base, a, a.Variants[0]))
		if err != nil {
			t.Error(err)
			continue
		}
		if got := a.Variants[0].Layers[part].Name + " " + string(face); got != expected {
			t.Errorf("%s, %s: %s, want %s", a.House.House.House, a.Name, got, expected)
		}
	}
}

// What a leak cannot be says what is allowed.
func TestWrongLeaks(t *testing.T) {
	base := loadBase(t)
	a := resolve(t, base, wallText("des-moines-ia", openWall)).Assemblies[0]
	for _, o := range []Leak{
		{Layer: "wrap"},
		{Layer: "gap"},
		{Layer: "roof"},
		{Face: "north"},
		{Amount: -1},
		{Amount: math.NaN()},
		{Over: 0.5},
		{RainShare: 2},
		{RainShare: 0.1, Amount: 1},
		{On: []LeakDay{{2, 29}}},
		{Hourly: Hourly{Shift: "hotter"}},
	} {
		var asked *AskError
		if _, err := RunLeak(context.Background(), base, a, o); !errors.As(err, &asked) {
			t.Errorf("%+v gives the error %v", o, err)
		}
	}
	_, err := RunLeak(context.Background(), base, a, Leak{Layer: "wrap"})
	if want := `water cannot be put into layer "wrap"; it can into "siding", "sheathing", "bay", "board"`; err.Error() != want {
		t.Errorf("error %q, want %q", err, want)
	}
}

// Days of a common year are read as they are written, and nothing else is.
func TestLeakDays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hour := rapid.IntRange(0, 364).Draw(t, "day")
		month, days := 1, daysOf()
		for hour >= int(days[month-1]) {
			hour -= int(days[month-1])
			month++
		}
		day := LeakDay{month, hour + 1}
		if got, err := ParseLeakDay(day.String()); err != nil || got != day {
			t.Fatalf("%s is read as %v, %v", day, got, err)
		}
	})
	for _, text := range []string{"", "1-15", "02-29", "13-01", "01-32", "01-15x", "0115", "01-15-2020", "-1-15"} {
		if d, err := ParseLeakDay(text); err == nil {
			t.Errorf("%q is read as %s", text, d)
		}
	}
}

// Facts do not depend on grid and steps: against twice the cells and a tenth of the
// tolerance, layer moisture stays within 1 %, the mold index within 0.05, drying
// times within half a day (the tolerances of the hourly model). Heat is held to 1 %
// of the loss, since gain is what the hours of one sign add up to; wood moisture at
// one place, where the isotherm is steep, to 2 %.
func TestFactsDoNotDependOnGridAndSteps(t *testing.T) {
	base := loadBase(t)
	for name, layers := range map[string]string{"open": openWall, "old": oldWall} {
		a := resolve(t, base, wallText("des-moines-ia", layers)).Assemblies[0]
		usual, fine := Hourly{bestOnly: true}, Hourly{bestOnly: true, Refine: 2, Tolerance: hourlyTolerance / 10}
		x, y := hourlyOf(t, base, a, usual), hourlyOf(t, base, a, fine)
		compareFacts(t, name, x.Variants[0].Facts, y.Variants[0].Facts)
		for i, l := range x.Variants[0].Layers {
			compareFacts(t, name+", "+l.Part.Name, l.Facts, y.Variants[0].Layers[i].Facts)
		}
		u, v := leakOf(t, base, a, Leak{Hourly: usual}), leakOf(t, base, a, Leak{Hourly: fine})
		compareFacts(t, name+", leak", u.Facts, v.Facts)
	}
}

// compareFacts compares best values by the unit of the fact.
func compareFacts(t *testing.T, where string, x, y Facts) {
	t.Helper()
	base := loadBase(t)
	ofAssembly, ofLayer := HourlyFacts()
	for _, id := range slices.Concat(ofAssembly, ofLayer, LeakFacts()) {
		a, b := x[id], y[id]
		if !a.Known || !b.Known {
			if a.Known != b.Known {
				t.Errorf("%s, %s: known %v and %v", where, id, a.Known, b.Known)
			}
			continue
		}
		allowed := 0.0
		switch base.Fact(id).Dimension {
		case quantity.MoistureDensity:
			allowed = 0.01 * b.Range.Best
		case quantity.HeatFlux:
			allowed = 0.01 * y["heat-loss"].Range.Best
		case quantity.Ratio:
			allowed = 0.02 * b.Range.Best
		case quantity.Number:
			allowed = 0.05
		case quantity.Duration:
			allowed = 0.5 * 86400
		case quantity.Count:
			allowed = 24 + 0.02*b.Range.Best // hours at a limit
		}
		if math.Abs(a.Range.Best-b.Range.Best) > allowed {
			t.Errorf("%s, %s: %g, refined %g", where, id, a.Range.Best, b.Range.Best)
		}
	}
}
