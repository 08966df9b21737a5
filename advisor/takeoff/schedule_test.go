package takeoff

import (
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func date(t *testing.T, text string) time.Time {
	t.Helper()
	d, err := ParseDate(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// plastered is an invented partition of 20 m² with lime plaster in three coats
// and two coats of limewash.
const plastered = `
format: 1
house: Invented
place: des-moines-ia
assemblies:
  - {name: partition, kind: partition, between: [room, room], area: 20 m2, layers: [{name: block, material: concrete-block, state: existing}, {name: plaster, material: lime-plaster, thickness: 3/4 in, coats: {in: [{coating: limewash, count: 2}]}}]}
`

// The dates by hand, from Monday April 5, 2027, with a day of work for each coat
// and the best values of the base, 10 days between coats and 28 before paint:
//
//	coat 1      Mon Apr 5; stands from Apr 6 to Apr 16
//	coat 2      Fri Apr 16; stands from Apr 17 to Apr 27
//	coat 3      Tue Apr 27; stands from Apr 28 to May 26
//	limewash 1  Wed May 26; dries to May 28
//	limewash 2  Fri May 28, done on May 29
func TestDatesByHand(t *testing.T) {
	base := loadBase(t)
	all := take(t, plastered)
	s := all.Schedule(base, base.Place("des-moines-ia"), date(t, "2027-04-05"))
	var got []string
	for _, step := range s.Steps {
		if step.Sort == Work {
			got = append(got, s.Date(step.Begin.Best).Format("Jan 2"))
		}
	}
	if text := strings.Join(got, ", "); text != "Apr 5, Apr 16, Apr 27, May 26, May 28" {
		t.Errorf("work begins on %s", text)
	}
	if end := s.Date(s.Length.Best).Format("Jan 2"); end != "May 29" {
		t.Errorf("done on %s, want May 29", end)
	}
}

// The rule of the base is that lime waits 7 to 14 days between coats and 28 to 42
// before paint: two waits and one, 42 to 70 days of curing.
func TestCuringDays(t *testing.T) {
	base := loadBase(t)
	low, high := 0, 0
	for _, step := range take(t, plastered).Schedule(base, nil, time.Time{}).Steps {
		if step.Sort == Cure && step.Stage == Plastering {
			low, high = low+step.Length.Low, high+step.Length.High
		}
	}
	if low != 2*7+28 || high != 2*14+42 {
		t.Errorf("%d to %d days of curing, want 42 to 70", low, high)
	}
}

func TestCoatsOfPlaster(t *testing.T) {
	base := loadBase(t)
	for _, c := range []struct {
		material  string
		thickness float64
		want      int
	}{
		{"lime-plaster", 7.0 / 8, 3},
		{"lime-plaster", 5.0 / 8, 3},
		{"lime-plaster", 3.0 / 8, 2},
		{"lime-plaster", 1.0 / 8, 1},
		{"clay-plaster", 3.0 / 8, 1},
		{"clay-plaster", 3.0 / 4, 2},
		{"clay-plaster", 1.5, 4}, // coats of 10 mm
	} {
		if got := CoatsOf(base.Material(c.material), c.thickness*inch); got != c.want {
			t.Errorf("%g in of %s: %d coats, want %d", c.thickness, c.material, got, c.want)
		}
	}
}

// No step begins before the one above it ends, work keeps off weekends, lime
// comes before wood, and every step that is work or cure has a length.
func TestOrderOfWork(t *testing.T) {
	base := loadBase(t)
	all := take(t, demo)
	rapid.Check(t, func(t *rapid.T) {
		start := time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 800).Draw(t, "start"))
		s := all.Schedule(base, nil, start)
		end := Days{}
		plaster, floors := -1, -1
		for i, step := range s.Steps {
			b, e := step.Begin, step.End
			if b.Low < end.Low || b.Best < end.Best || b.High < end.High || e.Low < b.Low || e.Best < b.Best || e.High < b.High {
				t.Fatalf("step %d, %s: from %+v to %+v after %+v", i, step.What, b, e, end)
			}
			if b.Low > b.Best || b.Best > b.High {
				t.Fatalf("step %d begins on %+v", i, b)
			}
			if step.Sort != Hold && step.Length.Low < 1 {
				t.Fatalf("step %d, %s has no length", i, step.What)
			}
			if d := s.Date(b.Best).Weekday(); step.Sort == Work && (d == time.Saturday || d == time.Sunday) {
				t.Fatalf("work begins on a %s", d)
			}
			if step.Stage == Plastering && step.Sort == Cure {
				plaster = i
			}
			if step.Stage == Floors && floors < 0 {
				floors = i
			}
			end = e
		}
		if plaster < 0 || floors < plaster {
			t.Fatalf("floors at step %d, plaster cures at step %d", floors, plaster)
		}
		if s.Length != end {
			t.Fatalf("the whole takes %+v, the last step ends on %+v", s.Length, end)
		}
	})
}

// Hold points stand before what covers them up.
func TestHoldPoints(t *testing.T) {
	base := loadBase(t)
	s := take(t, demo).Schedule(base, nil, time.Time{})
	at := func(text string, sort Sort) int {
		for i, step := range s.Steps {
			if step.Sort == sort && strings.Contains(step.What, text) {
				return i
			}
		}
		t.Fatalf("no %s step says %q", sort, text)
		return -1
	}
	if at("water barrier and flashing", Hold) > at("siding", Work) {
		t.Error("the barrier is looked at after the cladding covers it")
	}
	if at("plaster is dry and firm", Hold) > at("Limewash", Work) {
		t.Error("plaster is looked at after it is painted")
	}
	if last := s.Steps[len(s.Steps)-1]; last.Sort != Hold || !strings.Contains(last.What, "handed over") {
		t.Errorf("the last step is %+v", last)
	}
	if !s.Date(0).IsZero() {
		t.Error("a schedule without a start has dates")
	}
}

// Lime outside that would cure into November of Iowa is warned of; in May it is
// not.
func TestFrost(t *testing.T) {
	base := loadBase(t)
	all := take(t, `
format: 1
house: Invented
place: des-moines-ia
assemblies:
  - {name: wall, kind: wall, between: [outdoors, room], area: 50 m2, layers: [{name: render, material: lime-stucco, thickness: 7/8 in}, {name: block, material: concrete-block, thickness: 8 in, state: existing}]}
`)
	place := base.Place("des-moines-ia")
	if w := all.Schedule(base, place, date(t, "2027-09-20")).Warnings; len(w) == 0 || !strings.Contains(w[0], "freeze") {
		t.Errorf("lime outside in fall: %q", w)
	}
	if w := all.Schedule(base, place, date(t, "2027-05-10")).Warnings; len(w) != 0 {
		t.Errorf("lime outside in May: %q", w)
	}
}

func TestParseDate(t *testing.T) {
	for _, bad := range []string{"", "tomorrow", "2027-13-01", "2027-02-30", "05/04/2027", "1492-10-12", "9999-01-01"} {
		if _, err := ParseDate(bad); err == nil {
			t.Errorf("%q is taken as a date", bad)
		}
	}
}

// The board of a garage wall is a lining on both sides: no water barrier is looked
// at before it, and clay on a board is not looked behind a second time.
func TestLiningsInsideAreNoCladding(t *testing.T) {
	const house = `
format: 1
house: Invented
place: des-moines-ia
assemblies:
  - {name: garage wall, kind: wall, between: [garage, room], area: 20 m2, state: proposed, layers: [{name: far, material: gypsum-board, thickness: 1/2 in}, {name: bay, framing: {material: spf-lumber, size: 2x4, spacing: 16 in}}, {name: near, material: gypsum-board, thickness: 1/2 in}, {name: clay, material: clay-finish-plaster, thickness: 1/8 in}]}
`
	base := loadBase(t)
	all := take(t, house)
	for i := range all.Lines {
		if l := &all.Lines[i]; l.Item == "gypsum-board" && l.Stage != Lining {
			t.Errorf("%s is of the stage %q", l.Where.Layer, l.Stage)
		}
	}
	looks := 0
	s := all.Schedule(base, nil, time.Time{})
	for _, x := range s.Steps {
		if x.Sort != Hold {
			continue
		}
		if strings.Contains(x.What, "cladding") {
			t.Errorf("there is a look at %q", x.What)
		}
		if strings.Contains(x.What, "air and vapor layer") {
			looks++
			for _, w := range x.Where {
				if w.Layer == "clay" {
					t.Error("clay on a board is looked behind")
				}
			}
		}
	}
	if looks != 1 {
		t.Errorf("%d looks at insulation and air barrier, want 1", looks)
	}
}
