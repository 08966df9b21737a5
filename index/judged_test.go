package index_test

import (
	"os"
	"path/filepath"
	"slices"
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

// What a search must reach over each half of the questions.
const (
	leastReciprocalRank = 0.9
	leastRecallAtFive   = 0.95
)

func TestJudgedQuestions(t *testing.T) {
	base := embedded(t)
	ix := open(t, base, t.TempDir())
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
			rank, recall := 0.0, 0.0
			for _, q := range questions {
				r, c := judge(t, ix, q, half.kinds)
				rank += r
				recall += c
			}
			rank /= float64(len(questions))
			recall /= float64(len(questions))
			t.Logf("%d questions: mean reciprocal rank %.3f, recall at five %.3f", len(questions), rank, recall)
			if rank < leastReciprocalRank || recall < leastRecallAtFive {
				t.Errorf("mean reciprocal rank %.3f and recall at five %.3f; at least %.2f and %.2f are needed", rank, recall, leastReciprocalRank, leastRecallAtFive)
			}
		})
	}
}

// judge gives the reciprocal rank and the recall at five of one question, and
// fails where something stands in front that must not.
func judge(t *testing.T, ix *index.Index, q judged, kinds []index.Kind) (rank, recall float64) {
	found, err := ix.Search(index.Query{Words: q.Ask, Kind: kinds})
	if err != nil {
		t.Fatalf("%q: %v", q.Ask, err)
	}
	var first []string
	inFive := map[string]bool{}
	for i, h := range found.Hits {
		if slices.Contains(q.Lead, h.ID) {
			if rank == 0 {
				rank = 1 / float64(i+1)
			}
			if i < 5 {
				inFive[h.ID] = true
			}
		}
		if i < 5 {
			first = append(first, h.ID)
		}
		if i < 3 && slices.Contains(q.Not, h.ID) {
			t.Errorf("%q: %s stands among the first three: %v", q.Ask, h.ID, first)
		}
	}
	want := q.Want
	if want == 0 {
		want = min(len(q.Lead), 5)
	}
	recall = min(1, float64(len(inFive))/float64(want))
	if rank < 1 || recall < 1 {
		t.Logf("%q: reciprocal rank %.2f, recall %.2f: %v", q.Ask, rank, recall, first)
	}
	return rank, recall
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

func embedded(t testing.TB) *kb.Base {
	base, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	return base
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
