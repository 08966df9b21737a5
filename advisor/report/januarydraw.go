package report

import (
	"fmt"
	"math"

	"relath/advisor/drawing"
	"relath/kb/quantity"
)

// The panels of January, mm.
const (
	panelDeep  = 20.0
	panelSpace = 9.0
	panelsWide = 2*panelDeep + 2*panelSpace + 8
)

// panels draws temperature and vapor pressure through the section: below a wall,
// left of all else.
func (s *cutting) panels() {
	if s.course == nil {
		return
	}
	c := s.course
	show := func(list []float64, d quantity.Dimension) ([]float64, string) {
		out, unit := make([]float64, len(list)), ""
		for i, v := range list {
			out[i], unit = quantity.Display(v, d, s.Units)
		}
		return out, unit
	}
	temperature, degrees := show(c.temperature, quantity.Temperature)
	vapor, pressure := show(c.vapor, quantity.Pressure)
	saturation, _ := show(c.satura, quantity.Pressure)
	first := s.panel(0, temperature)
	first.axis(degrees)
	first.lines(c.at, named{"temperature", temperature, nil})
	second := s.panel(1, vapor, saturation)
	second.axis(pressure)
	second.lines(c.at, named{"saturation", saturation, dashes(1)}, named{"vapor pressure", vapor, nil})
}

// lines draws the lines of a panel with their names.
func (q panel) lines(at []float64, list ...named) {
	for _, l := range list {
		q.curve(at, l.values, l.dash)
	}
	q.names(at, list...)
}

// panel makes the n-th panel with a scale for some values.
func (s *cutting) panel(n int, lists ...[]float64) panel {
	low, high := math.Inf(1), math.Inf(-1)
	for _, list := range lists {
		for _, v := range list {
			if !math.IsNaN(v) {
				low, high = min(low, v), max(high, v)
			}
		}
	}
	step := niceStep(high - low)
	q := panel{cutting: s, from: math.Floor(low/step) * step, to: math.Ceil(high/step) * step}
	if q.to == q.from {
		q.to += step
	}
	off := float64(n) * (panelDeep + panelSpace)
	if s.upright {
		q.end = s.frame.Y1 + panelSpace + off
		q.at = q.end + panelDeep
		return q
	}
	q.at = sheetMargin + 4 + off
	q.end = q.at + panelDeep
	return q
}

// axis draws the grid of a panel: its values, and the faces of the layers.
func (q panel) axis(unit string) {
	total := q.thickness()
	step := niceStep(q.to - q.from)
	for i := 0; q.from+float64(i)*step <= q.to+step/1000; i++ {
		v := q.from + float64(i)*step
		a, b := q.place(0, v), q.place(total, v)
		q.picture.Line(drawing.Faint, gridLine, a, b)
		words := fmt.Sprintf("%.4g", v)
		if math.Abs(v) < step/1000 {
			words = "0"
		}
		switch {
		case q.upright:
			q.picture.Write(drawing.At(a.X-5.5, a.Y+0.8), words, chartSmall, drawing.End, drawing.Soft)
		case i == 0 || q.from+float64(i+1)*step > q.to+step/1000:
			q.picture.Write(drawing.At(b.X, b.Y+7.5), words, chartSmall, drawing.Middle, drawing.Soft)
		}
	}
	for _, x := range q.strips {
		if !x.coats && !x.sheet {
			q.picture.Line(drawing.Faint, gridLine, q.place(x.from, q.from), q.place(x.from, q.to))
			q.picture.Line(drawing.Faint, gridLine, q.place(x.to, q.from), q.place(x.to, q.to))
		}
	}
	if q.upright {
		q.picture.Write(drawing.At(q.frame.X0-5.5, q.end-3.2), unit, chartSmall, drawing.End, drawing.Soft)
		return
	}
	q.picture.Write(drawing.At((q.at+q.end)/2, q.frame.Y1+11), unit, chartSmall, drawing.Middle, drawing.Soft)
}

// curve draws one line of a panel; air has no saturation.
func (q panel) curve(at, values []float64, dash []float64) {
	var points []drawing.Point
	for i, v := range values {
		if !math.IsNaN(v) {
			points = append(points, q.place(at[i], v))
		}
	}
	q.picture.Dashed(drawing.Full, curveLine, dash, points...)
	for _, p := range points {
		q.picture.Dot(drawing.Full, p, 0.4)
	}
}

// named is a line of a panel with its name.
type named struct {
	words  string
	values []float64
	dash   []float64
}

// names writes the names of lines: at their ends beside a wall, else above the
// panel, each with a piece of its line.
func (q panel) names(at []float64, list ...named) {
	const sample, row = 5.0, 3.4
	var want, heights []float64
	for _, l := range list {
		end := 0.0
		for i, v := range l.values {
			if !math.IsNaN(v) {
				end = q.place(at[i], v).Y
			}
		}
		want, heights = append(want, end), append(heights, row-0.4)
	}
	ends := drawing.Spread(want, heights, 0.4, q.end, q.at+4)
	for i, l := range list {
		x, y := q.frame.X1+8, ends[i]
		if !q.upright {
			x, y = q.at, q.frame.Y0-row*float64(len(list)-i)-4
		}
		q.picture.Dashed(drawing.Full, curveLine, l.dash, drawing.At(x, y), drawing.At(x+sample, y))
		q.picture.Write(drawing.At(x+sample+1.2, y+0.8), l.words, chartSmall, drawing.Start, drawing.Full)
	}
}
