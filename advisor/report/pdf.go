package report

import (
	"fmt"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// Paper is the size of the sheets of a PDF.
type Paper string

// The papers.
const (
	Letter Paper = "letter"
	A4     Paper = "a4"
)

// Papers lists the sizes.
func Papers() []string { return []string{string(Letter), string(A4)} }

// The margins of a sheet and the measure of running text, mm. A line of running
// text holds some 80 letters.
const (
	marginSide   = 22.0
	marginTop    = 22.0
	marginBottom = 24.0
	measure      = 140.0
)

// denseAbove is the space above a heading of a dense document, mm.
const denseAbove = 4.0

// pdfDate stands in every PDF, since the same document gives the same bytes.
func pdfDate() time.Time { return time.Date(2000, time.January, 1, 0, 0, 0, 0, time.UTC) }

// PDF writes a document as pages of paper, with bookmarks by heading and links
// between footnotes and where they are cited. It is an error when a font or the
// file cannot be made.
func (d *Document) PDF(w io.Writer, paper Paper) error {
	letters, err := newLetters()
	if err != nil {
		return err
	}
	f := newPDF(letters, d, paper)
	f.open(d)
	listed := false
	for i := range d.Blocks {
		if h := d.Blocks[i].Heading; h != nil && h.Level == 1 && !listed {
			f.contents(d.Blocks)
			listed = true
		}
		f.block(d.Blocks, i)
	}
	f.clear()
	f.numbers()
	f.marks(d.Marks)
	f.footnotes(d.Notes)
	f.pageNumbers()
	f.feet(d.Title)
	return f.pdf.Output(w)
}

// pdfFace writes the pages of a document.
type pdfFace struct {
	pdf     *fpdf.Fpdf
	letters *letters
	y       float64 // where the next line begins, mm from the top
	left    float64
	wide    float64  // between the margins
	measure float64  // of running text
	dense   bool     // little room: text as wide as the page
	bottom  float64  // where the room of a page ends
	now     style    // set last
	page    int      // on which it was set
	level   int      // of the last bookmark
	entries []entry  // of the list of sections
	section int      // that comes next in it
	later   []*Table // of pictures, behind all blocks
	waiting []*Block // pictures that stand at the top of the next page
	grids   map[*Table]*grid
	notes   map[int]int
	backs   map[int]int
	cited   map[int]bool
}

func newPDF(l *letters, d *Document, paper Paper) *pdfFace {
	size := "Letter"
	if paper == A4 {
		size = "A4"
	}
	pdf := fpdf.New("P", "mm", size, "")
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(pdfDate())
	pdf.SetModificationDate(pdfDate())
	pdf.SetProducer("relath", true)
	pdf.SetCreator("relath", true)
	pdf.SetTitle(l.written(regular, d.Title), true)
	pdf.SetSubject(l.written(regular, d.Sub), true)
	pdf.SetLang("en-US")
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	w, h := pdf.GetPageSize()
	wide, text := w-2*marginSide, measure
	if d.Dense {
		text = wide
	}
	return &pdfFace{
		pdf: pdf, letters: l, left: marginSide, wide: wide, measure: text, dense: d.Dense, bottom: h - marginBottom, level: -1,
		grids: make(map[*Table]*grid), notes: make(map[int]int), backs: make(map[int]int), cited: make(map[int]bool),
	}
}

// open begins the first page with the title.
func (f *pdfFace) open(d *Document) {
	f.turn()
	f.bookmark(d.Title, 0)
	f.flow(f.left, f.wide, f.words(d.Title, style{bold, sizeTitle, black}))
	f.y += 1
	f.flow(f.left, f.measure, f.words(d.Sub, style{regular, sizeBody, soft}))
	f.y += 1.5
	f.pen(black, 0.5)
	f.pdf.Line(f.left, f.y, f.left+f.wide, f.y)
	f.y += 4
}

// turn begins a new page, with the pictures that wait for one; a quarter of the
// page is left below them.
func (f *pdfFace) turn() {
	f.pdf.AddPage()
	f.y = marginTop
	for len(f.waiting) > 0 {
		b := f.waiting[0]
		if _, height := f.fitted(b, f.title(b)); f.y > marginTop && height > f.room() {
			break
		}
		f.waiting = f.waiting[1:]
		f.drawn(b)
	}
	if f.room() < f.full()/4 {
		f.turn()
	}
}

// clear draws the pictures that still wait.
func (f *pdfFace) clear() {
	for len(f.waiting) > 0 {
		f.turn()
	}
}

// full is the height of an empty page.
func (f *pdfFace) full() float64 { return f.bottom - marginTop }

// room is what is left of a page.
func (f *pdfFace) room() float64 { return f.bottom - f.y }

// keep begins a new page where less than a height is left; what is taller than
// a page begins where it is.
func (f *pdfFace) keep(height float64) {
	for height > f.room() && f.y > marginTop && height <= f.full() {
		f.turn()
	}
}

// block draws a block. A heading looks at what follows it.
func (f *pdfFace) block(list []Block, at int) {
	b := &list[at]
	switch {
	case b.Heading != nil:
		f.heading(list, at)
	case b.Paragraph != nil:
		f.keep(f.least(list, at))
		f.paragraph(b.Paragraph)
	case b.List != nil && b.List.Fine:
		f.fine(b.List)
	case b.List != nil:
		f.list(b.List)
	case b.Table != nil:
		f.table(b.Table)
	case b.Drawing() != nil:
		f.figure(b)
	case b.Verbatim != nil:
		f.clear()
		f.verbatim(b.Verbatim)
	}
}

// above is the space above a heading, mm.
func (f *pdfFace) above(level int) float64 {
	if f.dense {
		return denseAbove
	}
	return [...]float64{8, 8, 6, 4}[min(max(level, 0), 3)]
}

func (f *pdfFace) heading(list []Block, at int) {
	h := list[at].Heading
	if h.Level <= 2 {
		f.clear() // a picture stays in its section
	}
	f.keep(f.least(list, at))
	if f.y > marginTop {
		f.y += f.above(h.Level)
	}
	f.bookmark(h.Text.Words, h.Level)
	if h.Level == 1 {
		f.reached()
	}
	f.flow(f.left, f.wide, f.pieces(h.Text, headingStyle(h.Level)))
	if h.Level == 1 {
		f.y += 0.8
		f.pen(line, 0.25)
		f.pdf.Line(f.left, f.y, f.left+f.wide, f.y)
		f.y += 1.2
	}
	f.y += 1
}

// least is the height that a block needs to begin: a heading with what follows
// it, a table with its heads and first row, else some lines.
func (f *pdfFace) least(list []Block, at int) float64 {
	if at >= len(list) {
		return 0
	}
	b := &list[at]
	switch {
	case b.Heading != nil:
		lines := f.broken(f.pieces(b.Heading.Text, headingStyle(b.Heading.Level)), f.wide)
		h := f.above(b.Heading.Level) + 3 + f.least(list, at+1)
		for _, l := range lines {
			h += leading(l)
		}
		return h
	case b.Table != nil:
		return f.tableLeast(b.Table)
	case b.Drawing() != nil:
		return f.least(list, at+1) // the picture may come on the next page
	}
	h := 3 * bodyStyle().leading()
	if b.Verbatim != nil {
		return verbatimLines*fileStyle().leading() + 2*smallStyle().leading()
	}
	if b.Paragraph != nil && (b.Paragraph.Mood == warning || b.Paragraph.Mood == caution) {
		_, h = f.noticeLines(b.Paragraph)
		h = min(h, f.full()/2)
	}
	if b.Paragraph != nil && strings.HasSuffix(b.Paragraph.Text.Words, ":") {
		h += f.least(list, at+1) // it begins what follows
	}
	return h
}

// bookmark adds a heading to the outline of the file. The outline knows no gaps
// between levels.
func (f *pdfFace) bookmark(text string, level int) {
	level = max(0, min(level, f.level+1))
	f.level = level
	f.set(headingStyle(level + 1)) // the outline is written in the letters of a font
	f.pdf.Bookmark(strings.Join(strings.Fields(f.letters.written(bold, text)), " "), level, max(0, f.y-2))
}

// flow sets pieces as lines from page to page, leaving no single line of
// several alone.
func (f *pdfFace) flow(x, width float64, list []piece) {
	f.lines(x, f.broken(list, width), nil)
}

// lines sets lines from page to page. What belongs behind or beside each line
// is drawn by under, which gets the top and the height of it.
func (f *pdfFace) lines(x float64, lines [][]piece, under func(y, h float64)) {
	for i, l := range lines {
		h := leading(l)
		needs := h
		left := len(lines) - i
		if i == 0 && left > 1 || left == 2 {
			needs += leading(lines[i+1])
		}
		if i == 0 && left == 3 {
			needs += leading(lines[2])
		}
		f.keep(needs)
		if under != nil {
			under(f.y, h)
		}
		f.put(x, f.y, l)
		f.y += h
	}
}

// feet writes the foot of every page: the title and the number of the page.
func (f *pdfFace) feet(title string) {
	last := f.pdf.PageCount()
	s := softStyle()
	text := strings.Join(strings.Fields(f.letters.written(regular, title)), " ")
	for n := 1; n <= last; n++ {
		f.pdf.SetPage(n)
		y := f.bottom + 7
		f.pen(line, 0.2)
		f.pdf.Line(f.left, y, f.left+f.wide, y)
		number := fmt.Sprintf("page %d of %d", n, last)
		w := f.letters.width(s, number)
		f.letter(f.left+f.wide-w, y+4.5, number, s)
		f.letter(f.left, y+4.5, f.shortened(text, s, f.wide-w-8), s)
	}
}

// shortened ends a text that is wider than its room with dots; the whole title
// stands on the first page.
func (f *pdfFace) shortened(text string, s style, room float64) string {
	if f.letters.width(s, text) <= room {
		return text
	}
	runes := []rune(text)
	for len(runes) > 0 && f.letters.width(s, string(runes)+"…") > room {
		runes = runes[:len(runes)-1]
	}
	return string(runes) + "…"
}
