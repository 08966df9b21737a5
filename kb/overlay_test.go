package kb

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"relath/kb/quantity"
	"relath/kb/strict"
)

// overlayFiles replaces the plank, adds a source and a board that uses it.
func overlayFiles() map[string]string {
	return map[string]string{
		"materials/mine/plank.yaml":     "id: plank\nname: My plank\nfamily: mine\nsummary: Mine.\nform: board\n",
		"materials/board/my-board.yaml": "id: my-board\nname: My board\nfamily: board\nsummary: Mine.\nform: board\nvalues:\n  - {property: density, value: 500 kg/m3, source: my-notes, evidence: reported}\n",
		"sources/mine.yaml":             "- {source: my-notes, title: My notes, kind: practice}\n- {source: practice, title: What we do here, kind: practice}\n",
		".git/config":                   "not read",
	}
}

func mapFS(files map[string]string) fstest.MapFS {
	tree := fstest.MapFS{}
	for name, text := range files {
		tree[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return tree
}

func TestOverlay(t *testing.T) {
	base := mustLoad(t, small(t))
	b := mustLoad(t, small(t), mapFS(overlayFiles()))
	want := []Overlaid{
		{Sort: "material", ID: "my-board", File: "overlay-1/materials/board/my-board.yaml"},
		{Sort: "material", ID: "plank", File: "overlay-1/materials/mine/plank.yaml", Replaced: true},
		{Sort: "source", ID: "my-notes", File: "overlay-1/sources/mine.yaml"},
		{Sort: "source", ID: "practice", File: "overlay-1/sources/mine.yaml", Replaced: true},
	}
	if diff := cmp.Diff(want, b.Overlaid); diff != "" {
		t.Errorf("overlaid (-want +got):\n%s", diff)
	}
	if got := b.Material("plank"); got == nil || got.Name != "My plank" || len(got.Values) != 0 {
		t.Errorf("plank is %+v; want the overlay's, nothing of the base's", got)
	}
	if len(b.Materials) != len(base.Materials)+1 || b.Version == base.Version {
		t.Errorf("%d materials, version %s; want one more than %d and another version", len(b.Materials), b.Version, len(base.Materials))
	}
}

// A folder can lay every sort of entry over the base: what it brings is found,
// checked and listed.
func TestOverlayOfEverySort(t *testing.T) {
	rule, err := os.ReadFile("testdata/small/rules/wet-plane.yaml")
	if err != nil {
		t.Fatal(err)
	}
	place, err := os.ReadFile("testdata/small/places/somewhere.yaml")
	if err != nil {
		t.Fatal(err)
	}
	files := overlayFiles()
	files["prices.yaml"] = "- {price: my-board, costs: 0.62, currency: USD, per: 100 ft2, from: quote}\n- {price: plank, costs: 4, currency: USD, per: piece}\n"
	files["rules/my-rule.yaml"] = strings.Replace(string(rule), "wet-plane", "my-rule", 1)
	files["places/my-town.yaml"] = strings.Replace(string(place), "somewhere", "my-town", 1)
	b := mustLoad(t, small(t), mapFS(files))
	var got []string
	for _, o := range b.Overlaid {
		got = append(got, o.Sort+" "+o.ID)
	}
	want := []string{"material my-board", "material plank", "rule my-rule", "place my-town", "source my-notes", "source practice", "price my-board", "price plank"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("overlaid (-want +got):\n%s", diff)
	}
	if b.Rule("my-rule") == nil || b.Place("my-town") == nil {
		t.Error("the rule or the place of the folder is not found")
	}
	// 100 ft2 is 9.290304 m2, by the definition of the foot.
	if p := b.Price("my-board"); p == nil || p.Costs != 0.62 || p.Dimension != quantity.Area || !near(p.PerSI, 9.290304) {
		t.Errorf("price %+v; want 0.62 for 9.29 m2", p)
	}
	if p := b.Price("plank"); p == nil || p.Dimension != quantity.Count || p.PerSI != 1 {
		t.Errorf("price %+v; want one for a piece", p)
	}
}

// Of two overlays the later wins.
func TestSecondOverlayWins(t *testing.T) {
	second := mapFS(map[string]string{"materials/wood/plank.yaml": "id: plank\nname: Second\nfamily: wood\nsummary: S.\nform: board\n"})
	if got := mustLoad(t, small(t), mapFS(overlayFiles()), second).Material("plank").Name; got != "Second" {
		t.Errorf("plank is %q; want the second overlay's", got)
	}
}

// Problems of an overlay name the file in the user's folder.
func TestOpenOverlayFolder(t *testing.T) {
	folder := t.TempDir()
	name := filepath.Join(folder, "materials", "board", "x.yaml")
	if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte("id: x\nname: X\nfamily: board\nform: board\nsummary: X.\nterms: [nonsense]\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := Open(Options{CacheDir: t.TempDir(), Overlay: folder})
	var problems strict.Problems
	if !errors.As(err, &problems) || !containsFile(problems, filepath.ToSlash(name)) {
		t.Errorf("got %v; want a problem of %s", err, name)
	}
	if _, err := Decode(Options{Overlay: folder}); !errors.As(err, &problems) || !containsFile(problems, filepath.ToSlash(name)) {
		t.Errorf("decoded anew: got %v; want a problem of %s", err, name)
	}
	if _, err := Open(Options{CacheDir: t.TempDir(), Overlay: filepath.Join(folder, "missing")}); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("missing overlay: got %v; want that it does not exist", err)
	}
}

func containsFile(problems strict.Problems, name string) bool {
	for _, p := range problems {
		if p.File == name {
			return true
		}
	}
	return false
}

// A file that is no file, or far too large, is a problem, not a hang.
func TestOddFiles(t *testing.T) {
	odd := fstest.MapFS{
		"materials/board/pipe.yaml": {Mode: os.ModeNamedPipe},
		"materials/board/huge.yaml": {Data: make([]byte, maxBytes+1)},
	}
	_, err := Load(small(t), odd)
	var problems strict.Problems
	if !errors.As(err, &problems) || len(problems) != 2 {
		t.Errorf("got %v; want two problems", err)
	}
}
