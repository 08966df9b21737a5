package takeoff

import (
	"fmt"
	"math"
	"slices"

	"relath/kb"
	"relath/kb/quantity"
)

// Money is an amount in hundredths of the currency.
type Money struct {
	Low, Best, High int64
}

func (m Money) plus(o Money) Money { return Money{m.Low + o.Low, m.Best + o.Best, m.High + o.High} }

// IsZero says whether there is nothing to pay.
func (m Money) IsZero() bool { return m == Money{} }

// hundredths rounds an amount of the currency.
func hundredths(r quantity.Range) Money {
	return Money{Hundredths(r.Low), Hundredths(r.Best), Hundredths(r.High)}
}

// Hundredths rounds an amount of the currency, halves up. What lies within the
// error of a product of two decimals below a half counts as the half, as it does
// where a spreadsheet rounds.
func Hundredths(v float64) int64 {
	const most, slack = 1e14, 1e-9 // so that no sum of a house overflows
	if !(v > 0) {
		return 0
	}
	v = math.Min(v*100, most)
	return int64(math.Floor(v + 0.5 + slack))
}

// Cost is what a takeoff costs by a price book.
type Cost struct {
	Book       *PriceBook
	Lines      []LineCost // one for each line of the takeoff
	Groups     []Group    // assemblies in the order of the description, then rooms
	Rounding   Money      // what the order costs more than its lines: whole panels, bags and pieces, and hundredths
	Total      Money      // lines and rounding
	Missing    []string   // what has no price: the total is without it
	Incomplete bool       // whether anything is missing
}

// LineCost is the cost of one line.
type LineCost struct {
	Line     int
	Price    *Price // nil without one
	Kind     Kind
	Material Money // of the order
	Labor    Money // of the net quantity
	Covered  bool  // in the price of the line it belongs to
	Missing  string
}

// Total is material and labor.
func (l LineCost) Total() Money { return l.Material.plus(l.Labor) }

// Group is the cost of an assembly or a room, with its layers or parts.
type Group struct {
	Assembly, Room string
	Layers         []LayerCost
	Total          Money
}

// LayerCost is the cost of a layer with its coats, fasteners and ingredients, or
// of a part of a room.
type LayerCost struct {
	Name  string
	Total Money
}

// Price gives the cost of a takeoff. The price of a mix covers its ingredients;
// a price that is complete covers what belongs to its line. What has no price is
// named and left out.
func (t *Takeoff) Price(base *kb.Base, book *PriceBook) *Cost {
	c := &Cost{Book: book, Lines: make([]LineCost, len(t.Lines))}
	for i := range t.Lines {
		c.Lines[i] = t.priceLine(base, book, i)
	}
	// A mix without a price of its own is paid by its ingredients.
	for i := range t.Lines {
		c.cover(t, i)
	}
	for i := range t.Lines {
		l := &c.Lines[i]
		if l.Missing != "" {
			c.Incomplete = true
			if !slices.Contains(c.Missing, l.Missing) {
				c.Missing = append(c.Missing, l.Missing)
			}
		}
		c.Total = c.Total.plus(l.Total())
		c.group(t.Lines[i].Where, l.Total())
	}
	c.Rounding = t.rounding(c)
	c.Total = c.Total.plus(c.Rounding)
	return c
}

// priceLine finds the price of a line and multiplies.
func (t *Takeoff) priceLine(base *kb.Base, book *PriceBook, i int) LineCost {
	l := &t.Lines[i]
	out := LineCost{Line: i}
	prices := book.find(base, l.Item)
	switch {
	case l.Missing != "":
		out.Missing = l.Name + ": " + l.Missing
		return out
	case len(prices) == 0 && l.IsTearOut() && !book.PricesTearOut(base):
		out.Missing = "no price of taking out and hauling off"
		return out
	case len(prices) == 0:
		out.Missing = "no price of " + l.Name
		return out
	}
	for _, p := range prices {
		m, ok := l.Measure(p.Kind)
		if !ok {
			continue
		}
		out.Price, out.Kind = p, p.Kind
		out.Material = hundredths(times(m.Order.Scale(1/p.Amount), p.CostsOf))
		out.Labor = hundredths(times(m.Net.Scale(1/p.Amount), p.LaborOf))
		return out
	}
	out.Missing = fmt.Sprintf("the price of %s is per %s, which its quantity is not measured in", l.Name, prices[0].Per)
	return out
}

// cover settles what is in the price of another line. Of a mix that has no
// price the ingredients are paid; where one of them has none either, that is
// what is missing.
func (c *Cost) cover(t *Takeoff, i int) {
	l := &t.Lines[i]
	if l.Of >= 0 {
		parent := c.Lines[l.Of].Price
		if parent != nil && (l.Mixed && parent.HasCosts || parent.Complete == "yes") {
			c.Lines[i] = LineCost{Line: i, Covered: true}
		}
		return
	}
	if c.Lines[i].Price != nil || l.Missing != "" {
		return
	}
	for k := range t.Lines {
		if t.Lines[k].Of == i && t.Lines[k].Mixed {
			c.Lines[i].Missing = ""
			return
		}
	}
}

// group adds a cost to its assembly or room.
func (c *Cost) group(w Where, m Money) {
	at := slices.IndexFunc(c.Groups, func(g Group) bool { return g.Assembly == w.Assembly && g.Room == w.Room })
	if at < 0 {
		c.Groups = append(c.Groups, Group{Assembly: w.Assembly, Room: w.Room})
		at = len(c.Groups) - 1
	}
	g := &c.Groups[at]
	g.Total = g.Total.plus(m)
	name := w.Layer + w.Part
	k := slices.IndexFunc(g.Layers, func(l LayerCost) bool { return l.Name == name })
	if k < 0 {
		g.Layers = append(g.Layers, LayerCost{Name: name})
		k = len(g.Layers) - 1
	}
	g.Layers[k].Total = g.Layers[k].Total.plus(m)
}
