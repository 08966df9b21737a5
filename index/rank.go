package index

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	bleveindex "github.com/blevesearch/bleve_index_api"
)

// fieldWeight is how much it says about an entry that a word of the question
// stands in one of its fields.
type fieldWeight struct {
	field  string
	weight float64
}

// fieldWeights lists the fields that are searched. These weights and those below
// are set by hand on the judged questions.
func fieldWeights() []fieldWeight {
	return []fieldWeight{{fieldName, 1}, {fieldPlace, textWeight}, {fieldRole, roleWeight}, {fieldText, textWeight}, {fieldMore, 0.25}}
}

const (
	roleWeight   = 0.8  // of the field of roles
	textWeight   = 0.45 // of the field of text
	againWeight  = 0.1  // of a further field that has the word too
	placeWeight  = 0.5  // of a word that says where the thing goes
	nounWeight   = 1.3  // of the word that says what the thing is
	pairWeight   = 0.5  // of two words that stand together
	nameWeight   = 0.6  // of how well one name fits the whole question
	missedWeight = 0.4  // of the share of the question's words that an entry lacks
	notOne       = 0.7  // left of the score of what is not called what is asked for
	neverWeight  = 0.6  // left of the score of what says that it is not for where it is to go
	goneWeight   = 0.6  // left of the score of what is no longer made and never advised, where it is not named
	refinedCount = 40   // hits whose names are compared with the question
	exactBonus   = 10   // for what has the whole question as a name
	leastShare   = 0.4  // of the best score: what has less is no answer
)

// asked is a unit with what the index knows of it.
type asked struct {
	unit
	weight float64            // by how few entries have it
	found  map[uint64]float64 // entry in the index -> weight of its fields
}

// look finds the entries that have a unit.
func (s *session) look(u unit) (asked, error) {
	a := asked{unit: u, found: map[uint64]float64{}}
	for _, f := range fieldWeights() {
		in := map[uint64]bool{}
		for _, token := range u.tokens {
			if err := s.collect(token, f.field, in); err != nil {
				return a, err
			}
		}
		weight := f.weight
		if u.place && f.field == fieldPlace {
			weight = 1
		}
		for n := range in {
			best := math.Max(a.found[n], weight)
			a.found[n] = best + againWeight*math.Min(a.found[n], weight)
		}
	}
	a.weight = math.Log(1 + float64(len(s.ix.refs))/(1+float64(len(a.found))))
	switch {
	case u.place:
		a.weight *= placeWeight
	case u.noun:
		a.weight *= nounWeight
	}
	if u.pair {
		a.weight *= pairWeight
	}
	return a, nil
}

// refuse notes the entries that say they are not for where the thing goes.
// Refusals are read word by word: what is not for a shower may suit a bathroom.
func (s *session) refuse(a *answer, u unit) error {
	times := map[uint64]int{}
	for _, stem := range u.stems {
		in := map[uint64]bool{}
		if err := s.collect(stem, fieldNever, in); err != nil {
			return err
		}
		for n := range in {
			times[n]++
			if times[n] < len(u.stems) {
				continue
			}
			r, err := s.at(n)
			if err != nil {
				return err
			}
			a.refused[r.key()] = true
		}
	}
	return nil
}

// collect notes the entries that have a token in a field.
func (s *session) collect(token, field string, in map[uint64]bool) error {
	list, err := s.reader.TermFieldReader(context.Background(), []byte(token), field, false, false, false)
	if err != nil {
		return err
	}
	defer list.Close()
	var doc bleveindex.TermFieldDoc
	for {
		next, err := list.Next(doc.Reset())
		if err != nil || next == nil {
			return err
		}
		in[next.ID.Value()] = true
	}
}

// session is one use of the index.
type session struct {
	ix     *Index
	lang   *language
	reader bleveindex.IndexReader
	kinds  []Kind // that are looked for; empty: all
}

// wants says whether an entry is of a kind that is looked for.
func (s *session) wants(r ref) bool { return len(s.kinds) == 0 || slices.Contains(s.kinds, r.kind) }

// rank finds the entries that have something of the question, and how much.
func (s *session) rank(a *answer, q question) error {
	a.refused = map[string]bool{}
	for _, u := range q.units {
		if u.place {
			if err := s.refuse(a, u); err != nil {
				return err
			}
		}
		found, err := s.look(u)
		switch {
		case err != nil:
			return err
		case len(found.found) > 0:
			a.units = append(a.units, found)
		case !u.pair:
			a.ignored = append(a.ignored, u.text)
		}
	}
	a.keepOnlyPairs()
	excluded, err := s.excluded(a, q.without)
	if err != nil {
		return err
	}
	if err := s.collectHits(a, excluded); err != nil {
		return err
	}
	sortHits(a.hits)
	for i := range min(refinedCount, len(a.hits)) {
		h := &a.hits[i]
		fit := a.fit(s.lang.namesOf(entryOf(s.ix.base, h.ref).names))
		h.score += nameWeight * fit * fit * a.factor(h.ref)
	}
	sortHits(a.hits)
	a.cut()
	return nil
}

