package index

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/blevesearch/bleve/v2/analysis"
	"github.com/blevesearch/bleve/v2/analysis/token/porter"
)

// maxText is the number of bytes of a text that are read; the rest is ignored.
const maxText = 4096

// maxWords is the number of words of a question that are read.
const maxWords = 40

// signs brings what keyboards and word processors put into a text into the form
// in which words are compared. Quotation marks and apostrophes vanish, so that
// "doesn't" is one word.
func signs() *strings.Replacer {
	return strings.NewReplacer(
		"½", " 1/2 ", "¼", " 1/4 ", "¾", " 3/4 ", "⅛", " 1/8 ", "⅜", " 3/8 ", "⅝", " 5/8 ", "⅞", " 7/8 ", "⅓", " 1/3 ", "⅔", " 2/3 ",
		"\u2044", "/", "\u2215", "/", "'", "", "’", "", "‘", "", "\"", "", "”", "", "“", "",
		"é", "e", "è", "e", "ê", "e", "ö", "o", "ü", "u", "ä", "a", "ñ", "n", "ç", "c", "à", "a", "ô", "o", "î", "i",
	)
}

// british lists parts of words in British spelling with the American one.
func british() [][2]string {
	return [][2]string{
		{"fibre", "fiber"},
		{"mould", "mold"},
		{"vapour", "vapor"},
		{"colour", "color"},
		{"grey", "gray"},
		{"aluminium", "aluminum"},
		{"centre", "center"},
		{"metre", "meter"},
	}
}

// plainText gives a text in lower case, plain signs and American spelling.
func (l *language) plainText(text string) string {
	text = strings.ToLower(text)
	if strings.ContainsFunc(text, func(r rune) bool { return r >= utf8.RuneSelf || r == '\'' || r == '"' }) {
		text = l.signs.Replace(text)
	}
	for _, pair := range british() {
		text = strings.ReplaceAll(text, pair[0], pair[1])
	}
	return text
}

// words gives the words of a text in lower case. A word is a run of letters, a
// number with its decimals or its bar (3.5, 1/2), a size such as 2x4, or letters
// joined by "&" (T&G). A number and the unit written onto it are two words.
func (l *language) words(text string) []string {
	if len(text) > maxText {
		text = text[:maxText]
	}
	runes := []rune(l.plainText(text))
	var all []string
	start := -1
	for i := 0; i <= len(runes); i++ {
		if i < len(runes) && inWord(runes, i) {
			switch {
			case start < 0:
				start = i
			case unitStarts(runes, i):
				all = append(all, string(runes[start:i]))
				start = i
			}
			continue
		}
		if start >= 0 {
			all = append(all, string(runes[start:i]))
			start = -1
		}
	}
	return all
}

// inWord says whether the rune belongs to a word.
func inWord(runes []rune, i int) bool {
	r := runes[i]
	if r != unicode.ReplacementChar && (unicode.IsLetter(r) || unicode.IsDigit(r)) {
		return true
	}
	if i == 0 || i+1 == len(runes) {
		return false
	}
	before, after := runes[i-1], runes[i+1]
	switch r {
	case '.', '/':
		return unicode.IsDigit(before) && unicode.IsDigit(after)
	case '&':
		return unicode.IsLetter(before) && unicode.IsLetter(after)
	}
	return false
}

// unitStarts says whether letters follow a number as its unit: 6mil, but not 2x4.
func unitStarts(runes []rune, i int) bool {
	if !unicode.IsLetter(runes[i]) || !unicode.IsDigit(runes[i-1]) {
		return false
	}
	return runes[i] != 'x' || i+1 == len(runes) || !unicode.IsDigit(runes[i+1])
}

// stem reduces a word to its stem, so that boards is found by board.
func stem(word string) string {
	stream := analysis.TokenStream{{Term: []byte(word)}}
	return string(porter.NewPorterStemmer().Filter(stream)[0].Term)
}

// isStop says whether a word carries no meaning of its own in a question.
func isStop(word string) bool {
	switch word {
	case "a", "an", "the", "my", "our", "your", "its", "it", "this", "that", "these", "those", "thats", "there",
		"i", "we", "you", "me", "us", "they", "he", "she", "who", "whom",
		"is", "are", "was", "were", "be", "been", "am", "do", "does", "did", "dont", "doesnt", "has", "have", "had",
		"can", "could", "should", "would", "will", "may", "might", "must", "shall",
		"what", "which", "how", "why", "when", "where", "whats", "whose",
		"and", "or", "but", "so", "than", "then", "also", "too", "very", "much", "many", "more", "most", "some", "any", "all", "as", "if", "just", "only", "really",
		"of", "with", "from", "by", "about", "up", "out", "off",
		"for", "in", "on", "at", "to", "under", "over", "behind", "against", "into", "inside", "between", "onto", "around", "above", "below", "beneath", "right",
		"use", "used", "using", "put", "get", "need", "want", "like", "make", "made", "find", "take", "go", "goes", "install", "installed", "buy",
		"good", "best", "better", "nice", "something", "anything", "thing", "things", "stuff", "kind", "sort", "type", "types", "material", "materials", "product", "products", "not":
		return true
	}
	return false
}

// isPlaceWord says whether what follows the word is where something goes, not
// what it is: "paint for old plaster".
func isPlaceWord(word string) bool {
	switch word {
	case "for", "in", "on", "at", "to", "under", "over", "behind", "against", "into", "inside", "between", "onto", "around", "above", "below", "beneath":
		return true
	}
	return false
}

// clauses cuts sentences at their punctuation marks; a point within a number
// stays.
func clauses(text string) []string {
	return strings.FieldsFunc(strings.ReplaceAll(text+" ", ". ", "\n"), func(r rune) bool {
		return strings.ContainsRune(",;:()\n", r)
	})
}

// refuses says whether the rest of a clause is what something must not be used
// for.
func refuses(word string) bool { return word == "not" || word == "never" || word == "cannot" }

// setsApart says whether the rest of a clause is what something is not.
func setsApart(word string) bool {
	switch word {
	case "than", "unlike", "without", "instead", "not", "no", "never", "cannot", "against":
		return true
	}
	return false
}
