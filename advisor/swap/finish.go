package swap

import (
	"fmt"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// FinishAdvice is the answer for one line of the finish schedule.
type FinishAdvice struct {
	Finish     *assembly.Finish
	Name       string // of the finish, see assembly.ResolvedFinish
	Material   *kb.Material
	Glue       Amount
	Proposals  []FinishProposal
	Rejections []Rejection
}

// FinishProposal is one swap of a finish, with its glue computed anew. A
// finish is no part of an assembly: no heat or vapor is computed for it.
type FinishProposal struct {
	Recipe    *kb.Recipe
	Title     string
	Material  *kb.Material
	Glue      Amount
	MoldFrom  kb.MoldClass
	MoldTo    kb.MoldClass
	Cautions  []rule.Caution
	Needs     []kb.Need
	FoodFaces string // better, same or worse by mold class
}

// Amount is a mass in kg, or why it is not known.
type Amount struct {
	Mass    quantity.Range
	Known   bool
	Missing string
}

// Finishes finds swaps for the finish schedule of a house.
func Finishes(t rule.Tester, h *assembly.Resolved) []FinishAdvice {
	var list []FinishAdvice
	for i := range h.Finishes {
		f := &h.Finishes[i]
		if len(f.Materials) == 0 {
			continue
		}
		list = append(list, finish(t, h, f))
	}
	return list
}

// finish tries every recipe for finishes on one line, taken in its first
// material.
func finish(t rule.Tester, h *assembly.Resolved, f *assembly.ResolvedFinish) FinishAdvice {
	old := f.Materials[0]
	a := FinishAdvice{Finish: f.Finish, Name: f.Name, Material: old, Glue: glueIn(t.Base, f, old)}
	subject := finishSubject(h, f, old)
	for _, r := range t.Base.Recipes {
		if r.Part != "finish" || len(r.Replaces) != 1 || len(r.With) != 1 {
			continue
		}
		if t.Layer(r.Replaces[0], subject, 0).Verdict != kb.Yes {
			continue
		}
		p, because := proposeFinish(t, subject, r, f, old)
		if because != "" {
			a.Rejections = append(a.Rejections, Rejection{Candidate: r.Title, ID: r.ID, Layer: f.Name, Because: []string{because}})
			continue
		}
		a.Proposals = append(a.Proposals, p)
	}
	return a
}

// proposeFinish applies one recipe, or says why it is turned down.
func proposeFinish(t rule.Tester, s rule.Subject, r *kb.Recipe, f *assembly.ResolvedFinish, old *kb.Material) (FinishProposal, string) {
	fresh := t.Base.Material(r.With[0].Material)
	if fresh == nil || fresh.ID == old.ID {
		return FinishProposal{}, "it is what is there"
	}
	for _, u := range r.Unfit {
		if t.All(u.When, s).Verdict == kb.Yes {
			return FinishProposal{}, u.Say
		}
	}
	p := FinishProposal{
		Recipe: r, Title: r.Title, Material: fresh, Glue: glueIn(t.Base, f, fresh),
		MoldFrom: old.Mold.Face, MoldTo: fresh.Mold.Face, FoodFaces: classChange(old.Mold.Face, fresh.Mold.Face),
	}
	s.Work = finishWork(s, old, fresh)
	named := make(map[string][]string)
	for _, id := range r.Cautions {
		named[id] = append(named[id], r.Title)
	}
	for _, id := range fresh.Cautions {
		named[id] = append(named[id], fresh.Name)
	}
	p.Cautions = t.Cautions([]rule.Subject{s}, nil, named)
	for _, n := range r.Needs {
		if t.All(n.When, s).Verdict != kb.No {
			p.Needs = append(p.Needs, n)
		}
	}
	return p, ""
}

// classChange compares mold classes; the later one is the less sensitive.
func classChange(from, to kb.MoldClass) string {
	order := from.Allowed()
	at := func(c kb.MoldClass) int {
		for i, name := range order {
			if name == string(c) {
				return i
			}
		}
		return -1
	}
	switch a, b := at(from), at(to); {
	case a < 0 || b < 0 || a == b:
		return "same"
	case b > a:
		return "better"
	}
	return "worse"
}

// glueIn is the glue in a finish in a material.
func glueIn(base *kb.Base, f *assembly.ResolvedFinish, m *kb.Material) Amount {
	glue, missing := analysis.SizeOfFinish(base, f, m).Glue(m)
	return Amount{Known: missing == "", Mass: glue, Missing: missing}
}

// finishSubject gives a finish the facts of a layer, and the house those of
// its first assembly, which say when it was built and how it is kept.
func finishSubject(h *assembly.Resolved, f *assembly.ResolvedFinish, m *kb.Material) rule.Subject {
	layer := analysis.LayerFacts{
		Part: &assembly.Part{Name: f.Name, Material: m, Depth: f.Thickness},
		Facts: analysis.Facts{
			"terms": words(m.Terms...), "form": words(string(m.Form)),
			"mold-class": words(string(m.Mold.Face)), "faces-room": flag(true), "faces-cavity": flag(false),
		},
	}
	if m.Breakdown != "" {
		layer.Facts["breakdown"] = words(m.Breakdown)
	}
	return rule.Subject{Facts: houseFacts(h), Layers: []analysis.LayerFacts{layer}}
}

// houseFacts states what a description says of the house as a whole.
func houseFacts(h *assembly.Resolved) analysis.Facts {
	f := analysis.Facts{
		"cooled": flag(h.Cooling != nil), "tightness": words(h.Tightness), "kind": words(),
		"outer-side": words("room"), "inner-side": words("room"),
	}
	for _, year := range []int{1930, 1950, 1978, 1990} {
		id := fmt.Sprintf("built-before-%d", year)
		if built := h.House.Built; built != 0 {
			f[id] = flag(built < year)
		} else {
			f[id] = analysis.Estimate{Missing: "the year the house was built is not given"}
		}
	}
	return f
}

// finishWork states what swapping a finish does.
func finishWork(s rule.Subject, old, fresh *kb.Material) analysis.Facts {
	return analysis.Facts{
		"part": words("finish"), "removes": words(old.Terms...), "adds": words(fresh.Terms...),
		"removes-duties": words(), "opens": words("nothing"), "fills-empty-bay": flag(false), "insulates": flag(false),
		"tightens": flag(false), "disturbs-existing": s.Facts["built-before-1978"],
		"added-weight":           {Missing: "the weight of a finish is not computed"},
		"added-thickness-inside": known(quantity.Exact(0)),
	}
}
