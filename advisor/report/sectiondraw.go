package report

import (
	"fmt"
	"math"
	"strings"

	"relath/advisor/assembly"
	"relath/advisor/drawing"
)

// Sizes of letters and lines, mm.
const (
	headSize   = 2.9
	bodySize   = 2.6
	bodyLead   = 3.3 // from line to line
	labelGap   = 2.4
	edgeWidth  = 0.3
	faceWidth  = 0.45
	sheetLine  = 0.6
	coatLine   = 0.45
	wedgeRoom  = 2.8
	manyLayers = 15
	memberWide = 0.0381 // m, a framing member of 1-1/2 in
)

// compose lays out the sheet and draws everything.
func (s *cutting) compose() {
	s.picture = &drawing.Picture{Width: sheetWidth, Title: s.title(), About: s.about()}
	var column float64
	if s.over.Small != nil {
		column = s.placeSmall()
	} else {
		column = s.place()
	}
	s.members()
	s.around()
	for i := range s.layers {
		s.layer(i)
	}
	for i := range s.layers {
		s.leader(i)
		s.wedge(i)
	}
	s.labels(column)
	if s.over.Small != nil {
		return
	}
	s.dimension()
	s.panels()
	s.foot()
}

func (s *cutting) title() string {
	title := "Section of " + s.of.Assembly.Name
	if s.over.Title != "" && s.over.Title != s.of.Assembly.Name {
		title += ", " + s.over.Title
	}
	return title
}

// place fixes the frame of the layers and the column of labels, which it lays
// out.
func (s *cutting) place() float64 {
	head, besides := 9.0, 14.0
	if !s.upright {
		besides += 0.4 * float64(max(0, len(s.layers)-manyLayers)) // room for the leaders to part
	}
	if s.upright {
		s.frame.X0 = 26
		s.frame.X1 = s.frame.X0 + s.thickness()
	} else {
		s.frame.X0 = sheetMargin + 4
		if s.course != nil {
			s.frame.X0 += panelsWide
			head = 18 // for the names of the lines
		}
		s.frame.X1 = s.frame.X0 + max(s.leastWide(), min(mostAlong, 1.2*s.spacing()+12))
	}
	column := s.frame.X1 + besides
	total := s.wrapLabels(sheetWidth - sheetMargin - column)
	s.frame.Y0 = head
	if s.upright {
		s.frame.Y1 = head + max(total, leastAlong, 1.2*s.spacing()+8)
	} else {
		s.frame.Y0 = head + max(0, total-s.thickness())/2
		s.frame.Y1 = s.frame.Y0 + s.thickness()
	}
	s.spreadLabels(column, head, max(s.frame.Y1, head+total))
	return column
}

// leastWide is how far a floor or roof is drawn along at least.
func (s *cutting) leastWide() float64 {
	if s.course != nil {
		return 34
	}
	return 70
}

// wrapLabels breaks the texts of the labels to the width of their column and
// gives the height they take together.
func (s *cutting) wrapLabels(width float64) float64 {
	total := 0.0
	for i := range s.layers {
		l := &s.layers[i]
		heads := s.ruler.Fit(l.head, headSize, width, true)
		var lines []remark
		for _, more := range heads[1:] {
			lines = append(lines, remark{text: more})
		}
		for _, r := range l.body {
			for n, text := range s.ruler.Fit(r.text, bodySize, width-wedgeRoom, false) {
				lines = append(lines, remark{text, r.mark && n == 0})
			}
		}
		l.title, l.lines = heads[0], lines
		l.label = drawing.Box{X1: width, Y1: headSize + bodyLead*float64(len(l.lines)) + 0.6}
		total += l.label.Y1 + labelGap
	}
	return total
}

// spreadLabels places the labels in their column.
func (s *cutting) spreadLabels(column, from, to float64) {
	want, heights := make([]float64, len(s.layers)), make([]float64, len(s.layers))
	for i, l := range s.layers {
		x := s.own(i)
		heights[i] = l.label.Y1
		want[i] = s.frame.Y0 + (x.from+x.to)/2
		if s.upright {
			want[i] = from + (to-from)*(float64(i)+0.5)/float64(len(s.layers))
		}
	}
	for i, y := range drawing.Spread(want, heights, labelGap, from, to) {
		l := &s.layers[i]
		l.label = drawing.Box{X0: column, Y0: y - heights[i]/2, X1: column + l.label.X1, Y1: y + heights[i]/2}
	}
}

// members places the first framing member along the layers: so that all are
// clear of the points where leaders begin, where that can be.
func (s *cutting) members() {
	space := s.spacing()
	if space == 0 {
		return
	}
	from, to := s.along()
	half := s.drawn(memberWide) / 2
	first := from + half + 3
	for try := first; try < from+space && try+space+half < to; try += 1 {
		if s.clear(try, space, half+1) {
			first = try
			break
		}
	}
	s.first = first
}

// bays gives the middles of the framing members of a layer along it.
func (s *cutting) bays(part *assembly.Part) []float64 {
	if s.fill {
		return nil // a cut along the studs runs between them
	}
	var list []float64
	_, to := s.along()
	for at := s.first; at-s.drawn(memberWide)/2 < to; at += s.drawn(part.Spacing) {
		list = append(list, at)
	}
	return list
}

// clear tells whether members from a place on leave the leaders of the framed
// layers alone.
func (s *cutting) clear(first, space, half float64) bool {
	if !s.upright {
		return true
	}
	for _, l := range s.layers {
		if !l.part.Framed {
			continue
		}
		off := math.Mod(s.height(l)-first+space/2, space)
		if math.Abs(off-space/2) < half {
			return false
		}
	}
	return true
}

