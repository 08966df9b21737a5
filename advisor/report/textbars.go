package report

import (
	"fmt"
	"math"
	"strings"
)

// The columns of a bar chart in text: label, value, bar, bar, value.
const (
	labelWidth = 8
	valueWidth = 23
	barWidth   = (Width - labelWidth - 2*valueWidth - 6) / 2
)

// bars writes a two-sided chart.
func (t *textFace) bars(b *Bars) {
	for _, l := range wrap(b.Caption+", in "+b.Unit, Width) {
		t.line(l)
	}
	t.gap()
	t.line(pad("", labelWidth, false) + " " + pad(b.Left, valueWidth+1+barWidth, true) + " | " + b.Right)
	from, to := fmt.Sprintf("%g", b.From), fmt.Sprintf("%g", b.To)
	between := strings.Repeat(" ", max(1, barWidth-len(from)-len(to)))
	t.line(pad("", labelWidth+valueWidth+2, false) + to + between + from + " | " + from + between + to)
	for _, g := range b.Groups {
		for i, l := range wrap(g.Name, Width) {
			t.line(strings.Repeat(" ", 2*min(i, 1)) + l)
		}
		for _, r := range g.Rows {
			left, right := b.drawn(r.Left), b.drawn(r.Right)
			t.line(pad(" "+r.Label, labelWidth, false) + " " + pad(r.Left.Shown, valueWidth, true) + " " +
				pad(backward(left), barWidth, true) + " | " + pad(right, barWidth, false) + " " + r.Right.Shown)
		}
	}
	t.gap()
	for _, l := range wrap(b.Key+" (█ low, ▒ best, ░ high.)", Width) {
		t.line(l)
	}
}

// Share is how far a value reaches along the scale of the chart, 0 to 1.
func (b *Bars) share(v float64) float64 {
	if v <= b.From {
		return 0
	}
	return math.Min(1, math.Log10(v/b.From)/math.Log10(b.To/b.From))
}

// drawn draws a bar outward from the middle.
func (b *Bars) drawn(r Bar) string {
	at := func(v float64) int { return int(math.Round(b.share(v) * barWidth)) }
	low, best, high := at(r.Low), at(r.Best), at(r.High)
	return strings.Repeat("█", low) + strings.Repeat("▒", best-low) + strings.Repeat("░", high-best)
}

// backward turns a bar around.
func backward(s string) string {
	runes := []rune(s)
	for i, j := 0, len(runes)-1; i < j; i, j = i+1, j-1 {
		runes[i], runes[j] = runes[j], runes[i]
	}
	return string(runes)
}
