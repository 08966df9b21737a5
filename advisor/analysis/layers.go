package analysis

import (
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// describeLayers states the facts of each layer that need no method.
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
		m.describeMaterial(p, f)
		m.describeFaces(i, f)
		m.describeVapor(i, f)
	}
	m.shares(layers)
}

// describeMaterial states what a layer is made of.
func (m *model) describeMaterial(p *assembly.Part, f Facts) {
	if p.Cavity {
		f["form"], f["terms"], f["offers"] = word("cavity"), word(), word()
		f["food"], f["layer-adhesive"] = flag(false), measured(quantity.Exact(0))
		f["breakdown"], f["mold-class"] = word(), word()
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
	f["form"] = word(string(form))
	f["terms"] = word(terms...)
	f["offers"] = word(offers...)
	f["food"] = flag(food)
	f["breakdown"] = word(breakdown...)
	glue := estimateSum{}
	for _, share := range massesOf(p) {
		amount, known := glueOf(share)
		glue.add(amount, known, "glue of "+share.material.Name)
	}
	f["layer-adhesive"] = glue.estimate()
}

// offersOf lists the duties a material offers at a thickness.
func offersOf(m *kb.Material, depth float64) []string {
	const slack = 1e-4
	var list []string
	for _, o := range m.Duties {
		if depth == 0 || o.FromSI <= depth+slack {
			list = append(list, o.Duty)
		}
	}
	return list
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
	f["mold-class"] = Estimate{Missing: "mold class of " + p.Name}
	if p.Cavity {
		f["mold-class"] = word()
		return
	}
	classes := kb.MoldClass("").Allowed()
	rank := len(classes)
	for _, mat := range materialsOf(p)[:1] {
		for _, c := range []kb.MoldClass{faceClass(mat, p.CoatsOut, true), faceClass(mat, p.CoatsIn, false)} {
			if at := slices.Index(classes, string(c)); at >= 0 {
				rank = min(rank, at)
			}
		}
	}
	if rank < len(classes) {
		f["mold-class"] = word(classes[rank])
	}
}

// The mean humidities at which a curve is read as a cup value.
const (
	dryCupHumidity = 0.25
	wetCupHumidity = 0.75
	middle         = 0.5
)

// describeVapor states permeances and classes of a layer with its coats.
func (m *model) describeVapor(i int, f Facts) {
	curve, lacks, inputs := m.partCurve(i)
	if lacks != "" {
		missing := Estimate{Missing: lacks}
		for _, id := range []string{"permeance-dry", "permeance-wet", "permeance", "retarder-class", "responsive"} {
			f[id] = missing
		}
		return
	}
	dry, wet := curve.at(dryCupHumidity), curve.at(wetCupHumidity)
	if d, w, ok := cupsOf(m.variant.Layers[i]); ok {
		dry, wet = d, w
	}
	at := func(r quantity.Range) Estimate {
		e := measured(r)
		e.Inputs, e.Evidence = inputs, weakestOf(inputs)
		return e
	}
	f["permeance-dry"], f["permeance-wet"], f["permeance"] = at(dry), at(wet), at(curve.at(middle))
	f["retarder-class"] = classWords(dry)
	f["responsive"] = responsive(dry, wet)
}

// cupsOf gives the cup values of a bare layer as the base knows them; coated
// and jointed layers are read from their joined curve.
func cupsOf(p *assembly.Part) (dry, wet quantity.Range, ok bool) {
	if p.Cavity || p.Framed || len(p.CoatsIn)+len(p.CoatsOut) > 0 {
		return dry, wet, false
	}
	if _, jointed := p.Material.Working("joint-permeance", kb.AnyMethod, p.Depth); jointed {
		return dry, wet, false
	}
	d, hasDry := p.Material.Working("permeance", kb.DryCup, p.Depth)
	w, hasWet := p.Material.Working("permeance", kb.WetCup, p.Depth)
	return d.SI, w.SI, hasDry && hasWet
}

// partCurve is the permeance of a part: of its one element, or of its fills in
// series; with what it lacks and the inputs behind it.
func (m *model) partCurve(i int) (curve vaporCurve, lacks string, inputs []Input) {
	var curves []vaporCurve
	for _, e := range m.elements {
		if e.part != i {
			continue
		}
		if !e.known {
			return nil, e.lacks, nil
		}
		curves = append(curves, e.vapor)
		for _, in := range e.inputs {
			if aboutVapor(in) {
				inputs = append(inputs, in)
			}
		}
	}
	if len(curves) == 1 {
		return curves[0], "", inputs
	}
	return combine(curves, series), "", inputs
}

// aboutVapor says whether an input belongs to the vapor side of a layer.
func aboutVapor(in Input) bool {
	return slices.Contains([]string{"permeance", "joint-permeance", "joint-share", "equivalent-air-layer"}, in.Property)
}

// weakestOf is the weakest mark among inputs.
func weakestOf(inputs []Input) kb.Evidence {
	var mark kb.Evidence
	for _, in := range inputs {
		if in.Value != nil {
			mark = mark.Weaker(in.Value.Evidence)
		}
	}
	return mark
}

// onePerm is 1 US perm in kg/(s·m²·Pa): 57.2135 ng (NIST SP 811, 0 °C).
const onePerm = 57.2135e-12

// The upper limits of the classes I, II and III, dry cup (IRC R202, R702.7).
func classLimits() []struct {
	class string
	limit float64
} {
	return []struct {
		class string
		limit float64
	}{{"I", 0.1 * onePerm}, {"II", onePerm}, {"III", 10 * onePerm}}
}

// roundness lets a value that is printed as 1 perm count as 1 perm.
const roundness = 1 + 1e-4

// classOf is the vapor retarder class of a dry-cup permeance.
func classOf(permeance float64) string {
	for _, c := range classLimits() {
		if permeance <= c.limit*roundness {
			return c.class
		}
	}
	return "none"
}

// classWords gives the class, or all it may be over the range.
func classWords(dry quantity.Range) Estimate {
	e := word()
	inside := false
	for _, c := range []string{"I", "II", "III", "none"} {
		inside = inside || c == classOf(dry.Low)
		if inside {
			e.Words = append(e.Words, c)
		}
		if c == classOf(dry.High) {
			break
		}
	}
	e.Mixed = len(e.Words) > 1
	return e
}

// responsive says whether a layer is Class I or II by dry cup and above 1 perm
// by the water method.
func responsive(dry, wet quantity.Range) Estimate {
	surely := dry.High <= onePerm*roundness && wet.Low > onePerm
	possibly := dry.Low <= onePerm*roundness && wet.High > onePerm
	return Estimate{Known: true, Flag: surely, Mixed: possibly && !surely}
}

// resistances gives the vapor resistance of each part at 50 % humidity on the
// way out. Outdoor air that moves through a gap passes what lies outside of it,
// which then counts only for what the two paths together resist.
func (m *model) resistances(parts int) []float64 {
	resistance := make([]float64, parts)
	for _, e := range m.elements {
		if e.vent.Best > 0 {
			outside := 0.0
			for _, z := range resistance[:e.part] {
				outside += z
			}
			for i := range resistance[:e.part] {
				resistance[i] /= 1 + outside*e.vent.Best
			}
		}
		if e.known {
			resistance[e.part] += 1 / max(e.vapor.at(middle).Best, minPermeance)
		}
	}
	return resistance
}

// shares states the share of each layer in the vapor resistance of its path
// and which layer chokes it.
func (m *model) shares(layers []LayerFacts) {
	resistance := m.resistances(len(layers))
	side := func(from, to int, fact, word string) {
		sum, most, at := 0.0, 0.0, -1
		for i := from; i < to; i++ {
			sum += resistance[i]
			if resistance[i] > most {
				most, at = resistance[i], i
			}
		}
		for i := from; i < to; i++ {
			layers[i].Facts[fact] = measured(quantity.Exact(resistance[i] / max(sum, 1e-30)))
		}
		if at >= 0 && to-from > 1 {
			layers[at].Facts["choke"] = Estimate{Known: true, Words: []string{word}}
		}
	}
	for i := range layers {
		layers[i].Facts["share-outward"] = measured(quantity.Exact(0))
		layers[i].Facts["share-inward"] = measured(quantity.Exact(0))
		layers[i].Facts["choke"] = word("neither")
	}
	if len(m.lacks) > 0 {
		return
	}
	side(0, m.core, "share-outward", "outward")
	side(m.core+1, len(layers), "share-inward", "inward")
}
