package assembly_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"relath/advisor/assembly"
)

// wall is an invented wall with the layers given.
func wall(layers string) string {
	return `format: 1
house: Test
place: des-moines-ia
assemblies:
  - name: wall
    kind: wall
    between: [outdoors, room]
    layers:
` + layers
}

// resolvedWall reads the wall of a house that must be right.
func resolvedWall(t *testing.T, layers string) *assembly.Assembly {
	t.Helper()
	r, problems := read(loadBase(t), "wall.yaml", []byte(wall(layers)))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return r.Assemblies[0]
}

// TestFillsOfABay puts fills from the first side inward: the last one without a
// thickness takes what is left, and what stays open lies on the first side.
// Depths by hand from dressed lumber: 2x6 is 5-1/2 in (139.7 mm), 2x4 3-1/2 in.
func TestFillsOfABay(t *testing.T) {
	const inch = 0.0254
	for _, c := range []struct {
		fill string
		want []float64 // in; negative for air
	}{
		{"", []float64{-5.5}},
		{"fill: [{material: mineral-wool-batt}]", []float64{5.5}},
		{"fill: [{material: mineral-wool-batt, thickness: 3-1/2 in}]", []float64{-2, 3.5}},
		{"fill: [{material: spray-foam-closed-cell, thickness: 2 in}, {material: mineral-wool-batt}]", []float64{2, 3.5}},
	} {
		a := resolvedWall(t, "      - {name: bay, framing: {material: spf-lumber, size: 2x6}, "+c.fill+"}\n")
		p := a.Variants[0].Layers[0]
		if len(p.Fills) != len(c.want) || math.Abs(p.Depth-5.5*inch) > 1e-12 {
			t.Errorf("%s: %d fills in %g m", c.fill, len(p.Fills), p.Depth)
			continue
		}
		for i, want := range c.want {
			if f := p.Fills[i]; math.Abs(f.Depth-math.Abs(want)*inch) > 1e-9 || (f.Material == nil) != (want < 0) {
				t.Errorf("%s: fill %d is %g m of %v, want %g in", c.fill, i, f.Depth, f.Material, want)
			}
		}
	}
}

// TestDefaultsAreSaid records what the description leaves out, once.
func TestDefaultsAreSaid(t *testing.T) {
	base := loadBase(t)
	r, problems := read(base, "wall.yaml", []byte(wall("      - {name: bay, framing: {material: spf-lumber, size: 2x4}}\n      - {name: board, material: gypsum-board, coats: {in: [{coating: latex-paint, count: 1-3}]}}\n")))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	var where []string
	for _, d := range r.Defaults {
		where = append(where, d.Where)
	}
	for _, want := range []string{
		"air / tightness", "indoor / heating / temperature", "indoor / heating / humidity", "wall / state",
		"wall / bay / spacing", "wall / bay / fraction", "wall / board / thickness",
	} {
		n := 0
		for _, w := range where {
			if w == want {
				n++
			}
		}
		if n != 1 {
			t.Errorf("default %q is said %d times in %q", want, n, where)
		}
	}
	if slices.ContainsFunc(where, func(w string) bool { return strings.HasPrefix(w, "indoor / cooling") }) {
		t.Error("a house without cooling has cooling by default")
	}
	if p := r.Assemblies[0].Variants[0].Layers[0]; p.Fraction != base.Assumption("framing-fraction-16").SI.Best {
		t.Errorf("framing fraction %g", p.Fraction)
	}
}

// TestWideSpacingHasItsFraction takes the framing fraction of 24 in on center
// from there on (ASHRAE Handbook—Fundamentals 2021, ch. 27, Example 3: 0.25 at 16
// in, 0.22 at 24 in).
func TestWideSpacingHasItsFraction(t *testing.T) {
	for spacing, want := range map[string]float64{"16 in": 0.25, "24 in": 0.22} {
		a := resolvedWall(t, "      - {name: bay, framing: {material: spf-lumber, size: 2x6, spacing: "+spacing+"}}\n")
		if got := a.Variants[0].Layers[0].Fraction; math.Abs(got-want) > 1e-12 {
			t.Errorf("fraction at %s is %g, want %g", spacing, got, want)
		}
	}
}

// TestVariantsInOrder lists combinations with the last doubt moving fastest and
// the first choices first; none leaves a layer out.
func TestVariantsInOrder(t *testing.T) {
	a := resolvedWall(t, `      - {name: wrap, material: {one-of: [nonwoven-house-wrap, none]}}
      - {name: board, material: gypsum-board, thickness: 1/2 in, coats: {in: [{coating: latex-paint, count: 1-2}]}}
`)
	var got []string
	for _, v := range a.Variants {
		words := make([]string, len(v.Settled))
		for i, s := range v.Settled {
			words[i] = s.Choice
		}
		got = append(got, strings.Join(words, " ")+" "+string(rune('0'+len(v.Layers))))
	}
	if want := []string{"nonwoven-house-wrap 1 2", "nonwoven-house-wrap 2 2", "none 1 1", "none 2 1"}; !slices.Equal(got, want) {
		t.Errorf("variants are %q, want %q", got, want)
	}
}

// TestCoatsRunOutward lists the coats of a face from the layer outward, one entry
// each.
func TestCoatsRunOutward(t *testing.T) {
	a := resolvedWall(t, "      - {name: board, material: gypsum-board, thickness: 1/2 in, coats: {in: [{coating: latex-primer}, {coating: latex-paint, count: 2}]}}\n")
	var got []string
	for _, c := range a.Variants[0].Layers[0].CoatsIn {
		got = append(got, c.ID)
	}
	if want := []string{"latex-primer", "latex-paint", "latex-paint"}; !slices.Equal(got, want) {
		t.Errorf("coats are %q, want %q", got, want)
	}
}
