package honesty_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"relath/advisor/rule"
	"relath/kb"
)

// climate is a place with its zone and what the house does in summer.
type climate struct {
	place, zone string
	cooled      bool
}

var (
	minneapolis = climate{"minneapolis-st-paul-mn", "6A", false}
	miami       = climate{"miami-fl", "1A", true}
	desMoines   = climate{"des-moines-ia", "5A", true}
)

// wallIn is a house of one proposed wall.
func wallIn(c climate, layers ...string) source {
	indoor := "heating: {temperature: 68 F, humidity: 35 %}"
	if c.cooled {
		indoor += ", cooling: {temperature: 75 F, humidity: 50 %}"
	}
	return source{"flip.yaml", fmt.Sprintf(
		"format: 1\nhouse: Flip\nplace: %s\ncode: {edition: IRC-2021, zone: %s, confirmed: yes}\nindoor: {%s}\n"+
			"assemblies:\n  - name: wall\n    kind: wall\n    between: [outdoors, room]\n    state: proposed\n    layers:\n      - %s\n",
		c.place, c.zone, indoor, strings.Join(layers, "\n      - "))}
}

// says gives the verdict of a rule or table on a house, empty when silent.
func says(t *testing.T, s source, id string) kb.Verdict {
	t.Helper()
	base := embedded(t)
	if base.Rule(id) == nil && base.Table(id) == nil {
		t.Fatalf("no rule or table %q", id)
	}
	r := analyze(t, base, resolve(t, base, s).Assemblies[0])
	if f := finding(rule.Evaluate(tester(base), r), id); f != nil {
		return f.Verdict
	}
	return ""
}

const (
	siding    = "{name: siding, material: bevel-wood-siding}"
	vented    = "{name: gap, cavity: 3/4 in, air: vented}"
	felt      = "{name: felt, material: asphalt-felt-15}"
	boards    = "{name: boards, material: diagonal-board-sheathing, thickness: 3/4 in, performs: [brace]}"
	bay       = "{name: bay, framing: {material: spf-lumber, size: 2x6, spacing: 16 in}, fill: [{material: fiberglass-batt, thickness: 5-1/2 in}]}"
	film      = "{name: film, material: polyethylene-6mil, sealed: yes}"
	bareBoard = "{name: board, material: gypsum-board, thickness: 1/2 in}"
	painted   = "{name: board, material: gypsum-board, thickness: 1/2 in, coats: {in: [{coating: latex-primer}, {coating: latex-paint, count: 2}]}}"
)

// TestFlipClimate: the plastic film that a cold house without cooling may have
// is wrong in a cooled house of zone 1 (IRC
// R702.7, Class I inside is not permitted or warned of in warm zones).
func TestFlipClimate(t *testing.T) {
	layers := []string{siding, vented, felt, boards, bay, film, painted}
	for id, want := range map[string][2]kb.Verdict{
		"tight-inside-with-cooling": {"", kb.No},
		"retarder-class-i-warm":     {"", kb.No},
		"heavy-condensate":          {"", ""},
	} {
		for i, c := range []climate{minneapolis, miami} {
			if got := says(t, wallIn(c, layers...), id); got != want[i] {
				t.Errorf("%s in %s: %q, want %q", id, c.place, got, want[i])
			}
		}
	}
	// Cooling alone turns it, too.
	warm := miami
	warm.cooled = false
	if got := says(t, wallIn(warm, layers...), "tight-inside-with-cooling"); got != "" {
		t.Errorf("without cooling: %q", got)
	}
	// And so does the film.
	if got := says(t, wallIn(miami, slices.Delete(slices.Clone(layers), 5, 6)...), "tight-inside-with-cooling"); got == kb.No {
		t.Error("without the film the inside is still tight")
	}
}

// TestFlipCoat: a coat brings its finding and takes it away again.
func TestFlipCoat(t *testing.T) {
	plaster := func(coats string) source {
		return wallIn(desMoines, siding, vented, felt, boards, bay, "{name: plaster, material: lime-plaster, thickness: 3/4 in"+coats+"}")
	}
	const id = "tight-coat-on-open-plaster"
	bare, oiled, washed := plaster(""), plaster(", coats: {in: [{coating: oil-paint, count: 2}]}"), plaster(", coats: {in: [{coating: limewash, count: 2}]}")
	if got := says(t, bare, id); got != "" {
		t.Errorf("bare: %q", got)
	}
	if got := says(t, oiled, id); got != kb.No {
		t.Errorf("with oil paint: %q", got)
	}
	if got := says(t, washed, id); got != "" {
		t.Errorf("with limewash: %q", got)
	}
	// Paint makes the retarder that the table of zone 5 asks for; without it the
	// table speaks (IRC Table R702.7.1, Class III by coat with its condition).
	board := func(b string) source {
		return wallIn(desMoines, "{name: siding, material: vinyl-siding}", "{name: gap, cavity: 3/8 in, air: drained}", felt,
			"{name: sheathing, material: osb, thickness: 7/16 in, performs: [brace]}", bay, b)
	}
	if got := says(t, board(painted), "retarder-irc-2021"); got == kb.No {
		t.Errorf("painted board: %q", got)
	}
	if got := says(t, board(bareBoard), "retarder-irc-2021"); got != kb.No {
		t.Errorf("bare board: %q", got)
	}
}

// TestFlipOrder: the same layers the other way round.
func TestFlipOrder(t *testing.T) {
	// The film on the cold side of the bay collects the vapor of the rooms.
	gypsum := "{name: gypsum, material: glass-mat-gypsum-sheathing, thickness: 1/2 in}"
	inside, outside := []string{siding, vented, gypsum, bay, film}, []string{siding, vented, film, bay, gypsum}
	if got := says(t, wallIn(minneapolis, inside...), "heavy-condensate"); got != "" {
		t.Errorf("film inside: %q", got)
	}
	if got := says(t, wallIn(minneapolis, outside...), "heavy-condensate"); got != kb.No {
		t.Errorf("film outside: %q", got)
	}
	// Clay belongs inside.
	straw := []string{"{name: lime, material: lime-plaster, thickness: 1 in}", "{name: bales, material: straw-bale, thickness: 18 in}", "{name: clay, material: clay-plaster, thickness: 1 in}"}
	if got := says(t, wallIn(desMoines, straw...), "clay-in-the-rain"); got != "" {
		t.Errorf("clay inside: %q", got)
	}
	slices.Reverse(straw)
	if got := says(t, wallIn(desMoines, straw...), "clay-in-the-rain"); got != kb.No {
		t.Errorf("clay outside: %q", got)
	}
}
