package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"relath/advisor/drawing"
)

// The frame of a curve on its sheet, mm; the names of the lines stand to the
// right of it.
const (
	curveLeft   = 14.0
	curveRight  = 136.0
	curveTop    = 6.5
	curveBottom = 64.0
	nameLead    = 3.1 // from line to line of a name
)

// axis maps values to positions.
type axis struct {
	from, to float64 // of the values, as logarithms when log
	at, end  float64
	log      bool
}

func (a axis) pos(v float64) float64 {
	if a.log {
		v = math.Max(a.from, math.Log10(math.Max(v, 1e-30))) // a logarithm has no zero: such a value lies on the axis
	}
	if a.to == a.from {
		return a.at
	}
	return a.at + (a.end-a.at)*(v-a.from)/(a.to-a.from)
}

// place gives the place of a point on the sheet.
func (c *lines) place(x, y float64) drawing.Point { return drawing.At(c.x.pos(x), c.y.pos(y)) }

// lines is a curve while it is drawn.
type lines struct {
	*Curve
	*drawing.Picture
	ruler *drawing.Ruler
	x, y  axis
}

// drawing draws the lines of a curve, each with its own dashes and its name at
// its end, so that none is told by color.
func (c *Curve) drawing() *drawing.Picture {
	l := &lines{Curve: c, ruler: drawing.NewRuler(), Picture: &drawing.Picture{Width: sheetWidth, Title: c.Caption, About: c.about()}}
	l.x, l.y = c.axes()
	if len(c.Lines) == 1 {
		l.band()
	}
	l.grid()
	l.limits()
	for i, line := range c.Lines {
		l.line(line, dashes(i))
	}
	bottom := curveBottom + 9.5
	if len(c.Lines) > 1 {
		bottom = max(bottom, l.names())
	}
	l.Height = bottom
	return l.Picture
}

// about says what the lines are.
func (c *Curve) about() string {
	var names []string
	for _, l := range c.Lines {
		names = append(names, l.Label)
	}
	text := fmt.Sprintf("%s over %s, in %s", capital(join(names, "and")), c.XLabel, c.YLabel)
	for _, l := range c.Limits {
		text += "; " + l.Label
	}
	return text + "."
}

// dashes tells the lines of a chart apart.
func dashes(i int) []float64 {
	list := [][]float64{nil, {2, 0.9}, {0.7, 0.7}, {2.6, 0.8, 0.7, 0.8}, {1.2, 0.4, 0.4, 0.4, 0.4, 0.4}, {0.3, 0.8}}
	return list[i%len(list)]
}

// line draws one line, with a dot at each point unless they are many.
func (c *lines) line(l Line, dash []float64) {
	points := make([]drawing.Point, 0, len(l.Points))
	for _, p := range l.Points {
		points = append(points, c.place(p.X, p.Best))
	}
	if len(points) == 0 {
		return
	}
	c.Dashed(drawing.Full, curveLine, dash, points...)
	if c.Every == 0 {
		for _, p := range points {
			c.Dot(drawing.Full, p, 0.5)
		}
	}
}

// names writes the name of each line at its end, apart from the others, and
// gives how far down they reach.
func (c *lines) names() float64 {
	const gap, at = 1.2, curveRight + 9
	var texts [][]string
	var ends, heights []float64
	for _, l := range c.Lines {
		end := curveBottom
		if n := len(l.Points); n > 0 {
			end = c.y.pos(l.Points[n-1].Best)
		}
		text := c.ruler.Fit(l.Label, chartText, sheetWidth-at-0.5, false)
		texts, ends, heights = append(texts, text), append(ends, end), append(heights, nameLead*float64(max(1, len(text))))
	}
	order := make([]int, len(texts))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return compareDown(ends[b], ends[a]) })
	want, high := make([]float64, len(order)), make([]float64, len(order))
	for k, i := range order {
		want[k], high[k] = ends[i], heights[i]
	}
	bottom := 0.0
	for k, y := range drawing.Spread(want, high, gap, 1, curveBottom+6) {
		i := order[k]
		c.Dashed(drawing.Full, curveLine, dashes(i), drawing.At(c.lastX(i), ends[i]), drawing.At(curveRight+2, ends[i]), drawing.At(at-3, y), drawing.At(at-1, y))
		top := y - high[k]/2
		for n, line := range texts[i] {
			c.Write(drawing.At(at, top+nameLead*float64(n)+2.3), line, chartText, drawing.Start, drawing.Full)
		}
		bottom = max(bottom, top+high[k]+1)
	}
	return bottom
}

