package analysis

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"relath/advisor/assembly"
	"relath/advisor/steady"
	"relath/kb"
)

// Run analyzes an assembly in all its variants. It is an error when the
// context ends or when a method refuses its input, which is a mistake of the
// base or of this package, never of the description.
func Run(ctx context.Context, base *kb.Base, a *assembly.Assembly) (*Result, error) {
	r := &Result{Assembly: a}
	models := make(map[string]bool)
	var first *marks
	room := newRoom()
	for _, v := range a.Variants {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		variant, err := room.model(base, a, v).analyze(first)
		if err != nil {
			return nil, fmt.Errorf("assembly %q: %w", a.Name, err)
		}
		if first == nil {
			first = variant.marks
		}
		r.Variants = append(r.Variants, variant)
		for id, e := range variant.Facts {
			if f := base.Fact(id); e.Known && f != nil && f.Model != "" {
				models[f.Model] = true
			}
		}
	}
	r.Models = sortedKeys(models)
	r.Assumptions = assumptions(base, a)
	r.Warnings = warnings(r)
	return r, nil
}

// analyze makes all facts of one variant; see moisture for the marks.
func (m *model) analyze(first *marks) (*Variant, error) {
	out := m.describe()
	if err := m.figures(out, first); err != nil {
		return nil, err
	}
	name(out.Facts)
	for i := range out.Layers {
		name(out.Layers[i].Facts)
	}
	return out, nil
}

// figures makes the facts that follow from permeances and thermal resistances,
// over those that are there.
func (m *model) figures(out *Variant, first *marks) error {
	if err := m.still(out); err != nil {
		return err
	}
	if err := m.moisture(out, first); err != nil {
		return err
	}
	out.Levels = m.levels()
	return m.woodReadings(out)
}

// dry makes the facts of a variant that need no moisture method.
func (m *model) dry() (*Variant, error) {
	out := m.describe()
	return out, m.still(out)
}

// describe makes the facts that need neither permeances nor thermal resistances.
func (m *model) describe() *Variant {
	v := m.variant
	const ofWhole, ofLayer = 80, 40 // facts, about
	out := &Variant{Of: v, Facts: make(Facts, ofWhole), Layers: make([]LayerFacts, len(v.Layers))}
	for i, p := range v.Layers {
		out.Layers[i] = LayerFacts{Part: p, Facts: make(Facts, ofLayer)}
	}
	m.describeWhole(out.Facts)
	m.compose(out.Facts)
	m.describeLayers(out.Layers)
	m.duties(out)
	return out
}

// still makes the facts of permeances and thermal resistances themselves.
func (m *model) still(out *Variant) error {
	m.insulation(out.Facts)
	for i := range out.Layers {
		m.describeVapor(i, out.Layers[i].Facts)
	}
	m.classes(out.Facts, out.Layers)
	return m.heat(out.Facts, out.Layers)
}

// name writes into each estimate the fact it is.
func name(facts Facts) {
	for id, e := range facts {
		e.Fact = id
		facts[id] = e
	}
}

// levels gives the inner surface of the sections against ground.
func (m *model) levels() []Level {
	if m.of.Between[0] != "ground" || len(m.heatless) > 0 {
		return nil
	}
	var list []Level
	for i := range m.sections {
		s := &m.sections[i]
		out := Level{Name: s.name, Depth: s.depth}
		rest := m.coldestPath(places{}) + m.ground.at(places{}) + m.outerFilmOf(s)
		for month, inner := range surfaces(&s.months, steady.MoldFilm, rest) {
			out.Outside[month], out.Temperature[month], out.Humidity[month] = s.months[month].OutdoorT, inner.Temperature, inner.RH
		}
		list = append(list, out)
	}
	return list
}

// assumptions lists the defaults that the description left to the program and
// those of the methods.
func assumptions(base *kb.Base, a *assembly.Assembly) []Assumption {
	var list []Assumption
	for _, d := range a.House.Defaults {
		if !concerns(d, a) {
			continue
		}
		item := Assumption{ID: d.From, Text: d.Where + ": " + d.What, Basis: ours()}
		if known := base.Assumption(d.From); known != nil {
			item.Basis = known.Basis
		}
		list = append(list, item)
	}
	for _, id := range usedAssumptions(a) {
		if known := base.Assumption(id); known != nil {
			text := fmt.Sprintf("%s: %s", known.Title, known.Value)
			if !known.SI.IsExact() {
				text += fmt.Sprintf(" (%s)", known.Range)
			}
			list = append(list, Assumption{ID: id, Text: text, Basis: known.Basis})
		}
	}
	for _, text := range conventions(a) {
		list = append(list, Assumption{Text: text, Basis: ours()})
	}
	return list
}

func ours() kb.Basis { return kb.Basis{Source: "relath", Locator: "default", Evidence: kb.Assumed} }

// concerns says whether a default belongs to this assembly or to the house as a
// whole, and not to another assembly.
func concerns(d assembly.Default, a *assembly.Assembly) bool {
	for _, other := range a.House.Assemblies {
		if other != a && strings.HasPrefix(d.Where, other.Name+" / ") {
			return strings.HasPrefix(d.Where, a.Name+" / ")
		}
	}
	return true
}

// usedAssumptions lists the defaults of the base that the methods used, sorted.
func usedAssumptions(a *assembly.Assembly) []string {
	used := make(map[string]bool)
	for _, v := range a.Variants {
		for i, p := range v.Layers {
			if p.Cavity && p.Air != "closed" && i > 0 {
				used["air-change-"+string(p.Air)] = true
			}
			air, _ := fillsOf(p)
			if p.Cavity || air {
				used["closed-gap-air-layer"] = true
			}
		}
	}
	for _, t := range a.Taken {
		if t.Moisture > 0 {
			used[pinMeter] = true
		}
	}
	if a.House.Heating.Read || a.House.Cooling != nil && a.House.Cooling.Read {
		used["reading-hygrometer"] = true
	}
	if a.Between[0] == "ground" {
		used["ground-diffusivity"] = true
	}
	if a.Kind == "slab" {
		used["slab-depth"], used["slab-ground"] = true, true
	}
	return sortedKeys(used)
}

// conventions words what is taken for granted about both sides.
func conventions(a *assembly.Assembly) []string {
	var list []string
	switch a.Between[0] {
	case "garage", "crawl", "attic":
		list = append(list, fmt.Sprintf("the %s stands at outdoor temperature and vapor pressure", a.Between[0]))
	case "ground":
		list = append(list, "the ground is saturated, and at its depth as warm as ground without a house on it")
	}
	if slices.Contains(a.Between[:], "wet-room") {
		list = append(list, "a wet room has the air of the other rooms over the month")
	}
	if a.House.Cooling == nil && !isHeated(a.Between[0]) && isHeated(a.Between[1]) {
		list = append(list, "without cooling the rooms are in summer 5 F warmer than outdoors, with the moisture of humidity class 2 of ISO 13788")
	}
	return list
}

func sortedKeys(set map[string]bool) []string {
	keys := make([]string, 0, len(set))
	for k := range set {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// warnings collects what the reader must know about the whole analysis.
func warnings(r *Result) []string {
	var list []string
	if r.Assembly.Cornered {
		list = append(list, "more combinations of doubts than are analyzed: only their ends were taken")
	}
	for _, v := range r.Variants {
		for _, id := range []string{"peak-condensate", "u-factor"} {
			if e := v.Facts[id]; !e.Known && e.Missing != "" && !slices.Contains(list, e.Missing) {
				list = append(list, e.Missing)
			}
		}
	}
	return list
}
