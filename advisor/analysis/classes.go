package analysis

import (
	"relath/kb"
	"relath/kb/quantity"
)

// onePerm is 1 US perm in kg/(s·m²·Pa): 57.2135 ng (NIST SP 811, 0 °C).
const onePerm = 57.2135e-12

// retarderClass is a vapor retarder class and its upper limit.
type retarderClass struct {
	name  string
	limit float64 // dry cup, kg/(s·m²·Pa)
}

// retarderClasses lists the classes (IRC R202, R702.7); above the last there is
// none.
func retarderClasses() []retarderClass {
	return []retarderClass{{"I", 0.1 * onePerm}, {"II", onePerm}, {"III", 10 * onePerm}}
}

// roundness lets a value that is printed as 1 perm count as 1 perm.
const roundness = 1 + 1e-4

// classOf is the vapor retarder class of a dry-cup permeance.
func classOf(permeance float64) string {
	for _, c := range retarderClasses() {
		if permeance <= c.limit*roundness {
			return c.name
		}
	}
	return "none"
}

// classWords gives the class, or all it may be over the range.
func classWords(dry quantity.Range) Estimate {
	e := word()
	from, to := classOf(dry.Low), classOf(dry.High)
	within := false
	for _, c := range []string{"I", "II", "III", "none"} {
		within = within || c == from
		if within {
			e.Words = append(e.Words, c)
		}
		if c == to {
			break
		}
	}
	e.Mixed = len(e.Words) > 1
	return e
}

// responsive says whether a layer is Class I or II by dry cup and above 1 perm
// by the water method.
func responsive(dry, wet quantity.Range) Estimate {
	surely := dry.High <= onePerm*roundness && wet.Low > onePerm*roundness
	possibly := dry.Low <= onePerm*roundness && wet.High > onePerm*roundness
	return Estimate{Known: true, Flag: surely, Mixed: possibly && !surely}
}

// classes states the tightest layer on each side of the core and the vapor
// retarder class that follows. A facing or a foam in the bay counts for the
// room side, where facings are.
func (m *model) classes(f Facts, layers []LayerFacts) {
	outside := m.tightest(layers, "outside")
	f["tightest-outward-dry"], f["retarder-class-outside"] = m.retarderFacts(&outside)
	inside := m.tightest(layers, "inside")
	f["tightest-inward-dry"], f["retarder-class-inside"] = m.retarderFacts(&inside)
	f["retarder-responsive"] = Estimate{Missing: inside.lacks}
	if inside.lacks == "" {
		f["retarder-responsive"] = m.rested(responsive(inside.dry, inside.wet), inside.inputs)
	}
}

// retarder is the tightest layer of a side.
type retarder struct {
	dry, wet quantity.Range
	inputs   []Input
	lacks    string // a layer of the side whose permeance is not known
	none     bool   // there is no layer on the side
}

// retarderFacts states the permeance and the class. A layer that is not known
// may be tighter than the others, which matters unless these are Class I by
// themselves.
func (m *model) retarderFacts(r *retarder) (tightest, class Estimate) {
	class = m.rested(classWords(r.dry), r.inputs)
	if r.lacks != "" {
		tightest = Estimate{Missing: r.lacks}
		if len(class.Words) > 1 || class.Words[0] != "I" {
			class = tightest
		}
		return tightest, class
	}
	tightest = m.rested(measured(r.dry), r.inputs)
	if r.none {
		tightest.Warnings = []string{"there is no layer on that side"}
	}
	return tightest, class
}

// tightest joins the layers of a side: the lowest of each bound, because any of
// them may be the tightest. A side without layers has the permeance of air.
func (m *model) tightest(layers []LayerFacts, side string) retarder {
	const air = 1e-6
	r := retarder{dry: quantity.Exact(air), wet: quantity.Exact(air), none: true}
	best := air
	for i, l := range layers {
		if !m.retards(i, side) {
			continue
		}
		r.none = false
		dry, wet := l.Facts["permeance-dry"], l.Facts["permeance-wet"]
		if !dry.Known {
			r.lacks = dry.Missing
			continue
		}
		if dry.Range.Best < best {
			best, r.wet, r.inputs = dry.Range.Best, wet.Range, dry.Inputs
		}
		r.dry.Low, r.dry.Best, r.dry.High = min(r.dry.Low, dry.Range.Low), min(r.dry.Best, dry.Range.Best), min(r.dry.High, dry.Range.High)
	}
	return r
}

// retards says whether a part counts among the retarders of a side.
func (m *model) retards(part int, side string) bool {
	at := m.sideOf(part)
	return (at == side || at == "bay" && side == "inside" && m.bayRetards(part)) && !m.rainScreen(part)
}

// bayRetards says whether a framed bay holds a facing or a foam that counts as a
// retarder.
func (m *model) bayRetards(part int) bool {
	for i := range m.elements {
		if m.elements[i].part == part && m.fillRetards(&m.elements[i]) {
			return true
		}
	}
	return false
}

// fillRetards says whether a fill is of some class: at most 10 perms.
func (m *model) fillRetards(e *element) bool {
	p := m.variant.Layers[e.part]
	return p.Framed && e.known && p.Fills[e.fill].Material != nil && classOf(e.vapor.span(e.vapor.dryCup()).Best) != "none"
}

// rainScreen says whether a part is cladding in front of a gap that exchanges
// air with the weather: it is no vapor retarder of the wall behind it.
func (m *model) rainScreen(part int) bool {
	layers := m.variant.Layers
	return part == 0 && len(layers) > 1 && isCladding(layers[0]) && layers[1].Cavity && layers[1].Air != "closed"
}

// markOf is the mark of an input.
func (m *model) markOf(in Input) kb.Evidence {
	if in.Value != nil {
		return in.Value.Mark()
	}
	if a := m.base.Assumption(in.Material); a != nil {
		return a.Evidence
	}
	return kb.Assumed
}

// rested rests an estimate on inputs, whose weakest mark it takes.
func (m *model) rested(e Estimate, inputs []Input) Estimate {
	e.Inputs, e.Evidence = inputs, m.weakest(inputs)
	return e
}

// weakest is the weakest mark among inputs.
func (m *model) weakest(inputs []Input) kb.Evidence {
	var mark kb.Evidence
	for _, in := range inputs {
		mark = mark.Weaker(m.markOf(in))
	}
	return mark
}
