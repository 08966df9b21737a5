package report

import (
	"strings"
	"testing"

	"relath/advisor/swap"
	"relath/kb"
	"relath/kb/quantity"
)

// A rise of the mold index by more than 0.1, at the best value or at the high end,
// is the first that a plan says of what gets worse; a smaller one is not.
func TestRiseOfTheMoldIndexComesFirst(t *testing.T) {
	base, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	index, weight := base.Fact("mold-index-cavity"), base.Fact("weight")
	for name, x := range map[string]struct {
		before, after quantity.Range
		first         bool
	}{
		"at best":         {quantity.Exact(0.1), quantity.Exact(0.3), true},
		"at the high end": {quantity.Range{Low: 0, Best: 0, High: 0.2}, quantity.Range{Low: 0, Best: 0, High: 0.9}, true},
		"hardly":          {quantity.Exact(0.1), quantity.Exact(0.15), false},
	} {
		p := Maker{Base: base}.page("plan", "")
		p.planLosses(&swap.Plan{Proposal: swap.Proposal{Compare: []swap.Compared{
			{Fact: weight, Before: quantity.Exact(20), After: quantity.Exact(30), Change: "worse"},
			{Fact: index, Before: x.before, After: x.after, Change: "worse"},
		}}})
		first := p.finish().Blocks[0].Paragraph
		if got := first != nil && first.Mood == warning && strings.Contains(first.Text.Words, index.Title+" rises"); got != x.first {
			t.Errorf("%s: first comes %+v", name, first)
		}
	}
}
