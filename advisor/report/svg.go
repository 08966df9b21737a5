package report

import (
	"fmt"
	"html"
	"math"
	"strings"
)

// The measures of a two-sided chart, in units of its drawing.
const (
	chartWidth = 900.0
	rowHeight  = 22.0
	groupSpace = 26.0
	headSpace  = 46.0
	labelSpace = 84.0
	valueSpace = 150.0
)

// svg draws a two-sided chart; at makes the ids of its title unique on a page.
func (b *Bars) svg(at string) string {
	s := &svgChart{}
	height := headSpace + 12
	for _, g := range b.Groups {
		height += groupSpace + float64(len(g.Rows))*rowHeight
	}
	s.open(at, height, b.Caption, fmt.Sprintf("Bars to the left: %s; to the right: %s, in %s, on a log scale from %g to %g. The table below holds the numbers.", b.Left, b.Right, b.Unit, b.From, b.To))
	middle := labelSpace + (chartWidth-labelSpace)/2
	room := (chartWidth-labelSpace)/2 - valueSpace
	s.text(middle-8, 14, "end", "", b.Left)
	s.text(middle+8, 14, "start", "", b.Right)
	s.ticks(b, middle, room, height)
	y := headSpace
	for _, g := range b.Groups {
		y += groupSpace
		s.bold(0, y-8, g.Name)
		for _, r := range g.Rows {
			s.text(12, y+13, "start", "soft", r.Label)
			s.bar(b, r.Left, middle, room, y, -1)
			s.bar(b, r.Right, middle, room, y, 1)
			y += rowHeight
		}
	}
	s.add("<line class=\"middle\" x1=\"%.1f\" y1=\"%.1f\" x2=\"%.1f\" y2=\"%.1f\"/>", middle, headSpace-4, middle, height-6)
	return s.close()
}

// ticks draws a line at each power of ten.
func (s *svgChart) ticks(b *Bars, middle, room, height float64) {
	for v := b.From; v <= b.To*1.0001; v *= 10 {
		x := b.share(v) * room
		for _, side := range []float64{-1, 1} {
			if v > b.From*1.0001 {
				s.add("<line class=\"axis\" x1=\"%.1f\" y1=\"%.1f\" x2=\"%.1f\" y2=\"%.1f\"/>", middle+side*x, headSpace-8, middle+side*x, height-6)
			}
			if v > b.From*1.0001 {
				s.small(middle+side*x, headSpace-14, fmt.Sprintf("%g", roundTen(v)))
			}
		}
	}
	s.small(middle, headSpace-14, fmt.Sprintf("%g", b.From))
}

// roundTen removes what repeated multiplication adds to a power of ten.
func roundTen(v float64) float64 { return math.Pow(10, math.Round(math.Log10(v))) }

// bar draws one bar outward from the middle with its value behind it.
func (s *svgChart) bar(b *Bars, r Bar, middle, room, y, side float64) {
	from := 0.0
	for _, part := range []struct {
		class string
		v     float64
	}{{"low", r.Low}, {"best", r.Best}, {"high", r.High}} {
		to := b.share(part.v) * room
		if to > from {
			x := middle + from
			if side < 0 {
				x = middle - to
			}
			s.add("<rect class=\"%s\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\"/>", part.class, x, y+3, to-from, rowHeight-8)
			from = to
		}
	}
	if best := b.share(r.Best) * room; best > 0 {
		x := middle + side*best
		s.add("<line class=\"bound\" x1=\"%.1f\" y1=\"%.1f\" x2=\"%.1f\" y2=\"%.1f\"/>", x, y+1, x, y+rowHeight-3)
	}
	anchor := "start"
	if side < 0 {
		anchor = "end"
	}
	s.text(middle+side*(from+7), y+15, anchor, "", r.Shown)
}

// svgChart collects the elements of a chart.
type svgChart struct{ out strings.Builder }

func (s *svgChart) add(format string, args ...any) {
	s.out.WriteString(fmt.Sprintf(format, args...) + "\n")
}

func (s *svgChart) open(at string, height float64, title, about string) {
	s.add("<svg viewBox=\"0 0 %.0f %.0f\" role=\"img\" aria-labelledby=\"t%s d%s\" font-size=\"13\">", chartWidth, height, at, at)
	s.add("<title id=\"t%s\">%s</title><desc id=\"d%s\">%s</desc>", at, html.EscapeString(title), at, html.EscapeString(about))
}

func (s *svgChart) close() string { return s.out.String() + "</svg>" }

func (s *svgChart) text(x, y float64, anchor, class, words string) {
	if class != "" {
		class = " class=\"" + class + "\""
	}
	s.add("<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\"%s>%s</text>", x, y, anchor, class, html.EscapeString(words))
}

func (s *svgChart) bold(x, y float64, words string) {
	s.add("<text x=\"%.1f\" y=\"%.1f\" font-weight=\"bold\">%s</text>", x, y, html.EscapeString(words))
}

func (s *svgChart) small(x, y float64, words string) {
	s.add("<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"middle\" font-size=\"11\" class=\"soft\">%s</text>", x, y, html.EscapeString(words))
}
