package index

import (
	"slices"
	"strings"

	"relath/kb"
)

// language knows the words that mean the same. A use of it remembers the stems
// it has found; see [language.fresh].
type language struct {
	signs      *strings.Replacer
	groups     map[string]string // a phrase without its spaces -> the token of its group
	vocabulary map[string]bool   // the words of all phrases
	starts     map[string]bool   // the first letters of all phrases
	longest    int               // words of the longest phrase
	stems      map[string]string // found so far; nil: none are kept
}

// newLanguage reads the groups of synonyms. A phrase that stands in two groups
// belongs to the first.
func newLanguage(base *kb.Base) *language {
	l := &language{signs: signs(), groups: map[string]string{}, vocabulary: map[string]bool{}, starts: map[string]bool{}, longest: 1}
	for _, group := range base.Synonyms {
		if len(group) == 0 {
			continue
		}
		token := "=" + strings.Join(l.words(group[0]), "-")
		for _, phrase := range group {
			l.add(l.words(phrase), token)
		}
	}
	return l
}

// add puts a phrase into the group of a token.
func (l *language) add(words []string, token string) {
	key := l.joined(words)
	if key == "" {
		return
	}
	if _, taken := l.groups[key]; !taken {
		l.groups[key] = token
	}
	l.starts[start(words)] = true
	l.starts[start([]string{key})] = true
	for _, w := range words {
		l.vocabulary[w] = true
	}
	// One more, since a word of the phrase may be written as two.
	l.longest = max(l.longest, len(words)+1)
}

// fresh gives the language for one use by one goroutine, which remembers the
// stems it finds.
func (l *language) fresh() *language {
	own := *l
	own.stems = map[string]string{}
	return &own
}

// stem reduces a word to its stem, so that boards is found by board.
func (l *language) stem(word string) string {
	if s, ok := l.stems[word]; ok {
		return s
	}
	s := stem(word)
	if l.stems != nil {
		l.stems[word] = s
	}
	return s
}

// startLetters is the number of first letters by which most words are known at
// once to begin no phrase.
const startLetters = 3

func start(words []string) string {
	letters := ""
	for i := 0; i < len(words) && len(letters) < startLetters; i++ {
		letters += words[i]
	}
	return letters[:min(startLetters, len(letters))]
}

// joined writes words without spaces, the last one as its stem: "house wraps"
// and "housewrap" are the same.
func (l *language) joined(words []string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return l.stem(words[0])
	}
	return l.stem(strings.Join(words, ""))
}

// piece is a phrase that belongs to a group of synonyms, or a single word.
type piece struct {
	words []string
	group string // token of the group, or empty
	stem  string // of a single word
}

// text gives the words of a piece with spaces between.
func (p piece) text() string { return strings.Join(p.words, " ") }

// isStop says whether a piece is a word without meaning of its own.
func (p piece) isStop() bool { return p.group == "" && isStop(p.words[0]) }

// pieces cuts words into the longest known phrases and single words.
func (l *language) pieces(words []string) []piece {
	all := make([]piece, 0, len(words))
	for i := 0; i < len(words); {
		n, group := l.phrase(words[i:])
		p := piece{words: words[i : i+n], group: group}
		if n == 1 {
			p.stem = l.stem(words[i])
		}
		all = append(all, p)
		i += n
	}
	return all
}

// phrase gives the length of the longest known phrase at the start of the words
// and the token of its group; without one, a single word.
func (l *language) phrase(words []string) (n int, group string) {
	if !l.starts[start(words)] {
		return 1, ""
	}
	for n = min(l.longest, len(words)); n > 0; n-- {
		if token, ok := l.groups[l.joined(words[:n])]; ok {
			return n, token
		}
	}
	return 1, ""
}

// name is a name or a role cut into what it is found by.
type name struct {
	text   string
	pieces []piece
	tokens []string // the stem of each word, the token of each phrase, each two words written as one
	plain  int      // number of the tokens that join no words
	head   []string // the tokens before a word such as "in"; a wall in lime mortar is no mortar
	tail   []string // those after it
	pairs  []string // of the tokens the pairs: pairs[i] joins the words i and i+1; empty where one is a small word
}

// nameOf cuts a name or a role.
func (l *language) nameOf(text string) name {
	n := name{text: text}
	for _, clause := range clauses(text) {
		pieces := l.pieces(l.words(clause))
		head := headOf(pieces)
		n.pieces = append(n.pieces, pieces...)
		n.head = append(n.head, l.tokensOf(pieces[:head])...)
		n.tail = append(n.tail, l.tokensOf(pieces[head:])...)
	}
	n.tokens = slices.Concat(n.head, n.tail)
	n.plain = len(n.tokens)
	words := l.words(text)
	for i := 1; i < len(words); i++ {
		pair := ""
		if !isStop(words[i-1]) && !isStop(words[i]) {
			pair = l.joined(words[i-1 : i+1])
			n.tokens = append(n.tokens, pair)
		}
		n.pairs = append(n.pairs, pair)
	}
	return n
}

// headOf counts the pieces before the first word that says where the thing goes.
func headOf(pieces []piece) int {
	for i, p := range pieces {
		if i > 0 && p.group == "" && isPlaceWord(p.words[0]) {
			return i
		}
	}
	return len(pieces)
}

// namesOf cuts several.
func (l *language) namesOf(texts []string) []name {
	all := make([]name, len(texts))
	for i, t := range texts {
		all[i] = l.nameOf(t)
	}
	return all
}

func (l *language) tokensOf(pieces []piece) []string {
	var all []string
	for _, p := range pieces {
		if p.group != "" {
			all = append(all, p.group)
		}
		for _, w := range p.words {
			if !isStop(w) {
				all = append(all, l.stem(w))
			}
		}
	}
	return all
}

// proseTokens gives what an entry is found by in sentences: stems and phrases,
// without what the sentence sets the entry apart from. "Harder than old brick"
// does not make a mortar old brick.
func (l *language) proseTokens(text string) []string {
	var all []string
	for _, clause := range clauses(text) {
		pieces := l.pieces(l.words(clause))
		for i, p := range pieces {
			if p.group == "" && setsApart(p.words[0]) {
				pieces = pieces[:i]
				break
			}
		}
		all = append(all, l.tokensOf(pieces)...)
	}
	return all
}

// refusedTokens gives what sentences say that the entry is not for: "never for
// old brick".
func (l *language) refusedTokens(text string) []string {
	var all []string
	for _, clause := range clauses(text) {
		pieces := l.pieces(l.words(clause))
		for i, p := range pieces {
			if p.group == "" && refuses(p.words[0]) {
				all = append(all, l.tokensOf(pieces[i+1:])...)
				break
			}
		}
	}
	return all
}

// wordText joins the plain words of texts with spaces, for mending slips.
func (l *language) wordText(texts []string) string {
	var all []string
	for _, t := range texts {
		for _, w := range l.words(t) {
			if !isStop(w) {
				all = append(all, w)
			}
		}
	}
	return strings.Join(all, " ")
}

// exact gives each text as one token.
func (l *language) exact(texts []string) []string {
	all := make([]string, len(texts))
	for i, t := range texts {
		all[i] = strings.Join(l.words(t), "-")
	}
	return all
}
