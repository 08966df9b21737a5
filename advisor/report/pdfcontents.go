package report

import "fmt"

// manySections is from how many sections on a document begins with their list.
const manySections = 8

// entry is a line of the list of sections.
type entry struct {
	link int
	page int     // of the line
	y    float64 // of the line
	at   int     // page of the section
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
	f.keep(6 * bodyStyle().leading())
	f.y += f.above(2)
	f.flow(f.left, f.wide, f.words("Contents", headingStyle(2)))
	f.y++
	for _, t := range sections {
		const number = 12.0 // room for the page
		lines := f.broken(f.words(t.Words, bodyStyle()), f.measure-number)
		if len(lines) == 0 {
			lines = [][]piece{nil}
		}
		e := entry{link: f.pdf.AddLink()}
		f.lines(f.left, lines, func(y, h float64) {
			e.page, e.y = f.pdf.PageNo(), y
			f.pdf.Link(f.left, y, f.measure, h, e.link)
		})
		f.entries = append(f.entries, e)
		f.y += 0.6
	}
	f.y += 2
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
	s := bodyStyle()
	for _, e := range f.entries {
		f.pdf.SetPage(e.page)
		text := fmt.Sprint(e.at)
		f.letter(f.left+f.measure-f.letters.width(s, text), e.y+s.leading()*baseline, text, s)
	}
	f.pdf.SetPage(f.pdf.PageCount())
}
