package swap

import (
	"slices"
	"strings"
	"testing"
)

// TestLayersStay: what a recipe keeps is left as it stands; only its seal and its
// duties change, and that is what is said.
func TestLayersStay(t *testing.T) {
	base := withRecipe(t, "stays-and-seals")
	before, _ := put(t, withRecipe(t, "left-out"), house(cooled, stands, siding, bay, poly, board), 0)
	layers, change := put(t, base, house(cooled, stands, siding, bay, board), 0)
	sameLines(t, layers, before[0], before[1]+" performs brace", "membrane: variable-retarder-polyamide proposed", before[2])
	kept := change.house.Assemblies[0].Layers[3]
	if kept.Sealed != "yes" || kept.State != "" {
		t.Errorf("the board that stays: sealed %q, state %q", kept.Sealed, kept.State)
	}
	sameLines(t, changeLines(change.changes), "bay:  -> it is now there to brace the frame", "board:  -> its joints are sealed", "membrane:  -> Variable retarder, polyamide film")
	for _, c := range change.changes {
		if c.Stays != (c.Layer != "membrane") {
			t.Errorf("%s: stays %v", c.Layer, c.Stays)
		}
	}
}

// TestDutyIsEnough: a recipe that is meant to bring a duty which nobody takes is
// worth a proposal by that alone, and no other is. Nothing that stays is counted
// as taken out.
func TestDutyIsEnough(t *testing.T) {
	text := house(cooled, stands, siding, gap, felt, "{name: sheathing, material: diagonal-board-sheathing, thickness: 3/4 in}", bay, board)
	p := proposal(advise(t, withRecipe(t, "seals"), text, Options{Layer: "board"}), "test-seals@board")
	if p == nil {
		t.Fatal("the sealed board is not proposed")
	}
	for _, c := range p.Cautions {
		if slices.ContainsFunc(c.For, func(why string) bool { return strings.Contains(why, "opens the wall is inside") }) {
			t.Errorf("a layer that stays is taken off: %s, %v", c.Caution.ID, c.For)
		}
	}
	if r := rejection(advise(t, withRecipe(t, "seals-for-nothing"), text, Options{Layer: "board"}), "test-seals-for-nothing"); r == nil || !strings.Contains(r.Because[0], "brings no duty that is missing") {
		t.Errorf("sealed for nothing: %+v", r)
	}
}

// TestReadingsFallAwayWithTheirLayer: a reading on a layer that a swap changes is
// dropped, and one on a layer that stays is kept.
func TestReadingsFallAwayWithTheirLayer(t *testing.T) {
	text := house(cooled, stands, siding, strand, bay, poly, board) +
		"    readings:\n      - {layer: sheathing, wood-moisture: 14 %, date: 2026-01-14}\n      - {layer: siding, wood-moisture: 12 %, date: 2026-01-14}\n"
	for recipe, want := range map[string][]string{"same-thickness": {"siding"}, "film": {"sheathing", "siding"}} {
		_, change := put(t, withRecipe(t, recipe), text, 0)
		var got []string
		for _, r := range change.house.Assemblies[0].Readings {
			got = append(got, r.Layer.Value)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: readings on %v, want %v", recipe, got, want)
		}
	}
}
