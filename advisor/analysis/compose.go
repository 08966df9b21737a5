package analysis

import (
	"fmt"
	"strings"

	"relath/kb"
	"relath/kb/quantity"
)

// compose sums what the layers hold: thickness, weight, glue, food and storage.
func (m *model) compose(f Facts) {
	var thickness float64
	weight, glue, stored := estimateSum{}, estimateSum{}, estimateSum{}
	for _, p := range m.variant.Layers {
		thickness += p.Depth
		for _, share := range massesOf(m.read, p) {
			weight.weigh(p.Name, share)
			glue.glue(p.Name, share)
			stored.store(p.Name, share)
		}
	}
	f["thickness"] = measured(quantity.Exact(thickness))
	f["weight"] = m.sum(&weight)
	f["adhesive-mass"] = m.sum(&glue)
	f["glue-share"] = m.shareOf(f["adhesive-mass"], f["weight"])
	f["vapor-storage"] = m.sum(&stored)
	f["moisture-buffer"] = m.buffer()
	m.food(f)
}

// estimateSum adds ranges; what is not known is left out and named.
type estimateSum struct {
	terms []term
	lacks []string
}

// term is one summand with what it rests on.
type term struct {
	amount quantity.Range
	inputs []Input
}

func (s *estimateSum) add(r quantity.Range, inputs []Input) {
	s.terms = append(s.terms, term{r, inputs})
}

func (s *estimateSum) lack(words string) { s.lacks = append(s.lacks, words) }

// sum makes the estimate. Its mark is the weakest among the terms that hold more
// than a twentieth of it.
func (m *model) sum(s *estimateSum) Estimate {
	e := Estimate{Known: true}
	for _, t := range s.terms {
		e.Range.Low, e.Range.Best, e.Range.High = e.Range.Low+t.amount.Low, e.Range.Best+t.amount.Best, e.Range.High+t.amount.High
	}
	for _, t := range s.terms {
		mark := m.weakest(t.inputs)
		e.Inputs = append(e.Inputs, t.inputs...)
		switch {
		case t.amount.High > decisive*e.Range.Best:
			e.Evidence = e.Evidence.Weaker(mark)
		case weak(mark):
			e.Minor++
		}
	}
	for _, lack := range s.lacks {
		e.Warnings = append(e.Warnings, "not counted: "+lack)
	}
	return e
}

// note gives the input of a property of a material, when there is one.
func note(read *kb.Reader, layer string, of *kb.Material, property string) []Input {
	w, ok := read.Working(of, property, kb.AnyMethod, 0)
	if !ok {
		return nil
	}
	return []Input{{Layer: layer, Material: of.ID, Property: property, Value: w.Value}}
}

// inputs gives the value behind a share of the mass.
func (s *mass) inputs(layer string) []Input {
	if s.material.Form == kb.Sheet || s.material.Form == kb.Coat {
		return note(s.read, layer, s.material, "area-density")
	}
	return note(s.read, layer, s.material, "density")
}

// weigh adds a share of the mass.
func (s *estimateSum) weigh(layer string, share mass) {
	if !share.known {
		s.lack(fmt.Sprintf("density of %s (%s)", layer, share.material.Name))
		return
	}
	s.add(share.amount, share.inputs(layer))
}

// glue adds the adhesive in a share of the mass.
func (s *estimateSum) glue(layer string, share mass) {
	amount, known := glueOf(share)
	inputs := note(share.read, layer, share.material, "adhesive-share")
	switch {
	case !known:
		s.lack(fmt.Sprintf("glue of %s (%s)", layer, share.material.Name))
	case amount.High == 0:
		s.add(amount, inputs)
	default:
		s.add(amount, append(share.inputs(layer), inputs...))
	}
}

// glueOf is the mass of adhesive in a share of the mass.
func glueOf(s mass) (amount quantity.Range, known bool) {
	w, ok := s.read.Working(s.material, "adhesive-share", kb.AnyMethod, 0)
	switch {
	case !ok:
		return amount, strings.HasPrefix(s.material.Composition.Adhesive, "none")
	case !s.known:
		return amount, w.SI.High == 0
	}
	return quantity.Range{Low: s.amount.Low * w.SI.Low, Best: s.amount.Best * w.SI.Best, High: s.amount.High * w.SI.High}, true
}

