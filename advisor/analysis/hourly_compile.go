package analysis

import (
	"fmt"
	"slices"

	"relath/advisor/assembly"
	"relath/advisor/sorption"
	"relath/advisor/transient"
	"relath/kb"
	"relath/kb/quantity"
)

// hourlyModel is a variant made ready for the hourly model. Its layers are the
// same at every corner but for their vapor side.
type hourlyModel struct {
	*model
	bodies  []body
	places  []place // of the layers of the hourly model, from the first side
	lacks   []string
	assumed []string // stand-ins and defaults, in words
	inputs  []Input
}

// body is the hourly side of one element: a solid, a sheet or an air space.
type body struct {
	element int
	depth   float64 // m
	solid   *matter // nil for a sheet or an air space
	bare    vaporCurve
	total   vaporCurve                     // with coats and joints
	outward float64                        // share of the resistance of coats on the first face
	facing  bool                           // the coats are a facing on the second face
	content func(humidity float64) float64 // moisture content in kg/m³; nil but for solids
}

// place says what a layer of the hourly model is.
type place struct {
	part, fill int
	body       int
	coat       int // -1 on the first face, 1 on the second, 0 for the body itself
}

// newHourlyModel gathers what the hourly model needs. What is missing is listed
// in lacks.
func newHourlyModel(m *model) *hourlyModel {
	h := &hourlyModel{model: m}
	for i := range m.elements {
		h.bodies = append(h.bodies, h.bodyOf(i))
	}
	h.tabulate()
	for i, b := range h.bodies {
		e := &m.elements[b.element]
		p := place{part: e.part, fill: e.fill, body: i}
		if h.coated(b) && b.outward > 0 {
			h.places = append(h.places, place{part: e.part, fill: e.fill, body: i, coat: -1})
		}
		h.places = append(h.places, p)
		if h.coated(b) && b.outward < 1 {
			h.places = append(h.places, place{part: e.part, fill: e.fill, body: i, coat: 1})
		}
	}
	return h
}

// tabulate makes sure that the values of every solid fit together.
func (h *hourlyModel) tabulate() {
	if len(h.lacks) > 0 {
		return
	}
	for i := range h.bodies {
		b := &h.bodies[i]
		if b.solid == nil {
			continue
		}
		e := &h.elements[b.element]
		if b.depth <= 0 {
			h.lack("thickness of " + h.variant.Layers[e.part].Name)
			continue
		}
		table, err := b.table(best, 1)
		if err != nil {
			h.lack(fmt.Sprintf("%s (%s): %v", h.variant.Layers[e.part].Name, h.materialOf(*e).Name, err))
			continue
		}
		b.content = table.Functions.Content
	}
}

// coated says whether coats or a facing resist vapor beside a solid.
func (h *hourlyModel) coated(b body) bool {
	if b.solid == nil || len(b.total) == 0 {
		return false
	}
	const open = 1e-6 // kg/(s·m²·Pa): a coat above it resists nothing
	for _, p := range b.total {
		if resistanceBeside(p.SI.Low, b.bare.at(p.RH).Low) > 1/open || resistanceBeside(p.SI.Best, b.bare.at(p.RH).Best) > 1/open {
			return true
		}
	}
	return false
}

// resistanceBeside is the vapor resistance that brings a bare permeance down to
// the total.
func resistanceBeside(total, bare float64) float64 {
	return max(0, 1/max(total, minPermeance)-1/max(bare, minPermeance))
}

// bodyOf gathers one element.
func (h *hourlyModel) bodyOf(i int) body {
	e := &h.elements[i]
	p := h.variant.Layers[e.part]
	b := body{element: i, depth: p.Depth}
	mat := h.materialOf(*e)
	switch {
	case mat == nil:
		h.note(e.inputs...)
		if p.Framed {
			b.depth = p.Fills[e.fill].Depth
		}
		return b
	case !p.Framed && (mat.Form == kb.Sheet || mat.Form == kb.Coat):
		h.wrap(&b, p)
		return b
	case p.Framed:
		b.depth = p.Fills[e.fill].Depth
	}
	solid := matterOf(h.base, p.Name, mat, b.depth)
	b.solid = &solid
	h.note(solid.inputs...)
	h.assume(solid.assumed...)
	h.lack(solid.lacks)
	if p.Framed {
		h.fillVapor(&b, p, mat)
	} else {
		h.wrap(&b, p)
	}
	return b
}

