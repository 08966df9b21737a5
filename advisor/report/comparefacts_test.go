package report_test

import (
	"context"
	"math"
	"os"
	"slices"
	"testing"

	"relath/advisor"
	"relath/advisor/drawing"
	"relath/advisor/internal/houses"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/kb/quantity"
)

// The chart of facts of several assemblies stays on its sheet, leaves out what is
// the same in all, and draws a U-factor twice another twice as long: the marks of
// the best values stand in the ratio of the facts.
func TestFactsSideBySide(t *testing.T) {
	b := houses.Base(t)
	var list []report.Beside
	for _, name := range []string{"birch-corner", "mill-row", "larch-lane"} {
		text, err := os.ReadFile("../../testdata/houses/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		h, err := advisor.Load(b, name, text)
		if err != nil {
			t.Fatal(err)
		}
		found, err := advisor.Analyze(context.Background(), rule.Tester{Base: b}, h.Assemblies[:1])
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, report.Beside{Name: h.Assemblies[0].Name + " of the house that is called " + name, Analysis: found[0]})
	}
	picture := factsPicture(report.Maker{Base: b, Units: quantity.InchPound}.Compare(list))
	if picture == nil {
		t.Fatal("no chart of facts")
	}
	if err := onSheet(picture); err != nil {
		t.Error(err)
	}
	const hundredth = 1e-3 // of the ratio: points stand on hundredths of a millimeter
	best := marksAfter(picture, "U-factor", len(list))
	for i := range list {
		u, first := list[i].Result.Variants[0].Facts["u-factor"].Range.Best, list[0].Result.Variants[0].Facts["u-factor"].Range.Best
		if got := best[i] / best[0]; math.Abs(got-u/first) > hundredth*u/first {
			t.Errorf("%s: the mark of the U-factor stands at %.4f of the first, want %.4f", list[i].Name, got, u/first)
		}
	}
	if p := factsPicture(report.Maker{Base: b}.Compare([]report.Beside{list[0], list[0]})); p != nil {
		t.Error("what is the same in all is drawn")
	}
}

// factsPicture gives the chart of facts of a comparison, nil without.
func factsPicture(d *report.Document) *drawing.Picture {
	for _, block := range d.Blocks {
		if block.Figure != nil && block.Figure.Picture.Title == "Facts side by side" {
			return block.Figure.Picture
		}
	}
	return nil
}

// marksAfter gives how far from where bars begin the marks of the best values
// stand below a title.
func marksAfter(p *drawing.Picture, title string, n int) []float64 {
	at := slices.IndexFunc(p.Items, func(it drawing.Item) bool { return it.Words != nil && it.Words.Text == title })
	var xs []float64
	begin := 0.0
	for _, it := range p.Items[at:] {
		if it.Path == nil || len(xs) == n {
			continue
		}
		if it.Path.Fill == drawing.Dark {
			begin = it.Path.Points[0].X
		}
		if it.Path.Line == drawing.Full {
			xs = append(xs, it.Path.Points[0].X-begin)
		}
	}
	return xs
}
