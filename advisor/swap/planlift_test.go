package swap

import (
	"context"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"relath/advisor/rule"
	"relath/kb"
)

// advised gives the advice on a house text.
func advised(t *testing.T, text string) *Advice {
	t.Helper()
	a, err := Propose(context.Background(), tester(embedded(t)), resolve(t, embedded(t), text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// vinylWall is a planned wall of zone 5 whose paint is Class III by vinyl siding on
// its gap.
func vinylWall() string {
	return house(cooled, wall+"\n    state: proposed\n    needs: [brace]", "{name: siding, material: vinyl-siding}", "{name: gap, cavity: 3/8 in, air: drained}",
		"{name: wrap, material: nonwoven-house-wrap}", strand, bay, board)
}

// bareWall is one without a water-resistive barrier, in which no new sheathing or
// siding holds up by itself.
func bareWall() string {
	return house(old, stands, "{name: siding, material: bevel-wood-siding, coats: {out: [{coating: oil-paint, count: 3}]}}",
		"{name: boards, material: horizontal-board-sheathing, thickness: 3/4 in}", bay, board)
}

// foamCeiling is one of which the foam alone stops the air.
func foamCeiling() string {
	return house(cooled, "kind: ceiling\n    between: [attic, room]\n    state: existing",
		"{name: joists, framing: {material: spf-lumber, size: 2x4, spacing: 16 in}, fill: [{material: spray-foam-open-cell, thickness: 3-1/2 in}]}",
		"{name: plaster, material: lightweight-clay-plaster, thickness: 1 in}")
}

// A swap that fails a code table or leaves a duty to nobody by itself is combined
// with those that lift it: wood-fiber boards with the vapor retarder of a new
// inside, a sheathing with a barrier, fibers for foam with a plaster that stops air.
func TestWhatAnotherSwapLifts(t *testing.T) {
	for name, x := range map[string]struct{ text, blocked, because, by string }{
		"code table of a recipe": {vinylWall(), "wood-fiber-board-over-let-in-bracing@sheathing", "the code does not allow it: Vapor retarder", "clay-on-board@board"},
		"code table of a single": {bareWall(), "mineral-wool-board@boards", "No water-resistive barrier", "barrier-behind-cladding@siding"},
		"duty that nobody takes": {foamCeiling(), "spray-foam-for-mineral-wool@joists", `the duty "stop-air"`, "hemp-lime-plaster@plaster"},
		"two that lift together": {vinylWall(), "wood-fiber-board-over-let-in-bracing@sheathing", "Vapor retarder", "wood-shingles-on-vented-gap@siding+clay-on-board@board"},
	} {
		a := advised(t, x.text)
		pieces, _ := a.pieces()
		i := slices.IndexFunc(pieces, func(p Proposal) bool { return p.ID == x.blocked })
		if i < 0 {
			t.Errorf("%s: %s is no piece of %s", name, x.blocked, idsOf(pieces))
			continue
		}
		if alone := strings.Join(pieces[i].Alone, "; "); !strings.Contains(alone, x.because) {
			t.Errorf("%s: alone it is turned down for %q", name, alone)
		}
		if _, why, err := BuildPlan(context.Background(), tester(embedded(t)), a, []string{x.blocked}); err != nil || len(why) == 0 {
			t.Errorf("%s: by itself it holds up, %v", name, err)
		}
		plan, why, err := BuildPlan(context.Background(), tester(embedded(t)), a, []string{x.blocked, x.by})
		if err != nil || len(why) > 0 {
			t.Errorf("%s: with %s %v, %v", name, x.by, why, err)
			continue
		}
		if plan.Standing == Blocked {
			t.Errorf("%s: %s is blocked", name, plan.ID)
		}
	}
}

func idsOf(list []Proposal) string {
	var ids []string
	for _, p := range list {
		ids = append(ids, p.ID)
	}
	return strings.Join(ids, " ")
}

// What no other swap lifts stays out of every plan and is named: insulation in an
// old wall before its wiring is looked at.
func TestWhatNoSwapLifts(t *testing.T) {
	a := advised(t, house(old, stands, "{name: siding, material: vinyl-siding}", "{name: gap, cavity: 3/8 in, air: drained}", felt,
		"{name: sheathing, material: osb, thickness: 7/16 in}", "{name: bay, framing: {material: spf-lumber, size: 2x4, spacing: 16 in}}",
		"{name: board, material: gypsum-board, thickness: 1/2 in, coats: {in: [{coating: vinyl-wallcovering}]}}"))
	out, err := Plans(context.Background(), tester(embedded(t)), a, PlanOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if len(out.Barred) == 0 {
		t.Fatalf("nothing waits of %s", idsOf(a.Proposals))
	}
	for _, r := range out.Barred {
		if len(r.Because) == 0 || !strings.Contains(r.Because[0], "Wiring") {
			t.Errorf("%s waits for %q", r.ID, r.Because)
		}
		for _, p := range out.Plans {
			if slices.ContainsFunc(p.Steps, func(s *Proposal) bool { return s.ID == r.ID+"@"+r.Layer }) {
				t.Errorf("%s is in %s", r.ID, p.ID)
			}
		}
	}
	for _, r := range a.Rejections { // conditions of a recipe and its place are no matter of others
		if slices.ContainsFunc(a.Joint, func(p Proposal) bool { return p.ID == r.ID+"@"+r.Layer && len(p.Alone) == 0 }) {
			t.Errorf("%s is combined and nothing is said of it: %q", r.ID, r.Because)
		}
	}
}

// Of the combinations with such swaps the screening lets pass those that hold up
// in full as to duties, codes and hazards, and no others; and the search finds what
// brute force finds.
func TestScreeningOfLiftedSwaps(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 3))
	pass, fail := 0, 0
	for name, text := range map[string]string{"vinyl": vinylWall(), "bare": bareWall(), "ceiling": foamCeiling()} {
		s := searchOf(t, advised(t, text), PlanOptions{Most: 800})
		x := s.screener()
		s.each(func(_ int, chosen []int) bool {
			lifted := slices.ContainsFunc(chosen, func(c int) bool { return len(s.options[c].proposal.Alone) > 0 })
			if !lifted || len(chosen) > 2 && random.IntN(s.count) > 20 {
				return true
			}
			if _, _, err := x.light(chosen); err != nil {
				t.Fatal(err)
			}
			allowed, err := x.allowed(chosen)
			if err != nil {
				t.Fatal(err)
			}
			after, _, cannot, err := s.computed(context.Background(), chosen)
			if err != nil || cannot != "" {
				t.Fatal(err, cannot)
			}
			p := &Plan{}
			p.After = after
			against := slices.DeleteFunc(s.judgeWhole(p, chosen), func(why string) bool { return strings.HasPrefix(why, "it brings a new problem") })
			if allowed != (len(against) == 0) {
				t.Errorf("%s, %v: allowed is %v, and in full %q", name, chosen, allowed, against)
			}
			if allowed {
				pass++
			} else {
				fail++
			}
			return true
		})
		agrees(t, name, s, random)
	}
	if pass < 10 || fail < 10 {
		t.Errorf("%d combinations pass, %d fail", pass, fail)
	}
}

// What holds a swap up is told from what another may lift.
func TestLiftable(t *testing.T) {
	table := finding("table", "block", kb.No)
	table.Kind = "code"
	open := table
	open.Verdict = kb.Depends
	fire := finding("fire", "block", kb.No)
	fire.Kind = "hazard"
	lead := finding("lead", "block", kb.Depends)
	lead.Kind = "hazard"
	water := finding("water", "block", kb.No)
	water.Kind = "moisture"
	for _, x := range []struct {
		name string
		is   func() bool
		want bool
	}{
		{"a code table that fails", func() bool { return blocks(&table) }, true},
		{"a code table that may fail", func() bool { return blocks(&open) }, false},
		{"a hazard that surely holds", func() bool { return blocks(&fire) }, true},
		{"a hazard that may be there", func() bool { return blocks(&lead) }, false},
		{"water", func() bool { return blocks(&water) }, false},
		{"a hazard that may be there bars", func() bool { return len(waits(&Proposal{Introduced: []rule.Finding{lead}})) > 0 }, true},
	} {
		if x.is() != x.want {
			t.Errorf("%s: %v", x.name, !x.want)
		}
	}
}
