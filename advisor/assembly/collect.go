package assembly

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"relath/kb"
	"relath/kb/quantity"
	"relath/kb/strict"
)

// MaxCoats bounds the coats of one coating on one face.
const MaxCoats = 40

// collect checks every layer in every choice and registers the doubts.
func (b *builder) collect() {
	names := make(map[string]bool)
	for i := range b.of.Described.Layers {
		l := &b.of.Described.Layers[i]
		if names[l.Name.Value] {
			b.problem(l.Name.Pos, fmt.Sprintf("layer %q given twice in %q", l.Name.Value, b.of.Name), "give each layer its own name")
		}
		names[l.Name.Value] = true
		b.layer(l)
	}
	if len(b.of.Described.Layers) == 0 {
		b.problem(b.of.Described.Pos, fmt.Sprintf("assembly %q has no layers", b.of.Name), "list them from the first side inward")
	}
	b.order()
}

// layer checks that a layer is exactly one of material, cavity and framing.
func (b *builder) layer(l *Layer) {
	kinds := 0
	for _, given := range []bool{!l.Material.IsZero(), !l.Cavity.IsZero(), l.Framing != nil} {
		if given {
			kinds++
		}
	}
	if kinds != 1 {
		b.problem(l.Pos, fmt.Sprintf("layer %q needs exactly one of material, cavity and framing", l.Name.Value), "")
		return
	}
	b.duties(l.Performs)
	switch {
	case !l.Cavity.IsZero():
		b.cavity(l)
	case l.Framing != nil:
		b.framed(l)
	default:
		b.solid(l)
	}
	b.stray(l)
	if l.Coats != nil {
		b.coats(l.Coats.In, l, "inner face")
		b.coats(l.Coats.Out, l, "outer face")
	}
}

// stray refuses keys that do not go together.
func (b *builder) stray(l *Layer) {
	if l.Air != "" && l.Cavity.IsZero() {
		b.problem(l.Pos, fmt.Sprintf("layer %q: air belongs to a cavity", l.Name.Value), "write cavity: 3/4 in, air: drained")
	}
	if len(l.Fill) > 0 && l.Framing == nil {
		b.problem(l.Pos, fmt.Sprintf("layer %q: fill belongs to framing", l.Name.Value), "")
	}
	if !l.Thickness.IsZero() && (!l.Cavity.IsZero() || l.Framing != nil) {
		b.problem(l.Thickness.Pos, fmt.Sprintf("layer %q: thickness belongs to a material", l.Name.Value), "a cavity gives its own thickness, framing its size or depth")
	}
	if l.Coats != nil && !l.Cavity.IsZero() {
		b.problem(l.Coats.Pos, fmt.Sprintf("layer %q: a cavity has no coats", l.Name.Value), "")
	}
	if l.Coats != nil && l.Framing != nil {
		b.problem(l.Coats.Pos, fmt.Sprintf("layer %q: a bay has no coats", l.Name.Value), "put them on the board or plaster that closes it")
	}
}

func (b *builder) cavity(l *Layer) {
	if d, ok := l.Cavity.SI(quantity.Length, b.problem); ok {
		b.within(l.Cavity, d, 1e-4, 2, "cavity", "more than 0 and at most 6 ft")
	}
	if l.Air == "" {
		b.problem(l.Pos, fmt.Sprintf("cavity %q: air is missing", l.Name.Value), "closed, drained, vented or ventilated")
	}
}

// solid checks a layer of one material in every choice.
func (b *builder) solid(l *Layer) {
	for _, id := range l.Material.OneOf {
		if id.Value == None {
			continue
		}
		m := b.material(id)
		if m == nil {
			continue
		}
		switch m.Form {
		case kb.Coat:
			b.problem(id.Pos, fmt.Sprintf("%q is a coating, not a layer", m.ID), "put it under coats of the layer it is on")
		case kb.Unit, kb.Joint:
			b.problem(id.Pos, fmt.Sprintf("%q is not a layer of an assembly", m.ID), "trim, doors and cabinets belong to finishes")
		}
		b.thickness(l, m, id.Pos)
	}
	b.doubt(&l.Material, Doubt{Pos: l.Material.Pos, Where: "material of " + l.Name.Value, Choices: ids(&l.Material), Of: OfMaterial, Layer: l.Name.Value})
}

