package swap

import (
	"context"
	"os"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"

	"relath/advisor/rule"
)

// BenchmarkVerify verifies the shortlist of the shipped wall: twelve swaps and the
// wall as it is, three corners, two years each.
func BenchmarkVerify(b *testing.B) {
	base, err := kb.Load(kb.Embedded())
	if err != nil {
		b.Fatal(err)
	}
	text, err := os.ReadFile("../../testdata/houses/alder-court.yaml")
	if err != nil {
		b.Fatal(err)
	}
	house, doc, problems := assembly.Parse("alder-court.yaml", text)
	if len(problems) > 0 {
		b.Fatal(problems)
	}
	r, problems := assembly.Resolve(house, doc, base)
	if len(problems) > 0 {
		b.Fatal(problems)
	}
	t := rule.Tester{Base: base, System: quantity.InchPound}
	advice, err := Propose(context.Background(), t, r.Assemblies[0], Options{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		once := *advice
		once.Proposals = append([]Proposal(nil), advice.Proposals...)
		if err := Verify(context.Background(), base, &once, analysis.Hourly{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(min(Shortlist, len(advice.Proposals))), "swaps")
}
