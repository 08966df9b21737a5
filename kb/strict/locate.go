package strict

import (
	"bytes"
	"errors"
	"io"
	"strings"

	"gopkg.in/yaml.v3"
)

// locator finds the place of a syntax error. The library names at best the line where the list or mapping around it
// began. What is before the error can be read by itself, so the error lies behind the longest beginning of the file
// that is YAML; for a bracket or a quote that is never closed, that is where it opens.
type locator struct {
	data   []byte
	starts []int // offset of each line
	budget int   // bytes that may still be parsed
}

// locateBudget bounds the work for one error.
const locateBudget = 2 << 20

// lookahead is the number of lines after which a list or a text over several lines is taken for broken.
const lookahead = 60

// locate gives line and column of the first character that cannot be read. ok is false when the file is too large to
// search.
func locate(data []byte) (line, column int, ok bool) {
	l := locator{data: data, budget: locateBudget, starts: []int{0}}
	for i, c := range data {
		if c == '\n' {
			l.starts = append(l.starts, i+1)
		}
	}
	good := l.lines()
	if good == len(l.starts) || l.budget <= 0 {
		return 0, 0, false
	}
	return good + 1, l.column(good), true
}

// lines gives the number of lines that can be read by themselves.
func (l *locator) lines() int {
	good := 0
	for {
		good = l.boundary(good)
		// Inside a list or a quoted text over several lines a beginning cannot be read either: look for its end.
		next := good + 2
		for next < len(l.starts) && next <= good+lookahead && !l.reads(next) {
			next++
		}
		if next >= len(l.starts) || next > good+lookahead || l.budget <= 0 {
			return good
		}
		good = next
	}
}

// boundary finds by halving a number of lines, at least good, that can be read while one more cannot.
func (l *locator) boundary(good int) int {
	bad := len(l.starts)
	for bad-good > 1 && l.budget > 0 {
		if middle := (good + bad) / 2; l.reads(middle) {
			good = middle
		} else {
			bad = middle
		}
	}
	return good
}

// reads says whether the first n lines can be read.
func (l *locator) reads(n int) bool {
	if n >= len(l.starts) {
		return l.readable(len(l.data))
	}
	return l.readable(l.starts[n])
}

// column finds the first character behind the longest readable beginning of a line, and gives 1 for a line that is too
// long to search.
func (l *locator) column(line int) int {
	start, end := l.starts[line], len(l.data)
	if line+1 < len(l.starts) {
		end = l.starts[line+1]
	}
	text := strings.TrimRight(string(l.data[start:end]), "\r\n")
	runes := []rune(text)
	for n := len(runes) - 1; n >= 0 && l.budget > 0; n-- {
		if l.readable(start + len(string(runes[:n]))) {
			for n < len(runes)-1 && runes[n] == ' ' {
				n++
			}
			return n + 1
		}
	}
	return 1
}

// readable says whether the first n bytes are YAML.
func (l *locator) readable(n int) bool {
	l.budget -= n + 1
	d := yaml.NewDecoder(bytes.NewReader(l.data[:n]))
	for {
		var node yaml.Node
		if err := d.Decode(&node); err != nil {
			return errors.Is(err, io.EOF)
		}
	}
}
