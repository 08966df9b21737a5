package census

import (
	"cmp"
	"math"
	"slices"

	"relath/kb"
)

// Disagreement is a question that the values of a material answer differently.
// Materials that share the values stand together.
type Disagreement struct {
	Materials []string `json:"materials"`
	Property  string   `json:"property"`
	Method    string   `json:"method,omitempty"`
	Factor    float64  `json:"factor"` // between the nearest ends of the two answers farthest apart
	Low       Answer   `json:"low"`    // of the first material
	High      Answer   `json:"high"`
	Used      Answer   `json:"used"`
}

// Answer is what one value says to the question, for the usual thickness.
type Answer struct {
	SI       float64     `json:"si"` // best value
	Source   string      `json:"source"`
	Evidence kb.Evidence `json:"evidence"`
	Doubtful bool        `json:"doubtful,omitempty"`
}

// apart is the factor from which a disagreement is listed: good cup tests of one
// board differ by about half (round robins cited in ISO 12572, recalled), two
// makes of one board by twice.
const apart = 2

// disagreements compares the answers of single values.
func disagreements(b *kb.Base) []Disagreement {
	questions := []struct{ property, method string }{
		{"permeance", kb.DryCup},
		{"permeance", kb.WetCup},
		{"thermal-resistance", kb.AnyMethod},
		{"moisture-content-80", kb.AnyMethod},
		{"free-saturation", kb.AnyMethod},
		{"absorption-coefficient", kb.AnyMethod},
		{"density", kb.AnyMethod},
	}
	var list []Disagreement
	for _, m := range b.Materials {
		for _, q := range questions {
			if d, ok := disagree(m, q.property, q.method); ok {
				list = join(list, d)
			}
		}
	}
	slices.SortFunc(list, func(a, b Disagreement) int {
		return cmp.Or(cmp.Compare(b.Factor, a.Factor), cmp.Compare(a.Materials[0], b.Materials[0]), cmp.Compare(a.Property, b.Property), cmp.Compare(a.Method, b.Method))
	})
	return list
}

// join adds a disagreement, to one of the same sources and factor if there is
// one: several woods rest on the same rows.
func join(list []Disagreement, d Disagreement) []Disagreement {
	for i := range list {
		o := &list[i]
		if o.Property == d.Property && o.Method == d.Method && math.Abs(o.Factor-d.Factor) < 1e-6*d.Factor &&
			o.Low.sameOrigin(d.Low) && o.High.sameOrigin(d.High) {
			o.Materials = append(o.Materials, d.Materials...)
			return list
		}
	}
	return append(list, d)
}

func (a Answer) sameOrigin(o Answer) bool { return a.Source == o.Source && a.Evidence == o.Evidence }

// disagree finds the two values of a material whose answers lie farthest apart.
func disagree(m *kb.Material, property, method string) (Disagreement, bool) {
	used, ok := m.Working(property, method, 0)
	if !ok {
		return Disagreement{}, false
	}
	low, high := used, used
	for i := range m.Values {
		v := &m.Values[i]
		if v.Withdrawn != "" || ofAnotherState(v, used.Value) || ofAnotherSheet(m, v, used.Value) {
			continue
		}
		one := *m
		one.Values, one.Choose = []kb.Value{*v}, nil
		w, ok := one.Working(property, method, 0)
		if !ok || w.SI.Best <= 0 {
			continue
		}
		if w.SI.High < low.SI.High {
			low = w
		}
		if w.SI.Low > high.SI.Low {
			high = w
		}
	}
	d := Disagreement{Materials: []string{m.ID}, Property: property, Method: method, Low: answer(low), High: answer(high), Used: answer(used)}
	if low.SI.High > 0 {
		d.Factor = high.SI.Low / low.SI.High
	}
	return d, d.Factor >= apart
}

// ofAnotherState says whether a value was measured on something else than the
// one that is used: aged, wet, in another direction, of another density.
func ofAnotherState(v, used *kb.Value) bool {
	return v.At.State != used.At.State || v.At.Direction != used.At.Direction ||
		v.At.Density.Value != "" && used.At.Density.Value != "" && v.At.Density.Value != used.At.Density.Value
}

// ofAnotherSheet says whether a value is of a sheet of another thickness, which
// is another product.
func ofAnotherSheet(m *kb.Material, v, used *kb.Value) bool {
	a, b := v.At.ThicknessSI, used.At.ThicknessSI
	return !m.FollowsThickness("permeance") && a > 0 && b > 0 && math.Abs(a-b) > 0.3*b
}

func answer(w kb.Working) Answer {
	return Answer{SI: w.SI.Best, Source: w.Value.Source, Evidence: w.Value.Evidence, Doubtful: w.Doubt}
}
