package quantity

import (
	"strings"
	"unicode/utf8"
)

// maxText is the length in bytes above which a text is not a quantity.
const maxText = 500

// spelling turns what keyboards, word processors and tables put into a quantity into the plain form that is parsed.
var spelling = strings.NewReplacer(
	"\u00a0", " ", "\u2009", " ", "\u202f", " ", "\u2007", " ", "\u2002", " ", "\u2003", " ", "\t", " ",
	"\u2212", "-", "\u2010", "-", "\u2011", "-", "\u2012", "-", "\u2013", "-", "\u2014", "-",
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "⅓", " 1/3", "⅔", " 2/3",
	"\u2044", "/", "\u2215", "/",
	"²", "2", "³", "3", "¹", "1", "⁻", "-", "√s", "s0.5", "√h", "h0.5",
	"·", "*", "\u22c5", "*", "\u2219", "*", "\u2022", "*", "×", "*",
	"µ", "u", "μ", "u", "º", "°", "℃", "°C", "℉", "°F",
	"''", `"`, "′′", `"`, "″", `"`, "”", `"`, "“", `"`, "′", "'", "’", "'", "‘", "'",
	" per ", "/",
)

// clean gives the plain form of a text, or the reason why it cannot be a quantity.
func clean(text string) (s, problem string) {
	switch {
	case len(text) > maxText:
		return "", "the text is too long for a quantity"
	case !utf8.ValidString(text):
		return "", "the text is not valid UTF-8"
	}
	s = strings.TrimSpace(spelling.Replace(text))
	if s == "" {
		return "", "a value is missing"
	}
	return s, ""
}

func isDigit(c byte) bool  { return '0' <= c && c <= '9' }
func isLetter(c byte) bool { return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' }

// digits gives the length of the run of digits at the start of s.
func digits(s string) int {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return n
}
