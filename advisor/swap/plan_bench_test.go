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

// BenchmarkMillion screens a million combinations: the swaps of one wall, each
// there several times over. Copies tie with each other and none of them is beaten
// for its copies, so that less is pruned than among as many different ones.
func BenchmarkMillion(b *testing.B) {
	const copies = 8
	a := shipped(b)["cedar-row, south wall"]
	var many []Proposal
	for _, p := range a.Proposals {
		for range copies {
			many = append(many, p)
		}
	}
	var s *search
	b.ReportAllocs()
	for b.Loop() {
		s = newSearch(finderOf(tester(embedded(b)), a), many, PlanOptions{Most: 2_000_000})
		if _, err := s.front(context.Background()); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(s.count), "combinations")
	b.ReportMetric(float64(s.count)*float64(b.N)/b.Elapsed().Seconds(), "combinations/s")
}
