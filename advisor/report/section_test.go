package report_test

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"relath/advisor"
	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/drawing"
	"relath/advisor/report"
	"relath/kb"
	"relath/kb/quantity"
)

// bare makes a result of an assembly that nothing was computed of.
func bare(a *assembly.Assembly) *analysis.Result {
	r := &analysis.Result{Assembly: a}
	for _, v := range a.Variants {
		out := &analysis.Variant{Of: v}
		for _, part := range v.Layers {
			out.Layers = append(out.Layers, analysis.LayerFacts{Part: part})
		}
		r.Variants = append(r.Variants, out)
	}
	return r
}

// generated draws a house of one assembly with up to 60 layers.
func generated(t *rapid.T, b *kb.Base) string {
	sides := map[string]string{
		"wall": "outdoors, room", "roof": "outdoors, room", "attic-floor": "attic, room", "ceiling": "attic, room",
		"floor": "crawl, room", "slab": "ground, room", "basement-wall": "ground, room", "partition": "room, room",
	}
	kind := rapid.SampledFrom([]string{"wall", "roof", "attic-floor", "ceiling", "floor", "slab", "basement-wall", "partition"}).Draw(t, "kind")
	var out strings.Builder
	fmt.Fprintf(&out, "format: 1\nhouse: Generated\nplace: des-moines-ia\nassemblies:\n  - name: a %s\n    kind: %s\n    between: [%s]\n", kind, kind, sides[kind])
	if kind == "basement-wall" {
		out.WriteString("    below-grade: 5 ft\n")
	}
	out.WriteString("    layers:\n      - {name: first, material: gypsum-board, thickness: 1/2 in}\n")
	n := rapid.IntRange(0, 59).Draw(t, "layers")
	for i := range n {
		name := fmt.Sprintf("l%d %s", i, rapid.StringMatching(`([a-z]{1,12} ?){0,4}`).Draw(t, "name"))
		fmt.Fprintf(&out, "      - name: %q\n", strings.TrimSpace(name))
		out.WriteString(generatedLayer(t, b))
	}
	return out.String()
}

func generatedLayer(t *rapid.T, b *kb.Base) string {
	var sheets []string
	var boards []*kb.Material
	for _, m := range b.Materials {
		switch {
		case slices.Contains(m.Terms, "cladding") || slices.Contains(m.Terms, "roofing"):
			// Elsewhere than outside they are refused.
		case m.Form == kb.Sheet:
			sheets = append(sheets, m.ID)
		case slices.Contains([]kb.Form{"board", "plaster", "masonry"}, m.Form) && m.Thickness.Usual.Value != "":
			boards = append(boards, m)
		}
	}
	switch rapid.IntRange(0, 5).Draw(t, "what") {
	case 0:
		return fmt.Sprintf("        cavity: %d mm\n        air: vented\n", rapid.IntRange(1, 300).Draw(t, "gap"))
	case 1:
		return fmt.Sprintf("        framing: {material: spf-lumber, size: %s, spacing: %d in}\n        fill: [{material: {one-of: [fiberglass-batt, none]}, thickness: 1 in}]\n",
			rapid.SampledFrom([]string{"2x4", "2x12"}).Draw(t, "size"), rapid.IntRange(12, 24).Draw(t, "spacing"))
	case 2:
		return fmt.Sprintf("        material: {one-of: [%s, none]}\n", rapid.SampledFrom(sheets).Draw(t, "sheet"))
	case 3:
		return fmt.Sprintf("        material: %s\n", rapid.SampledFrom(sheets).Draw(t, "sheet"))
	}
	coats := ""
	if rapid.Bool().Draw(t, "painted") {
		coats = "        coats: {in: [{coating: latex-paint, count: 1-3}], out: [{coating: oil-paint}]}\n"
	}
	board := rapid.SampledFrom(boards).Draw(t, "board")
	return fmt.Sprintf("        material: %s\n        thickness: %s\n%s", board.ID, board.Thickness.Usual.Value, coats)
}

