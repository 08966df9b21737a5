package takeoff

import (
	"strings"
	"testing"
)

const stoodWall = `format: 1
house: Hand
place: des-moines-ia
built: 1996
assemblies:
  - name: north wall
    kind: wall
    between: [outdoors, room]
    area: 310 ft2
    openings: 42 ft2
    state: existing
    layers:
      - {name: siding, material: bevel-wood-siding}
      - {name: wrap, material: nonwoven-house-wrap}
      - {name: sheathing, material: osb, thickness: 7/16 in, performs: [brace]}
      - {name: bay, framing: {material: spf-lumber, size: 2x6, spacing: 16 in, fraction: 25 %}, fill: [{material: fiberglass-batt, thickness: 5-1/2 in}]}
      - {name: board, material: gypsum-board, thickness: 1/2 in}
`

// TestTearOutByHand: a wall whose cladding, sheet, strand board and batts go and
// whose framing takes up the bracing. 310 less 42 are 268 ft² of each layer and
// 268 × 0.75 = 201 ft² of fill; 310/8 = 38.75 ft of wall takes a brace at each end
// and one between at 25 ft. By the invented book, material and labor:
//
//	cladding   268 × (0.35 + 1.40) = 469.00
//	sheet      268 × (0.05 + 0.25) =  80.40
//	sheathing  268 × (0.40 + 1.20) = 428.80
//	fill       201 × (0.20 + 0.60) = 160.80
//	braces       3 × (14 + 35)     = 147.00
func TestTearOutByHand(t *testing.T) {
	base := loadBase(t)
	changed := strings.NewReplacer(
		"{name: siding, material: bevel-wood-siding}", "{name: shingles, material: wood-shingles, state: proposed}",
		"{name: wrap, material: nonwoven-house-wrap}", "{name: felt, material: asphalt-felt-15, state: proposed}",
		"{name: sheathing, material: osb, thickness: 7/16 in, performs: [brace]}", "{name: boards, material: horizontal-board-sheathing, thickness: 3/4 in, state: proposed}",
		"{name: bay, framing", "{name: bay, state: proposed, performs: [brace], framing",
		"fiberglass-batt", "mineral-wool-batt",
	).Replace(stoodWall)
	all := Take(base, Job{House: resolved(t, base, changed), Before: resolved(t, base, stoodWall)})
	c := all.Price(base, book(t, "demo.yaml"))
	for _, w := range []struct {
		item, layer string
		cents       int64
	}{
		{"tear-out-cladding", "siding", 46900},
		{"tear-out-sheet", "wrap", 8040},
		{"tear-out-sheathing", "sheathing", 42880},
		{"tear-out-fill", "bay", 16080},
		{"let-in-braces", "bay", 14700},
	} {
		if got := lineCost(t, all, c, w.item, w.layer).Total().Best; got != w.cents {
			t.Errorf("%s of %s costs %d cents, by hand %d", w.item, w.layer, got, w.cents)
		}
	}
	for _, l := range all.Lines {
		if l.Where.Layer == "board" {
			t.Errorf("the board stands and stays: %s", l.Name)
		}
	}
}

// A book that prices no taking out has one gap for all of it; one that prices some
// of it lacks the rest by name.
func TestTearOutWithoutPrices(t *testing.T) {
	base := loadBase(t)
	changed := strings.Replace(stoodWall, "bevel-wood-siding", "wood-shingles, state: proposed", 1)
	all := Take(base, Job{House: resolved(t, base, changed), Before: resolved(t, base, stoodWall)})
	whole := book(t, "demo.yaml")
	none := *whole
	none.Prices = nil
	for _, p := range whole.Prices {
		if !strings.HasPrefix(p.Of.Value, tearOut) {
			none.Prices = append(none.Prices, p)
		}
	}
	if c := all.Price(base, &none); !c.Incomplete || c.Missing[0] != "no price of taking out and hauling off" {
		t.Errorf("without prices: %v", c.Missing)
	}
	some := none
	for _, p := range whole.Prices {
		if p.Of.Value == tearOut+"fill" {
			some.Prices = append(some.Prices, p)
		}
	}
	if c := all.Price(base, &some); c.Missing[0] != "no price of tear-out of cladding or roofing" {
		t.Errorf("with some prices: %v", c.Missing)
	}
}
