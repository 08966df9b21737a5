package takeoff

import (
	"math"
	"slices"

	"relath/kb/quantity"
)

// Supply is what one kind of supplier delivers.
type Supply struct {
	Supplier string
	Items    []Ordered
}

// Ordered is one item over the whole job.
type Ordered struct {
	Item     string
	Name     string
	Lines    []int     // of the takeoff
	Measures []Measure // summed over its lines, kinds that all of them share
	Whole    int64     // what to order of the leading kind that is bought whole, 0 where there is none
	WholeOf  Kind
	Mixed    bool // only mixed on site, or only an ingredient: one of the two is bought
}

// Orders lists what is to be bought by kind of supplier, suppliers by name and
// items in the order of the work.
func (t *Takeoff) Orders() []Supply {
	var list []Supply
	for i := range t.Lines {
		l := &t.Lines[i]
		if len(l.Measures) == 0 {
			continue
		}
		at := slices.IndexFunc(list, func(s Supply) bool { return s.Supplier == l.Supplier })
		if at < 0 {
			list = append(list, Supply{Supplier: l.Supplier})
			at = len(list) - 1
		}
		s := &list[at]
		k := slices.IndexFunc(s.Items, func(o Ordered) bool { return o.Item == l.Item })
		if k < 0 {
			s.Items = append(s.Items, Ordered{Item: l.Item, Name: itemName(l), Mixed: l.Mixed || t.isMix(i)})
			k = len(s.Items) - 1
		}
		s.Items[k].Lines = append(s.Items[k].Lines, i)
	}
	for i := range list {
		for k := range list[i].Items {
			t.sum(&list[i].Items[k])
		}
	}
	slices.SortStableFunc(list, func(a, b Supply) int {
		if a.Supplier < b.Supplier {
			return -1
		}
		if a.Supplier > b.Supplier {
			return 1
		}
		return 0
	})
	return list
}

// itemName is the name of what a line orders, without the place.
func itemName(l *Line) string {
	if l.Material != nil {
		return l.Material.Name
	}
	return l.Name
}

// isMix says whether a line is mixed of other lines.
func (t *Takeoff) isMix(i int) bool {
	return slices.ContainsFunc(t.Lines, func(l Line) bool { return l.Of == i && l.Mixed })
}

// sum adds up the measures of an item.
func (t *Takeoff) sum(o *Ordered) {
	for _, m := range t.Lines[o.Lines[0]].Measures {
		total := Measure{Kind: m.Kind}
		shared := true
		for _, i := range o.Lines {
			one, ok := t.Lines[i].Measure(m.Kind)
			shared = shared && ok
			total.Net, total.Order = plus(total.Net, one.Net), plus(total.Order, one.Order)
		}
		if !shared {
			continue
		}
		o.Measures = append(o.Measures, total)
		if m.Kind.Whole() && o.WholeOf == "" {
			o.WholeOf, o.Whole = m.Kind, Whole(total.Order.Best)
		}
	}
}

// Whole rounds up to a whole number; what only rounding of a sum has put above
// one does not count.
func Whole(v float64) int64 {
	const slack, most = 1e-9, 1e15
	return int64(math.Ceil(math.Min(v, most) * (1 - slack)))
}

// rounding is what the order costs more than the lines that need it: whole
// panels, bags and pieces in the place of shares, and hundredths that are rounded
// once for an item and not for each of its lines.
func (t *Takeoff) rounding(c *Cost) Money {
	var total Money
	done := make(map[*Price][]string)
	for i := range c.Lines {
		p := c.Lines[i].Price
		item := t.Lines[i].Item
		if p == nil || c.Lines[i].Covered || slices.Contains(done[p], item) {
			continue
		}
		done[p] = append(done[p], item)
		total = total.plus(t.roundingOf(c, p, item))
	}
	return total
}

// roundingOf is the rounding of an item at a price.
func (t *Takeoff) roundingOf(c *Cost, p *Price, item string) Money {
	var order, net quantity.Range
	var paid Money
	for k := range c.Lines {
		if t.Lines[k].Item != item || c.Lines[k].Price != p || c.Lines[k].Covered {
			continue
		}
		m, _ := t.Lines[k].Measure(p.Kind)
		order, net, paid = plus(order, m.Order), plus(net, m.Net), paid.plus(c.Lines[k].Total())
	}
	if p.Kind.Whole() {
		order = quantity.Range{Low: float64(Whole(order.Low)), Best: float64(Whole(order.Best)), High: float64(Whole(order.High))}
	}
	all := hundredths(times(order.Scale(1/p.Amount), p.CostsOf)).plus(hundredths(times(net.Scale(1/p.Amount), p.LaborOf)))
	return Money{all.Low - paid.Low, all.Best - paid.Best, all.High - paid.High}
}
