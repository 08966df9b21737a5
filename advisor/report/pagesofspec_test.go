package report_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"relath/advisor"
	"relath/advisor/report"
	"relath/advisor/rule"
)

// On paper no specification of a shipped house has a page that is nearly empty, a
// heading at the foot of a page, words outside the margins or over others, or a
// table without rows; and none is longer than it was when it was last read.
func TestPagesOfSpecifications(t *testing.T) {
	const least = 40 // words on a page; the last may have fewer
	most := map[string]int{"birch-corner": 26, "cedar-row": 21}
	m := report.Maker{Base: loaded(t)}
	files, err := filepath.Glob("../../testdata/houses/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no houses: %v", err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		if strings.HasSuffix(name, ".expect") {
			continue
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		house, err := advisor.Load(m.Base, file, data)
		if err != nil {
			t.Fatal(err)
		}
		papers, err := advisor.Spec(context.Background(), rule.Tester{Base: m.Base}, house, advisor.Choice{Best: true}, advisor.Wishes{})
		if err != nil {
			t.Fatal(err)
		}
		d := m.Spec(papers)
		pages := report.PagesOf(t, d)
		if limit, ok := most[name]; ok && len(pages) > limit {
			t.Errorf("%s: %d pages, at most %d are wanted", name, len(pages), limit)
		}
		headings := headingsOf(d)
		for i, p := range pages {
			if p.Words < least && i+1 < len(pages) {
				t.Errorf("%s: page %d has %d words", name, i+1, p.Words)
			}
			if headings[p.Last] {
				t.Errorf("%s: page %d ends with the heading %q", name, i+1, p.Last)
			}
		}
		for _, b := range d.Blocks {
			if b.Table != nil && len(b.Table.Rows) == 0 {
				t.Errorf("%s: the table %q is empty", name, b.Table.Caption)
			}
		}
	}
}

// headingsOf lists the headings of a document and those that paper adds.
func headingsOf(d *report.Document) map[string]bool {
	list := map[string]bool{"Contents": true, "Marks": true, "Notes": true, "What the pictures say in numbers": true}
	for _, b := range d.Blocks {
		if b.Heading != nil {
			list[b.Heading.Text.Words] = true
		}
		if b.Table != nil && b.Table.Caption != "" {
			list[b.Table.Caption] = true
		}
	}
	return list
}
