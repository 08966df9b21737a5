package report

import (
	"fmt"
	"strings"
)

// manySections is from how many sections on a document begins with their list.
const manySections = 8

// The list of sections stands in columns, with this space between two, mm.
const (
	contentColumns = 2
	contentSpace   = 8.0
)

// entry is a line of the list of sections.
type entry struct {
	link int
	page int     // of the line
	y    float64 // of the line
	at   int     // page of the section

	right float64 // where its number ends
}

// contents lists the sections of a long document, each leading to its page. The
// numbers of the pages are written when they are known.
func (f *pdfFace) contents(list []Block) {
	var sections []Text
	for i := range list {
		if h := list[i].Heading; h != nil && h.Level == 1 {
			sections = append(sections, h.Text)
		}
	}
	if len(sections) < manySections {
		return
	}
	rows := (len(sections) + contentColumns - 1) / contentColumns
	column := (f.wide - contentSpace*(contentColumns-1)) / contentColumns
	f.keep(min(f.full(), float64(rows+3)*2*smallStyle().leading()))
	f.y += f.above(2)
	f.flow(f.left, f.wide, f.words("Contents", headingStyle(2)))
	f.y++
	top, lowest := f.y, f.y
	for i, t := range sections {
		if i > 0 && i%rows == 0 {
			f.y = top
		}
		f.entry(t, f.left+float64(i/rows)*(column+contentSpace), column)
		lowest = max(lowest, f.y)
	}
	f.y = lowest + 2
}

// entry sets a line of the list of sections; a title that is too long is cut.
func (f *pdfFace) entry(t Text, x, width float64) {
	const number = 9.0 // room for the page
	s := smallStyle()
	e := entry{link: f.pdf.AddLink(), page: f.pdf.PageNo(), y: f.y, right: x + width}
	f.letter(x, f.y+s.leading()*baseline, f.shortened(f.letters.written(s.cut, strings.Join(strings.Fields(t.Words), " ")), s, width-number), s)
	f.pdf.Link(x, f.y, width, s.leading(), e.link)
	f.entries = append(f.entries, e)
	f.y += s.leading() + 0.8
}

// reached notes where the next section of the list begins.
func (f *pdfFace) reached() {
	if f.section < len(f.entries) {
		e := &f.entries[f.section]
		e.at = f.pdf.PageNo()
		f.pdf.SetLink(e.link, max(0, f.y-2), e.at)
		f.section++
	}
}

// pageNumbers writes the pages into the list of sections.
func (f *pdfFace) pageNumbers() {
	s := smallStyle()
	for _, e := range f.entries {
		f.pdf.SetPage(e.page)
		text := fmt.Sprint(e.at)
		f.letter(e.right-f.letters.width(s, text), e.y+s.leading()*baseline, text, s)
	}
	f.pdf.SetPage(f.pdf.PageCount())
}
