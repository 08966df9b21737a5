package advisor_test

import (
	"context"
	"strings"
	"testing"

	"relath/advisor"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb/quantity"
)

// isLabel says whether a line names with each swap and each finding what it does,
// clears or turns on; that is data, not prose.
func isLabel(s string) bool {
	for _, head := range []string{"Clears:", "It clears:", "It leaves:", "What gets worse:", "What decides:"} {
		if strings.HasPrefix(s, head) {
			return true
		}
	}
	return strings.Contains(s, " instead of ") || strings.HasSuffix(s, ", added.")
}

// Sentences of fewer words are too short to be a nuisance; one that points back
// says so.
const shortSentence = 6

// TestNothingIsSaidThreeTimes: no sentence of the running text of a page of a
// shipped house stands there three times. Tables, footnotes and what points back
// are left out.
func TestNothingIsSaidThreeTimes(t *testing.T) {
	b := base(t)
	tester := rule.Tester{Base: b, System: quantity.InchPound}
	m := report.Maker{Base: b, Units: quantity.InchPound}
	for name, h := range houses(t, b) {
		found, err := advisor.Analyze(context.Background(), tester, h.Assemblies)
		if err != nil {
			t.Fatal(err)
		}
		said(t, name+" analyze", m.Analysis(found))
		list, err := advisor.Advise(context.Background(), tester, h.Assemblies, swap.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if err := advisor.PlanAll(context.Background(), tester, list, swap.PlanOptions{}); err != nil {
			t.Fatal(err)
		}
		said(t, name+" advise", m.Advice(list, nil, inFull))
	}
}

// said counts the sentences of a page.
func said(t *testing.T, page string, d *report.Document) {
	t.Helper()
	times := make(map[string]int)
	for _, block := range d.Blocks {
		var texts []report.Text
		if block.Paragraph != nil {
			texts = append(texts, block.Paragraph.Text)
		}
		if block.List != nil {
			texts = append(texts, block.List.Items...)
		}
		for _, text := range texts {
			for _, s := range strings.SplitAfter(text.Words, ". ") {
				s = strings.TrimSpace(s)
				if len(strings.Fields(s)) >= shortSentence && !strings.Contains(s, " said ") && !isLabel(s) {
					times[s]++
				}
			}
		}
	}
	for s, n := range times {
		if n >= 3 {
			t.Errorf("%s of %s: %d times: %s", page, d.Title, n, s)
		}
	}
}
