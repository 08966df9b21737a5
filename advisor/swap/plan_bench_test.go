package swap

import (
	"context"
	"testing"
)

// BenchmarkPlans is a wall with its plans judged in full, on top of advice.
func BenchmarkPlans(b *testing.B) {
	a := shipped(b)["alder-court, north wall"]
	for b.Loop() {
		if _, err := Plans(context.Background(), tester(embedded(b)), a, PlanOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkMillion screens a million combinations or somewhat less: the
// options of one wall, each there several times over.
func BenchmarkMillion(b *testing.B) {
	a := shipped(b)["cedar-row, south wall"]
	s := searchOf(b, a, PlanOptions{})
	var many []Proposal
	for _, o := range s.options {
		for range 6 {
			many = append(many, *o.proposal)
		}
	}
	large := newSearch(s.finder, many, PlanOptions{Most: 2_000_000})
	b.ReportMetric(float64(large.count), "combinations")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := large.front(context.Background()); err != nil {
			b.Fatal(err)
		}
	}
}
