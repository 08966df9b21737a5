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
		read, err := s.suggest(w, i+1 == len(words))
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
		for _, f := range fieldWeights {
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

// suggest gives the word of a name or a role that was probably meant, or
// nothing: of those that begin as typed the commonest, else of those with the
// fewest slips, the first letter being right.
func (s *speller) suggest(w string, last bool) (string, error) {
	letters := len([]rune(w))
	if last && letters >= leastBegun {
		list, err := s.reader.FieldDictPrefix(fieldWord, []byte(w))
		if err != nil {
			return "", err
		}
		if found, err := s.pick(list); found != "" || err != nil {
			return found, err
		}
	}
	slips := 0
	switch {
	case letters >= leastTwoSlips:
		slips = 2
	case letters >= leastOneSlip:
		slips = 1
	}
	fuzzy, ok := s.reader.(bleveindex.IndexReaderFuzzy)
	if !ok {
		return "", nil
	}
	for n := 1; n <= slips; n++ {
		first, _ := utf8.DecodeRuneInString(w)
		list, err := fuzzy.FieldDictFuzzy(fieldWord, w, n, string(first))
		if err != nil {
			return "", err
		}
		if found, err := s.pick(list); found != "" || err != nil {
			return found, err
		}
	}
	return "", nil
}

// pick gives the commonest word of a list, of equals the first in the alphabet.
func (s *speller) pick(list bleveindex.FieldDict) (string, error) {
	defer list.Close()
	best, most := "", uint64(0)
	for {
		next, err := list.Next()
		if err != nil || next == nil {
			return best, err
		}
		// The list of words with slips has no counts.
		n, err := count(s.reader, fieldWord, next.Term)
		if err != nil {
			return "", err
		}
		if n > most || n == most && next.Term < best {
			best, most = next.Term, n
		}
	}
}
