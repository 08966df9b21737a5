package index

import (
	"context"
	"strings"
	"unicode"
	"unicode/utf8"

	bleveindex "github.com/blevesearch/bleve_index_api"
)

// Reading is a word that was taken for another one.
type Reading struct {
	Typed string
	Read  string
}

// speller mends words that no entry has.
type speller struct {
	lang   *language
	reader bleveindex.IndexReader
}

// mend gives the words with slips mended, and what was mended. A word that is
// known as it stands, alone or written together with its neighbor, stays. The
// last word may be the beginning of one.
func (s *speller) mend(words []string) (mended []string, readings []Reading, err error) {
	for i, w := range words {
		known, err := s.known(words, i)
		if err != nil {
			return nil, nil, err
		}
		if known {
			mended = append(mended, w)
			continue
		}
		read, err := s.suggest(words, i)
		if err != nil {
			return nil, nil, err
		}
		if read == "" {
			mended = append(mended, w)
			continue
		}
		mended = append(mended, read)
		readings = append(readings, Reading{Typed: w, Read: read})
	}
	return mended, readings, nil
}

// known says whether a word needs no mending.
func (s *speller) known(words []string, i int) (bool, error) {
	w := words[i]
	if isGrammar(w) || s.lang.vocabulary[w] || strings.ContainsFunc(w, unicode.IsDigit) {
		return true, nil
	}
	keys := []string{s.lang.joined(words[i : i+1])}
	if i > 0 {
		keys = append(keys, s.lang.joined(words[i-1:i+1]))
	}
	if i+1 < len(words) {
		keys = append(keys, s.lang.joined(words[i:i+2]))
	}
	for _, key := range keys {
		if _, ok := s.lang.groups[key]; ok {
			return true, nil
		}
		for _, f := range fieldWeights() {
			if n, err := count(s.reader, f.field, key); n > 0 || err != nil {
				return n > 0, err
			}
		}
	}
	return false, nil
}

// count gives the number of entries with a token in a field.
func count(r bleveindex.IndexReader, field, token string) (uint64, error) {
	list, err := r.TermFieldReader(context.Background(), []byte(token), field, false, false, false)
	if err != nil {
		return 0, err
	}
	defer list.Close()
	return list.Count(), nil
}

// The fewest letters of a word that is read as the beginning of another, which
// only the last word of a question is, and of one with a slip or two.
const (
	leastBegun    = 2
	leastOneSlip  = 4
	leastTwoSlips = 7
)

// mostMended is the number of letters of the longest word that is mended; longer
// than any in the base, and few enough for the search engine.
const mostMended = 24

// suggest gives the word of a name or a role that was probably meant, or nothing.
func (s *speller) suggest(words []string, i int) (string, error) {
	if i+1 == len(words) {
		if found, err := s.completed(words, i); found != "" || err != nil {
			return found, err
		}
	}
	return s.mended(words[i])
}

// completed gives the word that begins as typed: as in a name that begins as all
// that was typed, else the commonest.
func (s *speller) completed(words []string, i int) (string, error) {
	if utf8.RuneCountInString(words[i]) < leastBegun {
		return "", nil
	}
	name, err := s.commonest(fieldExact, strings.Join(words, "-"))
	if err != nil {
		return "", err
	}
	if parts := strings.Split(name, "-"); len(parts) > i {
		return parts[i], nil
	}
	return s.commonest(fieldWord, words[i])
}

// commonest gives the token of a field with a beginning that most entries have.
func (s *speller) commonest(field, beginning string) (string, error) {
	list, err := s.reader.FieldDictPrefix(field, []byte(beginning))
	if err != nil {
		return "", err
	}
	return s.pick(list, field)
}

// mended gives the word with the fewest slips, the first letter being right.
func (s *speller) mended(w string) (string, error) {
	slips := 0
	switch letters := utf8.RuneCountInString(w); {
	case letters > mostMended:
	case letters >= leastTwoSlips:
		slips = 2
	case letters >= leastOneSlip:
		slips = 1
	}
	fuzzy, ok := s.reader.(bleveindex.IndexReaderFuzzy)
	if !ok {
		return "", nil
	}
	first, _ := utf8.DecodeRuneInString(w)
	for n := 1; n <= slips; n++ {
		list, err := fuzzy.FieldDictFuzzy(fieldWord, w, n, string(first))
		if err != nil {
			return "", err
		}
		found, err := s.pick(list, fieldWord)
		if found != "" || err != nil {
			return found, err
		}
	}
	return "", nil
}

// pick gives the token of a list that most entries have, of equals the first in
// the alphabet. The list itself may have no counts.
func (s *speller) pick(list bleveindex.FieldDict, field string) (string, error) {
	defer list.Close()
	best, most := "", uint64(0)
	for {
		next, err := list.Next()
		if err != nil || next == nil {
			return best, err
		}
		n, err := count(s.reader, field, next.Term)
		if err != nil {
			return "", err
		}
		if n > most || n == most && next.Term < best {
			best, most = next.Term, n
		}
	}
}