// thickness checks the thickness of a layer against what its material can be.
func (b *builder) thickness(l *Layer, m *kb.Material, pos strict.Pos) {
	if m.Form == kb.Sheet {
		if !l.Thickness.IsZero() {
			b.problem(l.Thickness.Pos, fmt.Sprintf("layer %q: a sheet has no thickness here", l.Name.Value), "choose the sheet by its weight, such as polyethylene-6mil")
		}
		return
	}
	if l.Thickness.IsZero() {
		if m.Thickness.UsualSI == 0 && m.Form != kb.Coat {
			b.problem(pos, fmt.Sprintf("layer %q: thickness is missing and %q has no usual one", l.Name.Value, m.ID), "for example thickness: 3/4 in")
		}
		return
	}
	d, ok := l.Thickness.SI(quantity.Length, b.problem)
	if !ok {
		return
	}
	low, high := 1e-4, 3.0
	if m.Form == kb.Board {
		high = 0.3
	}
	if m.Thickness.LeastSI > 0 {
		low = 0.5 * m.Thickness.LeastSI
	}
	if m.Thickness.MostSI > 0 {
		high = 2 * m.Thickness.MostSI
	}
	if d < low || d > high {
		b.problem(l.Thickness.Pos, fmt.Sprintf("layer %q: thickness %q is impossible for %s", l.Name.Value, l.Thickness.Value, m.Name),
			fmt.Sprintf("from %s to %s", quantity.Format(low, quantity.Length, quantity.InchPound), quantity.Format(high, quantity.Length, quantity.InchPound)))
	}
}

// framed checks framing and its fill.
func (b *builder) framed(l *Layer) {
	f := l.Framing
	if m := b.material(f.Material); m != nil {
		switch {
		case hasTerm(m, "steel-framing"):
			b.problem(f.Material.Pos, "steel framing is not computed: parallel paths do not hold for it", "its U-factor needs the modified zone method of the handbook; ask an engineer")
		case m.Form != kb.Framing:
			b.problem(f.Material.Pos, fmt.Sprintf("%q is not a framing material", m.ID), "for example spf-lumber")
		}
	}
	depth := b.depth(l)
	b.framingShares(f)
	b.fills(l, depth)
}

// fills checks what lies between the framing of a depth in m. The last fill may
// leave its thickness out and takes what is left of the bay.
func (b *builder) fills(l *Layer, depth float64) {
	const slack = 1e-4
	total := 0.0
	for i := range l.Fill {
		fill := &l.Fill[i]
		for _, id := range fill.Material.OneOf {
			if id.Value == None {
				continue
			}
			if m := b.material(id); m != nil && m.Form != kb.Fill && m.Form != kb.Board && m.Form != kb.Masonry && m.Form != kb.Plaster {
				b.problem(id.Pos, fmt.Sprintf("%q does not fill a bay", m.ID), "batts, loose fill, foam or boards do")
			}
		}
		b.doubt(&fill.Material, Doubt{Pos: fill.Material.Pos, Where: "fill of " + l.Name.Value, Choices: ids(&fill.Material), Of: OfFill, Layer: l.Name.Value})
		switch {
		case !fill.Thickness.IsZero():
		case i < len(l.Fill)-1:
			b.problem(fill.Pos, fmt.Sprintf("layer %q: the thickness of a fill is missing", l.Name.Value), "only the last fill of a bay may leave it out: it takes what is left")
			continue
		case depth > 0 && total > depth-slack:
			b.problem(fill.Pos, fmt.Sprintf("layer %q: no room is left for the last fill", l.Name.Value), "give each fill its thickness")
			continue
		default:
			continue
		}
		if d, ok := fill.Thickness.SI(quantity.Length, b.problem); ok {
			b.within(fill.Thickness, d, 1e-4, 2, "thickness of the fill", "more than 0 and at most the depth of the bay")
			total += d
		}
	}
	if depth > 0 && total > depth+slack {
		b.problem(l.Fill[0].Pos, fmt.Sprintf("layer %q: the fill is %s thick and the bay only %s deep", l.Name.Value,
			quantity.Format(total, quantity.Length, quantity.InchPound), quantity.Format(depth, quantity.Length, quantity.InchPound)), "compress it to the depth of the bay, or choose deeper framing")
	}
}

