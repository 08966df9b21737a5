package index_test

import (
	"fmt"
	"testing"

	"relath/index"
	"relath/kb"
)

// enlarged gives a base with every material, recipe, rule and place several
// times, under new ids and the same names.
func enlarged(base *kb.Base, times int) *kb.Base {
	big := *base
	big.Version = fmt.Sprintf("%063d%d", 0, times%10)
	big.Materials, big.Recipes, big.Rules, big.Places = nil, nil, nil, nil
	for n := range times {
		tail := ""
		if n > 0 {
			tail = fmt.Sprintf("-copy-%d", n)
		}
		for _, m := range base.Materials {
			again := *m
			again.ID += tail
			big.Materials = append(big.Materials, &again)
		}
		for _, r := range base.Recipes {
			again := *r
			again.ID += tail
			big.Recipes = append(big.Recipes, &again)
		}
		for _, r := range base.Rules {
			again := *r
			again.ID += tail
			big.Rules = append(big.Rules, &again)
		}
		for _, p := range base.Places {
			again := *p
			again.ID += tail
			big.Places = append(big.Places, &again)
		}
	}
	return &big
}

// sizes runs a benchmark on the base as it is and at ten times its size.
func sizes(b *testing.B, run func(*testing.B, *kb.Base)) {
	base := embedded(b)
	for _, times := range []int{1, 10} {
		big := enlarged(base, times)
		b.Run(fmt.Sprintf("size=%dx", times), func(b *testing.B) { run(b, big) })
	}
}

// BenchmarkFirstStart makes the index and answers one question.
func BenchmarkFirstStart(b *testing.B) {
	sizes(b, func(b *testing.B, base *kb.Base) {
		for b.Loop() {
			firstHit(b, base, b.TempDir())
		}
	})
}

// BenchmarkWarmStart opens a kept index and answers one question.
func BenchmarkWarmStart(b *testing.B) {
	sizes(b, func(b *testing.B, base *kb.Base) {
		folder := b.TempDir()
		firstHit(b, base, folder)
		for b.Loop() {
			firstHit(b, base, folder)
		}
	})
}

// BenchmarkInMemory is a start where nothing can be written.
func BenchmarkInMemory(b *testing.B) {
	sizes(b, func(b *testing.B, base *kb.Base) {
		without := *base
		without.Version = ""
		for b.Loop() {
			firstHit(b, &without, "")
		}
	})
}

func firstHit(b *testing.B, base *kb.Base, folder string) {
	ix, err := index.Open(base, folder)
	if err != nil {
		b.Fatal(err)
	}
	ask(b, ix, index.Query{Words: "insulation I can blow in a lath wall", Limit: 10})
	if err := ix.Close(); err != nil {
		b.Fatal(err)
	}
}

func ask(b *testing.B, ix *index.Index, q index.Query) {
	found, err := ix.Search(q)
	if err != nil {
		b.Fatal(err)
	}
	if len(found.Hits) == 0 {
		b.Fatalf("nothing found for %+v", q)
	}
}

// BenchmarkSearch answers questions with an open index.
func BenchmarkSearch(b *testing.B) {
	base := embedded(b)
	permeance, err := index.ParseFilter(base, "permeance", ">5 perm")
	if err != nil {
		b.Fatal(err)
	}
	queries := map[string]index.Query{
		"words":   {Words: "insulation I can blow in a lath wall", Limit: 10},
		"slip":    {Words: "celulose insulaton", Limit: 10},
		"instead": {Words: "what can I put instead of OSB", Limit: 10},
		"filters": {Duty: []string{"sheathing"}, Filters: []index.Filter{permeance}, Adhesive: "none", Limit: 10},
		"both":    {Words: "lime plaster", Filters: []index.Filter{permeance}, Sort: "permeance", Limit: 10},
	}
	for _, name := range []string{"words", "slip", "instead", "filters", "both"} {
		b.Run(name, func(b *testing.B) {
			sizes(b, func(b *testing.B, base *kb.Base) {
				ix, err := index.Open(base, b.TempDir())
				if err != nil {
					b.Fatal(err)
				}
				for b.Loop() {
					ask(b, ix, queries[name])
				}
				if err := ix.Close(); err != nil {
					b.Fatal(err)
				}
			})
		})
	}
}
