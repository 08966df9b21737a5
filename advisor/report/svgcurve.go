package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// The frame of a curve within its drawing.
const (
	curveHeight = 380.0
	curveLeft   = 70.0
	curveRight  = 690.0 // labels of the lines stand to the right of it
	curveTop    = 24.0
	curveBottom = 320.0
)

// axis maps values to positions.
type axis struct {
	from, to float64 // of the values, as logarithms when log
	at, end  float64
	log      bool
}

func (a axis) pos(v float64) float64 {
	if a.log {
		v = math.Log10(math.Max(v, 1e-30))
	}
	if a.to == a.from {
		return a.at
	}
	return a.at + (a.end-a.at)*(v-a.from)/(a.to-a.from)
}

// svg draws the lines of a curve, each with its own dashes and its name at its
// end, so that none is told by color.
func (c *Curve) svg(at string) string {
	s := &svgChart{}
	s.open(at, curveHeight, c.Caption, fmt.Sprintf("Lines over %s in %s. The table below holds the numbers.", c.XLabel, c.YLabel))
	x, y := c.axes()
	c.grid(s, x, y)
	if len(c.Lines) == 1 {
		c.band(s, x, y)
	}
	for _, l := range c.Limits {
		s.add("<line class=\"bound\" x1=\"%.1f\" y1=\"%.1f\" x2=\"%.1f\" y2=\"%.1f\"/>", curveLeft, y.pos(l.At), curveRight, y.pos(l.At))
		s.text(curveRight-6, y.pos(l.At)-5, "end", "", l.Label)
	}
	taken := []float64{}
	for i, l := range c.Lines {
		var points []string
		for _, p := range l.Points {
			points = append(points, fmt.Sprintf("%.1f,%.1f", x.pos(p.X), y.pos(p.Best)))
			if c.Every == 0 {
				s.add("<circle class=\"dot\" cx=\"%.1f\" cy=\"%.1f\" r=\"2.6\"/>", x.pos(p.X), y.pos(p.Best))
			}
		}
		s.add("<polyline class=\"curve\" points=\"%s\"%s/>", strings.Join(points, " "), dashes(i))
		if len(c.Lines) > 1 && len(l.Points) > 0 {
			last := l.Points[len(l.Points)-1]
			label := apart(y.pos(last.Best)+4, taken)
			taken = append(taken, label)
			s.text(x.pos(last.X)+10, label, "start", "", l.Label)
		}
	}
	return s.close()
}

// apart moves a label up until it stands clear of the others.
func apart(y float64, taken []float64) float64 {
	const clear = 15
	for moved := true; moved; {
		moved = false
		for _, t := range taken {
			if math.Abs(t-y) < clear {
				y, moved = t+clear, true
			}
		}
	}
	return y
}

func dashes(i int) string {
	list := []string{"", "9 4", "3 3", "12 4 3 4", "6 2 2 2 2 2", "1 4"}
	if d := list[i%len(list)]; d != "" {
		return " stroke-dasharray=\"" + d + "\""
	}
	return ""
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
func (c *Curve) grid(s *svgChart, x, y axis) {
	mark := func(v float64) {
		s.add("<line class=\"axis\" x1=\"%.1f\" y1=\"%.1f\" x2=\"%.1f\" y2=\"%.1f\"/>", curveLeft, y.pos(v), curveRight, y.pos(v))
		s.text(curveLeft-8, y.pos(v)+4, "end", "soft", fmt.Sprintf("%.4g", v))
	}
	if c.Log {
		for e := y.from; e <= y.to; e++ {
			mark(math.Pow(10, e))
		}
	} else {
		step := niceStep(y.to)
		for v := 0.0; v <= y.to*1.0001; v += step {
			mark(v)
		}
	}
	if len(c.Lines) > 0 {
		for i, p := range c.Lines[0].Points {
			if i < len(c.X) && i%max(1, c.Every) == 0 {
				s.small(x.pos(p.X), curveBottom+18, c.X[i])
			}
		}
	}
	s.text((curveLeft+curveRight)/2, curveBottom+42, "middle", "soft", c.XLabel)
	s.text(curveLeft-8, curveTop-10, "start", "soft", c.YLabel)
}

// band draws the range around a single line.
func (c *Curve) band(s *svgChart, x, y axis) {
	points := c.Lines[0].Points
	var corners []string
	for _, p := range points {
		corners = append(corners, fmt.Sprintf("%.1f,%.1f", x.pos(p.X), y.pos(p.High)))
	}
	for _, p := range slices.Backward(points) {
		corners = append(corners, fmt.Sprintf("%.1f,%.1f", x.pos(p.X), y.pos(p.Low)))
	}
	s.add("<polygon class=\"band\" points=\"%s\"/>", strings.Join(corners, " "))
}
