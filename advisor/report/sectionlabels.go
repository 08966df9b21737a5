package report

import (
	"fmt"

	"relath/advisor/drawing"
	"relath/kb/quantity"
)

// leader draws the line from a spot in a layer to its label.
func (s *cutting) leader(i int) {
	const spot, elbow = 0.55, 5.0
	l, b := s.layers[i], s.box(s.own(i))
	to := drawing.At(l.label.X0-1.5, s.height(l))
	from := drawing.At((b.X0+b.X1)/2, to.Y)
	points := []drawing.Point{from, to}
	if !s.upright {
		from = drawing.At(b.X1-4-3*float64(i%3), (b.Y0+b.Y1)/2)
		points = []drawing.Point{from, drawing.At(b.X1+2, from.Y), drawing.At(to.X-elbow+1, to.Y), to}
	}
	// A seam of paper parts the line from the layers that it crosses; between the
	// layers and the labels it would wipe out its neighbors.
	s.picture.Line(drawing.Paper, 0.9, points[:2]...)
	s.picture.Line(drawing.Full, 0.18, points...)
	s.picture.Dot(drawing.Paper, from, spot+0.3)
	s.picture.Dot(drawing.Full, from, spot)
}

// labels writes the names of the layers into their column.
func (s *cutting) labels(column float64) {
	for _, l := range s.layers {
		y := l.label.Y0 + 0.85*headSize
		s.picture.Add(drawing.Item{Words: &drawing.Words{At: drawing.At(column, y), Text: l.title, Size: headSize, Bold: s.over.Small == nil || l.stress, Ink: drawing.Full}})
		for _, line := range l.lines {
			y += bodyLead
			x := column
			if line.mark {
				s.picture.Area(drawing.Full, drawing.At(x, y-1.8), drawing.At(x+1.9, y-0.9), drawing.At(x, y))
				x += wedgeRoom
			}
			s.picture.Write(drawing.At(x, y), line.text, bodySize, drawing.Start, drawing.Full)
		}
	}
}

// wedge points at a choke layer from outside of the section.
func (s *cutting) wedge(i int) {
	if !s.layers[i].choke {
		return
	}
	const high, half, off = 1.9, 0.9, 0.5
	b := s.box(s.own(i))
	if s.upright {
		x, y := (b.X0+b.X1)/2, s.frame.Y0-off
		s.picture.Area(drawing.Full, drawing.At(x-half, y-high), drawing.At(x+half, y-high), drawing.At(x, y))
		return
	}
	x, y := s.frame.X0-off, (b.Y0+b.Y1)/2
	s.picture.Area(drawing.Full, drawing.At(x-high, y-half), drawing.At(x, y), drawing.At(x-high, y+half))
}

// around names the two sides of the section and draws the ground.
func (s *cutting) around() {
	first, last := s.sides()
	f := s.frame
	if s.grade {
		s.soil()
	}
	if !s.upright && last == "ground" {
		s.picture.Add(drawing.Hatch(drawing.Earth, drawing.Box{X0: f.X0, Y0: f.Y1, X1: f.X1, Y1: f.Y1 + groundDeep}, false)...)
	}
	if s.upright {
		s.picture.Write(drawing.At(f.X0-1, f.Y0-3), first, headSize, drawing.End, drawing.Soft)
		s.picture.Write(drawing.At(f.X1+1, f.Y0-3), last, headSize, drawing.Start, drawing.Soft)
		return
	}
	s.picture.Write(drawing.At(f.X0, f.Y0-2), first, headSize, drawing.Start, drawing.Soft)
	s.picture.Write(drawing.At(f.X0, s.under()+4), last, headSize, drawing.Start, drawing.Soft)
}

// The ground beside and below an assembly, mm.
const (
	groundDeep = 5.0
	groundWide = 12.0
	deepest    = 12.0 // of the spacing below a drawing
)

// under is where the drawing of a floor or roof ends with the ground below it.
func (s *cutting) under() float64 {
	if _, last := s.sides(); last == "ground" && !s.upright {
		return s.frame.Y1 + groundDeep
	}
	return s.frame.Y1
}

// soil draws the ground outside of a wall up to grade, which is not at its true
// height.
func (s *cutting) soil() {
	f := s.frame
	grade := f.Y0 + 0.2*(f.Y1-f.Y0)
	s.picture.Add(drawing.Hatch(drawing.Earth, drawing.Box{X0: f.X0 - groundWide, Y0: grade, X1: f.X0, Y1: f.Y1}, true)...)
	s.picture.Line(drawing.Full, faceWidth, drawing.At(f.X0-groundWide-4, grade), drawing.At(f.X0, grade))
	s.picture.Write(drawing.At(f.X0-groundWide-4, grade-1.2), "grade", bodySize, drawing.Start, drawing.Soft)
	words := s.feet(s.of.Assembly.BelowGrade) + " below grade"
	if s.ruler.Width(words, bodySize, false) < f.Y1-grade-2 {
		s.picture.Add(drawing.Item{Words: &drawing.Words{
			At: drawing.At(f.X0-groundWide-2, (grade+f.Y1)/2), Text: words, Size: bodySize, Align: drawing.Middle, Ink: drawing.Soft, Turn: 90,
		}})
	}
}

