package swap

import (
	"context"
	"slices"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
)

// worked applies a recipe at its first place and gives the facts of the work
// in every scene.
func worked(t *testing.T, id, text string) []analysis.Facts {
	t.Helper()
	base := withRecipe(t, id)
	f := find(t, base, text)
	c := f.places(base.Recipes[0])[0]
	change, err := f.apply(c)
	if err != nil {
		t.Fatal(err)
	}
	resolved, problems := assembly.Resolve(change.house, nil, base)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	after, err := analysis.Run(context.Background(), base, resolved.Assemblies[0])
	if err != nil {
		t.Fatal(err)
	}
	var list []analysis.Facts
	for _, s := range f.subjects(c, scenes(f.before, after)) {
		list = append(list, s.Work)
	}
	return list
}

// TestWorkFactsAreRegistered holds the facts of the work to the registry.
func TestWorkFactsAreRegistered(t *testing.T) {
	facts := worked(t, "film", house(cooled, wall, siding, bay, poly, board))[0]
	for _, f := range loaded(t).Facts {
		if f.Scope != "work" {
			if _, ok := facts[f.ID]; ok {
				t.Errorf("%s is about the %s", f.ID, f.Scope)
			}
			continue
		}
		e, ok := facts[f.ID]
		switch {
		case !ok:
			t.Errorf("%s is not made", f.ID)
		case f.Type == "quantity" && (len(e.Words) > 0 || e.Flag), f.Type == "flag" && len(e.Words) > 0:
			t.Errorf("%s is no %s: %+v", f.ID, f.Type, e)
		case !slices.IsSorted(e.Words):
			t.Errorf("%s: words out of order %q", f.ID, e.Words)
		}
		for _, w := range e.Words {
			if len(f.Words) > 0 && !slices.Contains(f.Words, w) {
				t.Errorf("%s: %q is not registered", f.ID, w)
			}
		}
	}
	for id := range facts {
		if loaded(t).Fact(id) == nil {
			t.Errorf("%s is not registered", id)
		}
	}
}

func TestWork(t *testing.T) {
	plaster := "{name: plaster, material: lime-plaster, thickness: 3/4 in, coats: {in: [{coating: oil-paint, count: 2}], out: [{coating: latex-paint}]}}"
	empty := "{name: bay, framing: {material: spf-lumber, size: 2x6, spacing: 16 in}}"
	tests := []struct {
		name, recipe, text string
		removes, adds      []string // some terms there must be
		not                []string // and must not be, in either
		duties             []string
		opens              string
		fills, insulates   bool
		disturbs           bool
	}{
		{
			name: "a film, in a house that stands", recipe: "film", text: house(old, stands, siding, bay, poly, board),
			removes: []string{"plastic-film"}, adds: []string{"responsive-retarder"}, not: []string{"gypsum-board"},
			opens: "inside", disturbs: true,
		},
		{
			name: "a film, in a house that is planned", recipe: "film", text: house(cooled, wall, siding, bay, poly, board),
			removes: []string{"plastic-film"}, adds: []string{"responsive-retarder"}, opens: "inside",
		},
		{
			name: "sheathing", recipe: "without-bracing", text: house(cooled, wall, siding, strand, bay, board),
			removes: []string{"osb"}, adds: []string{"wood-fiber"}, duties: []string{"brace"}, opens: "outside", insulates: true,
		},
		{
			name: "coats instead of others", recipe: "repaint", text: house(old, stands, siding, bay, plaster),
			removes: []string{"oil-paint"}, adds: []string{"limewash"}, not: []string{"lime-plaster", "latex-paint"}, opens: "nothing", disturbs: true,
		},
		{
			name: "coats over others", recipe: "coat-over", text: house(old, stands, siding, bay, plaster),
			adds: []string{"latex-paint"}, not: []string{"lime-plaster", "oil-paint"}, opens: "nothing", disturbs: true,
		},
		{
			name: "an addition", recipe: "added", text: house(old, stands, siding, bay, board),
			adds: []string{"responsive-retarder"}, not: []string{"gypsum-board", "latex-paint"}, opens: "nothing",
		},
		{
			name: "an empty bay", recipe: "fill", text: house(old, stands, siding, empty, board),
			adds: []string{"wood-fiber"}, not: []string{"framing", "solid-wood"}, opens: "inside", fills: true, insulates: true, disturbs: true,
		},
	}
	for _, test := range tests {
		w := worked(t, test.recipe, test.text)[0]
		removes, adds := w["removes"].Words, w["adds"].Words
		for _, term := range test.removes {
			if !slices.Contains(removes, term) {
				t.Errorf("%s: removes %q, not %s", test.name, removes, term)
			}
		}
		for _, term := range test.adds {
			if !slices.Contains(adds, term) {
				t.Errorf("%s: adds %q, not %s", test.name, adds, term)
			}
		}
		for _, term := range test.not {
			if slices.Contains(removes, term) || slices.Contains(adds, term) {
				t.Errorf("%s: removes %q, adds %q: %s does not move", test.name, removes, adds, term)
			}
		}
		if len(test.removes) == 0 && len(removes) > 0 {
			t.Errorf("%s: removes %q", test.name, removes)
		}
		if got := w["removes-duties"].Words; !slices.Equal(got, test.duties) {
			t.Errorf("%s: duties %q, want %q", test.name, got, test.duties)
		}
		if got := w["opens"].Words; len(got) != 1 || got[0] != test.opens {
			t.Errorf("%s: opens %q, want %q", test.name, got, test.opens)
		}
		for id, want := range map[string]bool{"fills-empty-bay": test.fills, "insulates": test.insulates, "disturbs-existing": test.disturbs} {
			if w[id].Flag != want {
				t.Errorf("%s: %s is %v", test.name, id, w[id].Flag)
			}
		}
	}
}

