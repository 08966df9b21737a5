package strict

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"
)

// builder turns nodes of the library into values.
type builder struct {
	doc      *Document
	limits   Limits
	types    *types
	nodes    int
	full     bool // a limit was reached and reported
	problems Problems
}

func (b *builder) report(pos Pos, message, hint string) {
	b.problems = append(b.problems, b.doc.Problem(pos, message, hint))
}

// value builds the tree under a node. It gives nil, with a problem reported, where there is nothing to build.
func (b *builder) value(n *yaml.Node, depth int) *Value {
	pos := b.doc.pos(n)
	if !b.within(pos, depth) || !b.plain(n, pos) {
		return nil
	}
	v := &Value{Pos: pos, types: b.types}
	switch n.Kind {
	case yaml.MappingNode:
		v.Kind = Mapping
		b.mapping(v, n, depth)
	case yaml.SequenceNode:
		v.Kind = Sequence
		for _, item := range n.Content {
			if child := b.value(item, depth+1); child != nil {
				v.Items = append(v.Items, child)
			}
		}
	default:
		b.scalar(v, n)
	}
	return v
}

// within counts a node and checks the limits; it reports the first breach only.
func (b *builder) within(pos Pos, depth int) bool {
	b.nodes++
	switch {
	case b.full:
		return false
	case depth > b.limits.Depth:
		b.full = true
		b.report(pos, fmt.Sprintf("lists and mappings are nested more than %d deep", b.limits.Depth), "")
	case b.nodes > b.limits.Nodes:
		b.full = true
		b.report(pos, fmt.Sprintf("the file has more than %d values and keys", b.limits.Nodes), "")
	}
	return !b.full
}

// plain refuses anchors, aliases and tags.
func (b *builder) plain(n *yaml.Node, pos Pos) bool {
	switch {
	case n.Kind == yaml.AliasNode:
		b.report(pos, fmt.Sprintf("alias %q is not allowed", "*"+n.Value), "write the value out; put a text that begins with * in quotes")
	case n.Anchor != "":
		b.report(pos, fmt.Sprintf("anchor %q is not allowed", "&"+n.Anchor), "write the value out where it is used; put a text that begins with & in quotes")
	case n.Style&yaml.TaggedStyle != 0:
		b.report(pos, fmt.Sprintf("tag %q is not allowed", n.Tag), "put a text that begins with ! in quotes")
	default:
		return true
	}
	return false
}

func (b *builder) scalar(v *Value, n *yaml.Node) {
	v.Text = n.Value
	v.Quoted = n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) != 0
	if n.Tag == "!!null" {
		v.Kind, v.Text = Null, ""
	}
	// An escape in a quoted text can bring in what the bytes of the file may not hold.
	if i := strings.IndexFunc(v.Text, isForbidden); i >= 0 {
		b.report(v.Pos, fmt.Sprintf("the text contains the control character U+%04X", []rune(v.Text[i:])[0]), "")
	}
}

// mapping builds the fields of a mapping.
func (b *builder) mapping(v *Value, n *yaml.Node, depth int) {
	first := map[string]Pos{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, pos := n.Content[i], b.doc.pos(n.Content[i])
		ok := b.key(key, pos, depth)
		value := b.value(n.Content[i+1], depth+1)
		if !ok {
			continue
		}
		if at, twice := first[key.Value]; twice {
			b.report(pos, fmt.Sprintf("key %q given twice (first at %d:%d)", key.Value, at.Line, at.Column), "")
			continue
		}
		first[key.Value] = pos
		if value != nil {
			v.Fields = append(v.Fields, Field{Key: key.Value, Pos: pos, Value: value})
		}
	}
}

// key checks that a key is a plain word.
func (b *builder) key(n *yaml.Node, pos Pos, depth int) bool {
	if !b.within(pos, depth) || !b.plain(n, pos) {
		return false
	}
	switch {
	case n.Kind != yaml.ScalarNode:
		b.report(pos, "a key is a word, not a list or a mapping", "put a text that begins with [ or { in quotes")
	case n.Tag == "!!merge":
		b.report(pos, "merge keys are not allowed", "write the fields out")
	case n.Value == "" || n.Tag == "!!null" && n.Style == 0:
		b.report(pos, "a key is empty", "")
	case strings.IndexFunc(n.Value, isForbidden) >= 0:
		b.report(pos, "a key contains a control character", "")
	default:
		return true
	}
	return false
}