// dimension marks the spacing of the framing.
func (s *cutting) dimension() {
	space := s.spacing()
	var words string
	for _, l := range s.layers {
		if l.part.Framed && s.drawn(l.part.Spacing) == space {
			words = quantity.Format(l.part.Spacing, quantity.Length, s.Units) + " on center"
		}
	}
	if _, to := s.along(); s.fill || words == "" || s.first+space > to || s.ruler.Width(words, bodySize, false) > space {
		return
	}
	const off, deep, tick = 6.0, deepest - 2, 1.0
	a, b := s.first, s.first+space
	if s.upright {
		x := s.frame.X0 - off
		s.picture.Line(drawing.Soft, 0.18, drawing.At(x, a), drawing.At(x, b))
		for _, y := range []float64{a, b} {
			s.picture.Line(drawing.Soft, 0.3, drawing.At(x-tick, y+tick), drawing.At(x+tick, y-tick))
			s.picture.Line(drawing.Soft, 0.13, drawing.At(x-tick, y), drawing.At(s.frame.X0-1, y))
		}
		s.picture.Add(drawing.Item{Words: &drawing.Words{At: drawing.At(x-1.4, (a+b)/2), Text: words, Size: bodySize, Align: drawing.Middle, Ink: drawing.Soft, Turn: 90}})
		return
	}
	y := s.under() + deep
	s.picture.Line(drawing.Soft, 0.18, drawing.At(a, y), drawing.At(b, y))
	for _, x := range []float64{a, b} {
		s.picture.Line(drawing.Soft, 0.3, drawing.At(x-tick, y+tick), drawing.At(x+tick, y-tick))
		s.picture.Line(drawing.Soft, 0.13, drawing.At(x, s.under()+1), drawing.At(x, y+tick))
	}
	s.picture.Write(drawing.At((a+b)/2, y-1), words, bodySize, drawing.Middle, drawing.Soft)
}

// foot says scale and what is not to scale, and closes the sheet.
func (s *cutting) foot() {
	y := s.frame.Y1
	for _, l := range s.layers {
		y = max(y, l.label.Y1)
	}
	if !s.upright {
		y = max(y, s.under()+deepest)
	}
	if s.upright && s.course != nil {
		y = max(y, s.frame.Y1+2*(panelSpace+panelDeep))
	}
	y += 5
	s.ruled(y)
	y += 5.5
	for _, line := range s.ruler.Fit(s.notes(), bodySize, sheetWidth-2*sheetMargin, false) {
		s.picture.Write(drawing.At(sheetMargin, y), line, bodySize, drawing.Start, drawing.Soft)
		y += bodyLead
	}
	s.picture.Height = y
}

// feet writes a length as people say heights.
func (s *cutting) feet(v float64) string {
	if s.Units == quantity.InchPound {
		if x, err := quantity.ToUnit(v, "ft", quantity.Length); err == nil {
			return fmt.Sprintf("%.3g ft", x)
		}
	}
	return quantity.Format(v, quantity.Length, s.Units)
}

// ruled draws a length of the building to the scale of the drawing, which holds
// at any size in which it is shown.
func (s *cutting) ruled(y float64) {
	const inch, least = 0.0254, 12.0 // m, mm
	lengths := []float64{1 * inch, 2 * inch, 3 * inch, 6 * inch, 12 * inch, 24 * inch, 60 * inch}
	if s.Units == quantity.SI {
		lengths = []float64{0.02, 0.05, 0.1, 0.2, 0.5, 1, 2}
	}
	length := lengths[len(lengths)-1]
	for _, l := range lengths {
		if s.drawn(l) >= least {
			length = l
			break
		}
	}
	x := sheetMargin + s.drawn(length)
	s.picture.Line(drawing.Soft, 0.25, drawing.At(sheetMargin, y-1.6), drawing.At(sheetMargin, y), drawing.At(x, y), drawing.At(x, y-1.6))
	s.picture.Write(drawing.At(x+1.5, y), quantity.Format(length, quantity.Length, s.Units), bodySize, drawing.Start, drawing.Soft)
}

// notes says how the drawing is to be read.
func (s *cutting) notes() string {
	text := fmt.Sprintf("Scale %s, where the drawing is %g mm wide.", s.scale.name, sheetWidth)
	if s.upright && !s.fill {
		text = "Seen from above. " + text
	}
	lines, framed, maybe, choke := false, false, false, false
	for _, x := range s.strips {
		lines = lines || !x.scaled
	}
	for _, l := range s.layers {
		framed, maybe, choke = framed || l.part.Framed, maybe || l.maybe, choke || l.choke
	}
	if lines {
		text += " Sheets, coats and thin layers are drawn as lines, not to scale."
	}
	switch {
	case framed && s.fill:
		text += " Cut between the framing."
	case framed:
		text += " Framing is drawn " + quantity.Format(memberWide, quantity.Length, s.Units) + " wide."
	}
	if s.grade {
		text += " The height is not to scale."
	}
	if choke {
		text += " Wedges point at the choke layers."
	}
	if maybe {
		text += " Dashed: may be missing."
	}
	return text
}
