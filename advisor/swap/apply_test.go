package swap

import (
	"slices"
	"strings"
	"testing"

	"relath/advisor/assembly"
)

// same compares lines and shows both.
func sameLines(t *testing.T, got []string, want ...string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("got\n\t%s\nwant\n\t%s", strings.Join(got, "\n\t"), strings.Join(want, "\n\t"))
	}
}

func TestRunIsReplaced(t *testing.T) {
	base := withRecipe(t, "run")
	layers, change := put(t, base, house(cooled, wall, siding, gap, felt, strand, bay, poly, board), 0)
	sameLines(t, layers,
		"siding: bevel-wood-siding", "gap: 3/4 in vented", "felt: asphalt-felt-15", "sheathing: 7/16 in osb performs brace",
		"bay: 2x6 spf-lumber fill 5-1/2 in fiberglass-batt",
		"membrane: variable-retarder-polyamide", "clay: clay-board", "finish: 1/4 in clay-plaster in 2 casein-paint",
	)
	sameLines(t, changeLines(change.changes),
		"poly: Polyethylene sheet, 6 mil -> Variable retarder, polyamide film",
		"board: Gypsum board with 3 coats on it -> Clay board",
		"finish:  -> 1/4 in Clay plaster",
	)
}

func changeLines(changes []Change) []string {
	var list []string
	for _, c := range changes {
		list = append(list, c.Layer+": "+c.From+" -> "+c.To)
	}
	return list
}

// TestChangesPairLikeWithLike: what keeps its material stands beside what it
// was, and takes the thickness of that layer.
func TestChangesPairLikeWithLike(t *testing.T) {
	base := withRecipe(t, "board-and-plaster")
	layers, change := put(t, base, house(cooled, wall, siding, bay, poly, board), 0)
	sameLines(t, layers[2:], "panel: 1/2 in gypsum-board", "plaster: 1/8 in clay-finish-plaster")
	sameLines(t, changeLines(change.changes), "poly: Polyethylene sheet, 6 mil -> 1/8 in Clay finish plaster", "board: Gypsum board with 3 coats on it -> 1/2 in Gypsum board")
}

func TestRunIsLeftOut(t *testing.T) {
	base := withRecipe(t, "left-out")
	layers, change := put(t, base, house(cooled, wall, siding, bay, poly, board), 0)
	sameLines(t, layers, "siding: bevel-wood-siding", "bay: 2x6 spf-lumber fill 5-1/2 in fiberglass-batt", "board: 1/2 in gypsum-board in latex-primer in 2 latex-paint")
	sameLines(t, changeLines(change.changes), "poly: Polyethylene sheet, 6 mil -> ")
}

func TestLayerIsAdded(t *testing.T) {
	base := withRecipe(t, "added")
	layers, change := put(t, base, house(cooled, wall, siding, bay, board), 0)
	sameLines(t, layers, "siding: bevel-wood-siding", "bay: 2x6 spf-lumber fill 5-1/2 in fiberglass-batt",
		"membrane: variable-retarder-polyamide", "board: 1/2 in gypsum-board in latex-primer in 2 latex-paint")
	sameLines(t, changeLines(change.changes), "membrane:  -> Variable retarder, polyamide film")
}

func TestNamesAreUnique(t *testing.T) {
	base := withRecipe(t, "unique")
	layers, _ := put(t, base, house(cooled, wall, siding, gap, bay, board), 0)
	sameLines(t, layers, "board 2: bevel-wood-siding", "gap 2: 3/4 in vented", "gap 2 2: asphalt-felt-15",
		"gap: 3/4 in vented", "bay: 2x6 spf-lumber fill 5-1/2 in fiberglass-batt", "board: 1/2 in gypsum-board in latex-primer in 2 latex-paint")
}

func TestNameOfTheReplacedLayerIsFree(t *testing.T) {
	base := withRecipe(t, "same-thickness")
	layers, change := put(t, base, house(cooled, wall, siding, strand, bay, board), 0)
	if layers[1] != "sheathing: 7/16 in diagonal-board-sheathing performs brace" {
		t.Errorf("%s: the name or the thickness is not that of the old layer", layers[1])
	}
	sameLines(t, changeLines(change.changes), "sheathing: Oriented strand board -> 7/16 in Diagonal board sheathing")
}

func TestFramingIsKept(t *testing.T) {
	deep := "{name: bay, framing: {material: spf-lumber, size: 2x6, spacing: 16 in}, fill: [{material: fiberglass-batt, thickness: 3-1/2 in}], performs: [carry-load]}"
	for _, test := range []struct{ name, recipe, want string }{
		{"new fill over the whole depth", "fill", "bay: 2x6 spf-lumber fill wood-fiber-batt performs carry-load"},
		{"new fill of its own thickness", "fill-of-4-in", "bay: 2x6 spf-lumber fill 4 in wood-fiber-batt performs carry-load"},
		{"new fill as thick as the old", "fill-of-the-same", "bay: 2x6 spf-lumber fill 3-1/2 in wood-fiber-batt performs carry-load"},
		{"the old fill", "fill-kept", "bay: 2x6 spf-lumber fill 3-1/2 in fiberglass-batt performs brace performs carry-load"},
	} {
		base := withRecipe(t, test.recipe)
		layers, _ := put(t, base, house(cooled, wall, siding, deep, board), 0)
		if layers[1] != test.want {
			t.Errorf("%s: %s, want %s", test.name, layers[1], test.want)
		}
	}
}

