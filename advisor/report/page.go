package report

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"relath/kb"
	"relath/kb/quantity"
)

// Maker makes the documents. It holds the base the results rest on and the
// units that are shown.
type Maker struct {
	Base  *kb.Base
	Units quantity.System
}

// page is a document while it is written.
type page struct {
	Maker
	doc    *Document
	known  map[Note]int
	deeper int               // how far headings stand below their level
	listed bool              // what was laid over the base stands in a table
	at     string            // the assembly that is being written
	told   map[string]string // reasons of findings, by the assembly where they were given first
	aired  bool              // the readings of room air were said
	spot   string            // the plan or swap that is being written, or empty
	places map[string]place  // what was said in full, and where

	shared    []sharedText     // of a specification, said once in division 01
	general01 []generalSection // of a specification
}

func (m Maker) page(title, sub string) *page {
	return &page{Maker: m, doc: &Document{Title: title, Sub: sub}, known: make(map[Note]int), told: make(map[string]string), places: make(map[string]place)}
}

// note gives the number of a footnote; the same note has one number.
func (p *page) note(kind, text string) int {
	n := Note{Kind: kind, Text: text}
	if at, ok := p.known[n]; ok {
		return at
	}
	p.doc.Notes = append(p.doc.Notes, n)
	p.known[n] = len(p.doc.Notes)
	return len(p.doc.Notes)
}

func (p *page) add(b Block) { p.doc.Blocks = append(p.doc.Blocks, b) }

func (p *page) heading(level int, words string, notes ...int) {
	p.add(Block{Heading: &Heading{Level: level + p.deeper, Text: say(words, notes...)}})
}

func (p *page) para(mood string, t Text) {
	if t.Words != "" {
		p.add(Block{Paragraph: &Paragraph{Text: t, Mood: mood}})
	}
}

func (p *page) list(items ...Text) {
	if len(items) > 0 {
		p.add(Block{List: &List{Items: items}})
	}
}

// fine lists facts that on paper stand in columns of small letters.
func (p *page) fine(items []Text) {
	if len(items) > 0 {
		p.add(Block{List: &List{Items: items, Fine: true}})
	}
}

func (p *page) table(t Table) {
	if len(t.Rows) > 0 {
		p.add(Block{Table: &t})
	}
}

// say makes a text.
func say(words string, notes ...int) Text { return Text{Words: words, Notes: tidy(notes)} }

// marked makes a text with a mark of evidence; read needs none.
func marked(words string, mark kb.Evidence, notes ...int) Text {
	t := say(words, notes...)
	if mark != kb.Read {
		t.Mark = string(mark)
	}
	return t
}

// tidy sorts footnotes and drops zeros and repetitions.
func tidy(notes []int) []int {
	notes = slices.DeleteFunc(slices.Clone(notes), func(n int) bool { return n == 0 })
	slices.Sort(notes)
	notes = slices.Compact(notes)
	if len(notes) == 0 {
		return nil
	}
	return notes
}

// finish numbers the footnotes in order of first use and explains the marks.
func (p *page) finish() *Document {
	p.laidOver()
	d := p.doc
	order := make(map[int]int, len(d.Notes))
	var notes []Note
	take := func(list *[]int) {
		numbered := slices.Clone(*list) // a text may stand in two places
		for i, n := range numbered {
			if order[n] == 0 {
				notes = append(notes, d.Notes[n-1])
				order[n] = len(notes)
			}
			numbered[i] = order[n]
		}
		slices.Sort(numbered)
		*list = numbered
	}
	explain := func(mark string) {
		if mark != "" && !slices.ContainsFunc(d.Marks, func(l Legend) bool { return l.Mark == mark }) {
			d.Marks = append(d.Marks, Legend{Mark: mark, Meaning: meaning(kb.Evidence(mark))})
		}
	}
	each(d, func(t *Text) {
		take(&t.Notes)
		explain(t.Mark)
	}, func(t *Table) {
		take(&t.Notes)
		explain(t.Mark)
	})
	d.Notes = notes
	return d
}