// framingShares checks spacing and fraction.
func (b *builder) framingShares(f *Framing) {
	if !f.Spacing.IsZero() {
		if d, ok := f.Spacing.SI(quantity.Length, b.problem); ok {
			b.within(f.Spacing, d, 0.1, 3, "spacing", "4 in to 10 ft")
		}
	}
	if !f.Fraction.IsZero() {
		if v, ok := f.Fraction.SI(quantity.Ratio, b.problem); ok {
			b.within(f.Fraction, v, 0, 0.9, "framing fraction", "0 % to 90 %")
		}
	}
}

// depth gives the depth of a framed layer [m], 0 with a problem noted.
func (b *builder) depth(l *Layer) float64 {
	f := l.Framing
	switch {
	case f.Size.IsZero() == f.Depth.IsZero():
		b.problem(f.Pos, fmt.Sprintf("framing of %q needs size or depth", l.Name.Value), "size: 2x6, or depth: 3-3/4 in for old rough lumber")
	case !f.Size.IsZero():
		_, d, err := quantity.ParseSize(f.Size.Value)
		var bad *quantity.ParseError
		if errors.As(err, &bad) {
			b.problem(f.Size.Pos, fmt.Sprintf("size %q: %s", f.Size.Value, bad.Message), "or give depth: 3-3/4 in for old rough lumber")
		}
		return d
	default:
		if d, ok := f.Depth.SI(quantity.Length, b.problem); ok {
			b.within(f.Depth, d, 0.01, 1, "depth of framing", "1/2 in to 3 ft")
			return d
		}
	}
	return 0
}

// coats checks coats and registers their doubts.
func (b *builder) coats(runs []CoatRun, l *Layer, face string) {
	for i := range runs {
		run := &runs[i]
		where := fmt.Sprintf("coats on the %s of %s", face, l.Name.Value)
		for _, id := range run.Coating.OneOf {
			if id.Value == None {
				continue
			}
			if m := b.material(id); m != nil && m.Form != kb.Coat {
				b.problem(id.Pos, fmt.Sprintf("%q is not a coating", m.ID), "coats are primers, paints, washes and wallcoverings")
			}
		}
		b.doubt(&run.Coating, Doubt{Pos: run.Coating.Pos, Where: where, Choices: ids(&run.Coating), Of: OfCoating, Layer: l.Name.Value})
		counts, problem := countChoices(run.Count.Value)
		if problem != "" {
			b.problem(run.Count.Pos, problem, "a whole number such as 2, or a doubt such as 3-5")
			continue
		}
		b.doubt(&run.Count, Doubt{Pos: run.Count.Pos, Where: "number of " + where, Choices: counts, Of: OfCoats, Layer: l.Name.Value})
	}
}

// countChoices reads a number of coats or a doubt between numbers.
func countChoices(text string) (counts []string, problem string) {
	if text == "" {
		return []string{"1"}, ""
	}
	low, high, ranged := strings.Cut(text, "-")
	from, err := strconv.Atoi(low)
	to := from
	if err == nil && ranged {
		to, err = strconv.Atoi(high)
	}
	switch {
	case err != nil || strconv.Itoa(from) != low || ranged && strconv.Itoa(to) != high:
		return nil, fmt.Sprintf("count %q is no number of coats", text)
	case from < 0 || to > MaxCoats || to < from:
		return nil, fmt.Sprintf("count %q: allowed is 0 to %d, the smaller number first", text, MaxCoats)
	}
	for n := from; n <= to; n++ {
		counts = append(counts, strconv.Itoa(n))
	}
	return counts, ""
}

// order refuses layers that are listed the wrong way round: cladding or roofing
// that is last, or a floor finish that is first.
func (b *builder) order() {
	layers := b.of.Described.Layers
	if len(layers) < 2 || b.of.Kind == "partition" {
		return
	}
	first, last := b.anyOf(&layers[0]), b.anyOf(&layers[len(layers)-1])
	if last != nil && !hasTerm(last, "lining") && (hasTerm(last, "cladding") || hasTerm(last, "roofing")) && !(first != nil && (hasTerm(first, "cladding") || hasTerm(first, "roofing"))) {
		b.problem(layers[len(layers)-1].Pos, fmt.Sprintf("layers of %q seem to be listed from the inside: %s is last", b.of.Name, last.Name),
			fmt.Sprintf("list them from the %s inward", b.of.Between[0]))
	}
}

// anyOf gives the material of the first choice of a layer, or nil.
func (b *builder) anyOf(l *Layer) *kb.Material {
	if l.Material.IsZero() {
		return nil
	}
	return b.base.Material(l.Material.OneOf[0].Value)
}
