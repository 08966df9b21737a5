package honesty_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
)

// These tests work a few facts once more from the values of the base, by the
// formulas of the published sources, without the code of the analysis.

// near compares two numbers to the rounding of a dozen operations.
func near(got, want float64) bool { return math.Abs(got-want) <= 1e-9*math.Abs(want) }

// value is the best working value of a property of a material.
func value(t *testing.T, m *kb.Material, property, method string, thickness float64) float64 {
	t.Helper()
	w, ok := m.Working(property, method, thickness)
	if !ok {
		t.Fatalf("%s has no %s by %q", m.ID, property, method)
	}
	return w.SI.Best
}

// layerFacts gives the facts of a layer by name.
func layerFacts(t *testing.T, r *analysis.Result, name string) analysis.Facts {
	t.Helper()
	for _, l := range r.Variants[0].Layers {
		if l.Part.Name == name {
			return l.Facts
		}
	}
	t.Fatalf("no layer %q", name)
	return nil
}

// TestHandUFactor: parallel paths through fill and framing with the films of
// ASHRAE Handbook—Fundamentals 2021, ch. 26, Table 10 (0.12 still air on a wall,
// 0.030 wind in winter), as in ch. 27, Example 3.
func TestHandUFactor(t *testing.T) {
	const inch, share = 0.0254, 0.25
	base := embedded(t)
	house := wallIn(desMoines, "{name: siding, material: bevel-wood-siding, thickness: 1/2 in}", boards,
		"{name: bay, framing: {material: spf-lumber, size: 2x6, spacing: 16 in, fraction: 25 %}, fill: [{material: fiberglass-batt, thickness: 5-1/2 in}]}", bareBoard)
	r := analyze(t, base, resolve(t, base, house).Assemblies[0])
	resistance := func(id string, inches float64) float64 {
		return value(t, base.Material(id), "thermal-resistance", kb.AnyMethod, inches*inch)
	}
	rest := 0.12 + 0.030 + resistance("bevel-wood-siding", 0.5) + resistance("diagonal-board-sheathing", 0.75) + resistance("gypsum-board", 0.5)
	want := (1-share)/(rest+resistance("fiberglass-batt", 5.5)) + share/(rest+resistance("spf-lumber", 5.5))
	if got := r.Variants[0].Facts["u-factor"].Range.Best; !near(got, want) {
		t.Errorf("U-factor %g W/(m2 K), want %g", got, want)
	}
}

// TestHandCups: the permeances by the two cups are those of the base, and the
// class is that of the dry cup with the limits of IRC R202 and R702.7: 0.1, 1
// and 10 perms of 57.2135 ng/(s·m²·Pa) (NIST SP 811).
func TestHandCups(t *testing.T) {
	const perm = 57.2135e-12
	base := embedded(t)
	classes := make(map[string]bool)
	for _, m := range base.Materials {
		dry, hasDry := m.Working("permeance", kb.DryCup, 0)
		wet, hasWet := m.Working("permeance", kb.WetCup, 0)
		_, jointed := m.Working("joint-permeance", kb.AnyMethod, 0)
		if !hasDry || !hasWet || jointed || !slices.Contains([]kb.Form{kb.Board, kb.Sheet}, m.Form) || m.Form == kb.Board && m.Thickness.UsualSI == 0 || slices.Contains(m.Terms, "cladding") {
			continue
		}
		r := analyze(t, base, resolve(t, base, wallIn(desMoines, siding, "{name: it, material: "+m.ID+"}", bay, bareBoard)).Assemblies[0])
		f := layerFacts(t, r, "it")
		if got := f["permeance-dry"].Range.Best; !near(got, max(dry.SI.Best, tightest)) {
			t.Errorf("%s: %g by dry cup, the base has %g", m.ID, got, dry.SI.Best)
		}
		if got, want := f["permeance-wet"].Range.Best, max(wet.SI.Best, dry.SI.Best, tightest); !near(got, want) {
			t.Errorf("%s: %g by wet cup, the base has %g", m.ID, got, want)
		}
		class := func(permeance float64) string {
			switch {
			case permeance <= 0.1*perm*(1+1e-4):
				return "I"
			case permeance <= perm*(1+1e-4):
				return "II"
			case permeance <= 10*perm*(1+1e-4):
				return "III"
			}
			return "none"
		}
		words := f["retarder-class"].Words
		for _, end := range []float64{dry.SI.Low, dry.SI.Best, dry.SI.High} {
			classes[class(end)] = true
			if !slices.Contains(words, class(end)) {
				t.Errorf("%s: %g perms by dry cup is class %s, not one of %q", m.ID, end/perm, class(end), words)
			}
		}
	}
	if len(classes) != 4 {
		t.Errorf("only the classes %v are tried", classes)
	}
}

