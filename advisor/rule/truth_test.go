package rule_test

import (
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/rule"
	"relath/kb"
)

// facts of the four truths, by the verdict of asking for them.
func truths() map[kb.Verdict]string {
	return map[kb.Verdict]string{kb.Yes: "built", kb.No: "existing", kb.Depends: "open", kb.Unknown: "vague"}
}

func verdicts() []kb.Verdict { return []kb.Verdict{kb.Yes, kb.No, kb.Depends, kb.Unknown} }

func ask(c kb.Condition) kb.Verdict {
	return tester(registry()).All([]kb.Condition{c}, rule.Subject{Facts: fourFacts()}).Verdict
}

// TestTruthTables holds all and any to the tables of strong Kleene logic (S. C.
// Kleene, Introduction to Metamathematics, 1952, § 64), whose third value is
// split in two: depends, and unknown, which keeps an answer unknown.
func TestTruthTables(t *testing.T) {
	y, n, d, u := kb.Yes, kb.No, kb.Depends, kb.Unknown
	tables := map[string]map[kb.Verdict][4]kb.Verdict{
		//          with: yes no depends unknown
		"all": {y: {y, n, d, u}, n: {n, n, n, n}, d: {d, n, d, u}, u: {u, n, u, u}},
		"any": {y: {y, y, y, y}, n: {y, n, d, u}, d: {y, d, d, u}, u: {y, u, u, u}},
	}
	for how, table := range tables {
		for a, row := range table {
			for i, b := range verdicts() {
				if got := ask(join(how, is(truths()[a]), is(truths()[b]))); got != row[i] {
					t.Errorf("%s of %s and %s is %s, want %s", how, a, b, got, row[i])
				}
			}
		}
	}
	for a, want := range map[kb.Verdict]kb.Verdict{y: n, n: y, d: d, u: u} {
		if got := ask(join("not", is(truths()[a]))); got != want {
			t.Errorf("not %s is %s, want %s", a, got, want)
		}
	}
}

// TestLaws: De Morgan, both orders, double negation.
func TestLaws(t *testing.T) {
	for _, a := range verdicts() {
		for _, b := range verdicts() {
			x, y := is(truths()[a]), is(truths()[b])
			for _, pair := range [][2]kb.Condition{
				{join("not", join("any", x, y)), join("all", join("not", x), join("not", y))},
				{join("not", join("all", x, y)), join("any", join("not", x), join("not", y))},
				{join("any", x, y), join("any", y, x)},
				{join("all", x, y), join("all", y, x)},
				{join("not", join("not", x)), x},
			} {
				if ask(pair[0]) != ask(pair[1]) {
					t.Errorf("with %s and %s: %s differs from %s", a, b, ask(pair[0]), ask(pair[1]))
				}
			}
		}
	}
}

// TestSettledAnswersHold: an answer that is yes or no while some facts are open
// stays so however they turn out.
func TestSettledAnswersHold(t *testing.T) {
	shapes := []func(a, b, c kb.Condition) kb.Condition{
		func(a, b, c kb.Condition) kb.Condition { return join("any", join("all", a, b), c) },
		func(a, b, c kb.Condition) kb.Condition { return join("all", join("any", a, b), join("not", c)) },
		func(a, b, c kb.Condition) kb.Condition {
			return join("not", join("any", a, join("not", join("all", b, c))))
		},
	}
	facts := []string{"built", "existing", "open"}
	states := []analysis.Estimate{flag(true), flag(false), {Known: true, Mixed: true}, {Missing: "x"}}
	verdict := func(c kb.Condition, pick [3]int) kb.Verdict {
		s := rule.Subject{Facts: analysis.Facts{}}
		for i, f := range facts {
			s.Facts[f] = states[pick[i]]
		}
		return tester(registry()).All([]kb.Condition{c}, s).Verdict
	}
	for shape, of := range shapes {
		c := of(is(facts[0]), is(facts[1]), is(facts[2]))
		for i := range 64 {
			pick := [3]int{i % 4, i / 4 % 4, i / 16}
			got := verdict(c, pick)
			if got != kb.Yes && got != kb.No {
				continue
			}
			for j := range 8 {
				settled := pick
				for k := range settled {
					if settled[k] > 1 {
						settled[k] = j >> k & 1
					}
				}
				if again := verdict(c, settled); again != got {
					t.Errorf("shape %d, facts %v: %s, but %s when settled as %v", shape, pick, got, again, settled)
				}
			}
		}
	}
}