// TestBeside: what goes with a swap comes when its condition holds, at its
// place; when the condition is open it is asked for.
func TestBeside(t *testing.T) {
	base := withRecipe(t, "beside")
	layers, change := put(t, base, house(cooled, stands, siding, bay, board), 0)
	sameLines(t, layers[2:], "membrane: variable-retarder-polyamide proposed", "plaster: 3/4 in clay-plaster proposed", "finish: 1/8 in clay-finish-plaster proposed")
	sameLines(t, changeLines(change.changes), "board: Gypsum board with 3 coats on it -> 3/4 in Clay plaster", "membrane:  -> A membrane goes behind it.",
		"finish:  -> A finish goes over it.", "beside:  -> Mask the floor.")
	if len(change.asks) != 1 || !strings.HasPrefix(change.asks[0], "Look at the old wiring. Whether this is due is open: ") {
		t.Errorf("what is open: %q", change.asks)
	}
}

func TestCoatsOnly(t *testing.T) {
	plaster := "{name: plaster, material: lime-plaster, thickness: 3/4 in, coats: {in: [{coating: oil-paint, count: 2-4}], out: [{coating: limewash}]}}"
	for _, test := range []struct{ name, recipe, want, change string }{
		{
			"another coat instead", "repaint", "plaster: 3/4 in lime-plaster in 4 limewash out limewash proposed",
			"plaster, inner face: 2-4 x Oil paint -> 4 x Limewash",
		},
		{
			"a coat over what is there", "coat-over", "plaster: 3/4 in lime-plaster in 2-4 oil-paint in 1 latex-paint out limewash proposed",
			"plaster, inner face: 2-4 x Oil paint -> 2-4 x Oil paint, Latex wall paint",
		},
		{
			"the outer face", "coat-outside", "plaster: 3/4 in lime-plaster in 2-4 oil-paint out 2 silicate-paint proposed",
			"plaster, outer face: Limewash -> 2 x Silicate paint",
		},
	} {
		base := withRecipe(t, test.recipe)
		layers, change := put(t, base, house(cooled, stands, siding, bay, plaster), 0)
		if layers[2] != test.want || len(change.changes) != 1 || changeLines(change.changes)[0] != test.change {
			t.Errorf("%s: %s, %q", test.name, layers[2], changeLines(change.changes))
		}
	}
}

// TestNewCoatsOverKeptOnes: coats are listed from the layer outward.
func TestNewCoatsOverKeptOnes(t *testing.T) {
	base := withRecipe(t, "kept-coats")
	layers, _ := put(t, base, house(cooled, wall, siding, bay, board), 0)
	if want := "board: 1/2 in gypsum-board in latex-primer in 2 latex-paint in 1 vapor-retarder-primer"; layers[2] != want {
		t.Errorf("%s, want %s", layers[2], want)
	}
}

func TestSingle(t *testing.T) {
	base := loaded(t)
	plaster := "{name: plaster, material: gypsum-plaster, thickness: 1 in, coats: {in: [{coating: latex-primer}, {coating: oil-paint, count: 2}], out: [{coating: limewash}]}}"
	f := find(t, base, house(cooled, stands, siding, bay, plaster))
	change, err := f.apply(candidate{material: base.Material("lime-plaster"), at: 2, length: 1})
	if err != nil {
		t.Fatal(err)
	}
	// At its usual thickness; film-forming coats must not go on lime.
	got := line(&change.house.Assemblies[0].Layers[2])
	if want := "plaster: " + base.Material("lime-plaster").Thickness.Usual.Value + " lime-plaster out limewash proposed"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	lines := changeLines(change.changes)
	if len(lines) != 3 || !strings.HasSuffix(lines[0], " Lime plaster") || lines[1] != "plaster: Latex primer -> " || lines[2] != "plaster: Oil paint -> " {
		t.Errorf("changes %q", lines)
	}
	// A sheet has no thickness.
	f = find(t, base, house(cooled, wall, siding, bay, poly, board))
	change, err = f.apply(candidate{material: base.Material("variable-retarder-polyamide"), at: 2, length: 1})
	if err != nil {
		t.Fatal(err)
	}
	if got := line(&change.house.Assemblies[0].Layers[2]); got != "poly: variable-retarder-polyamide" {
		t.Error(got)
	}
}

// TestOnlyNewLayersAreProposed: in a house that stands a swap marks what it
// touches as proposed, and nothing else; where all is proposed it marks nothing.
func TestOnlyNewLayersAreProposed(t *testing.T) {
	base := withRecipe(t, "film")
	for _, test := range []struct {
		keys string
		want assembly.State
	}{{stands, "proposed"}, {wall + "\n    state: proposed", ""}} {
		_, change := put(t, base, house(cooled, test.keys, siding, bay, poly, board), 0)
		for i, l := range change.house.Assemblies[0].Layers {
			if i == 2 && l.State != test.want || i != 2 && l.State != "" {
				t.Errorf("%s is %q", l.Name.Value, l.State)
			}
		}
	}
}

// TestTheHouseIsNotTouched: a swap is applied to a copy.
func TestTheHouseIsNotTouched(t *testing.T) {
	base := loaded(t)
	f := find(t, base, house(cooled, stands, siding, gap, felt, strand, bay, poly, board))
	before, err := assembly.Write(f.house)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range base.Recipes {
		for _, c := range f.places(r) {
			if _, err := f.apply(c); err != nil {
				t.Errorf("%s: %v", r.ID, err)
			}
		}
	}
	after, err := assembly.Write(f.house)
	if err != nil {
		t.Fatal(err)
	}
	if string(before) != string(after) {
		t.Errorf("the described house has changed:\n%s", after)
	}
}
