package report

import (
	"fmt"
	"strings"

	"relath/kb"
)

func (p *page) explainRecipe(id string) bool {
	r := p.Base.Recipe(id)
	if r == nil {
		return false
	}
	p.sort("Recipe", r.Title)
	p.para(lead, say(r.Why, p.bases(r.Basis)...))
	if r.Worse != "" {
		p.para(plain, say("What gets worse: "+r.Worse))
	}
	for i, layer := range r.Replaces {
		p.conditions(fmt.Sprintf("It replaces layer %d of a run when all of this holds", i+1), layer)
	}
	p.conditions("It is added on the inside of a layer with all of this", r.After)
	p.conditions("It fits when all of this holds", r.Fits)
	for _, u := range r.Unfit {
		p.conditions("It is turned down ("+strings.TrimSuffix(u.Say, ".")+") when all of this holds", u.When)
	}
	p.instructions(r)
	for _, n := range r.Needs {
		p.needs([]kb.Need{n})
	}
	p.namedCautions(r.Cautions)
	return true
}

// instructions writes how a recipe is specified, built, cured, inspected and
// looked after.
func (p *page) instructions(r *kb.Recipe) {
	var rows [][]Text
	for _, x := range [][2]string{{"Specify", r.Specify}, {"Take out", r.Remove}, {"Build", r.Build}, {"Cure and dry", r.Cure}, {"Inspect", r.Inspect}, {"Care", r.Care}} {
		if x[1] != "" {
			rows = append(rows, []Text{say(x[0]), say(x[1])})
		}
	}
	for i := range r.Coverage {
		v := &r.Coverage[i]
		rows = append(rows, []Text{say(capital(p.propertyTitle(v.Property))), marked(p.printedValue(v)+conditionTail(v), v.Evidence, p.basis(v.Basis))})
	}
	p.table(Table{Heads: []string{"Step", "How"}, Rows: rows})
}
