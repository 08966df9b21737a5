package rule_test

import (
	"testing"

	"relath/advisor/rule"
	"relath/kb"
)

// TestVerdictIsThatOfReasons: the verdict alone is the one that comes with
// reasons, for every condition of the base on every way to build a starter.
func TestVerdictIsThatOfReasons(t *testing.T) {
	base := loadBase(t)
	tester := rule.Tester{Base: base, Mute: true}
	var lists [][]kb.Condition
	for _, r := range base.Rules {
		lists = append(lists, r.When)
	}
	for _, table := range base.Tables {
		lists = append(lists, table.Applies)
		for _, row := range table.Accept {
			lists = append(lists, row.When)
		}
	}
	seen := make(map[kb.Verdict]bool)
	for _, s := range base.Starters {
		for _, r := range analyzed(t, base, s.ID, s.House) {
			for _, subject := range rule.SubjectsOf(r) {
				for _, when := range lists {
					want := tester.All(when, subject).Verdict
					seen[want] = true
					if got := tester.Verdict(when, subject); got != want {
						t.Fatalf("%s: %s, with reasons %s: %v", s.ID, got, want, when)
					}
				}
			}
		}
	}
	if len(seen) < len(verdicts()) {
		t.Errorf("only the verdicts %v come up", seen)
	}
}
