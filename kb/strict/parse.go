package strict

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Parse reads one YAML document. The document is nil when there are problems: a file that is too large, empty, not
// UTF-8 or not YAML, more than one document, duplicate keys, anchors, aliases, merge keys, tags, or a tree beyond the
// limits.
func Parse(file string, data []byte, limits Limits) (*Document, Problems) {
	return NewReader(limits).Parse(file, data)
}

// Parse reads one YAML document as the function [Parse] does.
func (r *Reader) Parse(file string, data []byte) (*Document, Problems) {
	doc := &Document{File: file}
	if len(data) > r.limits.Bytes {
		return nil, Problems{doc.Problem(Pos{}, fmt.Sprintf("the file has %d bytes; at most %d are allowed", len(data), r.limits.Bytes), "")}
	}
	data = bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF"))
	doc.lines = splitLines(data)
	if p := checkBytes(doc, data); p != nil {
		return nil, Problems{*p}
	}
	root, p := doc.parseYAML(data)
	if p != nil {
		return nil, Problems{*p}
	}
	b := builder{doc: doc, limits: r.limits, types: &r.types}
	doc.Root = b.value(root, 0)
	if doc.Root != nil && doc.Root.Kind == Null && len(b.problems) == 0 {
		b.report(doc.Root.Pos, "the document is empty", "")
	}
	if len(b.problems) > 0 {
		return nil, b.problems.sorted()
	}
	return doc, nil
}

func splitLines(data []byte) []string {
	lines := strings.Split(string(data), "\n")
	for i, l := range lines {
		lines[i] = strings.TrimSuffix(l, "\r")
	}
	return lines
}

// parseYAML gives the content of the only document of a file.
func (d *Document) parseYAML(data []byte) (root *yaml.Node, problem *Problem) {
	// The library panics on a few malformed inputs where it should return an error; bytes from a user must not.
	defer func() {
		if r := recover(); r != nil {
			p := d.Problem(Pos{}, "the file is not YAML that can be read", "")
			root, problem = nil, &p
		}
	}()
	decoder := yaml.NewDecoder(bytes.NewReader(data))
	var first, second yaml.Node
	switch err := decoder.Decode(&first); {
	case errors.Is(err, io.EOF):
		p := d.Problem(Pos{}, "the file is empty", "")
		return nil, &p
	case err != nil:
		return nil, d.syntaxProblem(err, data)
	}
	switch err := decoder.Decode(&second); {
	case err == nil:
		p := d.Problem(d.pos(&second), "a second document begins here; one per file is allowed", "remove the line ---, or split the file")
		return nil, &p
	case !errors.Is(err, io.EOF):
		return nil, d.syntaxProblem(err, data)
	}
	if len(first.Content) != 1 {
		p := d.Problem(Pos{}, "the file is empty", "")
		return nil, &p
	}
	return first.Content[0], nil
}

// pos gives the place of a node. The library puts an empty node at the end of a file on a line that is not there.
func (d *Document) pos(n *yaml.Node) Pos {
	if last := len(d.lines); n.Line > last {
		return Pos{File: d.File, Line: last, Column: utf8.RuneCountInString(d.lines[last-1]) + 1}
	}
	return Pos{File: d.File, Line: n.Line, Column: n.Column}
}

// syntaxMessage parts the messages of the library, which leaves the line out for the first one.
var syntaxMessage = regexp.MustCompile(`^yaml: (?:line (\d+): )?(.*)$`)

// syntaxProblem translates an error of the library and looks for its place.
func (d *Document) syntaxProblem(err error, data []byte) *Problem {
	text, line, column := strings.SplitN(err.Error(), "\n", 2)[0], 1, 1
	if m := syntaxMessage.FindStringSubmatch(text); m != nil {
		text = m[2]
		if n, err := strconv.Atoi(m[1]); err == nil {
			line = min(n, len(d.lines))
		}
	}
	if l, c, ok := locate(data); ok {
		line, column = l, c
	}
	p := d.Problem(Pos{Line: line, Column: column}, "not valid YAML: "+text, syntaxHint(text, d.lines[line-1], column))
	return &p
}

// syntaxHint says what usually lies behind a message, from the text before and at the place.
func syntaxHint(text, source string, column int) string {
	runes := []rune(source)
	column = min(max(column-1, 0), len(runes))
	before, at := strings.TrimRight(string(runes[:column]), " "), string(runes[column:])
	switch {
	case strings.HasPrefix(at, "\t") || strings.HasSuffix(before, "\t"):
		return "use spaces, not tabs, to indent"
	case strings.HasPrefix(at, "[") || strings.HasPrefix(at, "{"):
		return "close this bracket and those inside it; put a text inside it in quotes if it contains brackets, commas or colons"
	case strings.HasPrefix(at, `"`) || strings.HasPrefix(at, "'"):
		return "close this quote; inside single quotes write a quote twice"
	case strings.HasSuffix(before, "]") || strings.HasSuffix(before, "}") || strings.HasSuffix(before, `"`) || strings.HasSuffix(before, "'"):
		return "nothing may follow a closing bracket or quote; put the whole value in quotes"
	case strings.Contains(text, "cannot start any token"):
		return "put a text that begins with %, @ or ` in quotes"
	case strings.Contains(text, "mapping values are not allowed"):
		return `put a text that contains ": " in quotes, and line keys up with each other`
	case strings.Contains(text, "did not find expected"):
		return "line keys up with each other, and begin each item of a list with a hyphen"
	}
	return ""
}
