package analysis

import (
	"context"
	"fmt"
	"math"
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// Held puts the properties of one layer between bounds of the caller's, in
// place of the ranges of the base: what a product may have that is bought for
// it. A bound of zero width is one product.
type Held struct {
	Layer int // described layer
	Fill  int // of a framed layer, -1 for others
	// Dry, Wet and Resistance are factors on the best values: the permeance of the
	// layer with its coats by the dry and the wet cup, and its thermal resistance.
	Dry, Wet, Resistance quantity.Range
}

// AsBest holds a layer at its best values.
func AsBest(layer, fill int) Held {
	one := quantity.Exact(1)
	return Held{Layer: layer, Fill: fill, Dry: one, Wet: one, Resistance: one}
}

// Holder analyzes one assembly again and again with layers held between bounds.
// What does not change is made ready once. Its runs follow one another: two at
// a time would share their room.
type Holder struct {
	base   *kb.Base
	of     *assembly.Assembly
	room   *room
	models []*model   // by variant, without anything held
	out    []*Variant // by variant, with the facts that stay
}

// NewHolder makes an assembly ready.
func NewHolder(base *kb.Base, a *assembly.Assembly) *Holder {
	h := &Holder{base: base, of: a, room: newRoom()}
	h.room.asked = askedOf(base)
	return h
}

// BracketDrying makes runs state the range of what dries, which they otherwise do
// only where some condition of the base asks for it.
func (h *Holder) BracketDrying() { h.room.asked.drying = true }

// Run states all facts with their ranges and leaves out what moves them:
// drivers, marks and what a report draws. What no condition of the base asks for is
// not bracketed. The result is valid until the next run. A rough run looks at fewer
// corners: its ranges are never wider, so that what fails in it fails. Errors are
// those of [Run].
func (h *Holder) Run(ctx context.Context, held []Held, rough bool) (*Result, error) {
	return h.run(ctx, held, rough, 0)
}

// First is Run for the first of the ways in which the assembly may be built, with
// nothing held.
func (h *Holder) First(ctx context.Context) (*Result, error) {
	if err := h.figures(ctx, 0, nil, false); err != nil {
		return nil, err
	}
	return &Result{Assembly: h.of, Variants: h.out[:1]}, nil
}

// Rest completes what First gave by all other ways.
func (h *Holder) Rest(ctx context.Context) (*Result, error) { return h.run(ctx, nil, false, 1) }

// run states the facts of all variants from one on.
func (h *Holder) run(ctx context.Context, held []Held, rough bool, from int) (*Result, error) {
	for i := from; i < len(h.of.Variants); i++ {
		if err := h.figures(ctx, i, held, rough); err != nil {
			return nil, err
		}
	}
	return &Result{Assembly: h.of, Variants: h.out}, nil
}

// figures states the facts of one variant. The variants before it are ready.
func (h *Holder) figures(ctx context.Context, variant int, held []Held, rough bool) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if variant == len(h.models) {
		m := h.room.model(h.base, h.of, h.of.Variants[variant])
		h.models, h.out = append(h.models, m), append(h.out, m.describe())
	}
	ready := h.models[variant]
	m := *ready
	m.elements, m.variables = slices.Clone(ready.elements), slices.Clone(ready.variables)
	for i := range held {
		m.restrict(&held[i])
	}
	m.rough = rough
	if err := m.figures(h.out[variant], nil); err != nil {
		return fmt.Errorf("assembly %q: %w", h.of.Name, err)
	}
	return nil
}

// restrict replaces the vapor side and the thermal resistance of an element.
func (m *model) restrict(h *Held) {
	for i := range m.elements {
		e := &m.elements[i]
		if m.variant.Layers[e.part].Layer != h.Layer || e.fill != h.Fill || !e.known {
			continue
		}
		own := Input{Layer: m.variant.Layers[e.part].Name, Material: fmt.Sprintf("held %d %d", h.Layer, h.Fill)}
		e.heat, e.heatVar = scaled(e.heat.Best, h.Resistance), m.variableOf(ofHeat, own, kb.Assumed)
		e.vapor = e.vapor.held(h, m.variableOf(ofVapor, own, kb.Assumed))
	}
}

func scaled(best float64, by quantity.Range) quantity.Range {
	return quantity.Range{Low: best * by.Low, Best: best * by.Best, High: best * by.High}
}

// held makes the layer one film: its best permeance, coats and joints included,
// by the factors of both cups, by ratio between their mean humidities.
func (s *stack) held(h *Held, variable int) stack {
	const cups = 2
	out := stack{rh: s.rh, body: film{variable: variable, times: 1}}
	for stop := range len(s.rh) + cups {
		share := 0.0 // of the wet cup
		switch {
		case stop == s.wetCup():
			share = 1
		case stop < len(s.rh):
			share = min(1, max(0, (s.rh[stop]-dryCupHumidity)/(wetCupHumidity-dryCupHumidity)))
		}
		by := quantity.Range{
			Low: between(h.Dry.Low, h.Wet.Low, share), Best: between(h.Dry.Best, h.Wet.Best, share), High: between(h.Dry.High, h.Wet.High, share),
		}
		out.body.at = append(out.body.at, scaled(s.permeance(stop, places{}), by))
	}
	return out
}

// between goes from one positive number to another by ratio.
func between(from, to, share float64) float64 { return from * math.Pow(to/from, share) }

// Product is what one element of an assembly brings to the methods: a layer
// with its coats, or one fill of a framed layer.
type Product struct {
	Part                 *assembly.Part
	Fill                 int // of a framed layer, -1 for others
	Material             *kb.Material
	Dry, Wet, Resistance quantity.Range // permeance by both cups, kg/(s·m²·Pa); m²·K/W
	Varies               bool           // the permeance is a curve or two cups, not one number
	Inputs               []Input        // behind the permeance by cup
	Doubtful             []string       // materials whose only permeance is of high doubt
	Lacks                string         // not empty: the permeance is not known
}

// Products lists what the elements of a variant bring, air spaces left out, from
// the first side inward.
func Products(base *kb.Base, a *assembly.Assembly, v *assembly.Variant) []Product {
	m := newModel(base, a, v)
	var list []Product
	for i := range m.elements {
		e := &m.elements[i]
		material := m.materialOf(*e)
		if material == nil {
			continue
		}
		p := Product{Part: v.Layers[e.part], Fill: e.fill, Material: material, Resistance: e.heat, Doubtful: e.doubtful, Lacks: e.lacks}
		if e.known {
			p.Dry, p.Wet = e.vapor.span(e.vapor.dryCup()), e.vapor.span(e.vapor.wetCup())
			p.Varies, p.Inputs = len(e.vapor.rh) > 1, e.cups
		}
		list = append(list, p)
	}
	return list
}
