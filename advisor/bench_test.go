package advisor_test

import (
	"context"
	"io"
	"testing"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/swap"
)

func BenchmarkAnalyze(b *testing.B) {
	known := base(b)
	house := houses(b, known)["alder-court"]
	for b.Loop() {
		results, err := advisor.Analyze(context.Background(), rule.Tester{Base: known}, house.Assemblies)
		if err != nil {
			b.Fatal(err)
		}
		(report.Maker{Base: known}).Analysis(results)
	}
}

// BenchmarkAdvise is what advise does without hourly runs: swaps, plans, page.
func BenchmarkAdvise(b *testing.B) {
	known := base(b)
	house := houses(b, known)["alder-court"]
	for b.Loop() {
		advice, err := advisor.Advise(context.Background(), rule.Tester{Base: known}, house.Assemblies, swap.Options{})
		if err != nil {
			b.Fatal(err)
		}
		if err := advisor.PlanAll(context.Background(), rule.Tester{Base: known}, advice, swap.PlanOptions{}); err != nil {
			b.Fatal(err)
		}
		(report.Maker{Base: known}).Advice(advice, nil, 0)
	}
}

// BenchmarkPaper is the page of a house of forty assemblies as a PDF.
func BenchmarkPaper(b *testing.B) {
	known := base(b)
	var many []*assembly.Assembly
	for len(many) < 40 {
		many = append(many, houses(b, known)["alder-court"].Assemblies...)
	}
	results, err := advisor.Analyze(context.Background(), rule.Tester{Base: known}, many)
	if err != nil {
		b.Fatal(err)
	}
	page := (report.Maker{Base: known}).Analysis(results)
	for b.Loop() {
		if err := page.PDF(io.Discard, report.Letter); err != nil {
			b.Fatal(err)
		}
	}
}
