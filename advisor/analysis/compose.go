package analysis

import (
	"fmt"
	"strings"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// compose sums what the layers hold: thickness, weight, glue, food, storage,
// and the nominal insulation by place.
func (m *model) compose(f Facts) {
	var thickness float64
	weight, glue, stored := estimateSum{}, estimateSum{}, estimateSum{}
	for _, p := range m.variant.Layers {
		thickness += p.Depth
		for _, share := range massesOf(p) {
			weight.add(share.amount, share.known, fmt.Sprintf("density of %s (%s)", p.Name, share.material.Name))
			amount, known := glueOf(share)
			glue.add(amount, known, fmt.Sprintf("glue of %s (%s)", p.Name, share.material.Name))
			glue.note(p.Name, share.material, "adhesive-share")
			water, known := storedIn(share)
			stored.add(water, known, fmt.Sprintf("sorption of %s (%s)", p.Name, share.material.Name))
		}
	}
	f["thickness"] = measured(quantity.Exact(thickness))
	f["weight"] = weight.estimate()
	f["adhesive-mass"] = glue.estimate()
	f["vapor-storage"] = stored.estimate()
	m.insulation(f)
	m.food(f)
}

// estimateSum adds ranges; what is not known is left out and named.
type estimateSum struct {
	sum    quantity.Range
	lacks  []string
	inputs []Input
}

func (s *estimateSum) add(r quantity.Range, known bool, lack string) {
	if !known {
		s.lacks = append(s.lacks, lack)
		return
	}
	s.sum.Low, s.sum.Best, s.sum.High = s.sum.Low+r.Low, s.sum.Best+r.Best, s.sum.High+r.High
}

// note adds the working value of a property to the inputs, when there is one.
func (s *estimateSum) note(layer string, m *kb.Material, property string) {
	if w, ok := m.Working(property, kb.AnyMethod, 0); ok {
		s.inputs = append(s.inputs, Input{Layer: layer, Material: m.ID, Property: property, Value: w.Value})
	}
}

func (s *estimateSum) estimate() Estimate {
	e := Estimate{Known: true, Range: s.sum, Inputs: s.inputs}
	for _, lack := range s.lacks {
		e.Warnings = append(e.Warnings, "not counted: "+lack)
	}
	for _, in := range s.inputs {
		e.Evidence = e.Evidence.Weaker(in.Value.Evidence)
	}
	return e
}

// glueOf is the mass of adhesive in a share of the mass.
func glueOf(s mass) (quantity.Range, bool) {
	w, ok := s.material.Working("adhesive-share", kb.AnyMethod, 0)
	if !ok {
		return quantity.Range{}, strings.HasPrefix(s.material.Composition.Adhesive, "none")
	}
	if !s.known {
		return quantity.Range{}, w.SI.High == 0
	}
	return quantity.Range{Low: s.amount.Low * w.SI.Low, Best: s.amount.Best * w.SI.Best, High: s.amount.High * w.SI.High}, true
}

// The humidities between which storage is counted.
const (
	storageFrom = 0.5
	storageTo   = 0.9
)

// storedIn is the water that a share takes up between the two humidities.
func storedIn(s mass) (quantity.Range, bool) {
	if !s.known {
		return quantity.Range{}, false
	}
	if w, ok := s.material.Working("sorption", kb.AsCurve, 0); ok {
		return s.amount.Scale(max(0, w.At(storageTo).Best-w.At(storageFrom).Best)), true
	}
	at80, hasContent := s.material.Working("moisture-content-80", kb.AnyMethod, 0)
	free, hasFree := s.material.Working("free-saturation", kb.AnyMethod, 0)
	density, hasDensity := s.material.Density()
	if !hasContent || !hasFree || !hasDensity {
		return quantity.Range{}, false
	}
	return s.amount.Scale(twoPointRise(at80.SI.Best, free.SI.Best) / density.Best), true
}

// twoPointRise is what a material takes up between the two humidities by the
// form w = wf·(b−1)·φ/(b−φ) through its moisture at 80 % and its free
// saturation, kg/m³ (Künzel 1995, recalled).
func twoPointRise(at80, free float64) float64 {
	const content = 0.8
	if at80 >= content*free {
		return 0
	}
	b := content * (free - at80) / (content*free - at80)
	at := func(rh float64) float64 { return free * (b - 1) * rh / (b - rh) }
	return at(storageTo) - at(storageFrom)
}

// insulation sums nominal R by place.
func (m *model) insulation(f Facts) {
	var exterior, cavity, interior, impermeable float64
	for _, e := range m.elements {
		mat := m.materialOf(e)
		if mat == nil || !isInsulation(mat) {
			continue
		}
		framed := m.variant.Layers[e.part].Framed
		switch {
		case framed:
			cavity += e.heat.Best
		case e.part < m.core:
			exterior += e.heat.Best
		case e.part > m.core:
			interior += e.heat.Best
		default:
			exterior += e.heat.Best
		}
		if hasTerm(mat, "air-impermeable-insulation") {
			impermeable += e.heat.Best
		}
	}
	f["exterior-insulation"] = measured(quantity.Exact(exterior))
	f["cavity-insulation"] = measured(quantity.Exact(cavity))
	f["interior-insulation"] = measured(quantity.Exact(interior))
	f["air-impermeable-insulation"] = measured(quantity.Exact(impermeable))
}

// food counts faces of the sensitive classes toward cavities and rooms.
func (m *model) food(f Facts) {
	cavity, room := 0.0, 0.0
	for i := range m.variant.Layers {
		c, r := m.foodFaces(i)
		cavity += c
		room += r
	}
	f["cavity-food"] = measured(quantity.Exact(cavity))
	f["room-food"] = measured(quantity.Exact(room))
}

// foodFaces counts the food faces of a solid part toward bays and gaps and
// toward rooms. A coat takes over the class of the face it covers.
func (m *model) foodFaces(i int) (cavity, room float64) {
	p := m.variant.Layers[i]
	if p.Cavity {
		return 0, 0
	}
	if p.Framed {
		for _, fill := range p.Fills {
			if fill.Material != nil && isFood(fill.Material) {
				cavity++
			}
		}
		return cavity, 0
	}
	outer, inner := faceClass(p.Material, p.CoatsOut, true), faceClass(p.Material, p.CoatsIn, false)
	if sensitive(outer) && i > 0 && isBay(m.variant.Layers[i-1]) {
		cavity++
	}
	last := i == len(m.variant.Layers)-1
	if sensitive(inner) && !last && isBay(m.variant.Layers[i+1]) {
		cavity++
	}
	if sensitive(inner) && last && isRoom(m.of.Between[1]) {
		room++
	}
	if sensitive(outer) && i == 0 && isRoom(m.of.Between[0]) {
		room++
	}
	return cavity, room
}

func isBay(p *assembly.Part) bool { return p.Cavity || p.Framed }

func isRoom(s assembly.Side) bool { return s == "room" || s == "wet-room" || s == "garage" }

// faceClass is the mold class of a face with its coats.
func faceClass(m *kb.Material, coats []*kb.Material, back bool) kb.MoldClass {
	if len(coats) > 0 {
		if c := coats[len(coats)-1].Mold.Face; c != "" {
			return c
		}
	}
	if back && m.Mold.Back != "" {
		return m.Mold.Back
	}
	return m.Mold.Face
}