// boxOf bounds a line of text by the metrics of the Go fonts.
func boxOf(r *drawing.Ruler, w *drawing.Words) drawing.Box {
	width := r.Width(w.Text, w.Size, w.Bold)
	from := map[drawing.Align]float64{drawing.Middle: width / 2, drawing.End: width}[w.Align]
	if w.Turn == 90 { // upward
		return drawing.Box{X0: w.At.X - 0.8*w.Size, X1: w.At.X + 0.2*w.Size, Y0: w.At.Y - width + from, Y1: w.At.Y + from}
	}
	return drawing.Box{X0: w.At.X - from, X1: w.At.X - from + width, Y0: w.At.Y - 0.8*w.Size, Y1: w.At.Y + 0.2*w.Size}
}

// onSheet holds a picture to its sheet and its words apart from each other.
func onSheet(p *drawing.Picture) error {
	ruler := drawing.NewRuler()
	var boxes []drawing.Box
	var texts []string
	inside := func(x, y float64) bool { return x >= 0 && y >= 0 && x <= p.Width && y <= p.Height }
	for _, it := range p.Items {
		if it.Words == nil {
			for _, pt := range it.Path.Points {
				if !inside(pt.X, pt.Y) || math.IsNaN(pt.X+pt.Y) {
					return fmt.Errorf("a line leaves the sheet at %v", pt)
				}
			}
			continue
		}
		b := boxOf(ruler, it.Words)
		if !inside(b.X0, b.Y0) || !inside(b.X1, b.Y1) {
			return fmt.Errorf("%q leaves the sheet: %v of %g x %g", it.Words.Text, b, p.Width, p.Height)
		}
		for i, o := range boxes {
			if b.X0 < o.X1 && o.X0 < b.X1 && b.Y0 < o.Y1 && o.Y0 < b.Y1 {
				return fmt.Errorf("%q lies over %q", it.Words.Text, texts[i])
			}
		}
		boxes, texts = append(boxes, b), append(texts, it.Words.Text)
	}
	return nil
}

// Whatever is described, its section stays on the sheet and no words overlap.
func TestSectionsAreLegible(t *testing.T) {
	b := loaded(t)
	rapid.Check(t, func(t *rapid.T) {
		m := report.Maker{Base: b, Units: rapid.SampledFrom([]quantity.System{quantity.InchPound, quantity.SI}).Draw(t, "units")}
		house, err := advisor.Load(b, "generated", []byte(generated(t, b)))
		if err != nil {
			t.Fatal(err)
		}
		p := m.Section(bare(house.Assemblies[0]), report.Overlay{})
		if err := onSheet(p); err != nil {
			t.Fatal(err)
		}
	})
}

// The section of every starter is legible, names every layer, and is the same
// twice.
func TestSectionsOfStarters(t *testing.T) {
	b := loaded(t)
	m := report.Maker{Base: b}
	for _, s := range b.Starters {
		house, err := advisor.Load(b, s.ID, []byte(report.StarterFile(s)))
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range house.Assemblies {
			p := m.Section(bare(a), report.Overlay{})
			if err := onSheet(p); err != nil {
				t.Errorf("%s: %v", s.ID, err)
			}
			small := m.Section(bare(a), report.Overlay{Small: func(part *assembly.Part) (string, bool) { return part.Name, true }})
			if err := onSheet(small); err != nil || small.Height > 60 || small.Width > 90 {
				t.Errorf("%s, small, %g x %g: %v", s.ID, small.Width, small.Height, err)
			}
			if again := m.Section(bare(a), report.Overlay{}); again.SVGFile() != p.SVGFile() {
				t.Errorf("%s: two drawings differ", s.ID)
			}
			for _, part := range a.Variants[0].Layers {
				if !slices.ContainsFunc(p.Items, func(it drawing.Item) bool {
					return it.Words != nil && strings.HasPrefix(strings.ToLower(it.Words.Text), strings.ToLower(part.Name))
				}) {
					t.Errorf("%s: %q has no label", s.ID, part.Name)
				}
			}
		}
	}
}

