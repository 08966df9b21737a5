package index_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"relath/index"
	"relath/kb"
)

// The sheathings that hold no glue and pass more than 5 perms, counted from the
// base itself.
func TestDutyFilterAndAdhesive(t *testing.T) {
	base := embedded(t)
	ix := opened(t)
	f, err := index.ParseFilter(base, "permeance", ">5 perm")
	if err != nil {
		t.Fatal(err)
	}
	found, err := ix.Search(index.Query{Duty: []string{"sheathing"}, Filters: []index.Filter{f}, Adhesive: "none"})
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]index.Hit{}
	for _, h := range found.Hits {
		got[h.ID] = h
		m := base.Material(h.ID)
		w, ok := m.Working("permeance", kb.AnyMethod, 0)
		if !slices.Contains(m.Terms, "sheathing") || !ok || w.SI.High <= 5*perm {
			t.Errorf("%s must not be found", h.ID)
		}
		if want := map[bool]index.Outcome{true: index.Surely, false: index.Possibly}[w.SI.Low > 5*perm]; h.Checks[0].Outcome != want {
			t.Errorf("%s: %s, not %s", h.ID, h.Checks[0].Outcome, want)
		}
	}
	for _, id := range []string{"diagonal-board-sheathing", "glass-mat-gypsum-sheathing"} {
		if _, ok := got[id]; !ok {
			t.Errorf("%s is not found", id)
		}
	}
	if _, ok := got["osb"]; ok {
		t.Error("osb holds glue")
	}
	if left := len(base.Materials) - len(found.Hits) - found.Failed - noData(found); left != 0 {
		t.Errorf("%d materials are neither found nor counted as left out", left)
	}
}

func noData(found *index.Result) int {
	n := 0
	for _, m := range found.NoData {
		n += len(m.IDs)
	}
	return n
}

// What the base knows nothing of is counted, not taken for zero.
func TestLeftOutForLackOfData(t *testing.T) {
	base := embedded(t)
	ix := opened(t)
	for _, about := range base.Properties {
		f := index.Filter{Property: about.ID, Op: index.AtLeast, Bound: 0}
		found, err := ix.Search(index.Query{Filters: []index.Filter{f}})
		if err != nil {
			t.Fatal(err)
		}
		var lacks []string
		for _, m := range base.Materials {
			if _, ok := m.Working(about.ID, kb.AnyMethod, 0); !ok {
				lacks = append(lacks, m.ID)
			}
		}
		slices.Sort(lacks)
		var got []string
		for _, missing := range found.NoData {
			if missing.Of != about.ID {
				t.Errorf("%s: left out for lack of %s", about.ID, missing.Of)
			}
			got = append(got, missing.IDs...)
		}
		if !slices.Equal(got, lacks) {
			t.Errorf("%s: left out %v, not %v", about.ID, got, lacks)
		}
	}
}

func TestSort(t *testing.T) {
	base := embedded(t)
	ix := opened(t)
	for _, order := range []string{"permeance", "-permeance", "density", "-R-value"} {
		found, err := ix.Search(index.Query{Words: "insulation", Sort: order})
		if err != nil {
			t.Fatal(err)
		}
		falling := strings.HasPrefix(order, "-")
		for i := 1; i < len(found.Hits); i++ {
			a, b := found.Hits[i-1].Sorted, found.Hits[i].Sorted
			switch {
			case a == nil && b != nil:
				t.Errorf("%s: %s without a value stands before %s", order, found.Hits[i-1].ID, found.Hits[i].ID)
			case a != nil && b != nil && a.Value.SI.Best != b.Value.SI.Best && (a.Value.SI.Best > b.Value.SI.Best) != falling:
				t.Errorf("%s: %s %g stands before %s %g", order, found.Hits[i-1].ID, a.Value.SI.Best, found.Hits[i].ID, b.Value.SI.Best)
			}
		}
	}
	found, err := ix.Search(index.Query{Kind: []index.Kind{index.Place}, Sort: "name"})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.IsSortedFunc(found.Hits, func(a, b index.Hit) int { return strings.Compare(a.Name, b.Name) }) || len(found.Hits) != len(base.Places) {
		t.Errorf("%d places, sorted by name", len(found.Hits))
	}
}

func TestLimitCutsTheSameList(t *testing.T) {
	ix := opened(t)
	whole := ids(t, ix, index.Query{Words: "natural insulation"})
	for limit := 1; limit < 12; limit++ {
		found, err := ix.Search(index.Query{Words: "natural insulation", Limit: limit})
		if err != nil {
			t.Fatal(err)
		}
		if len(found.Hits) != limit || found.Total != strings.Count(whole, ",")+1 {
			t.Errorf("limit %d: %d hits of %d", limit, len(found.Hits), found.Total)
		}
		if got := ids(t, ix, index.Query{Words: "natural insulation", Limit: limit}); !strings.HasPrefix(whole, got) {
			t.Errorf("limit %d: %s", limit, got)
		}
	}
}

