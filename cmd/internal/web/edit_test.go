package web

import (
	"html"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// The house and the addresses of most tests.
const (
	court     = "alder-court.yaml"
	courtPage = "/house/" + court
	northWall = courtPage + "/north%20wall/"
)

// TestEditLayer changes a layer, takes it back and does it again: the file holds
// what was typed with the names turned into ids, and undo gives the very bytes
// back.
func TestEditLayer(t *testing.T) {
	s := newSite(t)
	before := s.file(court)
	page := s.edit(court, 200, "do", "layer", "assembly", "north wall", "layer", "sheathing",
		"material", "Asphalted fiberboard sheathing; osb", "thickness", "1/2", "back", northWall)
	s.wants(page, "North wall, Alder Court", "Asphalted fiberboard sheathing or Oriented strand board", "Take back: change of the sheathing")
	changed := s.file(court)
	for _, want := range []string{"one-of:", "thickness: 1/2 in"} {
		if !strings.Contains(changed, want) {
			t.Errorf("the file lacks %q:\n%s", want, changed)
		}
	}
	page = s.post(courtPage+"/undo", 200, "based", s.hash(court), "back", northWall)
	s.wants(page, "Do again: change of the sheathing")
	if s.file(court) != before {
		t.Error("undo does not give the text back")
	}
	s.post(courtPage+"/redo", 200, "based", s.hash(court))
	if s.file(court) != changed {
		t.Error("redo does not give the change back")
	}
}

// TestEditKeepsTheOriginal wants a copy of a text whose comments an edit loses.
func TestEditKeepsTheOriginal(t *testing.T) {
	s := newSite(t)
	before := s.file(court)
	s.edit(court, 200, "do", "layer", "assembly", "north wall", "layer", "sheathing", "thickness", "1/2 in")
	s.edit(court, 200, "do", "layer", "assembly", "north wall", "layer", "sheathing", "thickness", "5/8 in")
	kept, err := filepath.Glob(filepath.Join(s.folder, ".relath", "*.yaml"))
	if err != nil || len(kept) != 1 {
		t.Fatal("kept", kept, err)
	}
	data, err := os.ReadFile(kept[0])
	if err != nil || string(data) != before {
		t.Error("the copy is not what the file was", err)
	}
}

// TestEditsOfEveryKind makes each edit and looks for it in the file.
func TestEditsOfEveryKind(t *testing.T) {
	s := newSite(t)
	layer := []string{"assembly", "north wall", "layer"}
	for _, c := range []struct {
		form []string
		has  string
		not  string
	}{
		{append([]string{"do", "add-layer", "side", "after", "cavity", "3/4", "air", "vented"}, append(layer, "wrap")...), "cavity: 3/4 in", ""},
		{append([]string{"do", "add-layer", "side", "before", "cavity", "", "framing", "spf-lumber", "size", "2x4", "spacing", "24 in", "fill", "Mineral wool batt", "fill-thickness", ""}, append(layer, "board")...), "thickness: 3-1/2 in", ""},
		{append([]string{"do", "move-layer", "side", "before"}, append(layer, "sheathing")...), "", ""},
		{append([]string{"do", "remove-layer"}, append(layer, "poly")...), "", "polyethylene"},
		{append([]string{"do", "layer", "coat-in", "Latex primer", "coat-in-count", "1", "coat-in", "Latex wall paint", "coat-in-count", "3-5"}, append(layer, "board")...), "count: 3-5", ""},
		{append([]string{"do", "layer", "size", "2x4", "fill", "Cellulose, dense-packed", "fill-thickness", "3-1/2"}, append(layer, "bay")...), "size: 2x4", "fiberglass"},
		{[]string{"do", "about", "place", "Duluth, MN", "heating", "ordinary winter air", "cooling", "no air conditioning", "built", "1999"}, "place: duluth-mn", "cooling:"},
		{[]string{"do", "assembly", "assembly", "north wall", "name", "front wall", "faces", "south", "rain", "severe", "first-side", "outdoors", "second-side", "wet-room"}, "wet-room", "north wall"},
		{[]string{"do", "add-assembly", "starter", "wall-pre1930-frame", "name", "old wall"}, "name: old wall", ""},
		{[]string{"do", "add-assembly", "starter", "slab", "name", "porch slab"}, "name: porch slab", ""},
		{[]string{"do", "assembly", "assembly", "porch slab", "edge-insulation", "R-10", "edge-depth", "2 ft"}, "insulation: R-10", ""},
		{[]string{"do", "add-assembly", "starter", "floor-1946-80", "name", "old floor"}, "name: old floor", ""},
		{[]string{"do", "assembly", "assembly", "old floor", "area", "900 ft2", "vents", "6 ft2", "crawl-ground", "sealed"}, "ground: sealed", ""},
		{[]string{"do", "assembly", "assembly", "old floor", "vents", "", "crawl-ground", ""}, "", "space:"},
		{[]string{"do", "remove-assembly", "assembly", "porch slab"}, "", "porch slab"},
		{[]string{"do", "remove-assembly", "assembly", "old floor"}, "", "old floor"},
		{[]string{"do", "add-finish", "room", "hall", "part", "floor", "finish", "Laminate floor", "finish-area", "90 ft2"}, "room: hall", ""},
		{[]string{"do", "add-room", "name", "front bedroom", "use", "bedroom", "area", "140 ft2"}, "name: front bedroom", ""},
		{[]string{"do", "add-cold", "name", "attic duct", "cold", "duct", "inside", "55 F", "around", "attic", "insulation", "R-6"}, "name: attic duct", ""},
		{[]string{"do", "remove", "list", "cold", "number", "0"}, "", "attic duct"},
		{[]string{"do", "remove", "list", "rooms", "number", "0"}, "", "front bedroom"},
		{[]string{"do", "remove", "list", "finishes", "number", "3"}, "", "room: hall"},
		{[]string{"do", "remove-assembly", "assembly", "old wall"}, "", "old wall"},
	} {
		s.edit(court, 200, c.form...)
		text := s.file(court)
		if !strings.Contains(text, c.has) || c.not != "" && strings.Contains(text, c.not) {
			t.Errorf("%v: wanted %q and not %q in\n%s", c.form, c.has, c.not, text)
		}
	}
}

// TestEditConflict sends an edit that was made for a text that is no longer
// there: nothing is written, what was typed is shown, and it can be sent again.
func TestEditConflict(t *testing.T) {
	s := newSite(t)
	old := s.hash(court)
	s.edit(court, 200, "do", "layer", "assembly", "north wall", "layer", "sheathing", "thickness", "5/8 in")
	other := s.file(court)
	page := s.post(courtPage+"/edit", 409, "based", old, "do", "layer", "assembly", "north wall", "layer", "board", "thickness", "5/8 in")
	s.wants(page, "changed meanwhile", "Do it to the house as it is now")
	if !strings.Contains(page, `value="5/8 in"`) || !strings.Contains(page, `value="`+s.hash(court)+`"`) {
		t.Error("the page does not carry on what was typed")
	}
	if s.file(court) != other {
		t.Error("a conflict has written")
	}
	page = s.post(courtPage+"/edit", 409, "based", old, "do", "text", "text", "house: mine\n")
	s.wants(page, "The description as it is now", "house: mine", "house: Alder Court")
	s.post(courtPage+"/undo", 409, "based", old)
}

// TestEditOutside changes the file by another program between two edits: undo
// loses nothing of it.
func TestEditOutside(t *testing.T) {
	s := newSite(t)
	s.edit(court, 200, "do", "layer", "assembly", "north wall", "layer", "sheathing", "thickness", "5/8 in")
	outside := "# by hand\n" + s.file(court)
	if err := os.WriteFile(filepath.Join(s.folder, court), []byte(outside), 0o644); err != nil {
		t.Fatal(err)
	}
	s.post(courtPage+"/undo", 200, "based", s.hash(court))
	s.post(courtPage+"/redo", 200, "based", s.hash(court))
	if s.file(court) != outside {
		t.Error("what was changed outside is lost")
	}
}

// TestEditMistakes sends what cannot be: nothing is written, and the answer says
// what is wrong and holds what was typed.
func TestEditMistakes(t *testing.T) {
	s := newSite(t)
	before := s.file(court)
	for _, c := range []struct {
		form []string
		says string
	}{
		{[]string{"layer", "sheathing", "thickness", "-3 in"}, "-3 in"},
		{[]string{"layer", "sheathing", "thickness", "purple"}, "purple"},
		{[]string{"layer", "sheathing", "material", "xyzzy"}, "xyzzy"},
		{[]string{"layer", "sheathing", "material", "plywood"}, "which one do you mean"},
		{[]string{"layer", "no such", "thickness", "1 in"}, "no such"},
		{[]string{"layer", "board", "coat-in", "Latex primer", "coat-in-count", "many"}, "many"},
	} {
		page := s.edit(court, 422, append([]string{"do", "layer", "assembly", "north wall"}, c.form...)...)
		s.wants(page, c.says)
	}
	s.edit(court, 400, "do", "nothing known")
	s.edit(court, 422, "do", "text", "text", "house: [")
	if s.file(court) != before {
		t.Error("a mistake has written")
	}
}

// TestBegin makes a house of every starter and of nothing.
func TestBegin(t *testing.T) {
	s := newSite(t)
	list := blanks()
	for _, x := range s.server.Base.Starters {
		list = append(list, option{Value: x.ID})
	}
	for _, x := range list {
		name := "House " + x.Value
		page := s.post("/new", 200, "house", name, "place", "Des Moines, IA", "starter", x.Value, "heating", "ordinary winter air", "cooling", "no air conditioning")
		s.wants(page, name, "Des Moines, IA")
		for _, a := range append([]string{""}, assembliesOn(page)...) {
			if a != "" {
				s.get(a, 200)
			}
		}
	}
	s.wants(s.post("/new", 422, "house", "House slab", "place", "Des Moines, IA", "starter", "slab"), "another name")
	s.wants(s.post("/new", 422, "house", "Fresh", "place", "IA", "starter", "slab"), "which one do you mean")
	s.post("/new", 422, "house", "///", "place", "Des Moines, IA", "starter", "slab")
}

// TestBrokenHouse shows a file that cannot be read, and mends it.
func TestBrokenHouse(t *testing.T) {
	s := newSite(t)
	good := s.file(court)
	if err := os.WriteFile(filepath.Join(s.folder, court), []byte(strings.Replace(good, "osb", "obs", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	s.wants(s.get("/", 200), "cannot be read")
	s.wants(s.get(courtPage, 422), "obs", "did you mean")
	s.get(northWall, 422)
	s.edit(court, 200, "do", "text", "text", strings.ReplaceAll(good, "\n", "\r\n"))
	if s.file(court) != good {
		t.Error("the mended text is not what was sent")
	}
}

// TestSwapTakenAndDropped takes a swap, sees the house with it, takes it back
// with a reason, and finds both in the record, by a server that begins anew too.
func TestSwapTakenAndDropped(t *testing.T) {
	s := newSite(t)
	before := s.file(court)
	page := s.get(northWall+"swap?layer=poly", 200)
	_, id, _ := strings.Cut(page, `name="id" value="`)
	id, _, _ = strings.Cut(id, `"`)
	s.wants(s.post(northWall+"swap", 200, "based", s.hash(court), "id", id), "North wall, Alder Court", "Take back:", "Why it is dropped")
	if s.file(court) == before {
		t.Error("the swap is not in the file")
	}
	s.post(courtPage+"/undo", 200, "based", s.hash(court), "why", "the painter is away")
	if s.file(court) != before {
		t.Error("undo does not give the text back")
	}
	s.wants(s.get(courtPage+"/tried", 200), "Taken:", "Dropped:", "the painter is away")
	s.wants(s.get(northWall+"swap?layer=poly", 200), "tried here before and dropped: the painter is away")
	o := s.server.Options
	again, err := New(o)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if got := again.shelf.state(court).Tried; len(got) != 2 || got[1].Why != "the painter is away" {
		t.Errorf("the record of a new server is %v", got)
	}
	s.post(northWall+"swap", 409, "based", hashOf([]byte("x")), "id", id)
	s.post(northWall+"swap", 422, "based", s.hash(court), "id", "no-such-swap@poly")
}

// formOn reads the form of an edit as a page holds it: names and values.
func formOn(t *testing.T, page, after string) []string {
	t.Helper()
	_, rest, ok := strings.Cut(page, after)
	if !ok {
		t.Fatalf("the page lacks %q", after)
	}
	form, _, _ := strings.Cut(rest, "</form>")
	var pairs []string
	for _, m := range regexp.MustCompile(`<input[^>]* name="([^"]*)"[^>]*`).FindAllStringSubmatch(form, -1) {
		value := regexp.MustCompile(` value="([^"]*)"`).FindStringSubmatch(m[0])
		if value == nil {
			value = []string{"", ""}
		}
		if m[1] != "token" && !(strings.Contains(m[0], `type="radio"`) && !strings.Contains(m[0], "checked")) {
			pairs = append(pairs, m[1], html.UnescapeString(value[1]))
		}
	}
	for _, m := range regexp.MustCompile(`(?s)<select name="([^"]*)">(.*?)</select>`).FindAllStringSubmatch(form, -1) {
		chosen := regexp.MustCompile(`<option value="([^"]*)" selected>`).FindStringSubmatch(m[2])
		if chosen == nil {
			chosen = regexp.MustCompile(`<option value="([^"]*)">`).FindStringSubmatch(m[2])
		}
		pairs = append(pairs, m[1], html.UnescapeString(chosen[1]))
	}
	return pairs
}

// with gives a form with another value in a field.
func with(pairs []string, name, value string) []string {
	out := append([]string(nil), pairs...)
	for i := 0; i < len(out); i += 2 {
		if out[i] == name {
			out[i+1] = value
		}
	}
	return out
}

// TestFormsChangeNothing sends every form of the pages as it stands: nothing is
// written.
func TestFormsChangeNothing(t *testing.T) {
	s := newSite(t)
	for _, name := range shipped(t) {
		before := s.file(name)
		at := "/house/" + name
		s.edit(name, 200, append(formOn(t, s.get(at, 200), `value="about">`), "do", "about")...)
		for _, a := range assembliesOn(s.get(at, 200)) {
			page := s.get(a, 200)
			s.edit(name, 200, append(formOn(t, page, `name="do" value="assembly">`), "do", "assembly")...)
			for _, card := range strings.Split(page, `<li id="layer-`)[1:] {
				i := strings.Index(card, `<details class="change">`)
				s.edit(name, 200, formOn(t, card[i:], `<form`)...)
			}
		}
		if s.file(name) != before {
			t.Errorf("%s: a form that was sent as it stands changed the house:\n%s", name, s.file(name))
		}
	}
}

// TestTwoTabs edits one layer in two tabs: the second is told, sends its edit
// again, and both edits are in the house.
func TestTwoTabs(t *testing.T) {
	s := newSite(t)
	_, card, _ := strings.Cut(s.get(northWall, 200), `<li id="layer-4">`)
	i := strings.Index(card, `<details class="change">`)
	form := formOn(t, card[i:], `<form`)
	old := s.hash(court)
	s.edit(court, 200, with(form, "thickness", "5/8")...)
	page := s.post(courtPage+"/edit", 409, append([]string{"based", old}, with(form, "sealed", "yes")...)...)
	if strings.Contains(visible(page), "Thickness") {
		t.Error("the conflict shows a field that was not changed")
	}
	s.post(courtPage+"/edit", 200, formOn(t, page, `class="tall">`)...)
	for _, want := range []string{"thickness: 5/8 in", "sealed: yes"} {
		if !strings.Contains(s.file(court), want) {
			t.Errorf("%q is lost:\n%s", want, s.file(court))
		}
	}
}
