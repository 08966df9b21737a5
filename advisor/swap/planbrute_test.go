package swap

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"
)

// agrees holds the search to brute force, some combinations being turned down
// already.
func agrees(t *testing.T, name string, s *search, random *rand.Rand) {
	t.Helper()
	for range 3 {
		got, err := s.front(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if want := brute(t, s); !slices.Equal(indices(got), want) {
			t.Errorf("%s, %d combinations: the search finds %v, brute force %v", name, s.count, indices(got), want)
		}
		if s.count > 10_000 {
			return
		}
		for _, m := range got {
			if random.IntN(2) == 0 {
				s.out[m.index] = true // a member of the front that did not hold up: others come back
			}
		}
	}
}

// The search and brute force agree on draws of the swaps of houses, under
// options and limits, and when members of the front are turned down.
func TestSearchAgreesOnDraws(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 7))
	for name, a := range shipped(t) {
		for range 8 {
			pieces, _ := a.pieces()
			some := slices.DeleteFunc(pieces, func(Proposal) bool { return random.IntN(3) == 0 })
			opts := PlanOptions{Reno: random.IntN(4) == 0, Most: 30 + random.IntN(400)}
			if random.IntN(2) == 0 {
				opts.MaxThickness = 0.15 + 0.1*random.Float64()
			}
			agrees(t, name, newSearch(finderOf(tester(embedded(t)), a), some, opts), random)
		}
	}
}

// And on a case of nearly 50,000 combinations.
func TestSearchAgreesOnManyCombinations(t *testing.T) {
	a := shipped(t)["cedar-row, south wall"]
	var many []Proposal
	for _, p := range a.Proposals {
		for range 3 {
			many = append(many, p)
		}
	}
	s := newSearch(finderOf(tester(embedded(t)), a), many, PlanOptions{})
	if s.count < 20_000 || s.count > 50_000 {
		t.Fatalf("%d combinations", s.count)
	}
	agrees(t, "cedar-row", s, nil)
}
