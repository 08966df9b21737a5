package swap

import (
	"slices"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// DescribedCautions lists the cautions of work that a description proposes
// itself, without a swap: what its proposed layers bring, with what the findings
// and the materials name. An assembly where nothing is proposed has none beyond
// its own.
func DescribedCautions(t rule.Tester, r *analysis.Result, found []rule.Finding) []rule.Caution {
	named := map[string][]string{}
	subjects := rule.SubjectsOf(r)
	for i := range subjects {
		var fresh []*assembly.Part
		for _, p := range r.Variants[i].Of.Layers {
			if p.State == "proposed" {
				fresh = append(fresh, p)
			}
		}
		if len(fresh) == 0 {
			continue
		}
		materials := materialsOf(fresh)
		subjects[i].Work = newWork(r, materials)
		nameCautions(t, subjects[i], append(framingOf(fresh), materials...), named)
	}
	return t.Cautions(subjects, found, named)
}

// framingOf lists the framing of parts.
func framingOf(parts []*assembly.Part) []*kb.Material {
	var list []*kb.Material
	for _, p := range parts {
		if p.Framed && p.Material != nil {
			list = append(list, p.Material)
		}
	}
	return list
}

// nameCautions adds the cautions that new materials name. One that is about what
// stands is left out where that surely does not hold: oil paint names lead for old
// coats, not for a new one.
func nameCautions(t rule.Tester, s rule.Subject, materials []*kb.Material, named map[string][]string) {
	for _, m := range materials {
		for _, id := range m.Cautions {
			c := t.Base.Caution(id)
			if c != nil && ofWhatStands(c) && t.Verdict(c.When, s) == kb.No {
				continue
			}
			named[id] = append(named[id], m.Name)
		}
	}
}

// ofWhatStands says whether a caution is about disturbing what is there.
func ofWhatStands(c *kb.Caution) bool {
	return slices.ContainsFunc(c.When, func(x kb.Condition) bool { return x.Fact == "disturbs-existing" })
}

// newWork states what building proposed layers does. What stands is opened only
// where the assembly stands.
func newWork(r *analysis.Result, fresh []*kb.Material) analysis.Facts {
	return analysis.Facts{
		"part": words("assembly"), "removes": words(), "adds": words(termsOf(fresh)...), "removes-duties": words(),
		"opens": words("nothing"), "fills-empty-bay": flag(false), "insulates": flag(slices.ContainsFunc(fresh, func(m *kb.Material) bool { return m.Form == kb.Fill })),
		"tightens": flag(false), "disturbs-existing": flag(r.Assembly.State == "existing"),
		"added-weight":           r.Variants[0].Facts["weight"],
		"added-thickness-inside": known(quantity.Exact(0)),
	}
}

// FinishCautions lists the cautions of a finish that is put in new.
func FinishCautions(t rule.Tester, h *assembly.Resolved, f *assembly.ResolvedFinish) []rule.Caution {
	m := f.Materials[0]
	s := finishSubject(h, f, m)
	s.Work = finishWork(s, &kb.Material{}, m)
	s.Work["disturbs-existing"] = flag(false)
	s.Work["adds"] = words(append(termsOf(f.Coats), m.Terms...)...)
	named := make(map[string][]string)
	nameCautions(t, s, append([]*kb.Material{m}, f.Coats...), named)
	return t.Cautions([]rule.Subject{s}, nil, named)
}
