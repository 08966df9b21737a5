package analysis

import (
	"fmt"
	"slices"

	"relath/advisor/sorption"
	"relath/kb"
	"relath/kb/quantity"
)

// matter is what the hourly model needs of a material at one thickness, all but
// the vapor side.
type matter struct {
	data    sorption.Data
	inputs  []Input
	assumed []string // in words: what a stand-in or a default gave
	lent    *Input   // the water absorption coefficient that a stand-in of another family lends, nil for none
	lacks   string   // which value of which layer is missing
}

// looseWater is the least free saturation in kg/m³ of a material that takes up no
// liquid, a default of ours: its pores hold water only where water is put, and
// that is not the model's to place.
const looseWater = 2.0

// source reads values of a material, and of its stand-in where it has none.
type source struct {
	layer   string
	of      *kb.Material
	standIn *kb.Material // nil for none
	matter
}

// matterOf gathers density, heat, storage and uptake of a material. What the base
// lacks comes from the stand-in that the entry names, and is noted.
func matterOf(base *kb.Base, layer string, m *kb.Material, depth float64) matter {
	s := source{layer: layer, of: m}
	if m.StandsIn != "" {
		s.standIn = base.Material(m.StandsIn)
	}
	s.data.Density = s.density(m)
	s.data.SpecificHeat = s.value("specific-heat", "specific heat")
	s.data.Conductivity = s.conductivity(depth)
	if supplement, ok := m.Working("conductivity-supplement", kb.AnyMethod, 0); ok {
		s.data.ConductivitySupplement = supplement.SI.Best
		s.note(m, supplement)
	}
	s.absorption()
	s.isotherm()
	if s.lacks == "" && s.data.Absorption == 0 {
		s.drain()
	}
	return s.matter
}

// density gives the dry density in kg/m³.
func (s *source) density(m *kb.Material) float64 {
	w, ok := m.Working("density", kb.AnyMethod, 0)
	if !ok || w.SI.Best <= 0 {
		s.lack("density")
		return 0
	}
	s.note(m, w)
	return w.SI.Best
}

// value reads a property that must be there, of the stand-in if need be.
func (s *source) value(property, words string) float64 {
	if w, ok := s.of.Working(property, kb.AnyMethod, 0); ok {
		s.note(s.of, w)
		return w.SI.Best
	}
	if w, ok := s.borrow(property, words); ok {
		return w.SI.Best
	}
	s.lack(words)
	return 0
}

// borrow reads a property of the stand-in and says so.
func (s *source) borrow(property, words string) (kb.Working, bool) {
	if s.standIn == nil {
		return kb.Working{}, false
	}
	w, ok := s.standIn.Working(property, kb.AnyMethod, 0)
	if ok {
		s.note(s.standIn, w)
		s.assume(fmt.Sprintf("%s of %s stands in for that of %s", words, s.standIn.Name, s.of.Name))
	}
	return w, ok
}

// conductivity is that of the layer as the heat side has it: thickness over
// resistance, which holds the air of laps and laths too.
func (s *source) conductivity(depth float64) float64 {
	r, inputs, lacks := heatOf(nil, s.of, depth, s.layer)
	if lacks != "" || r.Best <= 0 || depth <= 0 {
		s.lack("thermal conductivity")
		return 0
	}
	s.inputs = append(s.inputs, inputs...)
	return depth / r.Best
}

// absorption reads the water absorption coefficient; a material without one moves
// no liquid.
func (s *source) absorption() {
	const property, words = "absorption-coefficient", "water absorption coefficient"
	w, ok := s.of.Working(property, kb.AnyMethod, 0)
	if ok {
		s.note(s.of, w)
	} else if w, ok = s.borrow(property, words); !ok {
		s.assume(fmt.Sprintf("no water absorption coefficient of %s is known: liquid does not move in it", s.of.Name))
		return
	} else if w.SI.Best > 0 && s.standIn.Family != s.of.Family {
		s.lent = &Input{Layer: s.layer, Material: s.standIn.ID, Property: property, Value: w.Value}
	}
	s.data.Absorption = w.SI.Best
}

// isotherm reads storage: the material's own curve or its content at 80 %, else
// that of the stand-in in proportion to the densities.
func (s *source) isotherm() {
	s.saturation()
	if s.lacks != "" || s.storage(s.of, 1) {
		return
	}
	if s.standIn != nil {
		if density, ok := s.standIn.Density(); ok && density.Best > 0 && s.storage(s.standIn, s.data.Density/density.Best) {
			s.assume(fmt.Sprintf("sorption of %s stands in for that of %s", s.standIn.Name, s.of.Name))
			return
		}
	}
	s.lack("sorption")
}

