package strict

import (
	"bytes"
	"fmt"
	"unicode"
	"unicode/utf8"
)

// checkBytes refuses bytes that are not UTF-8 text, and characters that an editor and the YAML library would count as
// different lines.
func checkBytes(doc *Document, data []byte) *Problem {
	if bytes.HasPrefix(data, []byte("\xFF\xFE")) || bytes.HasPrefix(data, []byte("\xFE\xFF")) {
		p := doc.Problem(Pos{}, "the file is UTF-16", "save it as UTF-8")
		return &p
	}
	line, column := 1, 1
	for i := 0; i < len(data); {
		r, size := utf8.DecodeRune(data[i:])
		next := i + size
		message := ""
		switch {
		case r == utf8.RuneError && size == 1:
			message = fmt.Sprintf("byte 0x%02X is not UTF-8", data[i])
		case r == '\r' && (next == len(data) || data[next] != '\n'):
			message = "a carriage return stands alone"
		case isForbidden(r) && r != '\r':
			message = fmt.Sprintf("control character U+%04X is not allowed", r)
		}
		if message != "" {
			p := doc.Problem(Pos{Line: line, Column: column}, message, "save the file as plain UTF-8 text")
			return &p
		}
		column++
		if r == '\n' {
			line, column = line+1, 1
		}
		i = next
	}
	return nil
}

// isForbidden says whether a character has no place in the text of a file: controls but tab and line feed, the line and
// paragraph separators, and a byte order mark inside the text.
func isForbidden(r rune) bool {
	switch r {
	case '\n', '\t':
		return false
	case '\u2028', '\u2029', '\uFEFF':
		return true
	}
	return unicode.IsControl(r)
}