// along gives the extent of the drawing along the layers.
func (s *cutting) along() (float64, float64) {
	if s.upright {
		return s.frame.Y0, s.frame.Y1
	}
	return s.frame.X0, s.frame.X1
}

// height is where the leader of a label begins at the column.
func (s *cutting) height(l cutLayer) float64 { return l.label.Y0 + 0.62*headSize }

// layer draws one layer with its coats.
func (s *cutting) layer(i int) {
	l := s.layers[i]
	for _, x := range s.strips {
		switch {
		case x.layer != i:
		case x.coats:
			s.stroke(x, drawing.Dark, coatLine, nil)
		case x.sheet:
			var dash []float64
			if l.maybe {
				dash = []float64{2.4, 1.2}
			}
			s.stroke(x, drawing.Full, sheetLine, dash)
		default:
			s.solid(l, s.box(x))
		}
	}
}

// stroke draws the line of a sheet or of coats along its strip.
func (s *cutting) stroke(x strip, k drawing.Ink, width float64, dash []float64) {
	b := s.box(x)
	mx, my := (b.X0+b.X1)/2, (b.Y0+b.Y1)/2
	from, to := drawing.At(b.X0, my), drawing.At(b.X1, my)
	if s.upright {
		from, to = drawing.At(mx, b.Y0), drawing.At(mx, b.Y1)
	}
	s.picture.Dashed(k, width, dash, from, to)
}

// solid draws a layer that has a thickness.
func (s *cutting) solid(l cutLayer, b drawing.Box) {
	if l.tag.Shade != "" {
		s.picture.Add(filled(b, l.tag.Shade))
	}
	switch {
	case l.part.Framed:
		s.framed(l.part, b)
	case !l.part.Cavity:
		s.picture.Add(drawing.Hatch(patternOf(l.part.Material), b, s.upright)...)
	}
	var dash []float64
	if l.maybe {
		dash = []float64{2.4, 1.2}
	}
	s.edges(b, edgeWidth, dash)
}

func filled(b drawing.Box, k drawing.Ink) drawing.Item {
	p := b.Path()
	p.Fill = k
	return drawing.Item{Path: p}
}

// edges draws the two faces of a layer.
func (s *cutting) edges(b drawing.Box, width float64, dash []float64) {
	if s.upright {
		s.picture.Dashed(drawing.Full, width, dash, drawing.At(b.X0, b.Y0), drawing.At(b.X0, b.Y1))
		s.picture.Dashed(drawing.Full, width, dash, drawing.At(b.X1, b.Y0), drawing.At(b.X1, b.Y1))
		return
	}
	s.picture.Dashed(drawing.Full, width, dash, drawing.At(b.X0, b.Y0), drawing.At(b.X1, b.Y0))
	s.picture.Dashed(drawing.Full, width, dash, drawing.At(b.X0, b.Y1), drawing.At(b.X1, b.Y1))
}

// framed draws the fills of a bay and the members between the bays.
func (s *cutting) framed(part *assembly.Part, b drawing.Box) {
	fills := part.Fills
	at := 0.0
	for i := range fills {
		f := fills[i]
		if s.turned {
			f = fills[len(fills)-1-i]
		}
		next := min(at+s.drawn(f.Depth), s.across(b))
		if f.Material != nil {
			s.picture.Add(drawing.Hatch(patternOf(f.Material), s.slice(b, at, next), s.upright)...)
		}
		at = next
	}
	for _, m := range s.bays(part) {
		half := s.drawn(memberWide) / 2
		from, to := s.along()
		box := s.cut(b, max(m-half, from), min(m+half, to))
		s.picture.Add(filled(box, drawing.Paper))
		s.picture.Add(drawing.Hatch(drawing.EndGrain, box, s.upright)...)
		outline := box.Path()
		outline.Line, outline.Width = drawing.Full, edgeWidth
		s.picture.Add(drawing.Item{Path: outline})
	}
}

func (s *cutting) across(b drawing.Box) float64 {
	if s.upright {
		return b.X1 - b.X0
	}
	return b.Y1 - b.Y0
}

// slice gives the part of a box between two depths.
func (s *cutting) slice(b drawing.Box, from, to float64) drawing.Box {
	if s.upright {
		return drawing.Box{X0: b.X0 + from, Y0: b.Y0, X1: b.X0 + to, Y1: b.Y1}
	}
	return drawing.Box{X0: b.X0, Y0: b.Y0 + from, X1: b.X1, Y1: b.Y0 + to}
}

// cut gives the part of a box between two places along the layers.
func (s *cutting) cut(b drawing.Box, from, to float64) drawing.Box {
	if s.upright {
		return drawing.Box{X0: b.X0, Y0: from, X1: b.X1, Y1: to}
	}
	return drawing.Box{X0: from, Y0: b.Y0, X1: to, Y1: b.Y1}
}

// about says in words what the picture shows.
func (s *cutting) about() string {
	var names []string
	for _, l := range s.layers {
		names = append(names, lower(l.head)+" ("+strings.Join(l.words(), "; ")+")")
	}
	first, last := s.sides()
	how := "Cut through from the side, from the top down"
	if s.upright {
		how = "Seen from above, from the left"
	}
	if s.grade {
		how = "Cut through from the side, from the left"
	}
	return fmt.Sprintf("%s: %s; %s; %s. Scale %s.", how, first, strings.Join(names, "; "), last, s.scale.name)
}