// TestThicknessInside counts what is gained on the room side, of framed and of
// mass walls.
func TestThicknessInside(t *testing.T) {
	const inch = 0.0254
	for _, test := range []struct {
		name, recipe, text string
		want               float64
	}{
		{"clay for board, with two more layers", "beside", house(cooled, wall, siding, bay, board), (0.75 + 0.125 - 0.5) * inch},
		{"outside", "same-thickness", house(cooled, wall, siding, "{name: sheathing, material: osb, thickness: 7/16 in}", bay, board), 0},
		{"outside of a mass wall", "unique", house(cooled, wall, "{name: face, material: cement-plaster, thickness: 1 in}", "{name: brick, material: solid-brick-wall, thickness: 12 in}", limeFaced), 0},
	} {
		got := worked(t, test.recipe, test.text)[0]["added-thickness-inside"].Range.Best
		if d := got - test.want; d > 1e-9 || d < -1e-9 {
			t.Errorf("%s: %g m, want %g m", test.name, got, test.want)
		}
	}
}

// TestAddedWeight is the density of the base times the depth, computed here.
func TestAddedWeight(t *testing.T) {
	w := worked(t, "beside", house(cooled, wall, siding, bay, board))[0]["added-weight"]
	if !w.Known || w.Range.Low > w.Range.Best || w.Range.Best > w.Range.High {
		t.Fatalf("%+v", w)
	}
	base := loaded(t)
	mass := func(id string, inches float64) float64 {
		d, ok := base.Material(id).Density()
		if !ok {
			t.Fatalf("%s has no density", id)
		}
		return d.Best * inches * 0.0254
	}
	want := mass("clay-plaster", 0.75) + mass("clay-finish-plaster", 0.125) - mass("gypsum-board", 0.5)
	if area, ok := base.Material("variable-retarder-polyamide").Working("area-density", "", 0); ok {
		want += area.SI.Best
	}
	if d := w.Range.Best - want; d > 1e-6*want || d < -1e-6*want {
		t.Errorf("%g kg/m², want %g", w.Range.Best, want)
	}
}

// TestScenes: doubts that stay are settled alike before and after; those that
// leave with their layer, or come with another, meet all choices.
func TestScenes(t *testing.T) {
	doubtful := "{name: board, material: gypsum-board, thickness: 1/2 in, coats: {in: [{coating: latex-paint, count: 1-3}]}}"
	wraps := "{name: wrap, material: {one-of: [asphalt-felt-15, none]}}"
	text := house(cooled, wall, siding, wraps, bay, poly, doubtful)
	if n := len(worked(t, "film", text)); n != 6 {
		t.Errorf("%d scenes of three counts and two wraps that both stay", n)
	}
	if n := len(worked(t, "same-thickness", house(cooled, wall, siding, wraps, "{name: x, material: {one-of: [osb, plywood-sheathing]}}", bay, doubtful))); n != 12 {
		t.Errorf("%d scenes of six that stay and a doubt of two that leaves", n)
	}
}

// TestDoubtsReachTheWork: what may be taken out is told in its scene.
func TestDoubtsReachTheWork(t *testing.T) {
	bay := "{name: bay, framing: {material: spf-lumber, size: 2x6, spacing: 16 in}, fill: [{material: {one-of: [fiberglass-batt, vermiculite-fill]}, thickness: 5-1/2 in}]}"
	has := 0
	for _, w := range worked(t, "fill", house(old, stands, siding, bay, board)) {
		if slices.Contains(w["removes"].Words, "vermiculite") {
			has++
		}
	}
	if has != 1 {
		t.Errorf("vermiculite is taken out in %d of two scenes", has)
	}
}
