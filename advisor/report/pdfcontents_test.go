package report

import (
	"fmt"
	"slices"
	"testing"
)

// A document of many sections begins with their list, with the page on which
// each stands and a link to it; one of few has none.
func TestPDFContents(t *testing.T) {
	make := func(sections int) *Document {
		d := &Document{Title: "T", Blocks: []Block{{Paragraph: &Paragraph{Text: say("Answer"), Mood: lead}}}}
		for i := range sections {
			d.Blocks = append(d.Blocks, Block{Heading: &Heading{Level: 1, Text: say(fmt.Sprintf("Section%d", i))}})
			for range 20 {
				d.Blocks = append(d.Blocks, Block{Paragraph: &Paragraph{Text: say("words")}})
			}
		}
		return d
	}
	_, r, runs := pdfOf(t, make(30))
	tidyPages(t, runs)
	for i := range 30 {
		var found []run
		for _, x := range runs {
			if x.text == fmt.Sprintf("Section%d", i) {
				found = append(found, x)
			}
		}
		if len(found) != 2 {
			t.Fatalf("section %d stands %d times", i, len(found))
		}
		line, section := found[0], found[1]
		if !slices.ContainsFunc(runs, func(x run) bool {
			return x.page == line.page && x.y == line.y && x.x > line.x && x.text == fmt.Sprint(section.page)
		}) {
			t.Errorf("section %d is on page %d, and the list does not say so", i, section.page)
		}
	}
	links := 0
	for n := 1; n <= r.NumPage(); n++ {
		links += r.Page(n).V.Key("Annots").Len()
	}
	if links != 30 {
		t.Errorf("%d links for 30 sections", links)
	}
	_, _, runs = pdfOf(t, make(manySections-1))
	if slices.ContainsFunc(runs, func(x run) bool { return x.text == "Contents" }) {
		t.Error("few sections have a list")
	}
}
