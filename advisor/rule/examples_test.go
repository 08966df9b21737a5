package rule_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
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
	return judge(base, analyzed(t, base, name, text))
}

// hourlyFindings is the same with hourly runs.
func hourlyFindings(t *testing.T, base *kb.Base, name, text string) []rule.Finding {
	t.Helper()
	results := analyzed(t, base, name, text)
	if err := analysis.AddHourly(context.Background(), base, analysis.Hourly{}, results...); err != nil {
		t.Fatal(err)
	}
	return judge(base, results)
}

func judge(base *kb.Base, results []*analysis.Result) []rule.Finding {
	var list []rule.Finding
	for _, r := range results {
		list = append(list, rule.Evaluate(rule.Tester{Base: base, System: quantity.InchPound}, r)...)
	}
	return list
}

// analyzed analyzes every assembly of a house file.
func analyzed(t *testing.T, base *kb.Base, name, text string) []*analysis.Result {
	t.Helper()
	house, doc, problems := assembly.Parse(name, []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	resolved, problems := assembly.Resolve(house, doc, base)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	var list []*analysis.Result
	for _, a := range resolved.Assemblies {
		r, err := analysis.Run(context.Background(), base, a)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, r)
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
// the first must fire, the second must stay silent. Those that read hourly facts
// are run with them, and say nothing at all without.
func TestExamples(t *testing.T) {
	base := loadBase(t)
	type example struct {
		id, avoid, prefer string
		hourly            bool
	}
	var examples []example
	for _, r := range base.Rules {
		examples = append(examples, example{r.ID, r.Avoid, r.Prefer, readsHours(base, r.When)})
	}
	for _, c := range base.Tables {
		examples = append(examples, example{c.ID, c.Avoid, c.Prefer, false})
	}
	for _, e := range examples {
		t.Run(e.id, func(t *testing.T) {
			findings := findings
			if e.hourly {
				if f := about(findings(t, base, e.id+" avoid", e.avoid), e.id); f != nil {
					t.Errorf("it speaks without hourly runs: %s: %s", f.Verdict, f.Say)
				}
				findings = hourlyFindings
			}
			if f := about(findings(t, base, e.id+" avoid", e.avoid), e.id); f == nil {
				t.Errorf("the example to avoid does not fire")
			}
			if f := about(findings(t, base, e.id+" prefer", e.prefer), e.id); f != nil {
				t.Errorf("the example to prefer fires: %s: %s%s", f.Verdict, f.Say, reasons(f))
			}
		})
	}
}

// readsHours says whether conditions read facts that only hourly runs give.
func readsHours(base *kb.Base, conditions []kb.Condition) bool {
	return slices.ContainsFunc(conditions, func(c kb.Condition) bool {
		f := base.Fact(c.Fact)
		return f != nil && strings.HasPrefix(f.Model, "hourly") || readsHours(base, c.Nested)
	})
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
