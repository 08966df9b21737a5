package advisor_test

import (
	"context"
	"testing"

	"relath/advisor"
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
