package advisor_test

import (
	"context"
	"fmt"
	"testing"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/strict"
)

// largeHouse is an invented house of so many assemblies, those of the starters
// over and over, all of them new.
func largeHouse(t testing.TB, b *kb.Base, count int) *assembly.Resolved {
	t.Helper()
	house := &assembly.House{Format: 1, House: "Forty of them", Place: strict.Text{Value: "des-moines-ia"}, Built: 2026}
	for len(house.Assemblies) < count {
		for _, s := range b.Starters {
			h, _, problems := assembly.Parse(s.ID, []byte(s.House))
			if len(problems) > 0 {
				t.Fatal(problems)
			}
			for _, d := range h.Assemblies {
				if len(house.Assemblies) == count {
					break
				}
				d.Name = strict.Text{Value: fmt.Sprintf("%s %d", d.Name.Value, len(house.Assemblies)+1)}
				d.State, d.Area = "proposed", strict.Text{Value: "300 ft2"}
				house.Assemblies = append(house.Assemblies, d)
			}
		}
	}
	text, err := assembly.Write(house)
	if err != nil {
		t.Fatal(err)
	}
	resolved, err := advisor.Load(b, "large.yaml", text)
	if err != nil {
		t.Fatal(err)
	}
	return resolved
}

// A house of forty assemblies has its page and its papers, one part for each.
func TestLargeHouse(t *testing.T) {
	b := base(t)
	h := largeHouse(t, b, 40)
	s, err := advisor.Spec(context.Background(), rule.Tester{Base: b}, h, advisor.Choice{}, advisor.Wishes{})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Plans) != 40 {
		t.Errorf("%d plans", len(s.Plans))
	}
	for _, p := range s.Plans {
		if len(p.Limits) == 0 {
			t.Errorf("%s has no limits", p.After.Assembly.Name)
		}
	}
}

func BenchmarkAnalyzeForty(b *testing.B) {
	known := base(b)
	h := largeHouse(b, known, 40)
	for b.Loop() {
		results, err := advisor.Analyze(context.Background(), rule.Tester{Base: known}, h.Assemblies)
		if err != nil {
			b.Fatal(err)
		}
		(report.Maker{Base: known}).Analysis(results)
	}
}

func BenchmarkSpecForty(b *testing.B) {
	known := base(b)
	h := largeHouse(b, known, 40)
	for b.Loop() {
		s, err := advisor.Spec(context.Background(), rule.Tester{Base: known}, h, advisor.Choice{}, advisor.Wishes{})
		if err != nil {
			b.Fatal(err)
		}
		(report.Maker{Base: known}).Spec(s)
	}
}
