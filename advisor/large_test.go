package advisor_test

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/strict"
)

// starters gives the descriptions of the starters: doubts of up to 64 ways to
// build each.
func starters(b *kb.Base) []string {
	var list []string
	for _, s := range b.Starters {
		list = append(list, s.House)
	}
	return list
}

// shipped gives the shipped houses: as few doubts as a house has that somebody
// lives in.
func shipped(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("../testdata/houses/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, file := range files {
		if strings.HasSuffix(file, ".expect.yaml") {
			continue
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, string(data))
	}
	return list
}

// largeHouse is an invented house of so many assemblies, those of the given
// descriptions over and over, all of them new.
func largeHouse(t testing.TB, b *kb.Base, descriptions []string, count int) *assembly.Resolved {
	t.Helper()
	house := &assembly.House{Format: 1, House: "Forty of them", Place: strict.Text{Value: "des-moines-ia"}, Built: 2026}
	for len(house.Assemblies) < count {
		for _, text := range descriptions {
			h, _, problems := assembly.Parse("one.yaml", []byte(text))
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
	h := largeHouse(t, b, starters(b), 40)
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

// eachLarge runs a benchmark on large houses: all starters, all shipped houses,
// and five of them, whose eight assemblies come again and again as those of a house
// with walls to four sides.
func eachLarge(b *testing.B, run func(b *testing.B, known *kb.Base, h *assembly.Resolved)) {
	known := base(b)
	b.Run("starters", func(b *testing.B) { run(b, known, largeHouse(b, known, starters(known), 40)) })
	b.Run("eight-builds", func(b *testing.B) { run(b, known, largeHouse(b, known, shipped(b)[:5], 40)) })
	b.Run("shipped", func(b *testing.B) { run(b, known, largeHouse(b, known, shipped(b), 40)) })
}

func BenchmarkAnalyzeForty(b *testing.B) {
	eachLarge(b, func(b *testing.B, known *kb.Base, h *assembly.Resolved) {
		for b.Loop() {
			results, err := advisor.Analyze(context.Background(), rule.Tester{Base: known}, h.Assemblies)
			if err != nil {
				b.Fatal(err)
			}
			(report.Maker{Base: known}).Analysis(results)
		}
	})
}

func BenchmarkSpecForty(b *testing.B) {
	eachLarge(b, func(b *testing.B, known *kb.Base, h *assembly.Resolved) {
		for b.Loop() {
			s, err := advisor.Spec(context.Background(), rule.Tester{Base: known}, h, advisor.Choice{}, advisor.Wishes{})
			if err != nil {
				b.Fatal(err)
			}
			(report.Maker{Base: known}).Spec(s)
		}
	})
}

// BenchmarkSpecPDFForty is what spec does without a flag: swaps searched for every
// assembly, and the papers as PDF.
func BenchmarkSpecPDFForty(b *testing.B) {
	eachLarge(b, func(b *testing.B, known *kb.Base, h *assembly.Resolved) {
		for b.Loop() {
			s, err := advisor.Spec(context.Background(), rule.Tester{Base: known}, h, advisor.Choice{Best: true}, advisor.Wishes{})
			if err != nil {
				b.Fatal(err)
			}
			if err := (report.Maker{Base: known}).Spec(s).PDF(io.Discard, report.Letter); err != nil {
				b.Fatal(err)
			}
		}
	})
}
