package report

import (
	"fmt"
	"math"

	"relath/advisor/drawing"
)

// Sizes of letters and lines of charts, mm.
const (
	chartText  = 2.6
	chartSmall = 2.2
	gridLine   = 0.2
	axisLine   = 0.3
	curveLine  = 0.4
)

// Drawing gives the picture of a block, drawn to be shown on its own: that of a
// figure, of bars or of a curve. It is nil for a block of words.
func (b *Block) Drawing() *drawing.Picture {
	switch {
	case b.Figure != nil:
		return b.Figure.Picture
	case b.Bars != nil:
		return b.Bars.drawing()
	case b.Curve != nil:
		return b.Curve.drawing()
	}
	return nil
}

// The rows of a two-sided chart, mm.
const (
	rowHeight  = 4.4
	groupSpace = 2.0
	headSpace  = 9.2
	rowLabel   = 16.8
)

// twoSided is a two-sided chart while it is drawn.
type twoSided struct {
	*Bars
	*drawing.Picture
	ruler  *drawing.Ruler
	middle float64 // where both sides begin
	room   float64 // of the scale of one side
}

// drawing draws a two-sided chart.
func (b *Bars) drawing() *drawing.Picture {
	c := &twoSided{Bars: b, ruler: drawing.NewRuler(), Picture: &drawing.Picture{
		Width: sheetWidth, Title: b.Caption + ", in " + b.Unit + ", log scale",
		About: fmt.Sprintf("Bars to the left: %s; to the right: %s, in %s, on a log scale from %g to %g.", b.Left, b.Right, b.Unit, b.From, b.To),
	}}
	c.Height = headSpace + 2.4
	widest := 0.0
	for _, g := range b.Groups {
		c.Height += c.groupHead(g) + float64(len(g.Rows))*rowHeight
		for _, r := range g.Rows {
			widest = max(widest, c.ruler.Width(r.Left.Shown, chartText, false), c.ruler.Width(r.Right.Shown, chartText, false))
		}
	}
	c.middle = rowLabel + (sheetWidth-rowLabel)/2
	c.room = max(10, (sheetWidth-rowLabel)/2-widest-4)
	c.frame()
	c.groups()
	return c.Picture
}

// groupHead is the height of the name of a group.
func (c *twoSided) groupHead(g BarGroup) float64 {
	return groupSpace + 3.4*float64(len(c.ruler.Fit(g.Name, chartText, sheetWidth-2*sheetMargin, true)))
}

// frame draws the heads of both sides and a line at each power of ten.
func (c *twoSided) frame() {
	c.Write(drawing.At(c.middle-1.6, 2.8), c.Left, chartText, drawing.End, drawing.Full)
	c.Write(drawing.At(c.middle+1.6, 2.8), c.Right, chartText, drawing.Start, drawing.Full)
	last := c.ruler.Width(fmt.Sprintf("%g", c.From), chartSmall, false) / 2
	for v := roundTen(c.From * 10); v <= c.To*1.0001; v = roundTen(v * 10) {
		x := c.share(v) * c.room
		words := fmt.Sprintf("%g", v)
		half := c.ruler.Width(words, chartSmall, false) / 2
		for _, side := range []float64{-1, 1} {
			c.Picture.Line(drawing.Faint, gridLine, drawing.At(c.middle+side*x, headSpace-1.6), drawing.At(c.middle+side*x, c.Height-1.2))
			if x-half > last+1 {
				c.Write(drawing.At(c.middle+side*x, headSpace-2.6), words, chartSmall, drawing.Middle, drawing.Soft)
			}
		}
		if x-half > last+1 {
			last = x + half
		}
	}
	c.Write(drawing.At(c.middle, headSpace-2.6), fmt.Sprintf("%g", c.From), chartSmall, drawing.Middle, drawing.Soft)
}

// groups draws the bars with their labels.
func (c *twoSided) groups() {
	y := headSpace
	for _, g := range c.Groups {
		at := y + groupSpace + 2.2
		for _, line := range c.ruler.Fit(g.Name, chartText, sheetWidth-2*sheetMargin, true) {
			c.Add(drawing.Item{Words: &drawing.Words{At: drawing.At(0.5, at), Text: line, Size: chartText, Bold: true, Ink: drawing.Full}})
			at += 3.4
		}
		y += c.groupHead(g)
		for _, r := range g.Rows {
			c.Write(drawing.At(2.4, y+2.6), r.Label, chartText, drawing.Start, drawing.Soft)
			c.bar(r.Left, y, -1)
			c.bar(r.Right, y, 1)
			y += rowHeight
		}
	}
	c.Picture.Line(drawing.Full, axisLine, drawing.At(c.middle, headSpace-0.8), drawing.At(c.middle, c.Height-1.2))
}

// bar draws one bar outward from the middle with its value behind it.
func (c *twoSided) bar(r Bar, y, side float64) {
	from := 0.0
	for _, part := range []struct {
		k drawing.Ink
		v float64
	}{{drawing.Dark, r.Low}, {drawing.Medium, r.Best}, {drawing.Light, r.High}} {
		if to := c.share(part.v) * c.room; to > from {
			a, b := c.middle+side*from, c.middle+side*to
			c.Add(filled(drawing.Box{X0: min(a, b), Y0: y + 0.6, X1: max(a, b), Y1: y + rowHeight - 1}, part.k))
			from = to
		}
	}
	if best := c.share(r.Best) * c.room; best > 0 {
		x := c.middle + side*best
		c.Picture.Line(drawing.Full, curveLine, drawing.At(x, y+0.2), drawing.At(x, y+rowHeight-0.6))
	}
	align := drawing.Start
	if side < 0 {
		align = drawing.End
	}
	c.Write(drawing.At(c.middle+side*(from+1.4), y+3), r.Shown, chartText, align, drawing.Full)
}

// roundTen removes what repeated multiplication adds to a power of ten.
func roundTen(v float64) float64 { return math.Pow(10, math.Round(math.Log10(v))) }
