package swap

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"relath/kb"
)

// at lists the places of a recipe: the layer and the length of the run.
func at(f *finder, r *kb.Recipe) []string {
	var list []string
	for _, c := range f.places(r) {
		list = append(list, fmt.Sprintf("%s %d", f.nameAt(c.at), c.length))
	}
	return list
}

func TestPlaces(t *testing.T) {
	text := house(cooled, wall, siding, felt, "{name: wrap, material: nonwoven-house-wrap}", strand, bay, poly, board)
	for _, test := range []struct {
		recipe string
		want   []string
	}{
		{"each-sheet", []string{"felt 1", "wrap 1", "poly 1"}},
		{"two-sheets", []string{"felt 2"}},
		{"added", []string{"bay 0"}},
		{"run", []string{"poly 2"}},
		{"repaint", nil},
	} {
		base := withRecipe(t, test.recipe)
		if got := at(find(t, base, text), base.Recipes[0]); !slices.Equal(got, test.want) {
			t.Errorf("%s: %q, want %q", test.recipe, got, test.want)
		}
	}
}

// TestPlacesInDoubt: a layer in doubt is matched by its first choice; one that
// may not be there at all is matched by what it is when it is.
func TestPlacesInDoubt(t *testing.T) {
	base := withRecipe(t, "film")
	for _, test := range []struct {
		choices string
		want    []string
	}{
		{"[polyethylene-6mil, kraft-facing]", []string{"sheet 1"}},
		{"[kraft-facing, polyethylene-6mil]", nil},
		{"[polyethylene-6mil, none]", []string{"sheet 1"}},
		{"[none, polyethylene-6mil]", nil},
	} {
		text := house(cooled, wall, siding, bay, "{name: sheet, material: {one-of: "+test.choices+"}}", board)
		if got := at(find(t, base, text), base.Recipes[0]); !slices.Equal(got, test.want) {
			t.Errorf("%s: %q, want %q", test.choices, got, test.want)
		}
	}
}

func TestFits(t *testing.T) {
	for _, test := range []struct {
		recipe, head    string
		reasons, asks   string // the beginning of the one there must be
		nothing, noAsks bool
	}{
		{recipe: "fits-wet-rooms", head: cooled, reasons: "it does not fit here: wet room: no", noAsks: true},
		// That no layer is of a kind is a reason too.
		{recipe: "fits-plaster", head: cooled, reasons: "it does not fit here: no layer with ", noAsks: true},
		{recipe: "fits-old-houses", head: cooled + "\nbuilt: 1940", nothing: true, noAsks: true},
		{recipe: "fits-old-houses", head: cooled + "\nbuilt: 1960", reasons: "it does not fit here: built before 1950: no", noAsks: true},
		{recipe: "fits-old-houses", head: cooled + "\nbuilt: 1900", reasons: "Not in a house in zone 5 before 1930.", noAsks: true},
	} {
		base := withRecipe(t, test.recipe)
		f := find(t, base, house(test.head, wall, siding, bay, poly, board))
		reasons, asks := f.unfit(f.places(base.Recipes[0])[0])
		if test.nothing != (len(reasons) == 0) || len(reasons) > 0 && !strings.HasPrefix(reasons[0], test.reasons) {
			t.Errorf("%s, %s: reasons %q", test.recipe, test.head, reasons)
		}
		if test.noAsks != (len(asks) == 0) {
			t.Errorf("%s, %s: asks %q", test.recipe, test.head, asks)
		}
	}
}

// TestOpenConditionsAreAsked: whether a recipe fits may turn on what the
// description does not say. Then it says so and does not fit for sure.
func TestOpenConditionsAreAsked(t *testing.T) {
	base := withRecipe(t, "fits-old-houses")
	f := find(t, base, house(cooled, stands, siding, bay, poly, board))
	reasons, asks := f.unfit(f.places(base.Recipes[0])[0])
	if len(reasons) > 0 || len(asks) != 2 {
		t.Fatalf("reasons %q, asks %q", reasons, asks)
	}
	if asks[0] != "whether it fits: built before 1950 is not known: the year the house was built is not given" ||
		asks[1] != "Not in a house in zone 5 before 1930. Whether this applies is open: built before 1930 is not known: the year the house was built is not given." {
		t.Errorf("asks %q", asks)
	}
}

