package rule_test

import (
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// registry is a small base of facts; lists of a base are sorted by id.
func registry() *kb.Base {
	return &kb.Base{Facts: []*kb.Fact{
		{ID: "adds", Scope: "work", Type: "words", Title: "adds"},
		{ID: "built", Scope: "assembly", Type: "flag", Title: "built"},
		{ID: "class", Scope: "layer", Type: "words", Title: "class", Words: []string{"I", "II"}},
		{ID: "depth", Scope: "layer", Type: "quantity", Dimension: quantity.Length, Title: "depth"},
		{ID: "edition", Scope: "assembly", Type: "words", Title: "edition"},
		{ID: "existing", Scope: "assembly", Type: "flag", Title: "existing"},
		{ID: "food", Scope: "layer", Type: "flag", Title: "food"},
		{ID: "open", Scope: "assembly", Type: "flag", Title: "open"},
		{ID: "peak", Scope: "assembly", Type: "quantity", Dimension: quantity.AreaDensity, Title: "peak"},
		{ID: "raises", Scope: "work", Type: "flag", Title: "raises"},
		{ID: "vague", Scope: "assembly", Type: "flag", Title: "vague"},
		{ID: "zone", Scope: "assembly", Type: "words", Title: "zone"},
	}}
}

func tester(base *kb.Base) rule.Tester { return rule.Tester{Base: base, System: quantity.SI} }

// The facts of a yes, a no, a depends and an unknown.
func fourFacts() analysis.Facts {
	return analysis.Facts{
		"built": flag(true), "existing": flag(false), "open": {Known: true, Mixed: true},
		"vague": {Missing: "nobody has looked"},
	}
}

func flag(v bool) analysis.Estimate { return analysis.Estimate{Known: true, Flag: v} }

func words(list ...string) analysis.Estimate { return analysis.Estimate{Known: true, Words: list} }

func oneOf(list ...string) analysis.Estimate {
	return analysis.Estimate{Known: true, Words: list, Mixed: true}
}

func between(low, best, high float64) analysis.Estimate {
	return analysis.Estimate{Known: true, Range: quantity.Range{Low: low, Best: best, High: high}}
}

func is(fact string) kb.Condition { return kb.Condition{Fact: fact, Flag: "yes"} }

func isWord(fact string, words ...string) kb.Condition { return kb.Condition{Fact: fact, Words: words} }

func join(how string, nested ...kb.Condition) kb.Condition {
	return kb.Condition{Join: how, Nested: nested}
}

func limit(fact, op string, v float64) kb.Condition {
	return kb.Condition{Fact: fact, Op: op, LimitSI: quantity.Exact(v)}
}

// layered is a subject of layers with the given facts, named a, b, c.
func layered(layers ...analysis.Facts) rule.Subject {
	s := rule.Subject{Facts: analysis.Facts{}}
	for i, f := range layers {
		s.Layers = append(s.Layers, analysis.LayerFacts{Part: &assembly.Part{Name: string(rune('a' + i))}, Facts: f})
	}
	return s
}

// result is an analysis of variants that settle the doubts by the choices.
func result(doubts []assembly.Doubt, choices [][]string, facts []analysis.Facts) *analysis.Result {
	r := &analysis.Result{Assembly: &assembly.Assembly{Doubts: doubts}}
	for i, f := range facts {
		of := &assembly.Variant{}
		if len(choices) > 0 {
			for d, c := range choices[i] {
				of.Settled = append(of.Settled, assembly.Settled{Doubt: d, Choice: c})
			}
		}
		r.Variants = append(r.Variants, &analysis.Variant{Of: of, Facts: f})
	}
	return r
}

// only evaluates a base of one rule or table and gives its finding, or nil.
func only(t *testing.T, base *kb.Base, r *analysis.Result) *rule.Finding {
	t.Helper()
	found := rule.Evaluate(tester(base), r)
	switch len(found) {
	case 0:
		return nil
	case 1:
		return &found[0]
	}
	t.Fatalf("%d findings of one rule", len(found))
	return nil
}

func withRule(r *kb.Rule) *kb.Base {
	base := registry()
	if r.ID == "" {
		r.ID = "rule"
	}
	if r.Level == "" {
		r.Level = "warn"
	}
	if r.Kind == "" {
		r.Kind = "moisture"
	}
	base.Rules = []*kb.Rule{r}
	return base
}