// The humidities between which storage is counted.
const (
	storageFrom = 0.5
	storageTo   = 0.9
)

// store adds the water that a share takes up between the two humidities.
func (s *estimateSum) store(layer string, share mass) {
	water, inputs, ok := storedIn(layer, share)
	if !ok {
		s.lack(fmt.Sprintf("sorption of %s (%s)", layer, share.material.Name))
		return
	}
	s.add(water, append(share.inputs(layer), inputs...))
}

// storedIn is the water that a share takes up between the two humidities.
func storedIn(layer string, share mass) (water quantity.Range, inputs []Input, ok bool) {
	content, inputs, ok := storage(share.read, layer, share.material)
	if !ok || !share.known {
		return water, nil, false
	}
	return share.amount.Scale(max(0, content(storageTo)-content(storageFrom))), inputs, true
}

// storage gives the moisture content by mass of a material over humidity: by its
// sorption curve, else by the two-point form w = w_f·(b−1)·φ/(b−φ) through its
// moisture at 80 % and its free saturation (Künzel 1995, recalled).
func storage(read *kb.Reader, layer string, of *kb.Material) (content func(rh float64) float64, inputs []Input, ok bool) {
	if w, ok := read.Working(of, "sorption", kb.AsCurve, 0); ok {
		return func(rh float64) float64 { return w.At(rh).Best }, note(read, layer, of, "sorption"), true
	}
	at80, hasContent := read.Working(of, "moisture-content-80", kb.AnyMethod, 0)
	free, hasFree := read.Working(of, "free-saturation", kb.AnyMethod, 0)
	density, hasDensity := read.Density(of)
	if !hasContent || !hasFree || !hasDensity {
		return nil, nil, false
	}
	inputs = append(note(read, layer, of, "moisture-content-80"), note(read, layer, of, "free-saturation")...)
	return twoPoint(at80.SI.Best/density.Best, free.SI.Best/density.Best), inputs, true
}

// twoPoint is the two-point form. It does not hold where most of the water is
// taken up below 80 %; storage is then left at nothing.
func twoPoint(at80, free float64) func(rh float64) float64 {
	const humidity = 0.8
	if at80 >= humidity*free {
		return func(float64) float64 { return 0 }
	}
	b := humidity * (free - at80) / (humidity*free - at80)
	return func(rh float64) float64 { return free * (b - 1) * rh / (b - rh) }
}

// shareOf is the glue by weight. Both move with the same densities, so the ends
// go with the best weight.
func (m *model) shareOf(glue, weight Estimate) Estimate {
	if weight.Range.Best <= 0 {
		return Estimate{Missing: "the weight is not known"}
	}
	e := glue
	e.Range = glue.Range.Scale(1 / weight.Range.Best)
	e.Warnings = append(append([]string(nil), glue.Warnings...), weight.Warnings...)
	return e
}

// insulation sums nominal R by place.
func (m *model) insulation(f Facts) {
	sums := make(map[string]*estimateSum)
	for _, id := range []string{"exterior-insulation", "cavity-insulation", "interior-insulation", "air-impermeable-insulation", "total-insulation"} {
		sums[id] = &estimateSum{}
	}
	for i := range m.elements {
		e := &m.elements[i]
		mat := m.materialOf(*e)
		if mat == nil || !isInsulation(mat) {
			continue
		}
		place := "exterior-insulation"
		switch {
		case m.variant.Layers[e.part].Framed:
			place = "cavity-insulation"
		case e.part > m.core:
			place = "interior-insulation"
		}
		sums[place].nominal(e)
		sums["total-insulation"].nominal(e)
		if hasTerm(mat, "air-impermeable-insulation") {
			sums["air-impermeable-insulation"].nominal(e)
		}
	}
	for id, s := range sums {
		f[id] = m.sum(s)
	}
}

// nominal adds the best resistance of an element, which a label would print.
func (s *estimateSum) nominal(e *element) {
	var inputs []Input
	for _, in := range e.inputs {
		if isHeat(in.Property) {
			inputs = append(inputs, in)
		}
	}
	s.add(quantity.Exact(e.heat.Best), inputs)
}
