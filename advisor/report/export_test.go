package report

import (
	"strings"
	"testing"
)

// NoFaceDrops and CheckWorkbook are for the tests that make whole pages.
var (
	NoFaceDrops   = noFaceDrops
	CheckWorkbook = checkWorkbook
)

// PageText is what stands on a page of paper, the foot left out.
type PageText struct {
	Words int
	Last  string // the lowest text, where it is bold
}

// PagesOf reads the pages of a document on letter paper, and wants them tidy.
func PagesOf(t testing.TB, d *Document) []PageText {
	t.Helper()
	_, r, runs := pdfOf(t, d)
	tidyPages(t, runs)
	pages := make([]PageText, r.NumPage())
	lowest := make([]float64, r.NumPage())
	const foot = (marginBottom - 5) * 72 / 25.4 // points from the lower edge
	for _, x := range runs {
		p := &pages[x.page-1]
		if x.y < foot {
			continue
		}
		p.Words += len(strings.Fields(x.text))
		if lowest[x.page-1] == 0 || x.y < lowest[x.page-1] {
			p.Last, lowest[x.page-1] = "", x.y
			if x.font == "utf8goB" {
				p.Last = x.text
			}
		}
	}
	return pages
}
