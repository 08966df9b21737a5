package report_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"relath/advisor/drawing"
	"relath/advisor/report"
)

// Every ink has its color on a light page, on a dark one and on paper.
func TestStyleHasEveryInk(t *testing.T) {
	style := report.Style()
	for _, k := range drawing.Inks() {
		if n := strings.Count(style, fmt.Sprintf("--%s: #", k)); n != 3 {
			t.Errorf("ink %s is given %d times, want light, dark and paper", k, n)
		}
	}
}

func generatedCurve(t *rapid.T) *report.Curve {
	c := &report.Curve{Caption: "curve", XLabel: "days", YLabel: "unit", Log: rapid.Bool().Draw(t, "log"), Every: rapid.IntRange(0, 3).Draw(t, "every")}
	n := rapid.IntRange(1, 120).Draw(t, "points")
	for i := range n {
		c.X = append(c.X, fmt.Sprint(i*rapid.IntRange(1, 1000).Draw(t, "label")))
	}
	value := rapid.Float64Range(0, 1e5)
	for i := range rapid.IntRange(1, 6).Draw(t, "lines") {
		l := report.Line{Label: fmt.Sprintf("line %d %s", i, rapid.StringMatching(`([a-z]{1,14} ){0,5}`).Draw(t, "name"))}
		for k := range n {
			v := value.Draw(t, "value")
			l.Points = append(l.Points, report.Point{X: float64(k), Low: v / 2, Best: v, High: 2 * v})
		}
		c.Lines = append(c.Lines, l)
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "limits") {
		c.Limits = append(c.Limits, report.Limit{At: value.Draw(t, "limit"), Label: fmt.Sprintf("limit %d", i)})
	}
	return c
}

// Whatever the values, a curve stays on its sheet and no words overlap; each
// line and each limit has its name.
func TestCurvesAreLegible(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := generatedCurve(t)
		p := (&report.Block{Curve: c}).Drawing()
		if err := onSheet(p); err != nil {
			t.Fatal(err)
		}
		for _, l := range c.Limits {
			if !slices.ContainsFunc(p.Items, func(it drawing.Item) bool { return it.Words != nil && it.Words.Text == l.Label }) {
				t.Fatalf("%q is not written", l.Label)
			}
		}
	})
}

// Six lines of one chart are told apart by their dashes alone.
func TestLinesHaveTheirOwnDashes(t *testing.T) {
	c := &report.Curve{Caption: "c", X: []string{"a", "b"}}
	for i := range 6 {
		v := float64(i + 1)
		c.Lines = append(c.Lines, report.Line{Label: fmt.Sprint("line ", i), Points: []report.Point{{X: 0, Low: v, Best: v, High: v}, {X: 1, Low: v, Best: v, High: v}}})
	}
	seen := make(map[string]bool)
	for _, it := range (&report.Block{Curve: c}).Drawing().Items {
		if it.Path != nil && len(it.Path.Points) == 2 && it.Path.Line == drawing.Full {
			seen[fmt.Sprint(it.Path.Dash)] = true
		}
	}
	if len(seen) != 6 {
		t.Errorf("%d kinds of dashes, want 6: %v", len(seen), seen)
	}
}

// Bars stay on their sheet with values of any length, and the bar of a value
// ten times another is a decade longer on both sides.
func TestBarsAreLegible(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := &report.Bars{Caption: "bars", Left: "to the outside", Right: "to the inside", Unit: "perm", From: 0.01, To: math.Pow(10, float64(rapid.IntRange(0, 7).Draw(t, "to")))}
		bar := func() report.Bar {
			v := rapid.Float64Range(-1, b.To).Draw(t, "value")
			return report.Bar{Low: v / 2, Best: v, High: min(b.To, 2*v), Shown: fmt.Sprintf("%.2f (%.2f to %.2f)", v, v/2, 2*v)}
		}
		for i := range rapid.IntRange(1, 20).Draw(t, "groups") {
			g := report.BarGroup{Name: fmt.Sprintf("Group %d %s", i, rapid.StringMatching(`([a-z]{1,20} ){0,12}`).Draw(t, "name"))}
			for _, season := range []string{"heating", "cooling", "year"} {
				g.Rows = append(g.Rows, report.BarRow{Label: season, Left: bar(), Right: bar()})
			}
			b.Groups = append(b.Groups, g)
		}
		if err := onSheet((&report.Block{Bars: b}).Drawing()); err != nil {
			t.Fatal(err)
		}
	})
	exact := func(v float64) report.Bar { return report.Bar{Low: v, Best: v, High: v, Shown: fmt.Sprint(v)} }
	b := &report.Bars{From: 0.01, To: 100, Groups: []report.BarGroup{{Name: "g", Rows: []report.BarRow{{Label: "a", Left: exact(1), Right: exact(10)}}}}}
	var lengths []float64
	for _, it := range (&report.Block{Bars: b}).Drawing().Items {
		if it.Path != nil && it.Path.Fill == drawing.Dark {
			lengths = append(lengths, it.Path.Points[1].X-it.Path.Points[0].X)
		}
	}
	// log scale from 0.01: 1 is two decades up, 10 three.
	if len(lengths) != 2 || math.Abs(lengths[1]/lengths[0]-1.5) > 0.001 {
		t.Errorf("bars of 1 and 10 are %v long, want 2 to 3", lengths)
	}
}
