package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/swap"
	"relath/advisor/takeoff"
	"relath/kb"
	"relath/kb/quantity"
)

// products writes the second part: what is bought by its properties, why the
// limits stand where they do, mixes, composition and quantities.
func (p *page) products(x *section) {
	limited := slices.ContainsFunc(x.lines, func(l specLine) bool { return l.limit != nil && l.material.Form != kb.Coat })
	if limited {
		p.limitTable(x)
	}
	p.specQuantities(x, !limited)
	var items []Text
	for i := range x.lines {
		if l := &x.lines[i]; l.limit != nil && l.material.Form != kb.Coat {
			items = append(items, p.limitReasons(l)...)
		}
	}
	for _, r := range x.recipes {
		if r.Specify != "" {
			items = append(items, say(capital(stop(r.Specify)), p.bases(r.Basis)...))
		}
	}
	p.fine(append(items, p.compositions(x)...))
}

// limitTable says what the products of a section must have.
func (p *page) limitTable(x *section) {
	t := Table{Caption: "What a product must have", Heads: []string{"Where", "Product", "Thickness", "Permeance, dry cup", "Permeance, wet cup", "R"}}
	for i := range x.lines {
		t.Rows = append(t.Rows, p.productRow(&x.lines[i]))
	}
	p.table(t)
}

// productRow writes one product of a layer or a finish.
func (p *page) productRow(l *specLine) []Text {
	product := l.material.Name
	if l.line.Coats > 1 {
		product = fmt.Sprintf("%s, %d coats", product, l.line.Coats)
	}
	row := []Text{say(placeOf(l.line)), say(product), say(p.thicknessOf(l)), say("–"), say("–"), say("–")}
	switch {
	case l.limit == nil:
	case l.material.Form == kb.Coat:
		row[3] = say("counts with its " + l.limit.Part.Name)
	case l.limit.Withheld != "":
		row[3] = say("no limit: " + l.limit.Withheld)
	default:
		mark := limitMark(l.plan)
		row[3] = p.bound(&l.limit.Dry, quantity.Permeance, mark)
		row[4] = p.bound(&l.limit.Wet, quantity.Permeance, mark)
		row[5] = p.bound(&l.limit.Resistance, quantity.ThermalResistance, mark)
	}
	return row
}

// thicknessOf words the thickness of a product.
func (p *page) thicknessOf(l *specLine) string {
	switch {
	case l.material.Form == kb.Coat:
		return "coat"
	case l.material.Form == kb.Sheet:
		return "sheet"
	case l.part == nil:
		return "–"
	}
	for _, f := range l.part.Fills {
		if f.Material == l.material {
			return p.both(f.Depth, quantity.Length)
		}
	}
	text := p.both(l.part.Depth, quantity.Length)
	if n := takeoff.CoatsOf(l.material, l.part.Depth); l.material.Form == kb.Plaster && n > 1 {
		text += fmt.Sprintf(", in %d coats", n)
	}
	return text
}

// limitMark is the mark of a limit: computed, and no better than the facts that
// the checks read.
func limitMark(x *Plan) kb.Evidence {
	mark := kb.Derived
	for _, id := range []string{"drying-capacity", "peak-condensate", "plane-humidity"} {
		mark = mark.Weaker(across(x.After, id).Evidence)
	}
	return mark
}

// bound words the range of a property.
func (p *page) bound(b *swap.Bound, d quantity.Dimension, mark kb.Evidence) Text {
	format := func(v float64) string { return quantity.Format(v, d, p.Units) }
	_, unit := quantity.Display(b.Best, d, p.Units)
	switch {
	case !b.Asked:
		return say("–")
	case b.Low.Set && b.High.Set:
		return marked(fmt.Sprintf("%s to %s; planned with %s", strings.TrimSuffix(format(b.Low.At), " "+unit), format(b.High.At), format(b.Best)), mark)
	case b.Low.Set:
		return marked(fmt.Sprintf("at least %s; planned with %s", format(b.Low.At), format(b.Best)), mark)
	case b.High.Set:
		return marked(fmt.Sprintf("at most %s; planned with %s", format(b.High.At), format(b.Best)), mark)
	}
	return say("any; planned with " + format(b.Best))
}

