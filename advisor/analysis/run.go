package analysis

import (
	"context"
	"fmt"
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
)

// Run analyzes an assembly in all its variants. It is an error when the
// context ends or when a method refuses its input, which is a mistake of the
// base or of this package, never of the description.
func Run(ctx context.Context, base *kb.Base, a *assembly.Assembly) (*Result, error) {
	r := &Result{Assembly: a}
	models := make(map[string]bool)
	for i, v := range a.Variants {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		variant, err := analyze(base, a, v, i == 0)
		if err != nil {
			return nil, fmt.Errorf("assembly %q: %w", a.Name, err)
		}
		r.Variants = append(r.Variants, variant)
		for id := range variant.Facts {
			if f := base.Fact(id); f != nil && f.Model != "" {
				models[f.Model] = true
			}
		}
	}
	for id := range models {
		r.Models = append(r.Models, id)
	}
	slices.Sort(r.Models)
	r.Assumptions = assumptions(base, a)
	r.Warnings = warnings(r)
	return r, nil
}

// analyze makes all facts of one variant. The first variant also gets drivers
// and the detail that a report draws.
func analyze(base *kb.Base, a *assembly.Assembly, v *assembly.Variant, full bool) (*Variant, error) {
	m := newModel(base, a, v)
	out := &Variant{Of: v, Facts: make(Facts), Layers: make([]LayerFacts, len(v.Layers))}
	for i, p := range v.Layers {
		out.Layers[i] = LayerFacts{Part: p, Facts: make(Facts)}
	}
	m.describe(out.Facts)
	m.compose(out.Facts)
	m.describeLayers(out.Layers)
	m.classes(out.Facts, out.Layers)
	m.duties(out.Facts)
	if err := m.heat(out.Facts, out.Layers); err != nil {
		return nil, err
	}
	if err := m.moisture(out, full); err != nil {
		return nil, err
	}
	for id, e := range out.Facts {
		e.Fact = id
		out.Facts[id] = e
	}
	return out, nil
}

// assumptions lists the defaults that the description left to the program and
// those of the methods.
func assumptions(base *kb.Base, a *assembly.Assembly) []Assumption {
	var list []Assumption
	for _, d := range a.House.Defaults {
		item := Assumption{ID: d.From, Text: d.Where + ": " + d.What, Basis: kb.Basis{Source: "relath", Locator: "default", Evidence: kb.Assumed}}
		if known := base.Assumption(d.From); known != nil {
			item.Basis = known.Basis
		}
		list = append(list, item)
	}
	used := make(map[string]bool)
	for _, v := range a.Variants {
		for _, p := range v.Layers {
			if p.Cavity && p.Air != "closed" {
				used["air-change-"+string(p.Air)] = true
			}
			if p.Cavity {
				used["closed-gap-air-layer"] = true
			}
		}
	}
	for _, id := range sortedKeys(used) {
		if known := base.Assumption(id); known != nil {
			list = append(list, Assumption{ID: id, Text: fmt.Sprintf("%s: %s (%s)", known.Title, known.Value, known.Range), Basis: known.Basis})
		}
	}
	if a.Between[0] == "garage" || a.Between[0] == "crawl" || a.Between[0] == "attic" {
		list = append(list, Assumption{Text: fmt.Sprintf("the %s stands at outdoor temperature and vapor pressure", a.Between[0]), Basis: kb.Basis{Source: "relath", Locator: "default", Evidence: kb.Assumed}})
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
