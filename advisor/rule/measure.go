package rule

import (
	"cmp"
	"slices"

	"relath/advisor/analysis"
	"relath/kb"
)

// Measure is a measurement that is worth its while on an assembly.
type Measure struct {
	Of      *kb.Measurement
	Layers  []string // layers it is taken on
	Decides []string // titles of the findings that it settles
	Checks  []string // titles of the findings that it bears on
	Narrows []string // titles of the facts whose range it narrows
	Score   float64  // how much it decides, to sort by
	Reads   []Read   // what a reading answers here
}

// Read is a finding that one measurement answers by itself.
type Read struct {
	Title string
	Kind  kb.FindingKind
	Hinge *Hinge
}

// Measures lists the measurements that settle what findings turn on, or that
// narrow the ranges of the moisture facts, each once, what decides most first.
func (t Tester) Measures(r *analysis.Result, found []Finding) []Measure {
	by := make(map[string]*Measure)
	take := func(m *kb.Measurement, layer string, score float64) *Measure {
		one := by[m.ID]
		if one == nil {
			one = &Measure{Of: m}
			by[m.ID] = one
		}
		if layer != "" && !slices.Contains(one.Layers, layer) {
			one.Layers = append(one.Layers, layer)
		}
		one.Score += score
		return one
	}
	for i := range found {
		f := &found[i]
		for _, m := range t.settling(f) {
			one := take(m, layerOf(f), worth(f))
			one.Decides = add(one.Decides, f.Title)
			if f.Hinge != nil && f.Hinge.Flip != "" && m == t.ofHinge(f.Hinge) {
				one.Reads = append(one.Reads, Read{f.Title, f.Kind, f.Hinge})
			}
		}
		if f.Level == "info" || !untouched(r) {
			continue
		}
		for _, m := range t.Base.Measurements {
			if layer, ok := t.bears(m, f, r); ok {
				one := take(m, layer, worth(f)/2)
				one.Checks = add(one.Checks, f.Title)
			}
		}
	}
	for _, id := range []string{"drying-capacity", "peak-condensate", "plane-humidity"} {
		m, layer, share := t.narrowing(r, id)
		if m == nil {
			continue
		}
		one := take(m, layer, share/2)
		one.Narrows = append(one.Narrows, t.title(id))
	}
	var list []Measure
	for _, m := range t.Base.Measurements {
		if one := by[m.ID]; one != nil {
			list = append(list, *one)
		}
	}
	slices.SortStableFunc(list, func(a, b Measure) int { return cmp.Compare(b.Score, a.Score) })
	return list
}

// worth weighs a finding: what has to be answered first counts most.
func worth(f *Finding) float64 {
	w := map[kb.Level]float64{"block": 8, "engineer": 6, "warn": 4, "info": 1}[f.Level]
	if f.Unlikely {
		return w / 2
	}
	return w
}

// settling lists the measurements that settle a finding: those that its rule
// names, else the one that settles its hinge.
func (t Tester) settling(f *Finding) []*kb.Measurement {
	if f.Verdict != kb.Depends && f.Verdict != kb.Unknown {
		return nil
	}
	var list []*kb.Measurement
	for _, id := range f.Measure {
		list = append(list, t.Base.Measurement(id))
	}
	if len(list) == 0 && f.Hinge != nil {
		if m := t.ofHinge(f.Hinge); m != nil {
			list = append(list, m)
		}
	}
	return list
}

// layerOf gives the layer that a finding turns on.
func layerOf(f *Finding) string {
	if f.Hinge != nil {
		return f.Hinge.Layer
	}
	return f.Layer
}

// bears says whether a measurement bears on a finding about what stands, and on
// which layer it is taken: the first behind the weather face that has one of its
// terms.
func (t Tester) bears(m *kb.Measurement, f *Finding, r *analysis.Result) (layer string, ok bool) {
	for i := range m.Settles {
		s := &m.Settles[i]
		if !slices.Contains(s.Finding, f.Kind) {
			continue
		}
		for k := range r.Variants[0].Layers {
			p := r.Variants[0].Layers[k].Part
			if m.Enter != "" && r.Variants[0].Layers[k].Facts["wood-moisture-read"].Known {
				continue // read already
			}
			weather := k == 0 && r.Assembly.Between[0] == "outdoors"
			if !weather && p.Material != nil && share(p.Material.Terms, s.Terms) {
				return p.Name, true
			}
		}
	}
	return "", false
}

func add(list []string, title string) []string {
	if slices.Contains(list, title) {
		return list
	}
	return append(list, title)
}

// ofHinge finds the measurement that settles an input: one that asks for its
// terms before one that does not.
func (t Tester) ofHinge(h *Hinge) *kb.Measurement {
	var plain *kb.Measurement
	for _, m := range t.Base.Measurements {
		for i := range m.Settles {
			s := &m.Settles[i]
			if !names(s, h) {
				continue
			}
			switch {
			case len(s.Terms) > 0 && share(s.Terms, t.termsOf(h)):
				return m
			case len(s.Terms) == 0 && plain == nil:
				plain = m
			}
		}
	}
	return plain
}

// names says whether a measurement settles inputs of this sort.
func names(s *kb.Settles, h *Hinge) bool {
	return h.Doubt != "" && slices.Contains(s.Doubt, h.Doubt) ||
		h.Assumption != "" && slices.Contains(s.Assumption, h.Assumption) ||
		h.Property != "" && slices.Contains(s.Property, h.Property) ||
		h.Fact != "" && slices.Contains(s.Fact, h.Fact)
}

// termsOf lists the terms of what a hinge belongs to.
func (t Tester) termsOf(h *Hinge) []string {
	var terms []string
	for _, id := range append(slices.Clone(h.Choices), h.Material) {
		if m := t.Base.Material(id); m != nil {
			terms = append(terms, m.Terms...)
		}
		if s := t.Base.System(id); s != nil {
			for _, coat := range s.Coats {
				if m := t.Base.Material(coat); m != nil {
					terms = append(terms, m.Terms...)
				}
			}
		}
	}
	return terms
}

// narrowing finds the measurement of the input that makes most of the range of a
// fact, where that is half of it or more and the reading can be entered.
func (t Tester) narrowing(r *analysis.Result, id string) (m *kb.Measurement, layer string, part float64) {
	e, ok := r.Variants[0].Facts[id]
	if !ok || !e.Known || len(e.Drivers) == 0 || e.Range.High <= e.Range.Low {
		return nil, "", 0
	}
	const most = 0.5
	d := &e.Drivers[0]
	part = min(1, (d.High-d.Low)/(e.Range.High-e.Range.Low))
	if part < most {
		return nil, "", 0
	}
	h := &Hinge{Layer: d.Input.Layer, Property: d.Input.Property, Material: d.Input.Material}
	if t.Base.Assumption(d.Input.Material) != nil {
		h.Assumption, h.Property, h.Material = d.Input.Material, "", ""
	}
	if m = t.ofHinge(h); m == nil || m.Enter == "" {
		return nil, "", 0
	}
	return m, h.Layer, part
}

func share(a, b []string) bool {
	return slices.ContainsFunc(a, func(x string) bool { return slices.Contains(b, x) })
}
