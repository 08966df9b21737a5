package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/house"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// watch says how the work is looked after, what stays open, and which cold
// surfaces sweat.
func (p *page) watch(s *Spec) {
	var items []Text
	for _, text := range p.clientCare(s) {
		items = append(items, say(capital(stop(text))))
	}
	for _, x := range s.worked() {
		for _, f := range x.Findings {
			if f.Level != "info" {
				items = append(items, marked(fmt.Sprintf("Still open on the %s: %s", x.After.Assembly.Name, f.Say), f.Mark))
			}
		}
	}
	if s.Whole != nil {
		for i := range s.Whole.Cold {
			items = append(items, p.coldWatch(&s.Whole.Cold[i])...)
		}
	}
	if len(items) > 0 {
		p.heading(1, "What to watch")
		p.list(uniqueTexts(items)...)
	}
}

// clientCare lists the care of the faces that are put in, once, with what it is
// for; the specification has the rest.
func (p *page) clientCare(s *Spec) []string {
	var list []string
	var told []*kb.Recipe
	for _, x := range p.sectionsOf(s) {
		for _, l := range x.lines {
			if l.recipe == nil || slices.Contains(told, l.recipe) || l.plan != nil && !l.faces() {
				continue
			}
			told = append(told, l.recipe)
			text := strings.TrimPrefix(strings.TrimPrefix(l.recipe.Care, "None."), " ")
			if text != "" && text != "None" {
				list = append(list, fmt.Sprintf("%s: %s", l.material.Name, lower(text)))
			}
		}
	}
	return list
}

// coldWatch says of a cold surface that sweats how often, and what helps.
func (p *page) coldWatch(c *house.Cold) []Text {
	if !c.Hours.Known || c.Hours.Range.High <= 0 {
		return nil
	}
	text := fmt.Sprintf("%s: below the dew point of the air around it for %s hours a year.", capital(c.Of.Surface.Name.Value), p.value(quantity.Exact(c.Hours.Range.Best), quantity.Number))
	if p.onTheEdge(c) {
		text = fmt.Sprintf("%s: on the edge of the dew point, %s against %s: a degree decides whether it drips. Warmer supply air, drier rooms or a wrap keep it dry.",
			capital(c.Of.Surface.Name.Value), quantity.Format(c.Inside.Range.Best, quantity.Temperature, p.Units), quantity.Format(c.Design.DewPoint, quantity.Temperature, p.Units))
	} else if c.Needed.Known && c.Needed.Range.Best > 0 {
		text += fmt.Sprintf(" %s of insulation keeps it dry.", p.value(quantity.Exact(c.Needed.Range.Best), quantity.ThermalResistance))
	}
	return []Text{marked(text, c.Hours.Evidence)}
}

// onTheEdge says whether a surface in the rooms is within a degree of the dew
// point by which its insulation is sized.
func (p *page) onTheEdge(c *house.Cold) bool {
	const degree = 5.0 / 9
	return c.Design.Known && c.DryEnough.Known && c.Design.DewPoint-c.Inside.Range.Best < degree && c.Inside.Range.Best-c.Design.DewPoint < degree
}

// priceOf says what it costs in all.
func priceOf(s *Spec) string {
	text := fmt.Sprintf("It costs %s for material and labor, %s.", money(s.Cost.Total, s.Cost.Book), s.Cost.Book.Words())
	if len(s.Cost.Missing) > 0 {
		text += " Not in it: " + strings.Join(s.Cost.Missing, "; ") + "."
	}
	return text
}

// clientCautions says the cautions of the work in short; the specification has
// them in full.
func (p *page) clientCautions(s *Spec) {
	list := s.Cautions()
	if len(list) == 0 {
		return
	}
	p.heading(1, "Cautions")
	var crew []string
	var items []Text
	for _, c := range list {
		if c.Caution.Owner == "yes" {
			items = append(items, p.shortCaution(c))
			continue
		}
		crew = append(crew, lower(c.Caution.Title))
	}
	if len(crew) > 0 {
		items = append(items, say("The crew works by these too (in full in the specification): "+strings.Join(crew, "; ")+"."))
	}
	p.list(items...)
}

// shortCaution is a caution with the first sentence of what it says.
func (p *page) shortCaution(c rule.Caution) Text {
	first, _, _ := strings.Cut(c.Caution.Say, ". ")
	text := stop(c.Caution.Title) + " " + stop(first)
	if c.Caution.Ask != "" {
		text += " Ask: " + stop(c.Caution.Ask)
	}
	mark := kb.Evidence("")
	for _, b := range c.Caution.Basis {
		mark = mark.Weaker(b.Evidence)
	}
	return marked(text, mark)
}
