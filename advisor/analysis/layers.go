package analysis

import (
	"slices"

	"relath/kb"
	"relath/kb/quantity"
)

// describeLayers states the facts of each layer that need no figures.
func (m *model) describeLayers(layers []LayerFacts) {
	for i := range layers {
		p, f := layers[i].Part, layers[i].Facts
		f["side"] = word(m.sideOf(i))
		f["outermost"] = flag(i == 0)
		f["innermost"] = flag(i == len(layers)-1)
		f["layer-thickness"] = measured(quantity.Exact(p.Depth))
		f["performs"] = word(p.Performs...)
		f["untouched"] = flag(p.State == "existing")
		f["sealed"] = Estimate{Missing: "whether the joints of " + p.Name + " are sealed"}
		if p.SealedSet {
			f["sealed"] = flag(p.Sealed)
		}
		f["air"] = word()
		if p.Cavity {
			f["air"] = word(string(p.Air))
		}
		m.describeMaterial(i, f)
		m.describeFaces(i, f)
		m.describeMold(i, f)
		f["beside"] = word(m.beside(i)...)
	}
}

// describeMaterial states what a layer is made of.
func (m *model) describeMaterial(i int, f Facts) {
	p := m.variant.Layers[i]
	if p.Cavity {
		f["form"], f["terms"], f["offers"], f["breakdown"] = word("cavity"), word(), word(), word()
		f["food"], f["layer-adhesive"] = flag(false), measured(quantity.Exact(0))
		return
	}
	var terms, offers, breakdown []string
	food := false
	for _, mat := range materialsOf(p) {
		terms = append(terms, mat.Terms...)
		offers = append(offers, offersOf(mat, p.Depth)...)
		food = food || isFood(mat)
		if mat.Breakdown != "" {
			breakdown = append(breakdown, mat.Breakdown)
		}
	}
	form := p.Material.Form
	if p.Framed {
		form = kb.Framing
	}
	f["form"], f["terms"], f["offers"], f["breakdown"] = word(string(form)), word(terms...), word(offers...), word(breakdown...)
	f["food"] = flag(food)
	glue := estimateSum{}
	for _, share := range massesOf(m.read, p) {
		glue.glue(p.Name, share)
	}
	f["layer-adhesive"] = m.sum(&glue)
}

// offersOf lists the duties a material offers at a thickness.
func offersOf(m *kb.Material, depth float64) []string {
	var list []string
	for i := range m.Duties {
		if o := &m.Duties[i]; offered(o, depth) {
			list = append(list, o.Duty)
		}
	}
	return list
}

// offered says whether an offer holds at a thickness in m, 0 for any.
func offered(o *kb.Offer, depth float64) bool {
	const slack = 1e-4
	return depth == 0 || o.FromSI <= depth+slack
}

// beside gives the terms of the layers on both sides of a layer.
func (m *model) beside(i int) []string {
	var terms []string
	for _, k := range []int{i - 1, i + 1} {
		if k < 0 || k >= len(m.variant.Layers) || m.variant.Layers[k].Cavity {
			continue
		}
		for _, mat := range materialsOf(m.variant.Layers[k]) {
			terms = append(terms, mat.Terms...)
		}
	}
	return terms
}

// describeFaces states what a layer faces and its coats.
func (m *model) describeFaces(i int, f Facts) {
	p := m.variant.Layers[i]
	last := i == len(m.variant.Layers)-1
	f["faces-room"] = flag(last && isRoom(m.of.Between[1]) || i == 0 && isRoom(m.of.Between[0]))
	f["faces-cavity"] = flag(!p.Cavity && (p.Framed || i > 0 && isBay(m.variant.Layers[i-1]) || !last && isBay(m.variant.Layers[i+1])))
	coats := slices.Concat(p.CoatsOut, p.CoatsIn)
	f["coat-count"] = measured(quantity.Exact(float64(len(coats))))
	var terms []string
	for _, c := range coats {
		terms = append(terms, c.Terms...)
	}
	f["coat-terms"] = word(terms...)
}

// describeMold states the sensitivity class of both faces and of the more
// sensitive one.
func (m *model) describeMold(i int, f Facts) {
	p := m.variant.Layers[i]
	if p.Cavity {
		f["mold-class"], f["mold-class-outer"], f["mold-class-inner"] = word(), word(), word()
		return
	}
	outer, inner := m.outerClass(i), m.innerClass(i)
	lacks := "mold class of " + p.Name
	f["mold-class-outer"], f["mold-class-inner"] = given(string(outer), lacks), given(string(inner), lacks)
	f["mold-class"] = given(string(moreSensitive(outer, inner)), lacks)
}

// describeVapor states permeances and classes of a layer with its coats.
func (m *model) describeVapor(i int, f Facts) {
	dry, wet, mid, lacks := m.partPermeance(i)
	if lacks != "" {
		missing := Estimate{Missing: lacks}
		for _, id := range []string{"permeance-dry", "permeance-wet", "permeance", "vapor-resistance", "retarder-class", "responsive"} {
			f[id] = missing
		}
		return
	}
	inputs, cups := m.behind(i)
	doubts := m.doubtsOf(i)
	resistance := quantity.Range{Low: 1 / max(mid.High, minPermeance), Best: 1 / max(mid.Best, minPermeance), High: 1 / max(mid.Low, minPermeance)}
	state := func(id string, e Estimate, inputs []Input) {
		e = m.rested(e, inputs)
		e.Warnings = doubts
		f[id] = e
	}
	state("permeance", measured(mid), inputs)
	state("vapor-resistance", measured(resistance), inputs)
	state("permeance-dry", measured(dry), cups)
	state("permeance-wet", measured(wet), cups)
	state("retarder-class", classWords(dry), cups)
	state("responsive", responsive(dry, wet), cups)
}

// partPermeance is the permeance of a part by the two cups and at 50 % humidity:
// of its one element, or of its fills in series; with what it lacks.
func (m *model) partPermeance(part int) (dry, wet, mid quantity.Range, lacks string) {
	var drys, wets, mids []quantity.Range
	for i := range m.elements {
		e := &m.elements[i]
		if e.part != part {
			continue
		}
		if !e.known {
			return dry, wet, mid, e.lacks
		}
		drys = append(drys, e.vapor.span(e.vapor.dryCup()))
		wets = append(wets, e.vapor.span(e.vapor.wetCup()))
		mids = append(mids, e.vapor.at(middle))
	}
	return series(drys), series(wets), series(mids), ""
}

// behind lists the values behind the permeance of a part over humidity, and
// behind that by the two cups.
func (m *model) behind(part int) (inputs, cups []Input) {
	for i := range m.elements {
		e := &m.elements[i]
		if e.part != part {
			continue
		}
		for _, in := range e.inputs {
			if !isHeat(in.Property) && in.Property != "air-change" {
				inputs = append(inputs, in)
			}
		}
		cups = append(cups, e.cups...)
	}
	return inputs, cups
}

// doubtsOf words what of a part rests on values of high doubt.
func (m *model) doubtsOf(part int) []string {
	var list []string
	for i := range m.elements {
		if m.elements[i].part != part {
			continue
		}
		for _, name := range m.elements[i].doubtful {
			list = append(list, "the only permeance known of "+name+" is of high doubt")
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}