// limitReasons says which check sets each limit; ends that the same checks set
// stand together.
func (p *page) limitReasons(l *specLine) []Text {
	if l.limit.Withheld != "" {
		return nil
	}
	var breaks, ends []string
	add := func(e swap.Edge, words string, d quantity.Dimension) {
		if !e.Set {
			return
		}
		why := strings.Join(e.Breaks, "; ")
		words += " " + quantity.Format(e.At, d, p.Units)
		if at := slices.Index(breaks, why); at >= 0 {
			ends[at] += ", " + words
			return
		}
		breaks, ends = append(breaks, why), append(ends, words)
	}
	for _, x := range []struct {
		b    *swap.Bound
		d    quantity.Dimension
		name string
	}{{&l.limit.Dry, quantity.Permeance, "dry cup"}, {&l.limit.Wet, quantity.Permeance, "wet cup"}, {&l.limit.Resistance, quantity.ThermalResistance, "thermal resistance"}} {
		add(x.b.Low, x.name+" under", x.d)
		add(x.b.High, x.name+" over", x.d)
	}
	var items []Text
	for i := range breaks {
		items = append(items, say(fmt.Sprintf("%s, %s: %s.", placeOf(l.line), ends[i], breaks[i])))
	}
	return items
}

// compositions says what the products may hold.
func (p *page) compositions(x *section) []Text {
	var items []Text
	seen := make(map[string]bool)
	for i := range x.lines {
		m := x.lines[i].material
		if seen[m.ID] {
			continue
		}
		seen[m.ID] = true
		var words []string
		c := m.Composition
		if c.Adhesive != "" && m.Form != kb.Coat {
			words = append(words, "adhesive: "+strings.TrimSuffix(c.Adhesive, "."))
		}
		if c.Treatment != "" {
			words = append(words, "treatment: "+strings.TrimSuffix(c.Treatment, "."))
		}
		if c.Formaldehyde != "" && c.Formaldehyde != "none" {
			words = append(words, "formaldehyde: "+strings.TrimSuffix(c.Formaldehyde, "."))
		}
		if m.Coating != nil && m.Coating.Binder != "" {
			words = append(words, "binder: "+strings.TrimSuffix(m.Coating.Binder, "."))
		}
		if len(words) > 0 {
			items = append(items, marked(fmt.Sprintf("Composition of %s. %s.", lower(m.Name), capital(strings.Join(words, "; "))), orRead(c.Basis.Evidence), p.basis(c.Basis)))
		}
	}
	return items
}

// specQuantities writes how much is bought for the section, with the thickness
// where no table of limits has it.
func (p *page) specQuantities(x *section, thickness bool) {
	t := Table{Caption: "Quantities", Heads: []string{"Where", "What", "Net", "Order"}}
	add := func(l *takeoff.Line, coat bool, depth string) {
		if len(l.Measures) == 0 {
			t.Rows = append(t.Rows, []Text{say(placeOf(l)), say(l.Name), say("not known: " + l.Missing), say("")})
			return
		}
		name := l.Name
		if l.Coats > 1 {
			name = fmt.Sprintf("%s, %d coats", name, l.Coats)
		}
		if thickness && depth != "" {
			name += ", " + depth
		}
		t.Rows = append(t.Rows, []Text{say(placeOf(l)), say(capital(name)), marked(p.measures(l.Measures, false, coat), orRead(l.Mark)), say(p.measures(l.Measures, true, coat))})
	}
	for i := range x.lines {
		l := &x.lines[i]
		depth := p.thicknessOf(l)
		if l.size != "" {
			depth = l.size
		} else if l.part == nil || l.material.Form == kb.Coat || l.material.Form == kb.Sheet {
			depth = ""
		}
		add(l.line, l.material.Form == kb.Coat, depth)
		for _, b := range l.beside {
			add(b, false, "")
		}
	}
	p.table(t)
}

// closers lists the coats on sale that would surely take a face below its
// limit, in the usual number, even the most open of their kind. A value that
// nobody published rules nothing out.
func (p *page) closers(l *specLine) []string {
	if l.limit == nil || l.limit.Withheld != "" || !l.limit.Dry.Low.Set {
		return nil
	}
	var names []string
	for _, c := range p.Base.Materials {
		if c.Form != kb.Coat || c.Coating == nil || c.Available == "no-longer" {
			continue
		}
		w, ok := c.Working("permeance", kb.DryCup, 0)
		if !ok || w.Doubt || w.Evidence.Rank() >= kb.Practice.Rank() || w.SI.High <= 0 {
			continue
		}
		n := float64(max(1, c.Coating.UsualCoats))
		if 1/(1/l.limit.Dry.Best+n/w.SI.High) < l.limit.Dry.Low.At {
			names = append(names, lower(c.Name))
		}
	}
	return names
}

// faces says whether a line is the last layer toward a room or the first toward
// the weather.
func (l *specLine) faces() bool {
	if l.plan == nil || l.part == nil || l.material.Form == kb.Coat {
		return false
	}
	parts := partsOf(l.plan.After)
	return l.part == parts[0] || l.part == parts[len(parts)-1]
}

// edgeWords words the least permeance of a line.
func (p *page) edgeWords(l *specLine) string {
	return quantity.Format(l.limit.Dry.Low.At, quantity.Permeance, p.Units)
}