func (h *hourlyModel) assume(words ...string) {
	for _, w := range words {
		if !slices.Contains(h.assumed, w) {
			h.assumed = append(h.assumed, w)
		}
	}
}

// note adds to the inputs what is not there yet.
func (h *hourlyModel) note(inputs ...Input) {
	for _, in := range inputs {
		if !slices.Contains(h.inputs, in) {
			h.inputs = append(h.inputs, in)
		}
	}
}

// noteLoads adds the defaults behind the loads to the inputs.
func (h *hourlyModel) noteLoads(l *loads) {
	for _, id := range l.used {
		h.note(Input{Material: id, Property: "default"})
	}
}

func (h *hourlyModel) lack(words string) {
	if words != "" && !slices.Contains(h.lacks, words) {
		h.lacks = append(h.lacks, words)
	}
}

// wrap gives the vapor side of a solid or a sheet with its coats and joints. The
// joints lie beside the bare layer too, so that what is left for the coats is a
// resistance on the faces that never turns negative.
func (h *hourlyModel) wrap(b *body, p *assembly.Part) {
	total, inputs, lacks := h.curveOf(p, p.Sealed, p.CoatsOut, p.CoatsIn)
	if lacks != "" {
		h.lack(lacks)
		return
	}
	curve := func(sealed bool, faces ...[]*kb.Material) vaporCurve {
		c, _, _ := h.curveOf(p, sealed, faces...)
		return c
	}
	b.total, b.bare = total, curve(p.Sealed)
	boards, outer, both := curve(true), curve(true, p.CoatsOut), curve(true, p.CoatsOut, p.CoatsIn)
	if washed(p.CoatsOut) {
		boards, b.bare = outer, curve(p.Sealed, p.CoatsOut)
	}
	h.note(inputs...)
	first := resistanceBeside(outer.at(middle).Best, boards.at(middle).Best)
	b.outward = share(first, resistanceBeside(both.at(middle).Best, outer.at(middle).Best))
}

// curveOf gives the permeance of a solid part with coats over humidity.
func (h *hourlyModel) curveOf(p *assembly.Part, sealed bool, faces ...[]*kb.Material) (vaporCurve, []Input, string) {
	g := &layered{model: h.model, layer: p.Name, material: p.Material, depth: p.Depth, reshape: exponentialCups}
	s := g.stack(sealed, faces...)
	if g.lacks != "" {
		return nil, nil, g.lacks
	}
	return s.curve(), g.inputs, ""
}

// washed says whether coats are washes of lime or silicate, which liquid passes:
// they count as part of the layer.
func washed(coats []*kb.Material) bool {
	return len(coats) > 0 && !slices.ContainsFunc(coats, func(c *kb.Material) bool {
		return !hasTerm(c, "limewash", "mineral-paint")
	})
}

// share is the part of a in a + b, 0 when both are nothing.
func share(a, b float64) float64 {
	if a+b <= 0 {
		return 0
	}
	return a / (a + b)
}

// fillVapor gives the vapor side of a fill. Where its stand-in is more than twice
// as open, the resistance is that of a facing on the second side, and the fill
// behind it has that of the stand-in.
func (h *hourlyModel) fillVapor(b *body, p *assembly.Part, m *kb.Material) {
	curve, values, ok := hourlyPermeance(m, b.depth)
	if !ok {
		h.lack(fmt.Sprintf("permeance of the fill of %s (%s)", p.Name, m.Name))
		return
	}
	h.noteVapor(p.Name, m.ID, values)
	b.bare, b.total = curve, curve
	if open := h.base.Material(m.StandsIn); open != nil {
		body, more, ok := hourlyPermeance(open, b.depth)
		if ok && body.at(middle).Best > 2*curve.at(middle).Best {
			b.bare, b.facing = body, true
			h.noteVapor(p.Name, open.ID, more)
			h.assume(fmt.Sprintf("the permeance of %s is that of a facing on its second side", m.Name))
		}
	}
}

