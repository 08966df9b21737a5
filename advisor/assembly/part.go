package assembly

import (
	"fmt"
	"strconv"

	"relath/kb"
	"relath/kb/quantity"
)

// part builds one layer for one way of settling the doubts; nil leaves it out.
// The description has been checked by collect.
func (b *builder) part(index int, pick []int) *Part {
	l := &b.of.Described.Layers[index]
	p := &Part{Layer: index, Name: l.Name.Value, Color: l.Color, State: l.State, Sealed: l.Sealed == "yes", SealedSet: l.Sealed != ""}
	if p.State == "" {
		p.State = b.of.State
	}
	for _, duty := range l.Performs {
		p.Performs = append(p.Performs, duty.Value)
	}
	switch {
	case !l.Cavity.IsZero():
		p.Cavity, p.Air = true, l.Air
		p.Depth, _ = quantity.Parse(l.Cavity.Value, quantity.Length)
	case l.Framing != nil:
		b.framedPart(p, l, pick)
	default:
		p.Material = b.materialOf(&l.Material, pick)
		if p.Material == nil {
			return nil
		}
		p.Depth = b.depthOf(l, p.Material)
	}
	if l.Coats != nil {
		p.CoatsIn = b.coatsOf(l.Coats.In, pick)
		p.CoatsOut = b.coatsOf(l.Coats.Out, pick)
	}
	return p
}

// depthOf gives the thickness of a solid layer [m]; 0 for sheets.
func (b *builder) depthOf(l *Layer, m *kb.Material) float64 {
	if m.Form == kb.Sheet {
		return 0
	}
	if l.Thickness.IsZero() {
		b.once(path(b.of.Name, l.Name.Value, "thickness"), fmt.Sprintf("usual thickness %s of %s", m.Thickness.Usual, m.Name), "")
		return m.Thickness.UsualSI
	}
	d, _ := quantity.Parse(l.Thickness.Value, quantity.Length)
	return d
}

// once notes a default unless it stands there already from another variant.
func (b *builder) once(where, what, from string) {
	for _, d := range b.out.Defaults {
		if d.Where == where && d.What == what {
			return
		}
	}
	b.byDefault(where, what, from)
}

// framedPart fills in framing, spacing, fraction and fills.
func (b *builder) framedPart(p *Part, l *Layer, pick []int) {
	f := l.Framing
	p.Framed, p.Material = true, b.base.Material(f.Material.Value)
	p.Depth = b.depth(l)
	p.Spacing = b.spacing(l)
	p.Fraction = b.fraction(l, p.Spacing)
	open := p.Depth
	var fills []PartFill
	for i := range l.Fill {
		fill := &l.Fill[i]
		m := b.materialOf(&fill.Material, pick)
		if m == nil {
			continue
		}
		d := open
		if !fill.Thickness.IsZero() {
			d, _ = quantity.Parse(fill.Thickness.Value, quantity.Length)
		}
		fills = append(fills, PartFill{Material: m, Depth: d})
		open -= d
	}
	const slack = 1e-4
	if open > slack {
		// Fill is held by the lining or lies on it, so what is left open is on the
		// first side.
		fills = append([]PartFill{{Depth: open}}, fills...)
		if len(fills) > 1 {
			b.once(path(b.of.Name, p.Name), fmt.Sprintf("the open %s of the bay lie on the %s side of the fill",
				quantity.Format(open, quantity.Length, quantity.InchPound), b.of.Between[0]), "")
		}
	}
	p.Fills = fills
}

// The spacing that a description leaves out.
const defaultSpacing = 16 * 0.0254

// spacing gives the spacing of framing [m]; collect has checked it.
func (b *builder) spacing(l *Layer) float64 {
	if l.Framing.Spacing.IsZero() {
		b.once(path(b.of.Name, l.Name.Value, "spacing"), "framing 16 in on center", "")
		return defaultSpacing
	}
	d, _ := quantity.Parse(l.Framing.Spacing.Value, quantity.Length)
	return d
}

// fraction gives the framing share of the area; collect has checked it.
func (b *builder) fraction(l *Layer, spacing float64) float64 {
	if !l.Framing.Fraction.IsZero() {
		v, _ := quantity.Parse(l.Framing.Fraction.Value, quantity.Ratio)
		return v
	}
	id := "framing-fraction-16"
	const between16And24 = 20 * 0.0254
	if spacing > between16And24 {
		id = "framing-fraction-24"
	}
	b.once(path(b.of.Name, l.Name.Value, "fraction"), b.words(id), id)
	return b.assumed(id)
}

// coatsOf lists the coats of a face, from the layer outward.
func (b *builder) coatsOf(runs []CoatRun, pick []int) []*kb.Material {
	var coats []*kb.Material
	for i := range runs {
		run := &runs[i]
		m := b.materialOf(&run.Coating, pick)
		if m == nil {
			continue
		}
		counts, _ := countChoices(run.Count.Value)
		n, _ := strconv.Atoi(b.settled(&run.Count, counts, pick))
		for range n {
			coats = append(coats, m)
		}
	}
	return coats
}