// TestHandCoats: a layer with joints and coats is M_joint + (1 − share)/(1/M_board +
// Σ 1/M_coat), every coat once, at 50 % humidity.
func TestHandCoats(t *testing.T) {
	const coats = 5
	base := embedded(t)
	m, paint := base.Material("bevel-wood-siding"), base.Material("oil-paint")
	r := analyze(t, base, resolve(t, base, wallIn(desMoines, "{name: siding, material: bevel-wood-siding, coats: {out: [{coating: oil-paint, count: 5}]}}", bay, bareBoard)).Assemblies[0])
	at := func(m *kb.Material) float64 {
		return analysis.Coat(base, &assembly.Part{Name: "bare", Material: m, Depth: m.Thickness.UsualSI, Sealed: true}).Middle.Best
	}
	board, film := at(m), at(paint)
	joint, share := value(t, m, "joint-permeance", kb.AnyMethod, 0), 0.0
	if w, ok := m.Working("joint-share", kb.AnyMethod, 0); ok {
		share = w.SI.Best
	}
	want := joint + (1-share)/(1/board+coats/film)
	if got := layerFacts(t, r, "siding")["permeance"].Range.Best; !near(got, want) {
		t.Errorf("%g kg/(s m2 Pa), want %g", got, want)
	}
}

// TestHandVent: the air behind the siding is a path beside it, m·0.62/P with m of
// air of 1.2 kg/m³ (ASHRAE Handbook—Fundamentals 2021, ch. 27), and the air space
// itself is 0.01 m of still air.
func TestHandVent(t *testing.T) {
	const depth, air, pressure = 0.75 * 0.0254, 1.2, 101325
	base := embedded(t)
	with := analyze(t, base, resolve(t, base, wallIn(desMoines, siding, vented, boards, bay, bareBoard)).Assemblies[0])
	rate := base.Assumption("air-change-vented").SI.Best
	still := base.Assumption("closed-gap-air-layer").SI.Best
	face := 1 / layerFacts(t, with, "siding")["permeance"].Range.Best
	sheathing := 1 / layerFacts(t, with, "boards")["permeance"].Range.Best
	vent := rate * depth * air * 0.622 / pressure
	want := 1 / (1/(1/face+vent) + still/kb.StillAirPermeability + sheathing)
	if got := with.Variants[0].Facts["permeance-outward"].Range.Best; math.Abs(got-want) > 0.005*want { // 0.62 or 0.622
		t.Errorf("permeance outward %g, want %g", got, want)
	}
}

// TestHandGlue: adhesive share times density times depth, the fill by its share
// of the area.
func TestHandGlue(t *testing.T) {
	const inch, share = 0.0254, 0.25
	base := embedded(t)
	house := wallIn(desMoines, "{name: panel, material: osb, thickness: 7/16 in}",
		"{name: bay, framing: {material: spf-lumber, size: 2x6, fraction: 25 %}, fill: [{material: fiberglass-batt, thickness: 5-1/2 in}]}")
	r := analyze(t, base, resolve(t, base, house).Assemblies[0])
	glue := func(id string, depth, share float64) float64 {
		m := base.Material(id)
		d, ok := m.Density()
		if !ok {
			t.Fatalf("%s has no density", id)
		}
		return d.Best * depth * share * value(t, m, "adhesive-share", kb.AnyMethod, 0)
	}
	want := glue("osb", 7.0/16*inch, 1) + glue("fiberglass-batt", 5.5*inch, 1-share)
	if got := r.Variants[0].Facts["adhesive-mass"].Range.Best; !near(got, want) {
		t.Errorf("glue %g kg/m2, want %g", got, want)
	}
}

// TestHandDuties: bracing and fire resistance are never plainly covered, air is
// stopped by what is sealed, and the weather side wants cladding and barrier.
func TestHandDuties(t *testing.T) {
	base := embedded(t)
	covers := func(layers ...string) map[string]kb.Verdict {
		a := resolve(t, base, wallIn(desMoines, layers...)).Assemblies[0]
		verdicts := make(map[string]kb.Verdict)
		for _, c := range analysis.Covers(base, a, a.Variants[0]) {
			verdicts[c.Duty] = c.Verdict
		}
		return verdicts
	}
	for _, test := range []struct {
		duty   string
		layers string
		want   kb.Verdict
	}{
		{"brace", siding + ";" + felt + ";" + boards + ";" + bay + ";" + bareBoard, kb.Depends},
		{"shed-rain", siding + ";" + felt + ";" + boards + ";" + bay + ";" + bareBoard, kb.Yes},
		{"shed-rain", siding + ";" + boards + ";" + bay + ";" + bareBoard, kb.No},
		{"stop-air", siding + ";" + felt + ";" + bay + ";" + film + ";" + bareBoard, kb.Yes},
		{"stop-air", siding + ";" + felt + ";" + bay + ";" + bareBoard, kb.Depends},
		{"insulate", siding + ";" + felt + ";" + bay + ";" + bareBoard, kb.Yes},
		{"finish", siding + ";" + felt + ";" + boards, kb.No},
	} {
		if got := covers(strings.Split(test.layers, ";")...)[test.duty]; got != test.want {
			t.Errorf("%s by %s: %q, want %q", test.duty, test.layers, got, test.want)
		}
	}
}
