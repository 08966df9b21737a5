package report

import (
	"fmt"
	"io"
	"strings"
)

// XLSX writes a document as a workbook: a sheet with the tables and texts of the
// page, and one with its warnings, marks and notes.
func (d *Document) XLSX(w io.Writer) error {
	b := workbook{title: d.Title, sheets: d.sheets()}
	return b.write(w)
}

// sheets gives the document as sheets, for those who put others before them.
func (d *Document) sheets() []sheet { return []sheet{d.pageSheet(), d.notesSheet()} }

// pageSheet holds every block of the page, a row for each line.
func (d *Document) pageSheet() sheet {
	s := sheet{name: "Page", widths: []float64{34}}
	s.line(looked(d.Title, lookTitle))
	s.sentences(d.Sub, lookSoft)
	for i := range d.Blocks {
		s.line()
		s.block(&d.Blocks[i])
	}
	for len(s.widths) < 2 {
		s.widths = append(s.widths, 24)
	}
	return s
}

// maxCell is the number of letters that a cell may hold; letters outside of the
// basic plane count twice.
const maxCell = 32767 / 2

// line adds a row. What is longer than a cell may be goes on below it.
func (s *sheet) line(cells ...cell) {
	rest := make([]cell, len(cells))
	more := false
	for i := range cells {
		if r := []rune(cells[i].text); len(r) > maxCell {
			cells[i].text, rest[i] = string(r[:maxCell]), looked(string(r[maxCell:]), cells[i].look)
			more = true
		}
	}
	s.rows = append(s.rows, cells)
	if more {
		s.line(rest...)
	}
}

// sentences writes a text over the columns of a page, as lines that a sheet of
// paper holds.
func (s *sheet) sentences(text string, l look) {
	const letters = 130
	for _, part := range wrap(text, letters) {
		s.line(looked(part, l))
	}
}

func (s *sheet) block(b *Block) {
	switch {
	case b.Heading != nil:
		s.sentences(b.Heading.Text.flat(), lookSection)
	case b.Paragraph != nil:
		s.sentences(moodWord(b.Paragraph.Mood)+b.Paragraph.Text.flat(), lookSoft)
	case b.List != nil:
		for i, item := range b.List.Items {
			lead := "• "
			if b.List.Ordered {
				lead = fmt.Sprintf("%d. ", i+1)
			}
			s.sentences(lead+item.flat(), lookSoft)
		}
	case b.Table != nil:
		s.table(b.Table)
	case b.Bars != nil:
		s.table(b.Bars.table())
		s.sentences(b.Bars.Key, lookSoft)
	case b.Curve != nil:
		s.table(b.Curve.table())
	case b.Figure != nil && b.Figure.Table != nil:
		s.sentences(b.Figure.Caption, lookSoft)
		s.table(b.Figure.Table)
		s.sentences(b.Figure.Key, lookSoft)
	case b.Verbatim != nil:
		s.verbatim(b.Verbatim)
	}
}

func (s *sheet) table(t *Table) {
	if caption := t.title().flat(); caption != "" {
		s.sentences(caption, lookSoft)
	}
	heads := make([]cell, len(t.Heads))
	for i, h := range t.Heads {
		heads[i] = looked(h, lookHead)
	}
	s.line(heads...)
	for _, row := range t.Rows {
		cells := make([]cell, len(row))
		for i := range row {
			cells[i] = textCell(row[i].flat())
		}
		s.line(cells...)
		for len(s.widths) < len(row) {
			s.widths = append(s.widths, 24)
		}
	}
}

// notesSheet gathers what a reader must know of the numbers: warnings and
// cautions, marks, notes.
func (d *Document) notesSheet() sheet {
	s := sheet{name: "Notes", widths: []float64{14, 16, 110}, head: 1}
	s.line(looked("Number or mark", lookHead), looked("Kind", lookHead), looked("Text", lookHead))
	for i := range d.Blocks {
		if p := d.Blocks[i].Paragraph; p != nil && moodWord(p.Mood) != "" {
			s.line(textCell(""), textCell(p.Mood), textCell(p.Text.flat()))
		}
	}
	for _, m := range d.Marks {
		s.line(textCell(m.Mark), textCell("mark"), textCell(m.Meaning))
	}
	for i, n := range d.Notes {
		s.line(textCell(fmt.Sprintf("[%d]", i+1)), textCell(n.Kind), textCell(n.Text))
	}
	return s
}

// verbatim keeps the lines of a file apart, so that they can be copied.
func (s *sheet) verbatim(v *Verbatim) {
	s.sentences(v.Caption, lookSection)
	for _, l := range strings.Split(strings.TrimRight(v.Text, "\n"), "\n") {
		s.line(looked(l, lookSoft))
	}
}
