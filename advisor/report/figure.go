package report

import (
	"relath/advisor/drawing"
)

// Figure is a drawing that is no chart, such as the section of an assembly.
type Figure struct {
	Caption string           `json:"caption"`
	Picture *drawing.Picture `json:"picture"`
	Key     string           `json:"key,omitempty"`   // how to read it
	Table   *Table           `json:"table,omitempty"` // the same in words; nil where the page has it right below
}

// wordless tells whether a block shows only what the page has in words right
// below; forms without pictures leave it out.
func (b *Block) wordless() bool { return b.Figure != nil && b.Figure.Table == nil }

// figure writes what a picture shows in words.
func (t *textFace) figure(f *Figure) {
	for _, l := range wrap(f.Caption, Width) {
		t.line(l)
	}
	t.gap()
	t.table(f.Table)
	if f.Key != "" {
		t.gap()
	}
	for _, l := range wrap(f.Key, Width) {
		t.line(l)
	}
}

func (m *markdownFace) figure(f *Figure) {
	m.line("%s", escaped(f.Caption))
	m.line("")
	m.table(f.Table)
	m.line("")
	m.line("%s", escaped(f.Key))
}