// Layers are as thick on the drawing as the scale says: the faces of a wall of
// 8 in behind one of 4 in stand twice as far apart.
func TestSectionIsToScale(t *testing.T) {
	const file = `format: 1
house: Scale
place: des-moines-ia
assemblies:
  - name: wall
    kind: wall
    between: [outdoors, room]
    layers:
      - {name: four, material: solid-brick-wall, thickness: 4 in}
      - {name: eight, material: solid-brick-wall, thickness: 8 in}
`
	b := loaded(t)
	house, err := advisor.Load(b, "scale", []byte(file))
	if err != nil {
		t.Fatal(err)
	}
	p := report.Maker{Base: b}.Section(bare(house.Assemblies[0]), report.Overlay{})
	var faces []float64
	for _, it := range p.Items {
		if q := it.Path; q != nil && len(q.Points) == 2 && q.Line == drawing.Full && q.Points[0].X == q.Points[1].X {
			faces = append(faces, q.Points[0].X)
		}
	}
	slices.Sort(faces)
	faces = slices.Compact(faces)
	if len(faces) != 3 {
		t.Fatalf("faces at %v, want three", faces)
	}
	// 12 in at 2 in for a foot (1:6): 50.8 mm.
	if got := faces[2] - faces[0]; math.Abs(got-50.8) > 0.011 {
		t.Errorf("12 in are drawn %g mm, want 50.8", got)
	}
	if ratio := (faces[2] - faces[1]) / (faces[1] - faces[0]); math.Abs(ratio-2) > 0.001 {
		t.Errorf("8 in are %g times as thick as 4 in", ratio)
	}
}

var updateSections = flag.Bool("update-sections", false, "rewrite the drawn sections")

// Two sections stand as files, so that a change of the drawing shows:
// go test ./advisor/report -run SectionFiles -update-sections.
func TestSectionFiles(t *testing.T) {
	b := loaded(t)
	for _, c := range []struct {
		house string
		units quantity.System
	}{{"larch-lane", quantity.InchPound}, {"plum-grove", quantity.SI}} {
		data, err := os.ReadFile("../../testdata/houses/" + c.house + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		house, err := advisor.Load(b, c.house, data)
		if err != nil {
			t.Fatal(err)
		}
		got := report.Maker{Base: b, Units: c.units}.Section(bare(house.Assemblies[0]), report.Overlay{}).SVGFile()
		file := "../../testdata/golden/" + c.house + ".section.svg"
		if *updateSections {
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
			t.Errorf("%s differs (-update-sections writes it anew): %s", file, diff)
		}
	}
}

// What a section writes about layers stands on its page in words too, for forms
// without pictures and for those who cannot see them.
func TestSectionsSayNothingNew(t *testing.T) {
	b := loaded(t)
	m := report.Maker{Base: b}
	for _, name := range []string{"alder-court", "birch-corner", "mill-row"} {
		for page, d := range pagesOf(t, m, "../../testdata/houses/"+name+".yaml") {
			var text bytes.Buffer
			if err := d.Text(&text); err != nil {
				t.Fatal(err)
			}
			have := make(map[string]bool)
			for _, w := range words(text.String()) {
				have[w] = true
			}
			for i := range d.Blocks {
				f := d.Blocks[i].Figure
				if f == nil {
					continue
				}
				for _, it := range f.Picture.Items {
					if it.Words == nil || it.Words.Ink != drawing.Full {
						continue // soft letters explain the drawing itself
					}
					for _, w := range words(it.Words.Text) {
						if !have[w] {
							t.Errorf("%s, %s: %q of %q is only in the picture", name, page, w, it.Words.Text)
						}
					}
				}
			}
		}
	}
}

// words lists the words of letters of a text.
func words(s string) []string {
	return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) })
}
