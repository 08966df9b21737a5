package analysis

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"relath/advisor/assembly"
	"relath/advisor/steady"
	"relath/kb"
)

// analyzed runs the first assembly of a house.
func analyzed(t testing.TB, base *kb.Base, text string) *Result {
	t.Helper()
	r, err := Run(context.Background(), base, resolve(t, base, text).Assemblies[0])
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// layerOf gives the facts of a named layer of the first variant.
func layerOf(t testing.TB, r *Result, name string) LayerFacts {
	t.Helper()
	for _, l := range r.Variants[0].Layers {
		if l.Part.Name == name {
			return l
		}
	}
	t.Fatalf("no layer %q", name)
	return LayerFacts{}
}

// near compares with a tolerance relative to the expected value.
func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s is %g, want %g within %g of it", what, got, want, tolerance)
	}
}

// others is an invented house with one assembly of each kind that has no
// outdoor climate of its own, or little.
const others = `format: 1
house: Other sides
place: des-moines-ia
assemblies:
  - name: basement wall
    kind: basement-wall
    between: [ground, room]
    below-grade: 6 ft
    layers:
      - {name: block, material: concrete-block, thickness: 8 in}
      - {name: bay, framing: {material: spf-lumber, size: 2x4}, fill: [{material: mineral-wool-batt, thickness: 3-1/2 in}]}
      - {name: board, material: gypsum-board, thickness: 1/2 in}
  - name: slab
    kind: slab
    between: [ground, room]
    layers:
      - {name: film, material: polyethylene-6mil}
      - {name: concrete, material: concrete, thickness: 4 in}
  - name: partition
    kind: partition
    between: [room, wet-room]
    layers:
      - {name: near board, material: gypsum-board, thickness: 1/2 in}
      - {name: bay, framing: {material: spf-lumber, size: 2x4}}
      - {name: far board, material: gypsum-board, thickness: 1/2 in}
  - name: ceiling
    kind: attic-floor
    between: [attic, room]
    layers:
      - {name: joists, framing: {material: spf-lumber, size: 2x8}, fill: [{material: cellulose-loose-fill, thickness: 7 in}]}
      - {name: board, material: gypsum-board, thickness: 1/2 in}
  - name: earth wall
    kind: wall
    between: [outdoors, room]
    layers:
      - {name: earth, material: cob, thickness: 18 in}
  - name: garage wall
    kind: wall
    between: [outdoors, garage]
    layers:
      - {name: siding, material: bevel-wood-siding, thickness: 1/2 in}
      - {name: bay, framing: {material: spf-lumber, size: 2x4}}
`

// everyAssembly lists the shipped assemblies and those of others.
func everyAssembly(t testing.TB, base *kb.Base) []*assembly.Assembly {
	return append(shipped(t, base), resolve(t, base, others).Assemblies...)
}

// TestFactsAreRegistered holds the analysis to the registry: it produces every
// fact of scope assembly and layer but those of hourly models, and no other; a
// quantity is finite and in order, what is not known says why.
func TestFactsAreRegistered(t *testing.T) {
	base := loadBase(t)
	want := make(map[string][]string)
	for _, f := range base.Facts {
		if f.Scope != "work" && !strings.HasPrefix(f.Model, "hourly") {
			want[f.Scope] = append(want[f.Scope], f.ID)
		}
	}
	for _, a := range everyAssembly(t, base) {
		r, err := Run(context.Background(), base, a)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range r.Variants {
			holdsExactly(t, base, a.Name, want["assembly"], v.Facts)
			for _, l := range v.Layers {
				holdsExactly(t, base, a.Name+", "+l.Part.Name, want["layer"], l.Facts)
			}
		}
	}
}

