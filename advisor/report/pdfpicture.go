package report

import (
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"relath/advisor/drawing"
)

// inkGray gives the gray of an ink on paper.
func inkGray(ink drawing.Ink) int { return int(ink.RGB(drawing.OnPaper) & 0xff) }

// drawPicture draws a picture as vectors with its upper left corner at x and y,
// its lengths times a scale.
func (f *pdfFace) drawPicture(p *drawing.Picture, x, y, scale float64) {
	for i := range p.Items {
		switch item := &p.Items[i]; {
		case item.Path != nil:
			f.drawPath(item.Path, x, y, scale)
		case item.Words != nil:
			f.drawWords(item.Words, x, y, scale)
		}
	}
	f.pdf.SetDashPattern(nil, 0)
}

func (f *pdfFace) drawPath(p *drawing.Path, x, y, scale float64) {
	how := ""
	if p.Closed && p.Fill != "" {
		g := inkGray(p.Fill)
		f.pdf.SetFillColor(g, g, g)
		how = "F"
	}
	if p.Line != "" && p.Width > 0 {
		f.pen(inkGray(p.Line), p.Width*scale)
		dash := make([]float64, len(p.Dash))
		for i, d := range p.Dash {
			dash[i] = d * scale
		}
		f.pdf.SetDashPattern(dash, 0)
		how += "D"
	}
	if how == "" || len(p.Points) < 2 {
		return
	}
	at := func(q drawing.Point) fpdf.PointType { return fpdf.PointType{X: x + q.X*scale, Y: y + q.Y*scale} }
	first := at(p.Points[0])
	f.pdf.MoveTo(first.X, first.Y)
	for _, q := range p.Points[1:] {
		f.pdf.LineTo(at(q).X, at(q).Y)
	}
	if p.Closed {
		f.pdf.ClosePath()
	}
	f.pdf.DrawPath(how)
}

func (f *pdfFace) drawWords(w *drawing.Words, x, y, scale float64) {
	s := style{cut: regular, size: w.Size * scale * 72 / 25.4, gray: inkGray(w.Ink)}
	if w.Bold {
		s.cut = bold
	}
	text := f.letters.written(s.cut, w.Text)
	x, y = x+w.At.X*scale, y+w.At.Y*scale
	left := x
	switch w.Align {
	case drawing.Middle:
		left -= f.letters.width(s, text) / 2
	case drawing.End:
		left -= f.letters.width(s, text)
	}
	if w.Turn == 0 {
		f.cleared(left, y, text, s)
		return
	}
	f.set(s) // before the turn, which keeps no font
	f.pdf.TransformBegin()
	f.pdf.TransformRotate(w.Turn, x, y)
	f.cleared(left, y, text, s)
	f.pdf.TransformEnd()
}

// cleared writes words on a strip of paper, so that no line runs through them.
func (f *pdfFace) cleared(x, base float64, text string, s style) {
	const up, down, side = 0.74, 0.2, 0.1 // of the size
	paper := inkGray(drawing.Paper)
	f.pdf.SetFillColor(paper, paper, paper)
	f.pdf.Rect(x-side*s.mm(), base-up*s.mm(), f.letters.width(s, text)+2*side*s.mm(), (up+down)*s.mm(), "F")
	f.letter(x, base, text, s)
}

// figure sets a picture, or puts it off to the top of the next page where too
// little is left of this one: what follows it goes on.
func (f *pdfFace) figure(b *Block) {
	_, height := f.fitted(b, f.title(b))
	if len(f.waiting) > 0 || height > f.room() && f.y > marginTop {
		f.waiting = append(f.waiting, b)
		return
	}
	f.drawn(b)
}

// drawn sets a picture with its caption and how to read it. What it says in
// words and numbers comes behind all blocks, so that pictures stay together. A
// picture is made smaller where it does not fit between the margins.
func (f *pdfFace) drawn(b *Block) {
	caption, key, t := b.captioned()
	p, title := b.Drawing(), f.title(b)
	scale, _ := f.fitted(b, title)
	if f.y > marginTop {
		f.y += tableSpace
	}
	f.lines(f.left, title, nil)
	f.y++
	f.drawPicture(p, f.left-max(0, p.Width*scale-f.wide)/2, f.y, scale)
	f.y += p.Height*scale + 2
	f.flow(f.left, f.wide, f.words(key, softStyle()))
	f.y += tableSpace
	if t != nil {
		later := *t
		if !strings.HasPrefix(later.Caption, caption) {
			later.Caption = strings.Trim(caption+"; "+lower(later.Caption), "; ")
		}
		f.later = append(f.later, &later)
	}
}

// title breaks the caption of a picture into lines.
func (f *pdfFace) title(b *Block) [][]piece {
	caption, _, _ := b.captioned()
	return f.broken(f.words(caption, captionStyle()), f.wide)
}

// captioned gives the caption of a picture, how to read it, and what it says in
// words and numbers.
func (b *Block) captioned() (caption, key string, t *Table) {
	switch {
	case b.Bars != nil:
		return b.Bars.Caption + ", in " + b.Bars.Unit, b.Bars.Key, b.Bars.table()
	case b.Curve != nil:
		return b.Curve.Caption, "", b.Curve.table()
	}
	return b.Figure.Caption, b.Figure.Key, b.Figure.Table
}

// numbers sets the tables of the pictures.
func (f *pdfFace) numbers() {
	if len(f.later) == 0 {
		return
	}
	f.heading([]Block{{Heading: &Heading{Level: 1, Text: say("What the pictures say in numbers")}}, {Table: f.later[0]}}, 0)
	for _, t := range f.later {
		f.table(t)
	}
}

// overhang is how far a figure may reach into each side margin, mm: so that
// drawings to scale, 180 mm wide, keep their scale on letter and A4. Charts have
// no scale and keep to the text.
const overhang = 7.0

// fitted gives the scale of a picture on the page, and its height with what
// stands above it.
func (f *pdfFace) fitted(b *Block, title [][]piece) (scale, height float64) {
	p, room := b.Drawing(), f.wide
	if b.Figure != nil {
		room += 2 * overhang
	}
	_, key, _ := b.captioned()
	around := float64(len(title))*smallStyle().leading() + 2*tableSpace + 3
	for _, l := range f.broken(f.words(key, softStyle()), f.wide) {
		around += leading(l)
	}
	scale = min(1, room/max(1, p.Width), (f.full()-around)/max(1, p.Height))
	return scale, around + p.Height*scale
}