// saturation reads the free saturation in kg/m³. Liquid that does not move needs
// none.
func (s *source) saturation() {
	if s.data.Absorption == 0 {
		return
	}
	s.data.Isotherm.FreeSaturation = s.value("free-saturation", "free saturation")
}

// storage fills in the curve or the content at 80 % of a material; scale is the
// ratio of the densities.
func (s *source) storage(m *kb.Material, scale float64) bool {
	if w, ok := m.Working("sorption", kb.AnyMethod, 0); ok && len(w.Curve) > 0 {
		s.data.Isotherm.ByMass = s.rising(w.Curve)
		if len(s.data.Isotherm.ByMass) > 0 {
			s.note(m, w)
			return true
		}
	}
	w, ok := m.Working("moisture-content-80", kb.AnyMethod, 0)
	if !ok {
		return false
	}
	s.note(m, w)
	s.data.Isotherm.W80 = max(w.SI.Best*scale, leastWater)
	return true
}

// leastWater stands in kg/m³ for a content at 80 % humidity of nothing.
const leastWater = 0.01

// rising keeps the points of a sorption curve that the two-point form beyond them
// can join: rising, and below their share of free saturation. A point at
// saturation belongs to free saturation.
func (s *source) rising(curve []kb.Point) []sorption.Point {
	const nearSaturation, room = 0.99, 0.95
	var points []sorption.Point
	last := sorption.Point{}
	for _, p := range curve {
		next := sorption.Point{Humidity: p.RH, Value: p.SI.Best}
		full := s.data.Isotherm.FreeSaturation
		fits := full == 0 || next.Value*s.data.Density < room*next.Humidity*full
		if next.Humidity <= last.Humidity || next.Value <= last.Value || next.Humidity >= nearSaturation || !fits {
			continue
		}
		points = append(points, next)
		last = next
	}
	return points
}

// drain sets the free saturation of a material that takes up no liquid to twice
// its last measured content, at least looseWater.
func (s *source) drain() {
	last := s.data.Isotherm.W80
	if points := s.data.Isotherm.ByMass; len(points) > 0 {
		last = points[len(points)-1].Value * s.data.Density
	}
	s.data.Isotherm.FreeSaturation = max(looseWater, 2*last)
}

func (s *source) note(m *kb.Material, w kb.Working) {
	for _, v := range valuesOf(w) {
		s.inputs = append(s.inputs, Input{Layer: s.layer, Material: m.ID, Property: v.Property, Value: v})
	}
}

func (s *source) assume(words string) {
	if !slices.Contains(s.assumed, words) {
		s.assumed = append(s.assumed, words)
	}
}

// lack names the first missing value.
func (s *source) lack(words string) {
	if s.lacks == "" {
		s.lacks = fmt.Sprintf("%s of %s (%s)", words, s.layer, s.of.Name)
	}
}

// hourlyPermeance gives the permeance of a material over humidity for the hourly
// model: a measured curve as it is, and of two cup values the exponential that
// has them as its means (package sorption).
func hourlyPermeance(m *kb.Material, depth float64) (vaporCurve, []*kb.Value, bool) {
	r, ok := readPermeance(askMaterial(nil, m, depth))
	if !ok {
		return nil, nil, false
	}
	exponentialCups(&r)
	return r.curve, r.values, true
}

// exponentialCups turns the straight line between two cup values into the
// exponential that has them as its means.
func exponentialCups(r *reading) {
	if r.cups {
		r.curve = exponential(r.curve[0].SI, r.curve[1].SI)
	}
}

// exponential samples the curve of two cups; between the samples it is drawn
// straight, which errs by less than a percent.
func exponential(dry, wet quantity.Range) vaporCurve {
	const samples = 20
	at := func(rh, dry, wet float64) float64 {
		f, err := sorption.Cups(max(dry, minPermeance), max(wet, minPermeance))
		if err != nil {
			return dry
		}
		return f(rh)
	}
	curve := make(vaporCurve, samples+1)
	for i := range curve {
		rh := float64(i) / samples
		curve[i] = kb.Point{RH: rh, SI: quantity.Range{
			Low: at(rh, dry.Low, wet.Low), Best: at(rh, dry.Best, wet.Best), High: at(rh, dry.High, wet.High),
		}}
	}
	return curve
}
