package report

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"relath/advisor/swap"
	"relath/advisor/takeoff"
	"relath/kb"
)

// execution writes the third part: how the work goes, how it cures, what is
// looked at, and what keeps it sound.
func (p *page) execution(s *Spec, x *section) {
	var rows [][]Text
	row := func(step, words string, notes ...int) {
		if words != "" {
			rows = append(rows, []Text{say(step), say(capital(stop(words)), notes...)})
		}
	}
	rows = append(rows, p.article(x, "Examination")...)
	for _, r := range x.recipes {
		head := "Work: " + lower(r.Title)
		if !x.applied(r) {
			head = "Work, as for " + lower(r.Title) + "; what it says of old layers does not count for new work"
		}
		row(head, r.Build, p.bases(r.Basis)...)
	}
	for _, o := range x.others {
		row("Work", fmt.Sprintf("goes with section %s, %s: read that section first", o.number, lower(o.recipe.Title)))
	}
	rows = append(rows, p.article(x, "Installation")...)
	row("Needed for its duties", strings.Join(p.dutyNeeds(x), "; "))
	rows = append(rows, p.article(x, "Tolerances")...)
	for _, r := range x.recipes {
		row("Cure and dry", r.Cure, p.bases(r.Basis)...)
	}
	row("Dates", p.datesOf(s.Schedule, x))
	for _, r := range x.recipes {
		row("Hold point", r.Inspect, p.bases(r.Basis)...)
	}
	rows = append(rows, p.article(x, "Hold point")...)
	rows = append(rows, p.article(x, "Protection")...)
	for _, text := range p.careOf(x) {
		row("Care and renewal", text)
	}
	rows = append(rows, p.never(x)...)
	p.table(Table{Heads: []string{"Step", "How"}, Rows: rows})
}

// applied says whether a recipe is a swap of the plan, not only the like of what
// the description proposes.
func (x *section) applied(r *kb.Recipe) bool {
	return slices.ContainsFunc(x.lines, func(l specLine) bool {
		return l.recipe == r && l.plan != nil && slices.ContainsFunc(l.plan.Steps, func(s *swap.Proposal) bool { return s.Recipe == r })
	})
}

// dutyNeeds says on which terms the materials take their duties.
func (p *page) dutyNeeds(x *section) []string {
	var list []string
	for i := range x.lines {
		for _, o := range x.lines[i].material.Duties {
			if o.Needs != "" {
				list = append(list, fmt.Sprintf("to %s, %s needs: %s", lower(p.dutyTitle(o.Duty)), lower(x.lines[i].material.Name), strings.TrimSuffix(o.Needs, ".")))
			}
		}
	}
	return unique(list)
}

// careOf says how the work is looked after and renewed.
func (p *page) careOf(x *section) []string {
	var list []string
	for _, r := range x.recipes {
		list = append(list, r.Care)
	}
	for i := range x.lines {
		m := x.lines[i].material
		list = append(list, m.Care)
		if m.Coating != nil && m.Coating.Renewal != "" {
			list = append(list, m.Name+": "+m.Coating.Renewal)
		}
	}
	return unique(slices.DeleteFunc(list, func(text string) bool { return text == "" || text == "None." || text == "None" }))
}

// never says what must not be put on later, and why.
func (p *page) never(x *section) [][]Text {
	var rows [][]Text
	for i := range x.lines {
		l := &x.lines[i]
		if !l.faces() {
			continue
		}
		if names := p.closers(l); len(names) > 0 {
			text := fmt.Sprintf("%s: with its coats it may not fall under %s dry cup, else: %s. That rules out, in the usual number of coats: %s.",
				placeOf(l.line), p.edgeWords(l), strings.Join(l.limit.Dry.Low.Breaks, "; "), strings.Join(names, "; "))
			rows = append(rows, []Text{say("Never apply later"), marked(text, limitMark(l.plan))})
		}
		if names := p.misfits(l.material); len(names) > 0 {
			text := fmt.Sprintf("%s is no ground for: %s.", l.material.Name, strings.Join(names, "; "))
			rows = append(rows, []Text{say("Never apply later"), say(text)})
		}
	}
	return rows
}

// misfits lists the coatings that the base says do not go on a material.
func (p *page) misfits(m *kb.Material) []string {
	var names []string
	for _, c := range p.Base.Materials {
		if c.Coating != nil && c.Available != "no-longer" && slices.ContainsFunc(c.Coating.Not, func(term string) bool { return slices.Contains(m.Terms, term) }) {
			names = append(names, lower(c.Name))
		}
	}
	return names
}

// datesOf words when the steps of a section are due.
func (p *page) datesOf(s *takeoff.Schedule, x *section) string {
	if s == nil {
		return ""
	}
	var words []string
	for i := range s.Steps {
		step := &s.Steps[i]
		if step.Sort != takeoff.Work || !slices.ContainsFunc(x.lines, func(l specLine) bool {
			return l.line.Stage == step.Stage && slices.Contains(step.Where, l.line.Where) && strings.Contains(step.What, l.line.Name)
		}) {
			continue
		}
		text := fmt.Sprintf("%s: %s", step.What, dayWords(s, step.Begin.Best))
		if last := dayWords(s, step.End.Best-1); step.End.Best-1 > step.Begin.Best {
			text += " to " + last
		}
		if i+1 < len(s.Steps) && s.Steps[i+1].Sort == takeoff.Cure {
			text += fmt.Sprintf(", then wait until %s", dayWords(s, s.Steps[i+1].End.Best))
		}
		words = append(words, text)
	}
	return strings.Join(words, "; ")
}

// inspections writes the hold points as a list to sign.
func (p *page) inspections(s *takeoff.Schedule) {
	var rows [][]Text
	for i := range s.Steps {
		if x := &s.Steps[i]; x.Sort == takeoff.Hold {
			day := ""
			if d := s.Date(x.Begin.Best); !d.IsZero() {
				day = d.Format(time.DateOnly)
			}
			rows = append(rows, []Text{say(capital(stop(x.What))), say(orWord(day, dayWords(s, x.Begin.Best))), say(""), say("")})
		}
	}
	if len(rows) == 0 {
		return
	}
	p.heading(1, "Hold points and inspections")
	p.para(plain, say("Nothing is covered before somebody has looked, written down the reading and signed. The official's own inspections come beside these."))
	p.table(Table{Heads: []string{"What is looked at", "Planned for", "Reading", "Date and name"}, Rows: rows})
}

// substitution writes the form for a product other than the one specified.
func (p *page) substitution() {
	p.heading(1, "Substitution request")
	p.para(plain, say("A product other than the one specified is asked for on this form before it is ordered. It is accepted only in writing."))
	var rows [][]Text
	for _, line := range []string{
		"Section and article", "Specified product", "Proposed product, with data sheet and test reports", "Why",
		"Permeance, dry cup and wet cup (ASTM E96), and vapor retarder class", "Thermal resistance at the thickness (ASTM C518)",
		"Adhesive, treatment, formaldehyde", "Condensation and drying computed again, by whom",
		"Does the layer brace the frame, stop fire or shed rain? How does the new one?", "Code section, and approval needed",
		"Weight, thickness, look, service life", "Other work affected", "Change of cost", "Change of time", "Warranty and service equal",
		"Studied and coordinated by, name and date", "Answer: approved, as noted, rejected, too late", "Reviewed by, name and date",
	} {
		rows = append(rows, []Text{say(line), say("")})
	}
	p.table(Table{Heads: []string{"Item", "To fill in"}, Rows: rows})
}
