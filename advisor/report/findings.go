package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
)

// question is what a finding of a kind answers with its verdict.
func question(kind kb.FindingKind) string {
	switch kind {
	case "code":
		return "Accepted as it is?"
	case "hazard":
		return "Clear of it?"
	case "data-gap":
		return "Known?"
	}
	return "Sound here?"
}

// kindWord names a kind of finding.
func kindWord(kind kb.FindingKind) string {
	if kind == "data-gap" {
		return "Missing data"
	}
	return capital(string(kind))
}

// levelWords says what a level asks for.
func levelWords(level kb.Level) string {
	switch level {
	case "block":
		return "has to be answered before building"
	case "engineer":
		return "needs an engineer or an approved design"
	case "warn":
		return "worth acting on"
	}
	return "for information"
}

// findings writes the findings, strongest first, under a heading for each.
func (p *page) findings(list []rule.Finding) {
	for _, f := range list {
		p.finding(f)
	}
}

// finding writes one finding: what, why, the numbers, what decides it.
func (p *page) finding(f rule.Finding) {
	p.heading(2, f.Title)
	p.para(plain, say(fmt.Sprintf("%s, %s. %s %s.", kindWord(f.Kind), levelWords(f.Level), question(f.Kind), capital(string(f.Verdict)))))
	p.para(plain, p.findingText(f))
	p.because(f)
	p.para(plain, say(p.decides(f)))
	p.list(p.numbers(f)...)
	p.rows(f)
}

// because says why a finding matters and what it costs to do nothing, once on a
// page: a finding of several assemblies points back.
func (p *page) because(f rule.Finding) {
	if at, told := p.told[f.Why]; told && at != p.at {
		p.para(plain, say("Why it matters is said at the "+at+"."))
		return
	}
	p.told[f.Why] = p.at
	p.para(plain, say(f.Why))
	if f.Left != "" {
		p.para(plain, say("If nothing is done: "+lower(f.Left)))
	}
}

// findingText is the sentence of a finding with its mark, its sources and the
// models behind it.
func (p *page) findingText(f rule.Finding) Text {
	notes := p.bases(f.Basis)
	for _, reason := range f.Because {
		if fact := p.Base.Fact(reason.Fact); fact != nil {
			notes = append(notes, p.model(fact.Model))
		}
	}
	return marked(capital(f.Say), f.Mark, notes...)
}

// decides says what decides a finding that depends or is unknown.
func (p *page) decides(f rule.Finding) string {
	var parts []string
	if words := p.decider(f); words != "" {
		parts = append(parts, "What decides: "+words)
	}
	if f.Settle != "" && f.Verdict != kb.No && (f.Hinge == nil || !differs(f.Hinge.Turns)) {
		parts = append(parts, "To settle it: "+lower(stop(f.Settle)))
	}
	return strings.Join(parts, " ")
}

// decider names what a finding turns on and how it turns there.
func (p *page) decider(f rule.Finding) string {
	h := f.Hinge
	switch {
	case f.Decider == "":
		return ""
	case h != nil && len(h.Together) > 1:
		return "no single input; several have to move together, first of all " + join(h.Together, "and") + "."
	case h == nil || len(h.Turns) == 0:
		return stop(f.Decider)
	case !differs(h.Turns):
		return stop(h.Name) + " Alone it does not turn the answer: more than one input has to move."
	}
	words := h.Name + span(h) + ". " + p.flipping(f.Kind, h)
	if h.Unsought {
		words += " At which value it turns is not sought: each try would be a run of years, hour by hour."
	}
	return words
}

// span gives the range of an input that turns an answer, where it is a quantity.
func span(h *rule.Hinge) string {
	if h.Doubt != "" || h.Flip == "" && !h.Back {
		return ""
	}
	from, to := h.Turns[0].At, h.Turns[1].At
	number, unit, _ := strings.Cut(from, " ")
	if strings.HasSuffix(to, " "+unit) {
		from = number
	}
	return ", " + from + " to " + to
}

// flipping says which setting of a hinge gives which answer, and where between
// them it turns.
func (p *page) flipping(kind kb.FindingKind, h *rule.Hinge) string {
	switch {
	case h.Back:
		return capital(stop(p.turning(kind, h))) + " It turns there and back on the way from one to the other."
	case h.Flip != "" && h.Doubt == "coats":
		return capital(stop(p.turning(kind, h))) + " It turns between " + h.Flip + " coats."
	case h.Flip != "" && h.Doubt == "":
		return fmt.Sprintf("%s %s below about %s, %s above, with all else at its best value.",
			question(kind), capital(string(h.Turns[0].Answer)), h.Flip, h.Turns[1].Answer)
	}
	return capital(stop(p.turning(kind, h)))
}

// choiceWords names what a description leaves open, for those who did not write
// it: materials and coatings by their names, nothing for none.
func (p *page) choiceWords(of assembly.DoubtKind, choice string) string {
	switch {
	case of == assembly.OfCoats:
		return choice
	case choice == "none":
		return "nothing"
	}
	return lower(p.materialName(choice))
}

