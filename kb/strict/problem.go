package strict

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"relath/kb/quantity"
)

// Pos is a place in a file. Line and column count from 1, the column in characters; a zero line is the whole file.
type Pos struct {
	File   string `json:"file"`
	Line   int    `json:"line"`
	Column int    `json:"column"`
}

// String writes file:line:column, without what is unknown.
func (p Pos) String() string {
	switch {
	case p.Line == 0:
		return p.File
	case p.Column == 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// Problem is one thing that is wrong in a file.
type Problem struct {
	Pos
	Message string `json:"message"`          // what is wrong
	Hint    string `json:"hint,omitempty"`   // what is allowed, or was probably meant
	Source  string `json:"source,omitempty"` // the line
}

// Report takes a problem found while decoding.
type Report func(pos Pos, message, hint string)

// Problems are all problems of one or more files, sorted by place.
type Problems []Problem

// maxPrinted is the number of problems after which Error only counts.
const maxPrinted = 100

// Error writes every problem as file:line:column: message, the line with a caret below, and the hint.
func (ps Problems) Error() string {
	var b strings.Builder
	for i, p := range ps {
		if i == maxPrinted {
			fmt.Fprintf(&b, "and %d more\n", len(ps)-i)
			break
		}
		p.write(&b)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// Err gives the problems as an error, and nil when there are none.
func (ps Problems) Err() error {
	if len(ps) == 0 {
		return nil
	}
	return ps
}

// Sort puts problems from several sources in the order of files and places.
func (ps Problems) Sort() {
	slices.SortStableFunc(ps, func(a, b Problem) int {
		return cmp.Or(
			cmp.Compare(a.File, b.File),
			cmp.Compare(a.Line, b.Line),
			cmp.Compare(a.Column, b.Column),
			cmp.Compare(a.Message, b.Message),
		)
	})
}

// sorted gives a sorted copy without repeated problems.
func (ps Problems) sorted() Problems {
	list := slices.Clone(ps)
	list.Sort()
	return slices.Compact(list)
}

// String writes the problem as [Problems.Error] does.
func (p Problem) String() string {
	var b strings.Builder
	p.write(&b)
	return strings.TrimSuffix(b.String(), "\n")
}

// excerpt is the number of characters of a line that are shown.
const excerpt = 100

func (p Problem) write(b *strings.Builder) {
	fmt.Fprintf(b, "%s: %s\n", p.Pos, p.Message)
	if p.Line > 0 && strings.TrimSpace(p.Source) != "" {
		line, caret := p.shown()
		fmt.Fprintf(b, "%6d | %s\n", p.Line, line)
		if p.Column > 0 {
			fmt.Fprintf(b, "       | %s^\n", caret)
		}
	}
	if p.Hint != "" {
		fmt.Fprintf(b, "  hint: %s\n", p.Hint)
	}
}

// shown gives the line, cut around the column when it is long, and the blanks that bring the caret under it.
func (p Problem) shown() (line, caret string) {
	runes := []rune(p.Source)
	column := min(max(p.Column-1, 0), len(runes))
	start, before := 0, ""
	if column > excerpt*3/4 {
		start = column - excerpt/2
		before = "… "
	}
	end, after := len(runes), ""
	if end-start > excerpt {
		end, after = start+excerpt, " …"
	}
	pad := strings.Repeat(" ", len([]rune(before)))
	for _, r := range runes[start:column] {
		pad += blank(r)
	}
	return before + printable(string(runes[start:end])) + after, pad
}

// blank gives the white space as wide as the character on a terminal.
func blank(r rune) string {
	switch {
	case r == '\t':
		return "\t"
	case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		return ""
	case isWide(r):
		return "  "
	}
	return " "
}

// isWide says whether a terminal gives the character two columns: the East Asian and picture blocks of Unicode.
func isWide(r rune) bool {
	return 0x1100 <= r && r <= 0x115F || 0x2E80 <= r && r <= 0xA4CF || 0xAC00 <= r && r <= 0xD7A3 ||
		0xF900 <= r && r <= 0xFAFF || 0xFE30 <= r && r <= 0xFE6F || 0xFF00 <= r && r <= 0xFF60 ||
		0x1F300 <= r && r <= 0x1FAFF || 0x20000 <= r && r <= 0x3FFFD
}

// printable replaces what a terminal would obey rather than show.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if r != '\t' && unicode.IsControl(r) {
			return '\uFFFD'
		}
		return r
	}, s)
}

// Suggest gives the candidate closest to a misspelled word, and "" when none is close.
func Suggest(word string, candidates []string) string {
	return quantity.Suggest(word, candidates)
}

// maxListed is the number of allowed words up to which a hint lists them.
const maxListed = 20

// AllowedHint is the hint for a word that is none of the allowed ones: what was probably meant, and what is allowed.
func AllowedHint(word string, allowed []string) string {
	var parts []string
	if meant := Suggest(word, allowed); meant != "" {
		parts = append(parts, fmt.Sprintf("did you mean %q?", meant))
	}
	if len(allowed) > 0 && len(allowed) <= maxListed {
		parts = append(parts, "allowed: "+strings.Join(allowed, ", "))
	}
	return strings.Join(parts, " ")
}
