package report

import (
	"fmt"
)

// piece is a word on its way to the paper: what is never broken unless it is
// wider than a line.
type piece struct {
	text   string
	style  style
	joined bool // no blank before it
	boxed  bool // a mark of evidence
	raised bool // the number of a footnote, or a comma between two
	note   int  // the footnote it leads to, 0 for none
}

// boxPad stands inside a mark on both sides, mm.
const boxPad = 0.8

// pieces turns a text into words, with its mark and its footnotes behind them.
func (f *pdfFace) pieces(t Text, s style) []piece {
	list := f.words(t.Words, s)
	for i, p := range f.words(t.Mark, markStyle()) {
		p.boxed, p.joined = true, i > 0
		list = append(list, p)
	}
	raised := raisedStyle()
	raised.size = raised.size * s.size / sizeBody
	for i, n := range t.Notes {
		if i > 0 {
			list = append(list, piece{text: ",", style: raised, joined: true, raised: true})
		}
		list = append(list, piece{text: fmt.Sprint(n), style: raised, joined: len(list) > 0, raised: true, note: n})
	}
	return list
}

// words turns a text into words.
func (f *pdfFace) words(text string, s style) []piece {
	var list []piece
	for _, w := range held(f.letters.written(s.cut, text)) {
		list = append(list, piece{text: w, style: s})
	}
	return list
}

// width is that of a piece, mm.
func (f *pdfFace) width(p piece) float64 {
	w := f.letters.width(p.style, p.text)
	if p.boxed {
		w += 2 * boxPad
	}
	return w
}

// blank is the space before a piece, mm.
func (f *pdfFace) blank(p piece) float64 {
	if p.joined {
		return 0
	}
	return f.letters.width(p.style, " ")
}

// broken breaks pieces into lines of a width. What is joined to a word stays
// with it; a word that is wider than a line is broken.
func (f *pdfFace) broken(list []piece, width float64) [][]piece {
	var lines [][]piece
	var now []piece
	at := 0.0
	for i := 0; i < len(list); {
		word, next := f.together(list, i)
		i = next
		w := f.span(word)
		if len(now) > 0 && at+f.blank(word[0])+w > width {
			lines, now, at = append(lines, now), nil, 0
		}
		if len(now) > 0 {
			at += f.blank(word[0])
		}
		if w > width {
			whole, rest := f.chopped(word, width)
			lines = append(lines, whole...)
			word, w, at = rest, f.span(rest), 0
		}
		now, at = append(now, word...), at+w
	}
	if len(now) > 0 {
		lines = append(lines, now)
	}
	return lines
}

// together gives a piece with all that is joined to it, and where the next one
// begins.
func (f *pdfFace) together(list []piece, at int) (word []piece, next int) {
	next = at + 1
	for next < len(list) && list[next].joined {
		next++
	}
	return list[at:next], next
}

// span is the width of pieces from the first letter to the last.
func (f *pdfFace) span(list []piece) float64 {
	w := 0.0
	for i, p := range list {
		if i > 0 {
			w += f.blank(p)
		}
		w += f.width(p)
	}
	return w
}

// chopped breaks what is wider than a line, between letters; the rest begins
// the next line.
func (f *pdfFace) chopped(word []piece, width float64) (lines [][]piece, rest []piece) {
	var now []piece
	at := 0.0
	for _, p := range word {
		part := p
		part.text = ""
		for _, r := range p.text {
			longer := part
			longer.text += string(r)
			if w := f.width(longer); at+w > width && (part.text != "" || len(now) > 0) {
				if part.text != "" {
					now = append(now, part)
				}
				lines, now, at = append(lines, now), nil, 0
				part.text, part.joined = string(r), false
				continue
			}
			part = longer
		}
		now, at = append(now, part), at+f.width(part)
	}
	return lines, now
}

// leading is the height of a line, that of its tallest piece, mm.
func leading(list []piece) float64 {
	h := 0.0
	for _, p := range list {
		if p.raised {
			p.style.size *= sizeBody / sizeRaised // as that of the word it hangs on
		}
		h = max(h, p.style.leading())
	}
	return h
}

// baseline is how far the letters of a line stand below its top, as a share of
// its height.
const baseline = 0.74

// put draws a line whose top is at y. Words of one style are written as one
// text, so that a reader can copy them.
func (f *pdfFace) put(x, y float64, list []piece) {
	base := y + leading(list)*baseline
	run, runAt := "", x
	var in style
	flush := func() {
		if run != "" {
			f.letter(runAt, base, run, in)
		}
		run = ""
	}
	for i, p := range list {
		gap := 0.0
		if i > 0 {
			gap = f.blank(p)
		}
		switch {
		case p.boxed || p.raised:
			flush()
			f.special(x+gap, base, p)
		case run != "" && p.style == in:
			if gap > 0 {
				run += " "
			}
			run += p.text
		default:
			flush()
			run, runAt, in = p.text, x+gap, p.style
		}
		x += gap + f.width(p)
	}
	flush()
}

// special draws a mark or the number of a footnote.
func (f *pdfFace) special(x, base float64, p piece) {
	if p.boxed {
		f.pen(soft, 0.15)
		h := p.style.mm()
		f.pdf.RoundedRect(x, base-0.83*h, f.width(p), 1.12*h, 0.5*h, "1234", "D")
		f.letter(x+boxPad, base, p.text, p.style)
		return
	}
	up := base - 0.55*p.style.mm()
	f.letter(x, up, p.text, p.style)
	if p.note > 0 {
		f.cite(p.note, x, up-p.style.mm(), f.width(p), 1.3*p.style.mm())
	}
}

// letter writes a text on its base line.
func (f *pdfFace) letter(x, base float64, text string, s style) {
	f.set(s)
	f.pdf.Text(x, base, text)
}

// set changes the font where it is not the one set last on this page.
func (f *pdfFace) set(s style) {
	if s == f.now && f.page == f.pdf.PageNo() {
		return
	}
	c := cuts()[s.cut]
	f.pdf.AddUTF8FontFromBytes(c.family, c.style, c.data) // once: the library knows which it has
	f.pdf.SetFont(c.family, c.style, s.size)
	f.pdf.SetTextColor(s.gray, s.gray, s.gray)
	f.now, f.page = s, f.pdf.PageNo()
}

// pen sets gray and width of lines.
func (f *pdfFace) pen(gray int, width float64) {
	f.pdf.SetDrawColor(gray, gray, gray)
	f.pdf.SetLineWidth(width)
}

// cite makes the number of a footnote lead to the note; the first one is where
// the note leads back to.
func (f *pdfFace) cite(note int, x, y, w, h float64) {
	f.pdf.Link(x, y, w, h, f.link(f.notes, note))
	if back := f.link(f.backs, note); !f.cited[note] {
		f.cited[note] = true
		f.pdf.SetLink(back, max(0, y-5), f.pdf.PageNo())
	}
}

// link gives the link of a note, made at first use.
func (f *pdfFace) link(of map[int]int, note int) int {
	if _, ok := of[note]; !ok {
		of[note] = f.pdf.AddLink()
	}
	return of[note]
}
