package report

import (
	"fmt"

	"relath/advisor/swap"
	"relath/kb"
	"relath/kb/quantity"
)

// finishes writes the finish schedule: what each part is made of, its glue, and
// what could be put in its place.
func (p *page) finishes(list []swap.FinishAdvice) {
	if len(list) == 0 {
		return
	}
	p.heading(1, "Finishes")
	p.para(quiet, say("A finish is no part of an assembly: its glue and its mold class are compared, no heat and no vapor."))
	t := Table{Heads: []string{"Room and part", "Material", "Glue", "Instead", "Glue then", "Mold class"}}
	for i := range list {
		a := &list[i]
		where := fmt.Sprintf("%s, %s", capital(a.Finish.Room.Value), a.Name)
		if len(a.Proposals) == 0 {
			t.Rows = append(t.Rows, []Text{say(where), say(a.Material.Name), p.glue(a.Glue, a.Material), say("nothing better in the base"), say(""), say("")})
		}
		for k := range a.Proposals {
			x := &a.Proposals[k]
			t.Rows = append(t.Rows, []Text{say(where), say(a.Material.Name), p.glue(a.Glue, a.Material), say(x.Material.Name), p.glue(x.Glue, x.Material), say(classWords(x))})
			where = ""
		}
	}
	p.table(t)
	for i := range list {
		for k := range list[i].Proposals {
			p.finishSwap(&list[i], &list[i].Proposals[k])
		}
		p.rejections(list[i].Rejections)
	}
}

// finishSwap writes one swap of a finish: why, what it makes worse, how it is
// done, who must agree, and its cautions.
func (p *page) finishSwap(a *swap.FinishAdvice, x *swap.FinishProposal) {
	p.heading(2, fmt.Sprintf("%s, %s: %s", capital(a.Finish.Room.Value), a.Name, lower(x.Title)))
	p.para(plain, say("Why: "+lower(stop(x.Recipe.Why)), p.bases(x.Recipe.Basis)...))
	if x.Recipe.Worse != "" {
		p.para(plain, say("What gets worse: "+lower(stop(x.Recipe.Worse))))
	}
	if x.FoodFaces == "worse" {
		p.para(plain, say("By its mold class the new face is the more sensitive one: finish all faces and keep it dry."))
	}
	p.para(quiet, say(fmt.Sprintf("Chosen for the papers with --plan \"%s %s=%s\".", a.Finish.Room.Value, a.Name, x.Recipe.ID)))
	p.instructions(x.Recipe)
	p.needs(x.Needs)
	p.cautionsOf(x.Cautions)
}

// glue words an amount of glue with the mark of the share it rests on.
func (p *page) glue(a swap.Amount, m *kb.Material) Text {
	if !a.Known {
		return say("not known: " + a.Missing)
	}
	if a.Mass.High == 0 {
		return say("none")
	}
	w, _ := m.Working("adhesive-share", kb.AnyMethod, 0)
	return marked(quantity.FormatRange(a.Mass, quantity.Mass, p.Units), w.Evidence)
}

// classWords says the mold class before and after.
func classWords(x *swap.FinishProposal) string {
	if x.MoldFrom == x.MoldTo {
		return string(x.MoldTo)
	}
	return fmt.Sprintf("%s before, %s then (%s)", x.MoldFrom, x.MoldTo, x.FoodFaces)
}