// keepOnlyPairs lets a pair stand for itself where none of the words was found
// alone.
func (a *answer) keepOnlyPairs() {
	if slices.ContainsFunc(a.units, func(u asked) bool { return !u.pair }) {
		return
	}
	for i := range a.units {
		a.units[i].pair = false
		a.ignored = nil
	}
}

// collectHits makes hits of all that has something of the question; a question
// that only says what must not be is met by all else.
func (s *session) collectHits(a *answer, excluded func(ref) bool) error {
	if len(a.units) == 0 && len(a.without) > 0 {
		for _, r := range s.ix.refs {
			if s.wants(r) && !excluded(r) {
				a.hits = append(a.hits, hit{ref: r})
			}
		}
		return nil
	}
	scored := a.scored()
	a.demand(scored)
	for n, score := range scored {
		r, err := s.at(n)
		if err != nil {
			return err
		}
		if s.wants(r) && !excluded(r) {
			a.hits = append(a.hits, hit{ref: r, score: score * a.factor(r)})
		}
	}
	return nil
}

// lead puts what has the whole question as a name in front, whatever its words
// would mean in a sentence: "Asphalt felt, No. 15".
func (s *session) lead(a *answer, words []string) error {
	in := map[uint64]bool{}
	if err := s.collect(strings.Join(words, "-"), fieldExact, in); err != nil {
		return err
	}
	for n := range in {
		r, err := s.at(n)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(a.hits, func(h hit) bool { return h.ref == r })
		if i < 0 {
			i = len(a.hits)
			a.hits = append(a.hits, hit{ref: r})
		}
		a.hits[i].score += exactBonus
	}
	sortHits(a.hits)
	return nil
}

// cut leaves out what has much less of the question than the best.
func (a *answer) cut() {
	for i, h := range a.hits {
		if h.score < leastShare*a.hits[0].score {
			a.hits = a.hits[:i]
			return
		}
	}
}

// scored adds up what each entry has of the units: 1 is everything, by name.
func (a *answer) scored() map[uint64]float64 {
	sum, count := 0.0, 0
	for _, u := range a.units {
		if !u.pair {
			sum += u.weight
			count++
		}
	}
	all, lacks := map[uint64]float64{}, map[uint64]int{}
	for _, u := range a.units {
		for n, weight := range u.found {
			if _, seen := lacks[n]; !seen {
				lacks[n] = count
			}
			if !u.pair {
				lacks[n]--
			}
			all[n] += weight * u.weight / sum
		}
	}
	for n := range all {
		all[n] *= 1 - missedWeight*float64(lacks[n])/float64(count)
		for _, u := range a.units {
			if u.noun && u.found[n] < roleWeight {
				all[n] *= notOne
			}
		}
	}
	return all
}

// demand leaves only what has the units that are no wish but a condition.
func (a *answer) demand(scored map[uint64]float64) {
	for _, u := range a.units {
		if !u.strict {
			continue
		}
		for n := range scored {
			if u.found[n] == 0 {
				delete(scored, n)
			}
		}
	}
}

// excluded gives the test for what must not be: it has the word as its name, its
// role, or in its adhesive.
func (s *session) excluded(a *answer, without []unit) (func(ref) bool, error) {
	named := map[string]bool{}
	for _, u := range without {
		a.without = append(a.without, u.text)
		found, err := s.look(u)
		if err != nil {
			return nil, err
		}
		for n, weight := range found.found {
			if weight < roleWeight {
				continue
			}
			r, err := s.at(n)
			if err != nil {
				return nil, err
			}
			named[r.key()] = true
		}
	}
	return func(r ref) bool {
		if m := r.material(); m != nil && len(without) > 0 && !named[r.key()] {
			tokens := s.lang.proseTokens(m.Composition.Adhesive)
			return slices.ContainsFunc(without, func(u unit) bool { return u.in(tokens) })
		}
		return named[r.key()]
	}, nil
}

// at gives the entry that the index knows by a number of its own; its name there
// is its place among all.
func (s *session) at(n uint64) (ref, error) {
	name, err := s.reader.ExternalID(bleveindex.NewIndexInternalID(nil, n))
	if err != nil {
		return ref{}, err
	}
	place, err := strconv.Atoi(name)
	if err != nil || place < 0 || place >= len(s.ix.refs) {
		return ref{}, fmt.Errorf("search index names an entry %q, which the base does not have", name)
	}
	return s.ix.refs[place], nil
}

// sortHits orders hits by score, equals by kind and id.
func sortHits(hits []hit) {
	kinds := Kinds()
	slices.SortFunc(hits, func(x, y hit) int {
		return cmp.Or(cmp.Compare(y.score, x.score), cmp.Compare(slices.Index(kinds, x.kind), slices.Index(kinds, y.kind)), cmp.Compare(x.id, y.id))
	})
}