// choicesWords joins the choices of a doubt.
func (p *page) choicesWords(d *assembly.Doubt) string {
	var words []string
	for _, c := range d.Choices {
		words = append(words, p.choiceWords(d.Of, c))
	}
	return joinNames(words, "or")
}

// joinNames joins names, with semicolons where one of them holds a comma.
func joinNames(names []string, last string) string {
	if len(names) < 2 || !slices.ContainsFunc(names, func(n string) bool { return strings.Contains(n, ",") }) {
		return join(names, last)
	}
	return strings.Join(names[:len(names)-1], "; ") + "; " + last + " " + names[len(names)-1]
}

// turning says which setting of a hinge gives which answer.
func (p *page) turning(kind kb.FindingKind, h *rule.Hinge) string {
	at := make(map[kb.Verdict][]string)
	for _, t := range h.Turns {
		words := p.choiceWords(assembly.DoubtKind(h.Doubt), t.At)
		if t.Value != "" {
			words += " (" + lower(t.Value) + ")"
		}
		at[t.Answer] = append(at[t.Answer], words)
	}
	var parts []string
	for _, v := range []kb.Verdict{kb.Yes, kb.Depends, kb.Unknown, kb.No} {
		if len(at[v]) > 0 {
			parts = append(parts, string(v)+" with "+joinNames(at[v], "or"))
		}
	}
	return question(kind) + " " + capital(strings.Join(parts, "; "))
}

func differs(turns []rule.Turn) bool {
	return slices.ContainsFunc(turns, func(t rule.Turn) bool { return t.Answer != turns[0].Answer })
}

// lower begins words within a sentence, unless they begin with a name or an
// abbreviation.
func lower(s string) string {
	if len(s) > 1 && s[0] >= 'A' && s[0] <= 'Z' && (s[1] >= 'a' && s[1] <= 'z' || s[1] == ' ') {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

// numbers lists the comparisons of computed facts that led to a finding.
func (p *page) numbers(f rule.Finding) []Text {
	var items []Text
	var seen []string
	for _, r := range f.Because {
		fact := p.Base.Fact(r.Fact)
		if fact == nil || fact.Type != "quantity" || fact.Model == "" || slices.Contains(seen, r.Text) {
			continue
		}
		seen = append(seen, r.Text)
		text := capital(r.Text)
		if r.Layer != "" {
			text = capital(r.Layer) + ": " + r.Text
		}
		items = append(items, marked(text, r.Mark))
	}
	return items
}

// rows lists the ways through a code table that are open here: those that fail
// only because the place or the edition is another are left out.
func (p *page) rows(f rule.Finding) {
	var rows [][]Text
	for _, r := range f.Rows {
		if elsewhere(r) {
			continue
		}
		rows = append(rows, []Text{
			marked(r.Row, r.Basis.Evidence, p.basis(r.Basis)),
			say(string(r.Verdict)),
			say(lacks(r)),
		})
	}
	p.table(Table{Caption: "Ways that the table accepts", Heads: []string{"Way", "Holds here", "What is missing or open"}, Rows: rows})
}

// elsewhere says whether a row fails for its zone, state or edition.
func elsewhere(r rule.RowResult) bool {
	for _, reason := range r.Because {
		if reason.Verdict == kb.No && slices.Contains([]string{"zone", "regime", "state", "edition", "kind"}, reason.Fact) {
			return true
		}
	}
	return false
}

// lacks says which conditions of a row do not hold.
func lacks(r rule.RowResult) string {
	var words []string
	for _, reason := range r.Because {
		if reason.Verdict != kb.Yes {
			words = append(words, reason.Text)
		}
	}
	return strings.Join(unique(words), "; ")
}

// cautionText says a caution, who confirms it and what called for it.
func (p *page) cautionText(c rule.Caution) Text {
	t := p.cautionWords(c.Caution)
	if !c.Certain {
		t.Words += " (It may apply: " + join(c.For, "and") + ".)"
	}
	return t
}

// cautionWords says a caution and who confirms it.
func (p *page) cautionWords(c *kb.Caution) Text {
	text := stop(c.Title) + " " + stop(c.Say)
	if c.Ask != "" {
		text += " Ask: " + stop(c.Ask)
	}
	mark := kb.Evidence("")
	for _, b := range c.Basis {
		mark = mark.Weaker(b.Evidence)
	}
	return marked(text, mark, p.bases(c.Basis)...)
}

// duties writes who takes each duty.
func (p *page) duties(covers []analysis.Cover) {
	var rows [][]Text
	for _, c := range covers {
		by := "no layer"
		if len(c.By) > 0 {
			by = join(c.By, "and")
		}
		rows = append(rows, []Text{say(p.dutyTitle(c.Duty)), say(by), say(string(c.Verdict)), say(asks(c.Verdict, c.Asks))})
	}
	p.table(Table{
		Caption: "What the layers are there to do, and who does it",
		Heads:   []string{"Duty", "Done by", "Covered", "Depends on"}, Rows: rows,
	})
}

func asks(v kb.Verdict, list []string) string {
	if v == kb.Yes {
		return ""
	}
	return join(list, "and")
}

func (p *page) dutyTitle(id string) string {
	if d := p.Base.Duty(id); d != nil {
		return capital(d.Title)
	}
	return id
}