// noteVapor adds values to the inputs.
func (h *hourlyModel) noteVapor(layer, material string, values []*kb.Value) {
	for _, v := range values {
		h.note(Input{Layer: layer, Material: material, Property: "permeance", Value: v})
	}
}

// layers makes the layers of the hourly model at one corner.
func (h *hourlyModel) layers(c hourlyCorner) ([]transient.Layer, error) {
	list := make([]transient.Layer, len(h.places))
	for i, p := range h.places {
		b := &h.bodies[p.body]
		e := &h.elements[b.element]
		l := &list[i]
		l.Name = h.variant.Layers[p.part].Name
		end := c.at(b.element)
		switch {
		case p.coat != 0:
			l.Sheet = &transient.Sheet{Permeance: b.coat(end, p.coat)}
		case b.solid != nil:
			table, err := b.table(end, c.suctionIn(p.body, b))
			if err != nil {
				return nil, fmt.Errorf("%s: %w", l.Name, err)
			}
			l.Material, l.Thickness = table, b.depth
		case len(b.total) > 0:
			l.Sheet = &transient.Sheet{Permeance: points(b.total, end, 1)}
		default:
			l.Cavity, l.Thickness = h.cavity(e, end), b.depth
		}
	}
	return list, nil
}

// suctionIn is the factor on the water absorption coefficient of a solid.
func (c hourlyCorner) suctionIn(body int, b *body) float64 {
	switch {
	case body == 0:
		return orOne(c.suction)
	case c.unlent && b.solid.lent != nil:
		return 0
	}
	return 1
}

// table tabulates the functions of a solid at one end of its vapor range, with
// the water absorption coefficient times a factor.
func (b *body) table(end position, suction float64) (*sorption.Table, error) {
	data := b.solid.data
	data.Absorption *= suction
	data.Vapor.Curve = points(b.bare, end, b.depth)
	f, err := sorption.New(data)
	if err != nil {
		return nil, err
	}
	return f.Tabulate()
}

// points gives a curve at one end of its range, times a factor.
func points(c vaporCurve, end position, factor float64) []sorption.Point {
	list := make([]sorption.Point, len(c))
	for i, p := range c {
		list[i] = sorption.Point{Humidity: p.RH, Value: max(pick(p.SI, end), minPermeance) * factor}
	}
	return list
}

// coat gives what the coats of one face resist, as a permeance.
func (b *body) coat(end position, side int) []sorption.Point {
	part := b.outward
	if side > 0 {
		part = 1 - b.outward
	}
	list := make([]sorption.Point, len(b.total))
	for i, p := range b.total {
		z := part * resistanceBeside(pick(p.SI, end), pick(b.bare.at(p.RH), end))
		list[i] = sorption.Point{Humidity: p.RH, Value: 1 / max(z, 1)}
	}
	return list
}

// cavity gives an air space; its air change is that of the corner.
func (h *hourlyModel) cavity(e *element, end position) *transient.Cavity {
	c := &transient.Cavity{
		Resistance:      max(e.heat.Best, leastGap),
		VaporResistance: 1 / max(pick(e.vapor.at(middle), end), minPermeance),
		From:            transient.Outside,
	}
	if rate := h.airChange(e, end); rate > 0 {
		c.Exchange = transient.Constant(rate * secondsPerHour)
	}
	return c
}

// leastGap is the least resistance of an air space, m²·K/W.
const leastGap = 1e-3

const secondsPerHour = 3600.0

// airChange gives the air change of a gap in 1/s.
func (h *hourlyModel) airChange(e *element, end position) float64 {
	p := h.variant.Layers[e.part]
	if !p.Cavity || p.Air == "closed" {
		return 0
	}
	a := h.base.Assumption("air-change-" + string(p.Air))
	if a == nil {
		return 0
	}
	return pick(quantity.Range{Low: a.SI.Low, Best: a.SI.Best, High: a.SI.High}, end)
}
