package report

import (
	"codeberg.org/go-pdf/fpdf"

	"relath/advisor/drawing"
)

// inkGray gives the gray of an ink on paper.
func inkGray(ink drawing.Ink) int {
	switch ink {
	case drawing.Soft:
		return soft
	case drawing.Faint:
		return line
	case drawing.Paper:
		return 255
	case drawing.Wash:
		return wash
	case drawing.Dark:
		return 60
	case drawing.Medium:
		return 135
	case drawing.Light:
		return 205
	}
	return black
}

// picture draws a picture as wide as the text, or as high as the sheet allows.
func (f *pdfFace) picture(p *drawing.Picture) {
	scale := f.pictureScale(p)
	f.keep(p.Height*scale + pictureSpace)
	f.drawPicture(p, f.left, f.y, scale)
	f.y += p.Height*scale + pictureSpace
}

// pictureSpace is the space below a picture, captionRoom that of a caption above
// one, mm.
const (
	pictureSpace = 2.0
	captionRoom  = 8.0
)

func (f *pdfFace) pictureScale(p *drawing.Picture) float64 {
	return min(f.wide/p.Width, (f.full()-pictureSpace-captionRoom)/p.Height)
}

// pictureLeast is the height that the picture of a block needs with its caption.
func (f *pdfFace) pictureLeast(b *Block) float64 {
	p := b.Drawing()
	return p.Height*f.pictureScale(p) + pictureSpace + captionRoom
}

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
		f.letter(left, y, text, s)
		return
	}
	f.set(s) // before the turn, which keeps no font
	f.pdf.TransformBegin()
	f.pdf.TransformRotate(w.Turn, x, y)
	f.letter(left, y, text, s)
	f.pdf.TransformEnd()
}
