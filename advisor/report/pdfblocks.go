package report

import (
	"fmt"
	"strings"
)

func (f *pdfFace) paragraph(p *Paragraph) {
	switch p.Mood {
	case warning, caution:
		f.notice(p)
		return
	case quiet:
		f.flow(f.left, f.measure, f.pieces(p.Text, softStyle()))
	case lead:
		s := bodyStyle()
		s.size = sizeSecond
		f.flow(f.left, f.wide, f.pieces(p.Text, s))
	default:
		f.flow(f.left, f.measure, f.pieces(p.Text, bodyStyle()))
	}
	f.y += 2
}

// The measures of a notice, mm.
const (
	noticeInset = 4.0
	noticePad   = 1.2
)

// noticeLines breaks a notice into lines and gives its height.
func (f *pdfFace) noticeLines(p *Paragraph) (lines [][]piece, height float64) {
	word := f.words(moodWord(p.Mood), boldStyle())
	lines = f.broken(append(word, f.pieces(p.Text, bodyStyle())...), f.measure-noticeInset)
	height = 2 * noticePad
	for _, l := range lines {
		height += leading(l)
	}
	return lines, height
}

// notice sets a warning or a caution apart by its word and a rule: one heavy
// line for a warning, two thin ones for a caution.
func (f *pdfFace) notice(p *Paragraph) {
	const inset, pad = noticeInset, noticePad
	lines, height := f.noticeLines(p)
	if height < f.full()/2 {
		f.keep(height)
	}
	band := func(y, h float64) {
		f.pdf.SetFillColor(wash, wash, wash)
		f.pdf.Rect(f.left, y, f.measure, h, "F")
		f.pdf.SetFillColor(black, black, black)
		if p.Mood == warning {
			f.pdf.Rect(f.left, y, 1.2, h, "F")
			return
		}
		f.pdf.Rect(f.left, y, 0.4, h, "F")
		f.pdf.Rect(f.left+0.8, y, 0.4, h, "F")
	}
	f.keep(2*pad + 3*leading(lines[0]))
	band(f.y, pad)
	f.y += pad
	f.lines(f.left+inset, lines, band)
	band(f.y, pad)
	f.y += pad + 2.5
}

func (f *pdfFace) list(l *List) {
	const hang = 6.0
	for i, item := range l.Items {
		lead := "•"
		if l.Ordered {
			lead = fmt.Sprintf("%d.", i+1)
		}
		f.hanging(lead, hang, f.pieces(item, bodyStyle()), bodyStyle())
		f.y += 0.6
	}
	f.y += 1.6
}

// hanging sets a text beside its number or sign.
func (f *pdfFace) hanging(lead string, hang float64, text []piece, s style) {
	sign := f.words(lead, s)
	hang = max(hang, f.span(sign)+1.5)
	first := true
	lines := f.broken(text, f.measure-hang)
	if len(lines) == 0 {
		lines = [][]piece{{{text: "", style: s}}}
	}
	f.lines(f.left+hang, lines, func(y, _ float64) {
		if first {
			f.put(f.left+hang-1.5-f.span(sign), y, sign)
		}
		first = false
	})
}

// verbatimLines is how many lines of a file stand below its caption at least.
const verbatimLines = 6

// verbatim keeps every line as it is; a line that is too long goes on further
// in.
func (f *pdfFace) verbatim(v *Verbatim) {
	const inset = 2.5
	s := fileStyle()
	f.keep(verbatimLines * s.leading())
	f.flow(f.left, f.wide, f.words(v.Caption, captionStyle()))
	f.y += 1.2
	most := int((f.wide - 2*inset) / f.letters.width(s, " "))
	for _, l := range strings.Split(strings.TrimRight(v.Text, "\n"), "\n") {
		for _, part := range folded(f.letters.writtenLine(l), most) {
			f.keep(s.leading())
			f.pdf.SetFillColor(wash, wash, wash)
			f.pdf.Rect(f.left, f.y, f.wide, s.leading()+0.02, "F")
			f.letter(f.left+inset, f.y+s.leading()*baseline, part, s)
			f.y += s.leading()
		}
	}
	f.y += 3
}

// writtenLine gives a line of a file in the letters of its font; a tab is four
// blanks.
func (l *letters) writtenLine(text string) string {
	return l.written(mono, strings.ReplaceAll(strings.TrimRight(text, "\r"), "\t", "    "))
}

// folded breaks a line of a file after at most a number of letters, at a blank
// where there is one in its second half.
func folded(text string, most int) []string {
	const further = "        "
	var parts []string
	runes := []rune(text)
	for len(runes) > most {
		at := most
		for k := most; k > most/2; k-- {
			if runes[k] == ' ' {
				at = k
				break
			}
		}
		parts = append(parts, string(runes[:at]))
		runes = append([]rune(further), []rune(strings.TrimLeft(string(runes[at:]), " "))...)
	}
	return append(parts, string(runes))
}