// each visits every text of a document in reading order, and every table
// before its cells.
func each(d *Document, text func(*Text), table func(*Table)) {
	for i := range d.Blocks {
		b := &d.Blocks[i]
		switch {
		case b.Heading != nil:
			text(&b.Heading.Text)
		case b.Paragraph != nil:
			text(&b.Paragraph.Text)
		case b.List != nil:
			for k := range b.List.Items {
				text(&b.List.Items[k])
			}
		case b.Table != nil:
			eachCell(b.Table, text, table)
		case b.Figure != nil && b.Figure.Table != nil:
			eachCell(b.Figure.Table, text, table)
		}
	}
}

func eachCell(t *Table, text func(*Text), table func(*Table)) {
	table(t)
	for _, row := range t.Rows {
		for k := range row {
			text(&row[k])
		}
	}
}

// meaning says what a mark of evidence means.
func meaning(e kb.Evidence) string {
	switch e {
	case kb.Reported:
		return "second-hand or from a practitioner's page, not checked against the original"
	case kb.Recalled:
		return "a published source is named, the value was written down from memory"
	case kb.Practice:
		return "common practice of the trade, without a published source"
	case kb.Derived:
		return "follows from other values by a stated formula"
	case kb.Assumed:
		return "a default of this program"
	}
	return "checked against the text of the source"
}

// basis gives the footnote of a source.
func (p *page) basis(b kb.Basis) int {
	if b.Source == "" {
		return 0
	}
	return p.note("source", p.basisWords(b))
}

// bases gives the footnotes of several sources.
func (p *page) bases(list []kb.Basis) []int {
	var notes []int
	for _, b := range list {
		notes = append(notes, p.basis(b))
	}
	return notes
}

// basisWords names a source with its locator and its mark.
func (p *page) basisWords(b kb.Basis) string {
	parts := []string{p.sourceName(b.Source)}
	if b.Locator != "" {
		parts = append(parts, b.Locator)
	}
	text := strings.Join(parts, ", ")
	if b.Evidence != kb.Read && b.Evidence != "" {
		text += " (" + string(b.Evidence)
		if b.Doubt == "high" {
			text += ", in doubt"
		}
		text += ")"
	}
	return text
}

// sourceName gives the title of a source with its year.
func (p *page) sourceName(id string) string {
	s := p.Base.Source(id)
	if s == nil {
		return id
	}
	name := s.Title
	if s.Year != "" && !strings.Contains(name, s.Year) {
		name += " (" + s.Year + ")"
	}
	return name
}

// model gives the footnote of a model with what it does not see.
func (p *page) model(id string) int {
	m := p.Base.Model(id)
	if m == nil {
		return 0
	}
	return p.note("model", modelWords(m))
}

func modelWords(m *kb.Model) string {
	text := capital(m.Title) + ": " + strings.TrimSuffix(m.About, ".") + "."
	if len(m.Limits) > 0 {
		text += " Limits: " + strings.Join(m.Limits, "; ") + "."
	}
	return text
}

// value words a range of a dimension in the units of the page.
func (p *page) value(r quantity.Range, d quantity.Dimension) string {
	return quantity.FormatRange(r, d, p.Units)
}

// bare words a range without its unit.
func (p *page) bare(r quantity.Range, d quantity.Dimension) string {
	_, unit := quantity.Display(r.Best, d, p.Units)
	return strings.TrimSuffix(p.value(r, d), " "+unit)
}

// capital begins a sentence.
func capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}

// stop ends words as a sentence, with one full stop.
func stop(s string) string {
	s = strings.TrimRight(s, ". ")
	if s == "" || strings.ContainsAny(s[len(s)-1:], "!?:") {
		return s
	}
	return s + "."
}

// join puts words in a row: a, b and c.
func join(words []string, last string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " " + last + " " + words[len(words)-1]
}

// plural gives one of two forms.
func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// unique drops repetitions and keeps the order.
func unique[T cmp.Ordered](list []T) []T {
	var out []T
	for _, v := range list {
		if !slices.Contains(out, v) {
			out = append(out, v)
		}
	}
	return out
}
