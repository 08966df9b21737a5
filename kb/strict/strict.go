// Package strict reads YAML without mercy and says exactly where and why: file, line, column, the line itself, and what
// is allowed or was probably meant. All problems of a file come at once. It is the only place that imports the YAML
// library.
//
// Reading has two steps. [Parse] turns bytes into a tree of values with positions, and refuses what makes a file mean
// something else than it seems to: duplicate keys, anchors and aliases, tags, a second document. [Document.Decode]
// fills a struct from the tree by its yaml tags:
//
//	type layer struct {
//		At        strict.Pos     `yaml:",pos"`              // where the mapping begins
//		Name      string         `yaml:"name,required"`     // a missing field is a problem
//		Thickness strict.Text `yaml:"thickness,omitempty"` // optional; keeps its position
//		Air       airKind        `yaml:"air"`               // airKind has Allowed() []string
//		Fill      []fill         `yaml:"fill"`
//	}
//
// Numbers are plain decimals; "010", "0x10", "1_000", ".nan" and a fraction in a whole number are problems. A bool is
// yes, no, true or false. A string keeps an unquoted number as written, so "zone: 5" is the string "5". [Encode] writes
// the same structs back.
//
// The package knows nothing of materials or houses.
package strict

// Limits bound what [Parse] accepts. A zero field takes its default.
type Limits struct {
	Bytes int // size of the file; default 1 MiB
	Depth int // nesting of lists and mappings; default 40
	Nodes int // values and keys; default 200000
}

// orDefault fills the zero fields.
func (l Limits) orDefault() Limits {
	if l.Bytes == 0 {
		l.Bytes = 1 << 20
	}
	if l.Depth == 0 {
		l.Depth = 40
	}
	if l.Nodes == 0 {
		l.Nodes = 200_000
	}
	return l
}

// Kind is the kind of a value.
type Kind int

// The kinds of values.
const (
	Scalar Kind = iota
	Sequence
	Mapping
	Null // a key or an item with nothing after it, or null, or ~
)

// String names the kind in the words of error messages.
func (k Kind) String() string {
	return [...]string{"a single value", "a list", "a mapping", "nothing"}[k]
}

// Value is one node of a file.
type Value struct {
	Kind   Kind
	Pos    Pos
	Text   string   // of a Scalar: as written, without quotes
	Quoted bool     // of a Scalar: written in quotes or as a block
	Fields []Field  // of a Mapping, in the order of the file
	Items  []*Value // of a Sequence

	types *types
}

// Field is a key of a mapping with its value.
type Field struct {
	Key   string
	Pos   Pos // of the key
	Value *Value
}

// Get gives the value of a key, and nil where the value is no mapping or has no such key.
func (v *Value) Get(key string) *Value {
	for _, f := range v.Fields {
		if f.Key == key {
			return f.Value
		}
	}
	return nil
}

// Document is one file that has been read.
type Document struct {
	File string
	Root *Value

	lines []string
}

// Problem makes a problem at a position of the document, with the line that it points at.
func (d *Document) Problem(pos Pos, message, hint string) Problem {
	p := Problem{Pos: pos, Message: message, Hint: hint}
	if pos.File == "" {
		p.File = d.File
	}
	if p.File == d.File && 1 <= pos.Line && pos.Line <= len(d.lines) {
		p.Source = d.lines[pos.Line-1]
	}
	return p
}

// Decode fills the struct, slice or map that ptr points at from the whole document. It collects every problem; what
// could be read is filled in even so.
func (d *Document) Decode(ptr any) Problems {
	var all Problems
	d.Root.Decode(ptr, func(pos Pos, message, hint string) {
		all = append(all, d.Problem(pos, message, hint))
	})
	return all.sorted()
}

// Reader reads many files into the same types, which it looks at only once. Several goroutines can use it.
type Reader struct {
	limits Limits
	types  types
}

// NewReader makes a reader with limits.
func NewReader(limits Limits) *Reader { return &Reader{limits: limits.orDefault()} }

// Load is [Parse] followed by [Document.Decode].
func Load(file string, data []byte, limits Limits, ptr any) (*Document, Problems) {
	doc, problems := Parse(file, data, limits)
	if len(problems) > 0 {
		return nil, problems
	}
	return doc, doc.Decode(ptr)
}