func holdsExactly(t *testing.T, base *kb.Base, where string, want []string, facts Facts) {
	t.Helper()
	for _, id := range want {
		if _, ok := facts[id]; !ok {
			t.Errorf("%s: fact %s is missing", where, id)
		}
	}
	for id, e := range facts {
		f := base.Fact(id)
		switch {
		case f == nil || !slices.Contains(want, id):
			t.Errorf("%s: fact %s is not registered in this scope", where, id)
		case e.Fact != id:
			t.Errorf("%s: fact %s is named %q", where, id, e.Fact)
		case !e.Known && e.Missing == "":
			t.Errorf("%s: fact %s is not known and does not say why", where, id)
		case f.Type == "quantity" && e.Known:
			r := e.Range
			if !(r.Low <= r.Best && r.Best <= r.High) || math.IsInf(r.Low, 0) || math.IsInf(r.High, 0) {
				t.Errorf("%s: fact %s is %v", where, id, r)
			}
		case f.Type == "words" && len(f.Words) > 0:
			for _, w := range e.Words {
				if !slices.Contains(f.Words, w) {
					t.Errorf("%s: fact %s says %q, allowed are %q", where, id, w, f.Words)
				}
			}
		}
		if !slices.IsSorted(e.Words) {
			t.Errorf("%s: words of %s are not sorted: %q", where, id, e.Words)
		}
	}
}

// TestFactsAndScreeningUseOneInput holds the facts to the flat input that
// combinations are screened with: the methods of package steady on it give the
// best values.
func TestFactsAndScreeningUseOneInput(t *testing.T) {
	base := loadBase(t)
	checked := 0
	for _, a := range shipped(t, base) {
		r, err := Run(context.Background(), base, a)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range r.Variants {
			in, err := Compile(base, a, v.Of)
			if err != nil {
				t.Fatal(err)
			}
			var w steady.Workspace
			year, err := w.Year(in)
			if err != nil {
				t.Fatal(err)
			}
			if got := v.Facts["peak-condensate"].Range.Best; got != year.PlanePeak {
				t.Errorf("%s: peak %g, from the flat input %g", a.Name, got, year.PlanePeak)
			}
			if got := v.Facts["carry-over"].Range.Best; got != year.CarryOver {
				t.Errorf("%s: left after a year %g, from the flat input %g", a.Name, got, year.CarryOver)
			}
			checked++
		}
	}
	if checked < 20 {
		t.Errorf("only %d variants were compared", checked)
	}
}

// TestSidesWithoutClimate says for each kind of assembly what is known and why
// the rest is not.
func TestSidesWithoutClimate(t *testing.T) {
	base := loadBase(t)
	house := resolve(t, base, others)
	run := func(i int) *Result {
		r, err := Run(context.Background(), base, house.Assemblies[i])
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	for _, c := range []struct {
		index   int
		fact    string
		known   bool
		missing string
	}{
		{0, "u-factor", true, ""},
		{0, "temperature-ratio", true, ""},
		{0, "room-surface-humidity", true, ""},
		{0, "peak-condensate", false, "below grade the monthly method has no verdict"},
		{0, "corner-temperature-ratio", false, "only outer walls meet in a corner"},
		{1, "room-surface-humidity", true, ""},
		{1, "drying-capacity", false, "below grade the monthly method has no verdict"},
		{2, "u-factor", false, "both sides have the air of rooms"},
		{2, "peak-condensate", false, "there is no outdoor climate on the first side"},
		{2, "room-food", true, ""},
		{3, "peak-condensate", true, ""},
		{4, "peak-condensate", true, ""},
		{4, "drying-capacity", false, "a single layer has no plane between layers"},
		{5, "peak-condensate", false, "neither side is heated"},
		{5, "room-surface-humidity", false, "neither side is heated"},
	} {
		r := run(c.index)
		if e := r.Variants[0].Facts[c.fact]; e.Known != c.known || e.Missing != c.missing {
			t.Errorf("%s of %s: known %v, %q; want %v, %q", c.fact, r.Assembly.Name, e.Known, e.Missing, c.known, c.missing)
		}
	}
}
