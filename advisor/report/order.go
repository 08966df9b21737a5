package report

import (
	"fmt"
	"strconv"
	"strings"

	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/advisor/takeoff"
	"relath/kb"
	"relath/kb/quantity"
)

// Order is what is to be bought and built.
type Order struct {
	House    *assembly.Resolved
	Plan     []Planned // the swaps, none without a plan
	Takeoff  *takeoff.Takeoff
	Cost     *takeoff.Cost     // nil without prices
	Schedule *takeoff.Schedule // nil when not asked for
	Cautions []rule.Caution    // of the work, with a schedule
}

// Planned is one swap of a plan.
type Planned struct {
	Assembly string
	Title    string
	Changes  []swap.Change
}

// Order makes the page of an order list.
func (m Maker) Order(o Order) *Document {
	p := m.page("Order list, "+o.House.House.House, m.whereHouse(o.House))
	p.doc.Dense = true
	p.para(lead, say(p.orderInShort(o)))
	p.planned(o.Plan)
	if o.Cost != nil && o.Cost.Book.Invented == "yes" {
		p.para(warning, say("The prices are invented, for demonstration only. Put in your own before you believe a figure."))
	}
	if len(o.Takeoff.Lines) > 0 {
		p.para(quiet, say("Net is what the surfaces take, openings and framing left out where they are known; order is net with waste. Panels, bags and pieces are rounded up over the whole house."))
	}
	for _, w := range o.Takeoff.Warnings {
		p.para(warning, say(capital(stop(w))))
	}
	p.supplies(o.Takeoff)
	p.takeoffLines(o.Takeoff)
	if o.Cost != nil {
		p.cost(o.Cost)
	}
	if o.Schedule != nil {
		p.schedule(o.Schedule)
	}
	if len(o.Cautions) > 0 {
		p.heading(1, "Cautions")
		p.cautionsOf(o.Cautions)
	}
	p.orderAssumptions(o)
	return p.finish()
}

// planned names the swaps of the plans and what comes off for them.
func (p *page) planned(list []Planned) {
	if len(list) == 0 {
		return
	}
	var items []Text
	for _, x := range list {
		text := fmt.Sprintf("%s: %s.", capital(x.Assembly), lower(x.Title))
		if off := comesOff(x.Changes); len(off) > 0 {
			text += " Comes off: " + join(off, "and") + "."
		}
		items = append(items, say(text))
	}
	p.para(plain, say("With these plans; what stands and stays is not bought:"))
	p.list(items...)
	p.para(warning, say("What else has to come off to reach the changed layers, and go back over them, is not counted."))
}

// comesOff names the layers that a swap takes out.
func comesOff(list []swap.Change) []string {
	var off []string
	for _, c := range list {
		if c.From != "" && c.From != c.To {
			off = append(off, fmt.Sprintf("%s (%s)", c.Layer, lower(c.From)))
		}
	}
	return off
}

// orderInShort is the order in a few sentences.
func (p *page) orderInShort(o Order) string {
	if len(o.Takeoff.Lines) == 0 {
		return "Nothing is proposed here, so there is nothing to buy. What stands is left as it is; --all counts it too."
	}
	items := 0
	supplies := o.Takeoff.Orders()
	for _, s := range supplies {
		items += len(s.Items)
	}
	parts := []string{fmt.Sprintf("%s from %s.", count(items, "item"), count(len(supplies), "kind")+" of supplier")}
	switch g := o.Takeoff.Glue; {
	case g.High > 0 && g.Best == 0:
		parts = append(parts, fmt.Sprintf("They bring no adhesive into the house, or up to %s.", p.value(quantity.Exact(g.High), quantity.Mass)))
	case g.High > 0:
		parts = append(parts, fmt.Sprintf("They bring %s of adhesive into the house.", p.value(g, quantity.Mass)))
	default:
		parts = append(parts, "They bring no adhesive into the house.")
	}
	if w := o.Takeoff.Water; w.High > 0 {
		parts = append(parts, fmt.Sprintf("The plaster brings in %s of water that must dry out.", p.value(w, quantity.Mass)))
	}
	if o.Cost != nil {
		text := "It costs " + money(o.Cost.Total, o.Cost.Book)
		if o.Cost.Book.Invented == "yes" {
			text += " by invented prices"
		}
		if o.Cost.Incomplete {
			text += ", what has no price not counted"
		}
		parts = append(parts, text+".")
	}
	return strings.Join(parts, " ")
}

// supplies writes the list of each kind of supplier.
func (p *page) supplies(t *takeoff.Takeoff) {
	for _, s := range t.Orders() {
		p.heading(1, capital(s.Supplier))
		var rows [][]Text
		for _, i := range s.Items {
			rows = append(rows, []Text{say(capital(i.Name)), say(p.toOrder(t, i)), say(p.measures(i.Measures, false, isCoat(t, i))), say(orderNote(i))})
		}
		p.table(Table{Heads: []string{"Item", "Order", "Net", ""}, Rows: rows})
	}
}

// toOrder words how much of an item is ordered: whole panels, bags and pieces
// first.
func (p *page) toOrder(t *takeoff.Takeoff, i takeoff.Ordered) string {
	text := p.measures(i.Measures, true, isCoat(t, i))
	if i.WholeOf == "" {
		return text
	}
	whole := fmt.Sprintf("%d %s", i.Whole, kindOf(i.WholeOf, i.Whole))
	var rest []takeoff.Measure
	for _, m := range i.Measures {
		if m.Kind != i.WholeOf {
			rest = append(rest, m)
		}
	}
	if len(rest) == 0 {
		return whole
	}
	return whole + "; " + p.measures(rest, true, false)
}

