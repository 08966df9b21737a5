package index

import (
	"slices"
	"strings"
)

// answer is what the words of a query found.
type answer struct {
	hits     []hit
	units    []asked
	readings []Reading
	ignored  []string
	without  []string
	instead  string
	refused  map[string]bool // keys of entries that say they are not for where the thing goes
	lang     *language
}

// answer ranks the entries of some kinds, or of all, by the words of a query.
func (ix *Index) answer(text string, kinds []Kind) (*answer, error) {
	reader, err := ix.reader()
	if err != nil {
		return nil, err
	}
	defer reader.Close()
	lang := ix.lang.fresh()
	s := &session{ix: ix, lang: lang, reader: reader, kinds: kinds}
	words := lang.words(text)
	if len(words) > maxWords {
		words = words[:maxWords]
	}
	a := &answer{lang: lang}
	asked := words
	speller := &speller{lang: lang, reader: reader}
	if words, a.readings, err = speller.mend(words); err != nil {
		return nil, err
	}
	q := lang.ask(words)
	if err := s.rank(a, q); err != nil {
		return nil, err
	}
	if len(q.instead) > 0 {
		if err := s.replace(a, q.instead); err != nil {
			return nil, err
		}
	}
	if err := s.lead(a, asked); err != nil {
		return nil, err
	}
	if len(a.readings) == 0 {
		return a, nil
	}
	return a, s.lead(a, words)
}

// factor lets what can be bought or done come before what is only said, what is
// not for it later, and what is gone and to be left alone last unless the
// question names it: vermiculite is no answer to who asks for loose insulation.
func (a *answer) factor(r ref) float64 {
	factor := kindFactor(r)
	if a.refused[r.key()] {
		factor *= neverWeight
	}
	if m := r.material(); m != nil && m.Advise == "no" && m.Available == "no-longer" && !a.names(m.Name) {
		factor *= goneWeight
	}
	return factor
}

// names says whether the question asks for a thing by its name proper, which is
// the first clause of it.
func (a *answer) names(text string) bool {
	first, _, _ := strings.Cut(text, ",")
	head := a.lang.nameOf(first).head
	return !slices.ContainsFunc(a.units, func(u asked) bool { return u.noun && !u.in(head) })
}

// kindFactor lets what can be bought or done come before what is only said.
func kindFactor(r ref) float64 {
	factor := 1.0
	switch r.kind {
	case Rule, Code, Caution:
		factor = 0.8
	case System:
		factor = 0.7
	}
	if m := r.material(); m != nil {
		if m.Advise == "no" {
			factor *= 0.9
		}
		if m.Available == "no-longer" {
			factor *= 0.93
		}
	}
	return factor
}
