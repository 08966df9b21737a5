package rule_test

import (
	"slices"
	"testing"

	"relath/kb"
)

// TestRulesSayWhatNothingCosts: a rule about what stands says what it costs to do
// nothing, unless it only confirms; rules of code and of data gaps speak of work.
func TestRulesSayWhatNothingCosts(t *testing.T) {
	base, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range base.Rules {
		if slices.Contains([]kb.FindingKind{"moisture", "mold", "food", "hazard"}, r.Kind) && r.Verdict != kb.Yes && r.Left == "" {
			t.Errorf("rule %s does not say what it costs to do nothing", r.ID)
		}
	}
}
