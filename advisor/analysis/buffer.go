package analysis

import (
	"math"

	"relath/advisor/moistair"
	"relath/kb"
	"relath/kb/quantity"
)

// The daily cycle in which buffering is measured: humidity 33 and 75 % at 23 °C
// (Rode et al. 2005, NORDTEST, recalled).
const (
	bufferLow         = 0.33
	bufferHigh        = 0.75
	bufferTemperature = 23.0
	bufferPeriod      = 86400.0 // s
)

// idealBuffer is the factor of the ideal moisture buffer value,
// MBV = 0.00568·p_sat·b·√t for 8 of 24 hours, per percent of humidity (Rode et
// al. 2005, recalled; the factor follows from the series of that square cycle).
const idealBuffer = 0.00568 * 100

// buffer states how much moisture the face toward the room takes up and gives
// off in the daily cycle: the measured value of the bare material, else the
// ideal value of a thick layer. Coats hold back the swing.
func (m *model) buffer() Estimate {
	last := len(m.variant.Layers) - 1
	p := m.variant.Layers[last]
	switch {
	case !isHeated(m.of.Between[1]):
		return Estimate{Missing: "the second side is no room"}
	case p.Cavity || p.Framed:
		return Estimate{Missing: "the last layer is open to the room"}
	}
	bare, effusivity, inputs, lacks := m.bareBuffer(p.Name, p.Material, p.Depth)
	if lacks != "" {
		return Estimate{Missing: lacks}
	}
	if len(p.CoatsIn) == 0 {
		return m.rested(measured(bare), inputs)
	}
	if effusivity == 0 {
		return Estimate{Missing: "sorption of " + p.Name + ", which tells what coats hold back"}
	}
	coats, more := m.coatResistance(last)
	held := func(z float64) float64 { return heldBack(z, effusivity) }
	e := m.rested(measured(quantity.Range{
		Low: bare.Low * held(coats.High), Best: bare.Best * held(coats.Best), High: bare.High * held(coats.Low),
	}), append(inputs, more...))
	e.Warnings = []string{"coats are taken as a resistance before the layer; what they store themselves is not counted"}
	return e
}

// bareBuffer gives the buffer value of a bare layer in kg/m² per unit of
// humidity, and the moisture effusivity in kg/(m²·Pa·√s), 0 where sorption or
// permeability are not known.
func (m *model) bareBuffer(layer string, of *kb.Material, depth float64) (value quantity.Range, effusivity float64, inputs []Input, lacks string) {
	content, stored, stores := storage(m.read, layer, of)
	density, weighs := m.read.Density(of)
	permeance, opens := readPermeance(askMaterial(m.read, of, depth))
	if stores && weighs && opens && depth > 0 {
		slope := density.Best * (content(bufferHigh) - content(bufferLow)) / (bufferHigh - bufferLow)
		effusivity = math.Sqrt(permeance.curve.at(middle).Best * depth * max(0, slope) / moistair.SaturationPressure(bufferTemperature))
		inputs = append(stored, note(m.read, layer, of, "density")...)
		inputs = append(inputs, Input{Layer: layer, Material: of.ID, Property: "permeance", Value: permeance.values[0]})
	}
	if w, ok := m.read.Working(of, "buffer-value", kb.AnyMethod, 0); ok {
		return w.SI, effusivity, append([]Input{{Layer: layer, Material: of.ID, Property: "buffer-value", Value: w.Value}}, inputs...), ""
	}
	if effusivity == 0 {
		return value, 0, nil, "moisture buffer value, or sorption and density, of " + layer + " (" + of.Name + ")"
	}
	ideal := idealBuffer * moistair.SaturationPressure(bufferTemperature) * effusivity * math.Sqrt(bufferPeriod)
	return quantity.Exact(ideal), effusivity, inputs, ""
}

// coatResistance is the vapor resistance of the coats on the room face of a
// part, with what it rests on.
func (m *model) coatResistance(part int) (quantity.Range, []Input) {
	p := m.variant.Layers[part]
	s, g := m.stackOf(p.Name, p.Material, p.Depth, true, p.CoatsIn)
	if g.lacks != "" {
		return quantity.Range{}, nil
	}
	at := func(end position) float64 {
		places := places{vapor: end}
		bare := stack{rh: s.rh, body: s.body}
		return max(0, 1/s.fill(nil, places).At(middle)-1/bare.fill(nil, places).At(middle))
	}
	return ordered(at(tight), at(best), at(open)), g.inputs
}

// heldBack is what a resistance z before a thick layer of effusivity b leaves
// of its daily swing: 1/|1 + z·b·√ω·e^{iπ/4}|, the periodic solution for a
// half-space behind a film.
func heldBack(z, b float64) float64 {
	x := z * b * math.Sqrt(2*math.Pi/bufferPeriod)
	return 1 / math.Hypot(1+x/math.Sqrt2, x/math.Sqrt2)
}