func orderNote(i takeoff.Ordered) string {
	if i.Mixed {
		return "the mix or its ingredients, not both"
	}
	return ""
}

// kindOf names what is bought whole.
func kindOf(k takeoff.Kind, n int64) string {
	switch k {
	case takeoff.Panels:
		return plural(int(min(n, 2)), "panel", "panels")
	case takeoff.Bags:
		return plural(int(min(n, 2)), "bag", "bags")
	}
	return plural(int(min(n, 2)), "piece", "pieces")
}

// measures words quantities in all their kinds.
func (p *page) measures(list []takeoff.Measure, order, coat bool) string {
	var words []string
	for _, m := range list {
		r := m.Net
		if order {
			r = m.Order
		}
		words = append(words, p.measure(m.Kind, r, coat))
	}
	return strings.Join(words, "; ")
}

// isCoat says whether an item is a paint, wash or oil, which is bought by the
// gallon or the liter.
func isCoat(t *takeoff.Takeoff, i takeoff.Ordered) bool {
	m := t.Lines[i.Lines[0]].Material
	return m != nil && m.Form == kb.Coat
}

// can gives the unit in which paints are sold, in m³, with its name.
func (m Maker) can() (perUnit float64, unit string) {
	if m.Units == quantity.InchPound {
		return 3.785411784e-3, "gal"
	}
	return 1e-3, "L"
}

// canned words a volume as it is sold in cans.
func (p *page) canned(r quantity.Range) string {
	perUnit, unit := p.can()
	text := fmt.Sprintf("%.1f", r.Best/perUnit)
	if r.Low != r.High {
		text += fmt.Sprintf(" (%.1f to %.1f)", r.Low/perUnit, r.High/perUnit)
	}
	return text + " " + unit
}

// measure words one quantity; the area of a coat is that of all coats.
func (p *page) measure(k takeoff.Kind, r quantity.Range, coat bool) string {
	switch {
	case coat && k == takeoff.Volume:
		return p.canned(r)
	case coat && k == takeoff.Area:
		return p.value(r, quantity.Area) + " of coats"
	case measuredIn(k) != quantity.Number:
		return p.value(r, measuredIn(k))
	}
	digits := 0
	if k == takeoff.Panels || k == takeoff.Bags {
		digits = 1
	}
	number := func(v float64) string { return strconv.FormatFloat(v, 'f', digits, 64) }
	text := number(r.Best)
	if k == takeoff.BoardFeet {
		return text + " board feet"
	}
	if low, high := number(r.Low), number(r.High); low != high {
		text += fmt.Sprintf(" (%s to %s)", low, high)
	}
	return text + " " + kindOf(k, int64(min(r.Best+1, 2)))
}

// takeoffLines writes the quantities place by place with their arithmetic.
func (p *page) takeoffLines(t *takeoff.Takeoff) {
	if len(t.Lines) == 0 {
		return
	}
	p.heading(1, "Where it goes")
	var rows [][]Text
	for i := range t.Lines {
		l := &t.Lines[i]
		if l.Missing != "" {
			rows = append(rows, []Text{say(placeWords(l.Where.Assembly, l.Where.Layer, l.Where.Room, l.Where.Part)), say(l.Name), say("not known: " + l.Missing), say(""), say("")})
			continue
		}
		rows = append(rows, []Text{
			say(placeWords(l.Where.Assembly, l.Where.Layer, l.Where.Room, l.Where.Part)), say(l.Name),
			marked(p.measures(l.Measures, false, l.Material != nil && l.Material.Form == kb.Coat), orRead(l.Mark)), p.waste(l.Waste), say(strings.Join(l.How, "; ")),
		})
	}
	p.table(Table{Caption: "Net quantities", Heads: []string{"Where", "What", "Net", "Waste", "How"}, Rows: rows})
}

// waste words a waste factor with its source.
func (p *page) waste(f takeoff.Factor) Text {
	if f.Ratio.High == 0 {
		return say("")
	}
	return marked(p.value(f.Ratio, quantity.Ratio), orRead(f.Basis.Evidence), p.basis(f.Basis))
}

// orderAssumptions lists the factors of the base that were used.
func (p *page) orderAssumptions(o Order) {
	if items := p.factorsOf(o); len(items) > 0 {
		p.heading(1, "What was assumed")
		p.fine(items)
	}
}

// raised writes the powers of units as they are printed elsewhere.
func raised(text string) string {
	return strings.NewReplacer("m2", "m²", "m3", "m³", "ft2", "ft²", "ft3", "ft³").Replace(text)
}

// factorsOf words the factors of the base behind quantities and days.
func (p *page) factorsOf(o Order) []Text {
	list := o.Takeoff.Assumptions
	if o.Schedule != nil {
		list = append(append([]*kb.Assumption{}, list...), o.Schedule.Assumptions...)
	}
	var items []Text
	seen := make(map[string]bool)
	for _, a := range list {
		if seen[a.ID] {
			continue
		}
		seen[a.ID] = true
		span := a.Range.Value
		if a.SI.IsExact() {
			span = ""
		}
		items = append(items, marked(capital(a.Title)+": "+stop(raised(printed(a.Value.Value, span))), orRead(a.Evidence), p.basis(a.Basis)))
	}
	return items
}
