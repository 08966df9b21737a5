package report

import (
	"fmt"
	"slices"
)

func (f *pdfFace) marks(list []Legend) {
	if len(list) == 0 {
		return
	}
	f.closing("Marks")
	for _, l := range list {
		text := f.pieces(Text{Mark: l.Mark}, smallStyle())
		text = append(text, f.words(l.Meaning, smallStyle())...)
		f.flow(f.left, f.wide, text)
		f.y += 0.5
	}
}

// The measures of the notes, mm.
const (
	noteColumns = 2
	noteSpace   = 6.0 // between two columns
	noteGap     = 0.4 // between two notes
)

// columnItem is a footnote or an item of a list on its way to a column.
type columnItem struct {
	note   int // its number, 0 for none
	sign   []piece
	lines  [][]piece
	height float64
}

// footnotes writes the notes in columns; the number of each leads back to where it
// is cited first. Where all that is left fits on the page the columns are even.
func (f *pdfFace) footnotes(list []Note) {
	if len(list) == 0 {
		return
	}
	f.closing("Notes")
	var items []columnItem
	for i, n := range list {
		text := append(f.words(capital(n.Kind)+":", softStyle()), f.words(n.Text, smallStyle())...)
		items = append(items, columnItem{note: i + 1, sign: f.words(fmt.Sprintf("[%d]", i+1), smallStyle()), lines: [][]piece{text}})
	}
	f.inColumns(items, noteGap)
}

// fine sets a list of facts in columns of small letters.
func (f *pdfFace) fine(l *List) {
	var items []columnItem
	for _, t := range l.Items {
		items = append(items, columnItem{sign: f.words("•", smallStyle()), lines: [][]piece{f.pieces(t, smallStyle())}})
	}
	f.inColumns(items, noteGap)
	f.y += 2
}

// inColumns sets items, each given as one line, in columns from page to page.
func (f *pdfFace) inColumns(items []columnItem, gap float64) {
	column := (f.wide - noteSpace*(noteColumns-1)) / noteColumns
	hang := 0.0
	for i := range items {
		hang = max(hang, f.span(items[i].sign)+1.5)
	}
	for i := range items {
		x := &items[i]
		x.lines = f.broken(x.lines[0], column-hang)
		x.height = float64(len(x.lines))*smallStyle().leading() + gap
	}
	if slices.ContainsFunc(items, func(x columnItem) bool { return x.height > f.full()/2 }) {
		f.inOneColumn(items, hang)
		return
	}
	for len(items) > 0 {
		items = f.columns(items, column, hang)
		if len(items) > 0 {
			f.turn()
		}
	}
}

// inOneColumn sets items of which one is too tall for a column that is not broken.
func (f *pdfFace) inOneColumn(items []columnItem, hang float64) {
	for _, x := range items {
		var text []piece
		for _, l := range x.lines {
			text = append(text, l...)
		}
		lines := f.broken(text, f.wide-hang)
		f.keep(2 * smallStyle().leading())
		f.signs(x, f.left, hang)
		f.lines(f.left+hang, lines, nil)
		f.y += noteGap
	}
}

// columns sets the items that find room on the page and gives those that do not.
func (f *pdfFace) columns(list []columnItem, column, hang float64) []columnItem {
	f.keep(list[0].height)
	top, lowest, room := f.y, f.y, f.room()
	depth := min(room, evenDepth(list))
	for c := range noteColumns {
		f.y = top
		x := f.left + float64(c)*(column+noteSpace)
		for len(list) > 0 && (f.y+list[0].height <= top+depth+0.01 || f.y == top && list[0].height <= room) {
			f.itemAt(list[0], x, hang)
			list = list[1:]
		}
		lowest = max(lowest, f.y)
	}
	f.y = lowest
	return list
}

// evenDepth is the least depth of two columns that hold all of a list.
func evenDepth(list []columnItem) float64 {
	total := 0.0
	for _, l := range list {
		total += l.height
	}
	first, least := 0.0, total
	for _, l := range list {
		first += l.height
		least = min(least, max(first, total-first))
	}
	return least
}

// itemAt sets an item with its sign beside it.
func (f *pdfFace) itemAt(n columnItem, x, hang float64) {
	h := smallStyle().leading()
	f.signs(n, x, hang)
	for _, l := range n.lines {
		f.put(x+hang, f.y, l)
		f.y += h
	}
	f.y += n.height - float64(len(n.lines))*h
}

// signs sets the sign of an item; the number of a note leads back to where it is
// cited first.
func (f *pdfFace) signs(n columnItem, x, hang float64) {
	if n.note > 0 {
		f.pdf.SetLink(f.link(f.notes, n.note), max(0, f.y-2), f.pdf.PageNo())
	}
	if f.cited[n.note] {
		f.pdf.Link(x, f.y, hang, smallStyle().leading(), f.link(f.backs, n.note))
	}
	f.put(x+hang-1.5-f.span(n.sign), f.y, n.sign)
}

// closing is the heading of marks or notes.
func (f *pdfFace) closing(words string) {
	f.heading([]Block{{Heading: &Heading{Level: 1, Text: say(words)}}, {Paragraph: new(Paragraph)}}, 0)
}
