package index

// answer is what the words of a query found.
type answer struct {
	hits     []hit
	units    []asked
	readings []Reading
	ignored  []string
	without  []string
	instead  string
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