func TestSingles(t *testing.T) {
	base := *loaded(t)
	base.Recipes = nil
	f := find(t, &base, house(cooled, wall, siding, gap, felt, strand, bay, poly, board))
	list, rejected := f.candidates(Options{})
	took := func(layer, id string) bool {
		return slices.ContainsFunc(list, func(c candidate) bool { return c.material.ID == id && f.nameAt(c.at) == layer })
	}
	refused := func(layer, id string) string {
		i := slices.IndexFunc(rejected, func(r Rejection) bool { return r.ID == id && r.Layer == layer })
		if i < 0 {
			return ""
		}
		return rejected[i].Because[0]
	}
	if !took("sheathing", "diagonal-board-sheathing") || !took("sheathing", "plywood-sheathing") {
		t.Error("boards and plywood brace like the strand board and are no candidates")
	}
	if got := refused("sheathing", "horizontal-board-sheathing"); got != "it does not take the duty of the layer: brace the frame" {
		t.Errorf("boards nailed square: %q", got)
	}
	if took("poly", "osb") || refused("poly", "osb") != "" {
		t.Error("a board is a candidate for a sheet")
	}
	if took("sheathing", "gypsum-board") || refused("sheathing", "gypsum-board") != "" {
		t.Error("a lining is a candidate for sheathing")
	}
	if took("sheathing", "osb") {
		t.Error("a material is a candidate for itself")
	}
	for _, c := range list {
		if c.material.Advise == "no" {
			t.Errorf("%s is not advised", c.material.ID)
		}
		if name := f.nameAt(c.at); name == "bay" || name == "gap" {
			t.Errorf("%s for the %s", c.material.ID, name)
		}
	}
}

// TestThicknessOfOffers: a duty that asks for a thickness is not offered below.
func TestThicknessOfOffers(t *testing.T) {
	m := &kb.Material{Duties: []kb.Offer{{Duty: "brace", FromSI: 0.0111}, {Duty: "finish"}}}
	for _, test := range []struct {
		duty  string
		depth float64
		want  bool
	}{{"brace", 0.0095, false}, {"brace", 0.0111, true}, {"brace", 0.02, true}, {"finish", 0, true}, {"insulate", 1, false}} {
		if got := offers(m, test.duty, test.depth); got != test.want {
			t.Errorf("%s at %g m: %v", test.duty, test.depth, got)
		}
	}
}

// TestOneLayer: asked about one layer, only what touches it is tried, and it is
// tried even where nothing troubles it.
func TestOneLayer(t *testing.T) {
	base := loaded(t)
	f := find(t, base, house(cooled, wall, siding, gap, felt, strand, bay, poly, board))
	for _, layer := range []string{"poly", "board", "felt", "bay", "gap"} {
		list, rejected := f.candidates(Options{Layer: layer})
		if len(list) == 0 {
			t.Errorf("nothing is tried for %s", layer)
		}
		for _, c := range list {
			if !f.touches(c, layer) {
				t.Errorf("%s at %s is tried for %s", c.id(), f.nameAt(c.at), layer)
			}
		}
		for _, r := range rejected {
			if r.Layer != layer {
				t.Errorf("%s of %s is turned down for %s", r.ID, r.Layer, layer)
			}
		}
	}
	if list, rejected := f.candidates(Options{Layer: "nowhere"}); len(list)+len(rejected) > 0 {
		t.Errorf("a layer that is not there has %d candidates and %d rejections", len(list), len(rejected))
	}
}

// What stands in for the deck of a roof spans the rafters and holds the nails of
// the roofing; insulation boards, which may sheathe a wall, do not (common
// practice, no source).
func TestRoofDecksHoldNails(t *testing.T) {
	base := *loaded(t)
	base.Recipes = nil
	f := find(t, &base, house(cooled, "kind: roof\n    between: [outdoors, room]\n    slope: 6/12", "{name: shingles, material: asphalt-shingles}",
		felt, "{name: deck, material: osb, thickness: 7/16 in}", bay, poly, board))
	list, _ := f.singles(Options{Layer: "deck"})
	if len(list) < 3 {
		t.Fatalf("%d materials stand in for the deck", len(list))
	}
	for _, c := range list {
		if !offers(c.material, "hold-fasteners", c.material.Thickness.UsualSI) || slices.Contains(c.material.Terms, "insulation") {
			t.Errorf("%s is proposed as the deck of a roof", c.material.Name)
		}
	}
}
