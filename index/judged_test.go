package index_test

import (
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"relath/index"
	"relath/kb"
	"relath/kb/strict"
)

// judged is one question with the entries that should and should not lead; see
// testdata/search.
type judged struct {
	Ask  string   `yaml:"ask,required"`
	Lead []string `yaml:"lead,required"`
	Want int      `yaml:"want"`
	Not  []string `yaml:"not"`
}

// What a search must reach over each half of the questions. Nothing stands in
// front that must not: such an answer does harm.
const (
	leastReciprocalRank = 0.96
	leastRecallAtFive   = 0.98
)

func TestJudgedQuestions(t *testing.T) {
	base := embedded(t)
	ix := opened(t)
	halves := []struct {
		file  string
		least int
		kinds []index.Kind
	}{
		{"questions-kept.yaml", 60, []index.Kind{index.Material, index.Coating}},
		{"questions.yaml", 60, nil},
	}
	for _, half := range halves {
		t.Run(half.file, func(t *testing.T) {
			questions := readQuestions(t, base, half.file)
			if len(questions) < half.least {
				t.Fatalf("%d questions, at least %d are needed", len(questions), half.least)
			}
			rank, recall, misplaced := 0.0, 0.0, 0.0
			for _, q := range questions {
				one := judge(t, ix, q, half.kinds)
				rank += one.rank
				recall += one.recall
				if one.misplaced {
					misplaced++
				}
			}
			n := float64(len(questions))
			rank, recall, misplaced = rank/n, recall/n, misplaced/n
			t.Logf("%d questions: mean reciprocal rank %.3f, recall at five %.3f, misplaced %.3f", len(questions), rank, recall, misplaced)
			if rank < leastReciprocalRank || recall < leastRecallAtFive {
				t.Errorf("mean reciprocal rank %.3f and recall at five %.3f; at least %.2f and %.2f are needed", rank, recall, leastReciprocalRank, leastRecallAtFive)
			}
			if misplaced > 0 {
				t.Errorf("in %.3f of the questions something stands in front that must not", misplaced)
			}
		})
	}
}

// verdict is how well one question is answered.
type verdict struct {
	rank, recall float64 // reciprocal rank, recall at five
	misplaced    bool    // something stands among the first three that must not
}

// judge asks one question.
func judge(t *testing.T, ix *index.Index, q judged, kinds []index.Kind) verdict {
	found, err := ix.Search(index.Query{Words: q.Ask, Kind: kinds})
	if err != nil {
		t.Fatalf("%q: %v", q.Ask, err)
	}
	var v verdict
	var first []string
	inFive := map[string]bool{}
	for i, h := range found.Hits {
		leads := slices.Contains(q.Lead, h.ID)
		if leads && v.rank == 0 {
			v.rank = 1 / float64(i+1)
		}
		if i < 5 {
			first = append(first, h.ID)
			inFive[h.ID] = leads
		}
		v.misplaced = v.misplaced || i < 3 && slices.Contains(q.Not, h.ID)
	}
	got, want := 0, q.Want
	for _, leads := range inFive {
		if leads {
			got++
		}
	}
	if want == 0 {
		want = min(len(q.Lead), 5)
	}
	v.recall = min(1, float64(got)/float64(want))
	if v.rank < 1 || v.recall < 1 || v.misplaced {
		t.Logf("%q: reciprocal rank %.2f, recall %.2f, misplaced %t: %v", q.Ask, v.rank, v.recall, v.misplaced, first)
	}
	return v
}

// readQuestions reads a half of the questions; every id in it must exist.
func readQuestions(t *testing.T, base *kb.Base, file string) []judged {
	data, err := os.ReadFile(filepath.Join("..", "testdata", "search", file))
	if err != nil {
		t.Fatal(err)
	}
	var all []judged
	if _, problems := strict.Load(file, data, strict.Limits{}, &all); len(problems) > 0 {
		t.Fatal(problems)
	}
	ids := idsOf(base)
	for _, q := range all {
		for _, id := range slices.Concat(q.Lead, q.Not) {
			if !ids[id] {
				t.Errorf("%q: no entry %q", q.Ask, id)
			}
		}
	}
	return all
}

func idsOf(base *kb.Base) map[string]bool {
	ids := map[string]bool{}
	for _, m := range base.Materials {
		ids[m.ID] = true
	}
	for _, r := range base.Recipes {
		ids[r.ID] = true
	}
	for _, r := range base.Rules {
		ids[r.ID] = true
	}
	for _, c := range base.Tables {
		ids[c.ID] = true
	}
	for _, c := range base.Cautions {
		ids[c.ID] = true
	}
	for _, p := range base.Places {
		ids[p.ID] = true
	}
	for _, s := range base.Starters {
		ids[s.ID] = true
	}
	return ids
}

// loaded gives the embedded base, loaded once: no test changes it.
var loaded = sync.OnceValues(func() (*kb.Base, error) { return kb.Load(kb.Embedded()) })

func embedded(t testing.TB) *kb.Base {
	base, err := loaded()
	if err != nil {
		t.Fatal(err)
	}
	return base
}

// inMemory gives the index of the embedded base, made once, in memory.
var inMemory = sync.OnceValues(func() (*index.Index, error) {
	base, err := loaded()
	if err != nil {
		return nil, err
	}
	unversioned := *base
	unversioned.Version = ""
	return index.Open(&unversioned, "")
})

func opened(t testing.TB) *index.Index {
	ix, err := inMemory()
	if err != nil {
		t.Fatal(err)
	}
	return ix
}

func open(t testing.TB, base *kb.Base, cacheFolder string) *index.Index {
	ix, err := index.Open(base, cacheFolder)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := ix.Close(); err != nil {
			t.Error(err)
		}
	})
	return ix
}
