package rule_test

import (
	"context"
	"fmt"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// findings analyzes every assembly of a house file and gives what rules say.
func findings(t *testing.T, base *kb.Base, name, text string) []rule.Finding {
	t.Helper()
	house, doc, problems := assembly.Parse(name, []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	resolved, problems := assembly.Resolve(house, doc, base)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	var list []rule.Finding
	for _, a := range resolved.Assemblies {
		r, err := analysis.Run(context.Background(), base, a)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, rule.Evaluate(rule.Tester{Base: base, System: quantity.InchPound}, r)...)
	}
	return list
}

func loadBase(t *testing.T) *kb.Base {
	t.Helper()
	base, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	return base
}

// TestExamples runs the avoid and the prefer example of every rule and table:
// the first must fire, the second must stay silent.
func TestExamples(t *testing.T) {
	base := loadBase(t)
	type example struct{ id, avoid, prefer string }
	var examples []example
	for _, r := range base.Rules {
		examples = append(examples, example{r.ID, r.Avoid, r.Prefer})
	}
	for _, c := range base.Tables {
		examples = append(examples, example{c.ID, c.Avoid, c.Prefer})
	}
	for _, e := range examples {
		t.Run(e.id, func(t *testing.T) {
			if f := about(findings(t, base, e.id+" avoid", e.avoid), e.id); f == nil {
				t.Errorf("the example to avoid does not fire")
			}
			if f := about(findings(t, base, e.id+" prefer", e.prefer), e.id); f != nil {
				t.Errorf("the example to prefer fires: %s: %s%s", f.Verdict, f.Say, reasons(f))
			}
		})
	}
}

func about(list []rule.Finding, id string) *rule.Finding {
	for i := range list {
		if list[i].Rule == id {
			return &list[i]
		}
	}
	return nil
}

func reasons(f *rule.Finding) string {
	text := ""
	for _, r := range f.Because {
		text += fmt.Sprintf("\n\t%s: %s", r.Verdict, r.Text)
	}
	return text
}
