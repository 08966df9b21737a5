package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/drawing"
	"relath/kb"
	"relath/kb/quantity"
)

// Sizes of the chart of facts, mm.
const (
	factRow   = 4.4
	factName  = 46.0 // where the bars begin
	factValue = 52.0 // room for the value behind a bar
)

// factBar is one bar of the chart of facts.
type factBar struct {
	name  string
	of    quantity.Range
	shown string
}

// factGroup is what one fact is in each assembly.
type factGroup struct {
	title string
	bars  []factBar
}

// factsDrawn draws the facts and costs that no other chart of the page shows, one
// group of bars for each; the table right below has them in words.
func (p *page) factsDrawn(list []Beside) {
	var groups []factGroup
	for _, f := range p.Base.Facts {
		g := p.factGroup(f, list)
		switch {
		case !g.differs():
		case f.Dimension == quantity.UFactor: // what most ask first
			groups = slices.Insert(groups, 0, g)
		default:
			groups = append(groups, g)
		}
	}
	if g := costGroup(list); g.differs() {
		groups = append(groups, g)
	}
	const most = 120 // mm, for half a page of paper
	ruler := drawing.NewRuler()
	for len(groups) > 0 {
		n, height := 1, groups[0].height(ruler)
		for n < len(groups) && height+groups[n].height(ruler) <= most {
			height += groups[n].height(ruler)
			n++
		}
		p.add(Block{Figure: &Figure{
			Caption: "What differs: each scale begins at 0 and is of its own", Picture: drawFacts(groups[:n]),
			Key: "Dark up to the low end of the range, lighter up to the best value, lightest up to the high end. What is the same in all is left out.",
		}})
		groups = groups[n:]
	}
}

// The head of a group and the space below it, mm.
const (
	factHead = chartText + 2.2
	factRoom = 2.0
)

// height is that of a group on the sheet, mm.
func (g factGroup) height(ruler *drawing.Ruler) float64 {
	h := factHead + factRoom
	for _, b := range g.bars {
		h += b.height(ruler)
	}
	return h
}

// height is that of a bar with the lines of its name, mm.
func (b factBar) height(ruler *drawing.Ruler) float64 {
	return factRow * float64(max(1, len(ruler.Fit(b.name, chartText, factName-4, false))))
}

// differs says whether a fact is not the same in all assemblies.
func (g factGroup) differs() bool {
	return slices.ContainsFunc(g.bars, func(b factBar) bool { return b.shown != g.bars[0].shown })
}

// chartedElsewhere says whether another chart of the page shows a fact.
func chartedElsewhere(f *kb.Fact) bool {
	return f.Dimension == quantity.VaporFlow || f.ID == "peak-condensate" || strings.HasPrefix(f.ID, "mold-index")
}

// factGroup gives the bars of a fact that is compared; none where it is nothing
// everywhere.
func (p *page) factGroup(f *kb.Fact, list []Beside) factGroup {
	g := factGroup{title: capital(f.Title)}
	if f.Screen != "before-after" || f.Type != "quantity" || chartedElsewhere(f) {
		return g
	}
	most := 0.0
	for _, a := range list {
		if e := across(a.Result, f.ID); e.Known {
			g.bars = append(g.bars, factBar{a.Name, e.Range, p.factWords(f, e)})
			most = max(most, e.Range.High)
		}
	}
	if most <= 0 {
		g.bars = nil
	}
	return g
}

// costGroup gives the bars of what is bought; where a price is missing there are
// words alone.
func costGroup(list []Beside) factGroup {
	g := factGroup{title: "Cost of what is new"}
	for _, a := range list {
		if a.Costs == nil {
			continue
		}
		b := factBar{name: a.Name, shown: costWords(a.Costs, a.Costing)}
		if total := a.Costs.Total(); len(total.Missing) == 0 {
			b.of = total.Amount
		}
		g.bars = append(g.bars, b)
	}
	if !slices.ContainsFunc(g.bars, func(b factBar) bool { return b.of.High > 0 }) {
		g.bars = nil
	}
	return g
}

// drawFacts draws groups of bars: dark to the low end of a range, lighter to the
// best value with a line, lightest to the high end.
func drawFacts(groups []factGroup) *drawing.Picture {
	var titles []string
	for _, g := range groups {
		titles = append(titles, lower(g.title))
	}
	c := &drawing.Picture{
		Width: sheetWidth, Title: "Facts side by side",
		About: fmt.Sprintf("Bars for each assembly: %s. Each scale begins at 0.", strings.Join(titles, "; ")),
	}
	ruler, y := drawing.NewRuler(), 1.0
	for _, g := range groups {
		y += factHead
		c.Add(drawing.Item{Words: &drawing.Words{At: drawing.At(0.5, y-1.2), Text: g.title, Size: chartText, Bold: true, Ink: drawing.Full}})
		top, most := y, 0.0
		for _, b := range g.bars {
			most = max(most, b.of.High)
		}
		for _, b := range g.bars {
			drawFact(c, ruler, b, y, most)
			y += b.height(ruler)
		}
		c.Line(drawing.Full, axisLine, drawing.At(factName, top), drawing.At(factName, y))
		y += factRoom
	}
	c.Height = y
	return c
}

// drawFact draws one bar with its name before and its value behind it.
func drawFact(c *drawing.Picture, ruler *drawing.Ruler, b factBar, y, most float64) {
	for i, line := range ruler.Fit(b.name, chartText, factName-4, false) {
		c.Write(drawing.At(2.4, y+2.8+float64(i)*factRow), line, chartText, drawing.Start, drawing.Soft)
	}
	at := func(v float64) float64 { return factName + (sheetWidth-factName-factValue)*max(0, v)/most }
	from := factName
	for _, part := range []struct {
		k drawing.Ink
		v float64
	}{{drawing.Dark, b.of.Low}, {drawing.Medium, b.of.Best}, {drawing.Light, b.of.High}} {
		if to := at(part.v); to > from {
			c.Add(filled(drawing.Box{X0: from, Y0: y + 0.6, X1: to, Y1: y + factRow - 1}, part.k))
			from = to
		}
	}
	if x := at(b.of.Best); x > factName {
		c.Line(drawing.Full, curveLine, drawing.At(x, y+0.2), drawing.At(x, y+factRow-0.6))
	}
	c.Write(drawing.At(from+1.4, y+2.8), b.shown, chartText, drawing.Start, drawing.Full)
}