// lastX is where a line ends.
func (c *lines) lastX(i int) float64 {
	if n := len(c.Lines[i].Points); n > 0 {
		return c.x.pos(c.Lines[i].Points[n-1].X)
	}
	return curveRight
}

// axes fits both axes to the values.
func (c *Curve) axes() (x, y axis) {
	x = axis{from: math.Inf(1), to: math.Inf(-1), at: curveLeft, end: curveRight}
	y = axis{from: math.Inf(1), to: math.Inf(-1), at: curveBottom, end: curveTop, log: c.Log}
	for _, l := range c.Lines {
		for _, p := range l.Points {
			x.from, x.to = math.Min(x.from, p.X), math.Max(x.to, p.X)
			y.from, y.to = math.Min(y.from, p.Low), math.Max(y.to, p.High)
		}
	}
	for _, l := range c.Limits {
		y.from, y.to = math.Min(y.from, l.At), math.Max(y.to, l.At)
	}
	if c.Log {
		y.from, y.to = math.Floor(math.Log10(math.Max(y.from, 1e-6))), math.Ceil(math.Log10(math.Max(y.to, 1e-6)))
		return x, y
	}
	step := niceStep(y.to)
	y.from, y.to = 0, math.Max(step, math.Ceil(y.to/step)*step)
	return x, y
}

// niceStep divides a span into about five round steps.
func niceStep(span float64) float64 {
	if span <= 0 {
		return 1
	}
	raw := span / 5
	ten := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 5} {
		if raw <= m*ten {
			return m * ten
		}
	}
	return 10 * ten
}

// grid draws the axes with their labels.
func (c *lines) grid() {
	mark := func(v float64) {
		y := c.y.pos(v)
		c.Picture.Line(drawing.Faint, gridLine, drawing.At(curveLeft, y), drawing.At(curveRight, y))
		c.Write(drawing.At(curveLeft-1.4, y+0.9), fmt.Sprintf("%.4g", v), chartText, drawing.End, drawing.Soft)
	}
	if c.Log {
		for e := c.y.from; e <= c.y.to; e++ {
			mark(math.Pow(10, e))
		}
	} else {
		step := niceStep(c.y.to)
		for v := 0.0; v <= c.y.to*1.0001; v += step {
			mark(v)
		}
	}
	c.ticks()
	c.Write(drawing.At((curveLeft+curveRight)/2, curveBottom+8.2), c.XLabel, chartText, drawing.Middle, drawing.Soft)
	unit := c.YLabel
	if c.Log && !strings.Contains(unit, "log") {
		unit += ", log scale"
	}
	c.Write(drawing.At(0.5, curveTop-3.6), unit, chartText, drawing.Start, drawing.Soft)
}

// ticks labels the horizontal axis as densely as the labels allow.
func (c *lines) ticks() {
	if len(c.Lines) == 0 {
		return
	}
	free := 0.0
	for i, p := range c.Lines[0].Points {
		if i >= len(c.X) || i%max(1, c.Every) != 0 || c.X[i] == "" {
			continue
		}
		x, half := c.x.pos(p.X), c.ruler.Width(c.X[i], chartSmall, false)/2
		if x-half < free {
			continue
		}
		free = x + half + 1
		c.Picture.Line(drawing.Faint, gridLine, drawing.At(x, curveBottom), drawing.At(x, curveBottom+1))
		c.Write(drawing.At(x, curveBottom+4), c.X[i], chartSmall, drawing.Middle, drawing.Soft)
	}
}

// limits marks the limits across the chart, each with its words at its end.
func (c *lines) limits() {
	limits := slices.Clone(c.Limits)
	slices.SortStableFunc(limits, func(a, b Limit) int { return compareDown(a.At, b.At) })
	var want, heights []float64
	for _, l := range limits {
		y := c.y.pos(l.At)
		c.Picture.Line(drawing.Soft, 0.3, drawing.At(curveLeft, y), drawing.At(curveRight, y))
		want, heights = append(want, y-1.8), append(heights, 2.8)
	}
	for i, y := range drawing.Spread(want, heights, 0.2, 0, curveBottom) {
		c.Add(drawing.Item{Words: &drawing.Words{At: drawing.At(curveRight-1, y+0.9), Text: limits[i].Label, Size: chartText, Align: drawing.End, Bold: true, Ink: drawing.Soft}})
	}
}

// band draws the range around a single line.
func (c *lines) band() {
	points := c.Lines[0].Points
	var corners []drawing.Point
	for _, p := range points {
		corners = append(corners, c.place(p.X, p.High))
	}
	for _, p := range slices.Backward(points) {
		corners = append(corners, c.place(p.X, p.Low))
	}
	c.Area(drawing.Light, corners...)
}
