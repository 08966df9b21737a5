package report

import (
	"fmt"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// leakChoices writes what the doubts of the description make of a leak, and which
// of them decides.
func (p *page) leakChoices(r *analysis.LeakResult) {
	if len(r.Choices) == 0 && r.NotRun == 0 {
		return
	}
	p.heading(1, "What the choices make of it")
	if len(r.Deciders) == 0 {
		p.para(plain, say("No doubt moves a drying time by more than a tenth."))
	}
	for _, d := range r.Deciders {
		p.para(plain, say(deciderWords(r, &d)))
	}
	if r.NotRun > 0 {
		p.para(warning, say(fmt.Sprintf("%s of what is in doubt were not wetted; those were that differ from the first in one choice.",
			count(r.NotRun, "further combination"))))
	}
	p.leakChoiceTable(r)
}

// deciderWords says which doubt decides a case and how.
func deciderWords(r *analysis.LeakResult, d *analysis.LeakDecider) string {
	words := fmt.Sprintf("On %s %s decides most: with %s every layer is near the undisturbed wall %s, with %s %s",
		leakDate(r.Cases[d.Case].On), r.Assembly.Doubts[d.Doubt].Where, d.Fast, bestSpan(d.Short), d.Slow, bestSpan(d.Long))
	if d.WoodS.Applies && d.WoodL.Applies {
		words += fmt.Sprintf("; wood is below 20 %% %s and %s", bestSpan(d.WoodS), bestSpan(d.WoodL))
	}
	return words + "."
}

// bestSpan writes a time in the best case.
func bestSpan(s analysis.Span) string {
	if !s.Best {
		return "not within a year"
	}
	return "after " + daysShown(s.Time.Best) + " days"
}

// leakChoiceTable sets all variants side by side.
func (p *page) leakChoiceTable(r *analysis.LeakResult) {
	t := Table{
		Caption: "Ranges of the first from all corners, of the others from best values and all layers tight",
		Mark:    string(kb.Assumed), Notes: tidy([]int{p.model("hourly-leak"), p.model("hourly-mold")}), Heads: []string{"Choice"},
	}
	for i := range r.Cases {
		name := capital(caseName(&r.Cases[i]))
		t.Heads = append(t.Heads, name+": wood below 20 %", "every layer near the undisturbed wall", "highest mold index")
	}
	row := func(v *assembly.Variant, cases []analysis.LeakCase, missing string) {
		cells := []Text{say(capital(choiceWords(r.Assembly, v)))}
		for i := range r.Cases {
			if missing != "" {
				cells = append(cells, say("no answer: "+missing), say("–"), say("–"))
				continue
			}
			c := &cases[i]
			index := worstIndex(c, func(s analysis.LeakSpot) (quantity.Range, bool) { return s.With, true })
			cells = append(cells, say(spanWords(c.Wood)), say(spanWords(c.Dry)), say(index))
		}
		t.Rows = append(t.Rows, cells)
	}
	row(r.Variant, r.Cases, "")
	for _, c := range r.Choices {
		row(c.Variant, c.Cases, c.Missing)
	}
	p.table(t)
}

// choiceWords names the choices of a variant.
func choiceWords(a *assembly.Assembly, v *assembly.Variant) string {
	var words []string
	for _, s := range v.Settled {
		words = append(words, a.Doubts[s.Doubt].Where+": "+s.Choice)
	}
	return strings.Join(words, "; ")
}
