package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/swap"
	"relath/advisor/takeoff"
	"relath/kb"
)

// execution writes the third part: how the work goes, how it cures, what is
// looked at, and what keeps it sound.
func (p *page) execution(s *Spec, x *section) {
	var rows [][]Text
	rows = append(rows, p.article(x, "Examination")...)
	for _, r := range x.recipes {
		rows = append(rows, p.recipeWork(r, x.applied(r))...)
	}
	for _, o := range x.others {
		rows = told(rows, "Work", fmt.Sprintf("goes with section %s, %s: read that section first", o.number, lower(o.recipe.Title)))
	}
	rows = append(rows, p.article(x, "Installation")...)
	rows = told(rows, "Needed for its duties", strings.Join(p.dutyNeeds(x), "; "))
	rows = append(rows, p.article(x, "Tolerances")...)
	rows = append(rows, p.article(x, "Cure and dry")...)
	for _, r := range x.recipes {
		rows = told(rows, "Cure and dry", none(r.Cure), p.bases(r.Basis)...)
	}
	rows = told(rows, "Dates", p.datesOf(s.Schedule, x))
	for _, r := range x.recipes {
		rows = told(rows, "Hold point", strings.TrimPrefix(r.Inspect, "Hold: "), p.bases(r.Basis)...)
	}
	rows = append(rows, p.article(x, "Hold point")...)
	rows = append(rows, p.article(x, "Protection")...)
	rows = told(rows, "Care and renewal", strings.Join(p.careOf(x), " "))
	rows = append(rows, p.never(x)...)
	p.articles(3, rows)
}

// told adds an article where there is something to say.
func told(rows [][]Text, article, words string, notes ...int) [][]Text {
	if words == "" {
		return rows
	}
	return append(rows, []Text{say(article), say(capital(stop(words)), notes...)})
}

// none is empty for texts that say that there is nothing.
func none(words string) string {
	if strings.TrimSuffix(words, ".") == "None" {
		return ""
	}
	return words
}

// recipeWork tells how a swap is built; what it says of old work counts only
// where something is replaced.
func (p *page) recipeWork(r *kb.Recipe, applied bool) [][]Text {
	if !applied {
		return told(nil, "Work", r.Build, p.bases(r.Basis)...)
	}
	rows := told(nil, "Old work", r.Remove, p.bases(r.Basis)...)
	return told(rows, "Work", stop(r.Title)+" "+r.Build, p.bases(r.Basis)...)
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
	add := func(text string) {
		if none(text) != "" {
			list = append(list, capital(stop(text)))
		}
	}
	for _, r := range x.recipes {
		add(r.Care)
	}
	for i := range x.lines {
		m := x.lines[i].material
		add(m.Care)
		if m.Coating != nil && m.Coating.Renewal != "" {
			add(m.Name + ": " + m.Coating.Renewal)
		}
	}
	return unique(list)
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
			if !slices.ContainsFunc(rows, func(row []Text) bool { return row[1].Words == text }) {
				rows = append(rows, []Text{say("Never apply later"), say(text)})
			}
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
	if s == nil {
		return
	}
	var rows [][]Text
	for i := range s.Steps {
		if x := &s.Steps[i]; x.Sort == takeoff.Hold {
			rows = append(rows, []Text{say(capital(stop(x.What))), say(wheres(x)), say(dayWords(s, x.Begin.Best)), say(""), say("")})
		}
	}
	if len(rows) == 0 {
		return
	}
	p.heading(1, "Hold points and inspections")
	p.table(Table{Heads: []string{"What is looked at", "Where", "Planned for", "Reading", "Date and name"}, Rows: rows, Fill: []int{3, 4}})
}

// substitution writes the form for a product other than the one specified.
func (p *page) substitution() {
	p.heading(1, "Substitution request")
	p.para(plain, say("For a product other than the one specified, before it is ordered."))
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
	p.table(Table{Heads: []string{"Item", "To fill in"}, Rows: rows, Fill: []int{1}})
}
