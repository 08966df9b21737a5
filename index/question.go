package index

import (
	"slices"
	"strings"
	"unicode"
)

// question is what the words of a query ask for.
type question struct {
	units   []unit
	without []unit   // what a hit must not be
	instead []string // words of what is to be replaced
}

// unit is one thing that a hit should have: a word, a known phrase, or a pair
// of words that may be written as one.
type unit struct {
	text   string   // as asked
	tokens []string // any of these will do
	stems  []string // of the words as asked
	strict bool     // a condition, as "no glue"
	pair   bool     // stands beside the two words it joins
	place  bool     // where the thing goes, not what it is
	noun   bool     // what the thing is: the last word before a small one, as in "breathable paint for old plaster"
}

// ask reads words as a question.
func (l *language) ask(words []string) question {
	rest, instead := cutInstead(words)
	r := &questionReader{lang: l, pieces: l.pieces(rest), noun: -1}
	for i := 0; i < len(r.pieces); {
		i += r.next(i)
	}
	if r.noun >= 0 {
		r.units[r.noun].noun = true
	}
	return question{units: r.units, without: r.without, instead: instead}
}

// questionReader reads a question from left to right.
type questionReader struct {
	lang    *language
	pieces  []piece
	units   []unit
	without []unit
	place   bool // what comes is where the thing goes
	closed  bool // what the thing is has been said
	noun    int  // place in units of what the thing is, or -1
}

// next reads on from a piece and gives the number of pieces read.
func (r *questionReader) next(i int) int {
	p := r.pieces[i]
	word := p.words[0]
	switch {
	case p.group == "" && isWithout(word):
		r.closed = len(r.units) > 0
		n := excluded(word, r.pieces[i+1:])
		r.without = append(r.without, r.lang.unitsOf(r.pieces[i+1:i+1+n])...)
		return n + 1
	case r.isFree(i):
		r.without = append(r.without, r.lang.unit(p))
		return 2
	case p.isStop():
		r.closed = r.closed || len(r.units) > 0
		r.place = placeAfter(word, r.place, len(r.units) > 0)
		return 1
	}
	r.add(i)
	last := p.words[len(p.words)-1]
	r.place = placeAfter(last, r.place, true)
	r.closed = r.closed || isPlaceWord(last)
	return 1
}

// isFree says whether a piece stands before "free", as in "vinyl free".
func (r *questionReader) isFree(i int) bool {
	if i+1 == len(r.pieces) || r.pieces[i].isStop() {
		return false
	}
	next := r.pieces[i+1]
	return next.group == "" && next.words[0] == "free"
}

// add takes a piece that carries meaning.
func (r *questionReader) add(i int) {
	p := r.pieces[i]
	u := r.lang.unit(p)
	u.place = r.place || isNumber(p)
	if !r.closed && !u.strict && !u.place {
		r.noun = len(r.units)
	}
	r.units = append(r.units, u)
	if i+1 < len(r.pieces) {
		r.units = r.lang.appendPair(r.units, p, r.pieces[i+1], r.place)
	}
}

// unit makes the unit of a piece.
func (l *language) unit(p piece) unit {
	u := unit{text: p.text(), strict: len(p.words) > 1 && (slices.ContainsFunc(p.words, isWithout) || p.words[len(p.words)-1] == "free")}
	for _, w := range p.words {
		u.stems = append(u.stems, l.stem(w))
	}
	if p.stem != "" {
		u.tokens = append(u.tokens, p.stem)
	}
	if p.group != "" {
		u.tokens = append(u.tokens, p.group)
	}
	return u
}

func (l *language) unitsOf(pieces []piece) []unit {
	var all []unit
	for _, p := range pieces {
		all = append(all, l.unit(p))
	}
	return all
}

// appendPair adds the two words written as one, where both are plain words.
func (l *language) appendPair(units []unit, a, b piece, place bool) []unit {
	if a.stem == "" || b.stem == "" || isStop(a.words[0]) || isStop(b.words[0]) {
		return units
	}
	both := []string{a.words[0], b.words[0]}
	return append(units, unit{text: a.text() + " " + b.text(), tokens: []string{l.joined(both)}, pair: true, place: place})
}

// placeAfter says whether what follows a word is where something goes.
func placeAfter(word string, place, asked bool) bool {
	switch {
	case isPlaceWord(word):
		return asked
	case word == "that" || word == "which" || word == "with" || word == "and":
		return false
	}
	return place
}

// isWithout says whether what follows the word is not wanted.
func isWithout(word string) bool {
	return slices.Contains([]string{"no", "without", "not", "non", "except", "avoid", "avoiding", "never", "minus"}, word)
}

// excluded counts the pieces that belong to a "without": one after "no", so that
// "no plastic house wrap" is a house wrap, up to two after the others.
func excluded(word string, pieces []piece) int {
	most := 2
	if word == "no" || word == "non" {
		most = 1
	}
	n := 0
	for n < len(pieces) && n < most && !pieces[n].isStop() {
		n++
	}
	return n
}

// The phrases in front of what is to be replaced, and behind it.
func insteadBefore() [][]string {
	return [][]string{
		{"instead", "of"},
		{"in", "place", "of"},
		{"in", "lieu", "of"},
		{"rather", "than"},
		{"other", "than"},
		{"else", "than"},
		{"alternative", "to"},
		{"alternatives", "to"},
		{"alternative", "for"},
		{"alternatives", "for"},
		{"substitute", "for"},
		{"substitutes", "for"},
		{"replacement", "for"},
		{"replacements", "for"},
		{"replacement", "of"},
		{"replace"},
		{"replaces"},
		{"replacing"},
		{"swap", "out"},
		{"swap"},
		{"get", "rid", "of"},
	}
}

func insteadAfter() []string {
	return []string{"alternative", "alternatives", "substitute", "substitutes", "replacement", "replacements"}
}

// cutInstead takes what is to be replaced out of the words.
func cutInstead(words []string) (rest, instead []string) {
	for i := range words {
		for _, phrase := range insteadBefore() {
			if n := len(phrase); i+n < len(words) && slices.Equal(words[i:i+n], phrase) {
				end := insteadEnd(words, i+n)
				return slices.Concat(words[:i], []string{"with"}, words[end:]), words[i+n : end]
			}
		}
		if i > 0 && slices.Contains(insteadAfter(), words[i]) {
			return words[i+1:], words[:i]
		}
	}
	return words, nil
}

// isNumber says whether a piece is a bare number, which says little.
func isNumber(p piece) bool {
	return p.stem != "" && !strings.ContainsFunc(p.words[0], unicode.IsLetter)
}

// isGrammar says whether a word belongs to the way of asking.
func isGrammar(word string) bool {
	if isStop(word) || isWithout(word) || word == "free" || slices.Contains(insteadAfter(), word) {
		return true
	}
	return slices.ContainsFunc(insteadBefore(), func(phrase []string) bool { return slices.Contains(phrase, word) })
}

// insteadEnd finds the end of what is to be replaced.
func insteadEnd(words []string, from int) int {
	end := from
	for end < len(words) && (end == from || words[end] != "with" && words[end] != "that" && words[end] != "which" &&
		words[end] != "and" && words[end] != "but" && words[end] != "by" && words[end] != "without" && !isPlaceWord(words[end])) {
		end++
	}
	return end
}