// What is found among one kind does not depend on what other kinds hold.
func TestKindsApart(t *testing.T) {
	ix := opened(t)
	for _, kind := range index.Kinds() {
		found, err := ix.Search(index.Query{Words: "gypsum board", Kind: []index.Kind{kind}})
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range found.Hits {
			if h.Kind != kind {
				t.Errorf("%s: %s is a %s", kind, h.ID, h.Kind)
			}
		}
		if len(found.Hits) == 0 && kind != index.Place && kind != index.Coating && kind != index.Code {
			t.Errorf("%s: nothing found", kind)
		}
	}
}

// What goes in place of a material does its work, is not itself, and is not
// something the base advises against.
func TestInsteadOf(t *testing.T) {
	base := embedded(t)
	ix := opened(t)
	for _, m := range base.Materials {
		found, err := ix.Search(index.Query{Words: "instead of " + m.Name, Limit: 10})
		if err != nil {
			t.Fatal(err)
		}
		if found.Instead == "" {
			continue // the name reads otherwise in a sentence
		}
		for _, h := range found.Hits {
			other := base.Material(h.ID)
			if h.Kind != index.Material && h.Kind != index.Coating {
				continue
			}
			if h.ID == found.Instead || other.Advise == "no" || other.Available == "no-longer" {
				t.Errorf("instead of %s: %s", found.Instead, h.ID)
			}
		}
	}
	found, err := ix.Search(index.Query{Words: "what can I use instead of OSB"})
	if err != nil {
		t.Fatal(err)
	}
	if found.Instead != "osb" || found.Hits[0].Kind != index.Recipe {
		t.Errorf("instead of %q: first %+v", found.Instead, found.Hits[0])
	}
}

func TestQueryErrors(t *testing.T) {
	ix := opened(t)
	for _, c := range []struct {
		query    index.Query
		contains string
	}{
		{index.Query{Duty: []string{"brase"}}, `duty "brase": "brase" is not known; did you mean "brace"?`},
		{index.Query{Duty: []string{""}}, "is not known"},
		{index.Query{Kind: []index.Kind{"materiel"}}, `did you mean "material"?`},
		{index.Query{Family: "membrane"}, `did you mean "membranes"?`},
		{index.Query{Sort: "permanence"}, `did you mean "permeance"?`},
		{index.Query{Filters: []index.Filter{{Property: "weight"}}}, `filter "weight"`},
		{index.Query{Kind: []index.Kind{index.Rule}, Adhesive: "none"}, "about materials and coatings"},
		{index.Query{Kind: []index.Kind{index.Place}, Sort: "density"}, "about materials and coatings"},
	} {
		_, err := ix.Search(c.query)
		var bad *index.InputError
		if !errors.As(err, &bad) || !strings.Contains(err.Error(), c.contains) {
			t.Errorf("%+v: %v", c.query, err)
		}
	}
}

// The same base gives the same answer, however often and from wherever it is
// indexed.
func TestAnswersAreTheSameFromDiskAndMemory(t *testing.T) {
	base := embedded(t)
	kept := open(t, base, t.TempDir())
	memory := opened(t)
	for _, q := range readQuestions(t, base, "questions-kept.yaml") {
		want := ids(t, kept, index.Query{Words: q.Ask})
		for range 2 {
			if got := ids(t, memory, index.Query{Words: q.Ask}); got != want {
				t.Errorf("%q: %s in memory, %s from disk", q.Ask, got, want)
			}
		}
	}
}

// Whatever bytes come as a question, there is an answer.
func FuzzSearch(f *testing.F) {
	ix := opened(f)
	for _, q := range []string{
		"what can I put instead of OSB", "no glue subfloor", "celulose", "½ in drywal", "instead of", "no no no", "B B", "vinyl free", "\xff\xfe", "=gypsum-board",
		"a:b:c \"open", "/wo.d/", "+-*?~^", "🧱 Ⅷ ǅ İ", "without", "alternative to alternative to", "lime pla", "e\u0301", "\x00", "free", "2x4 6mil 1/2 3.5 T&G",
		strings.Repeat("plywood", 600), strings.Repeat("instead of ", 300), strings.Repeat("ä", 24), strings.Repeat("q", 24) + " " + strings.Repeat("q", 25),
	} {
		f.Add(q)
	}
	f.Fuzz(func(t *testing.T, words string) {
		found, err := ix.Search(index.Query{Words: words, Limit: 8})
		if err != nil {
			t.Fatalf("%q: %v", words, err)
		}
		again, err := ix.Search(index.Query{Words: words, Limit: 8})
		if err != nil || len(again.Hits) != len(found.Hits) {
			t.Fatalf("%q: %d hits, then %d, %v", words, len(found.Hits), len(again.Hits), err)
		}
		for i := range found.Hits {
			if found.Hits[i].ID != again.Hits[i].ID || found.Hits[i].Score != again.Hits[i].Score {
				t.Fatalf("%q: %s, then %s", words, found.Hits[i].ID, again.Hits[i].ID)
			}
			if score := found.Hits[i].Score; math.IsNaN(score) || math.IsInf(score, 0) {
				t.Fatalf("%q: %s has the score %g", words, found.Hits[i].ID, score)
			}
			if i > 0 && found.Hits[i-1].Score < found.Hits[i].Score {
				t.Fatalf("%q: %s stands before %s", words, found.Hits[i-1].ID, found.Hits[i].ID)
			}
		}
	})
}
