package swap

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"relath/kb"
)

// advise proposes swaps for the first assembly of a house.
func advise(t *testing.T, base *kb.Base, text string, opts Options) *Advice {
	t.Helper()
	a, err := Propose(context.Background(), tester(base), resolve(t, base, text), opts)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func proposal(a *Advice, id string) *Proposal {
	for i := range a.Proposals {
		if a.Proposals[i].ID == id {
			return &a.Proposals[i]
		}
	}
	return nil
}

func rejection(a *Advice, id string) *Rejection {
	for i := range a.Rejections {
		if a.Rejections[i].ID == id {
			return &a.Rejections[i]
		}
	}
	return nil
}

// cold is a wall of today with a plastic film in a cooled house.
func cold(head, keys string) string {
	return house(head, keys, siding, gap, felt, strand, bay, poly, board)
}

func TestProposal(t *testing.T) {
	base := withRecipe(t, "film")
	p := proposal(advise(t, base, cold(cooled, wall), Options{}), "test-film@poly")
	if p == nil {
		t.Fatal("the film is not replaced")
	}
	if p.Recipe == nil || p.Material != nil || p.Layer != "poly" || p.Why != "a test" || p.House == nil || p.After == nil || len(p.Compare) == 0 {
		t.Errorf("%+v", p)
	}
	if !slices.ContainsFunc(p.Compare, func(c Compared) bool { return c.Fact.ID == "drying-capacity" && c.Change == better }) {
		t.Error("a membrane that opens does not dry better than polyethylene")
	}
	if findingOf(p.Resolved, "tight-inside-with-cooling") == nil {
		t.Errorf("resolved: %s", ids(p.Resolved))
	}
}

// TestSingleSaysWhy: a material matched by itself gives as its reason what it
// clears and betters.
func TestSingleSaysWhy(t *testing.T) {
	base := *loaded(t)
	base.Recipes = nil
	a := advise(t, &base, cold(cooled, wall), Options{Layer: "sheathing"})
	if len(a.Proposals) == 0 {
		t.Fatal("nothing stands in for strand board")
	}
	for _, p := range a.Proposals {
		if p.Why == "" || p.Material == nil {
			t.Errorf("%s: %q", p.ID, p.Why)
		}
		// Whoever braces instead needs the official, also under the old name.
		if !slices.ContainsFunc(p.Needs, func(n kb.Need) bool { return n.Who == "official" && strings.Contains(n.What, "brace") }) {
			t.Errorf("%s braces and nobody is asked: %+v", p.ID, p.Needs)
		}
	}
}

func TestNeeds(t *testing.T) {
	base := withRecipe(t, "needs")
	for _, test := range []struct {
		head, keys string
		want       string
	}{
		{cooled + "\nbuilt: 1990", stands, "engineer electrician"},
		{cooled, wall, "electrician"},
		{cooled, stands, "engineer electrician plumber"}, // the year is not given
		{cooled + "\nbuilt: 1940", stands, "engineer electrician plumber"},
	} {
		p := proposal(advise(t, base, cold(test.head, test.keys), Options{}), "test-needs@poly")
		if p == nil {
			t.Fatal("no proposal")
		}
		var who []string
		for _, n := range p.Needs {
			who = append(who, n.Who)
		}
		if got := strings.Join(who, " "); got != test.want {
			t.Errorf("%s: %s, want %s", test.head, got, test.want)
		}
	}
}

// TestRejections: each way to be turned down, with its reason.
func TestRejections(t *testing.T) {
	for _, test := range []struct{ recipe, text, reason string }{
		{"fits-wet-rooms", cold(cooled, wall), "it does not fit here: wet room: no"},
		{"fits-plaster", cold(cooled, wall), "it does not fit here: no layer with "},
		{"without-bracing", cold(cooled, wall), `no layer would take the duty "brace" that sheathing had`},
		// What can no longer be computed is not proposed.
		{"unmeasured", cold(cooled, wall), "not known with it: thermal conductivity of sheathing (Unmeasured board); so these cannot be computed: drying capacity"},
		{"two-sheets", house(cooled, wall, siding, felt, "{name: wrap, material: nonwoven-house-wrap}", strand, bay, poly, board), "it clears no finding"},
	} {
		base := withRecipe(t, test.recipe)
		r := rejection(advise(t, base, test.text, Options{}), "test-"+test.recipe)
		if r == nil || len(r.Because) == 0 || !strings.HasPrefix(r.Because[0], test.reason) {
			t.Errorf("%s: %+v, want %q", test.recipe, r, test.reason)
		}
	}
}

// TestNothingIsLostThatWasNotThere: a wall without a water-resistive barrier
// sheds rain no worse when something else is replaced.
func TestNothingIsLostThatWasNotThere(t *testing.T) {
	base := withRecipe(t, "film")
	a := advise(t, base, house(cooled, wall, siding, strand, bay, poly, board), Options{})
	p := proposal(a, "test-film@poly")
	if p == nil {
		t.Fatalf("the film is not replaced: %+v", rejection(a, "test-film"))
	}
	for _, d := range p.Duties {
		if d.Duty == "shed-rain" && (d.Was != kb.No || d.Verdict != kb.No) {
			t.Errorf("%+v", d)
		}
	}
}

// TestStandingWallIsHeldAgainstItself: what code would say of the old layers
// if they were new is not brought by a swap, and does not block it.
func TestStandingWallIsHeldAgainstItself(t *testing.T) {
	base := withRecipe(t, "film")
	a := advise(t, base, cold(cooled+"\nbuilt: 1990", stands+"\n    needs: [block-fire]"), Options{})
	if findingOf(a.Findings, "test-code") != nil {
		t.Error("an untouched wall is judged as work")
	}
	p := proposal(a, "test-film@poly")
	if p == nil {
		t.Fatalf("the film is not replaced: %+v", rejection(a, "test-film"))
	}
	if findingOf(p.Introduced, "test-code") != nil || findingOf(p.Remaining, "test-code") == nil {
		t.Errorf("introduced %s, remaining %s", ids(p.Introduced), ids(p.Remaining))
	}
	if p.Standing != Warned {
		t.Errorf("standing %s", p.Standing)
	}
}

// TestNewCondensateIsRejected: foil behind the sheathing of a wall in Fairbanks
// with open plaster inside collects water from year to year.
func TestNewCondensateIsRejected(t *testing.T) {
	base := withRecipe(t, "foil")
	text := strings.Replace(house(cooled, wall, siding, gap, felt, strand, bay, limeFaced), "des-moines-ia", "fairbanks-ak", 1)
	r := rejection(advise(t, base, text, Options{Layer: "sheathing"}), "test-foil")
	if r == nil || !strings.HasPrefix(r.Because[0], "it brings a new problem: ") {
		t.Errorf("%+v", r)
	}
}

// TestCodeBlock: taking the film out of a wall in zone 5 leaves the paint of the
// board, Class III, which the code takes only behind vented cladding; this siding
// lies flat. It is shown, and blocked.
func TestCodeBlock(t *testing.T) {
	base := withRecipe(t, "left-out")
	a := advise(t, base, house(cooled, wall, siding, felt, strand, bay, poly, board), Options{})
	p := proposal(a, "test-left-out@poly")
	if p == nil {
		t.Fatalf("no proposal: %+v", rejection(a, "test-left-out"))
	}
	if p.Standing != Blocked || findingOf(p.Introduced, "retarder-irc-2018") == nil {
		t.Errorf("standing %s, introduced %s", p.Standing, ids(p.Introduced))
	}
}

// TestCautionsOfDoubts: a caution that only one of the choices calls for is
// printed, and said to be possible.
func TestCautionsOfDoubts(t *testing.T) {
	base := withRecipe(t, "fill-and-film")
	bay := "{name: bay, framing: {material: spf-lumber, size: 2x6, spacing: 16 in}, fill: [{material: {one-of: [fiberglass-batt, vermiculite-fill]}, thickness: 4 in}]}"
	a := advise(t, base, house(old, stands, siding, gap, felt, strand, bay, poly, board), Options{})
	p := proposal(a, "test-fill-and-film@bay")
	if p == nil {
		t.Fatalf("the fill is not replaced: %+v", rejection(a, "test-fill-and-film"))
	}
	found := false
	for _, c := range p.Cautions {
		if c.Caution.ID == "vermiculite" {
			found = true
			if c.Certain {
				t.Error("vermiculite is not sure to be there")
			}
		}
	}
	if !found {
		t.Error("no word of the vermiculite that may be in the bay")
	}
}

func TestLeaveItAlone(t *testing.T) {
	base := loaded(t)
	sound := house(cooled, wall, "{name: siding, material: bevel-wood-siding}", gap, felt,
		"{name: boards, material: diagonal-board-sheathing, thickness: 3/4 in, performs: [brace]}",
		"{name: bay, framing: {material: spf-lumber, size: 2x6, spacing: 16 in}, fill: [{material: mineral-wool-batt, thickness: 5-1/2 in}]}",
		"{name: membrane, material: variable-retarder-polyamide, sealed: yes}", "{name: board, material: gypsum-board, thickness: 1/2 in}")
	a := advise(t, base, sound, Options{})
	if a.Leave == "" || len(a.Proposals)+len(a.Rejections) > 0 {
		t.Errorf("%q with %d proposals: %s", a.Leave, len(a.Proposals), ids(a.Findings))
	}
	if a := advise(t, base, sound, Options{Layer: "siding"}); len(a.Proposals)+len(a.Rejections) == 0 {
		t.Error("asked about one layer there is no answer")
	}
	if a := advise(t, base, cold(cooled, wall), Options{}); a.Leave != "" {
		t.Errorf("a tight wall in a cooled house: %q", a.Leave)
	}
}

// TestNoRestWithoutJudgment: an assembly that cannot be computed is not called
// sound.
func TestNoRestWithoutJudgment(t *testing.T) {
	base := loaded(t)
	a := advise(t, base, house(cooled, wall, siding, gap, felt, "{name: sheathing, material: unmeasured-board, performs: [brace]}", bay,
		"{name: membrane, material: variable-retarder-polyamide, sealed: yes}", "{name: board, material: gypsum-board, thickness: 1/2 in}"), Options{})
	if !strings.HasPrefix(a.Leave, "Nothing that could be judged asks for a change. Not judged: ") {
		t.Errorf("%q with %s", a.Leave, ids(a.Findings))
	}
}

func TestProposeStopsWithItsContext(t *testing.T) {
	base := loaded(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Propose(ctx, tester(base), resolve(t, base, cold(cooled, wall)), Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}
