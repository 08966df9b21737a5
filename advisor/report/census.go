package report

import (
	"fmt"
	"strings"

	"relath/advisor/census"
	"relath/kb"
	"relath/kb/quantity"
)

// Census makes the report of what the numbers of the base rest on.
func (m Maker) Census(c *census.Census) *Document {
	p := m.page("What the base rests on", "every value of materials, coatings and measured systems")
	p.para(lead, say(fmt.Sprintf("%d values of %d materials and coatings from %d sources; %d more are withdrawn and kept for the record.",
		c.Values, len(m.Base.Materials), len(c.Sources), c.Withdrawn)))
	p.holdings()
	p.overlaid()
	p.heading(1, "By mark of evidence")
	t := Table{Heads: []string{"Mark", "Values"}, Right: []int{1}}
	for i, mark := range kb.Evidence("").Allowed() {
		t.Rows = append(t.Rows, []Text{marked(mark, kb.Evidence(mark)), say(fmt.Sprint(c.Marks.ByMark[i]))})
	}
	p.table(t)
	p.para(quiet, say(fmt.Sprintf("%d of them are of high doubt: never preferred where anything else exists.", c.Marks.Doubtful)))
	p.tallies("By property", "Property", c.Properties, func(id string) string { return capital(p.propertyTitle(id)) })
	p.tallies("By family", "Family", c.Families, func(id string) string { return id })
	p.tallies("By source", "Source", c.Sources, func(id string) string { return id })
	p.deciders(c.Deciders)
	p.disagreements(c.Disagreements)
	p.simulated(c.Hourly)
	p.missing(c.Gaps)
	return p.finish()
}

// tallies writes one table of counts by mark.
func (p *page) tallies(title, of string, list []census.Tally, name func(string) string) {
	p.heading(1, title)
	t := Table{Heads: []string{of, "Values"}, Right: []int{1}}
	for i, mark := range kb.Evidence("").Allowed() {
		t.Heads, t.Right = append(t.Heads, capital(mark)), append(t.Right, i+2)
	}
	t.Heads, t.Right = append(t.Heads, "In doubt"), append(t.Right, len(t.Heads))
	for _, x := range list {
		row := []Text{say(name(x.Name)), say(fmt.Sprint(x.Values))}
		for _, n := range append(x.ByMark[:len(x.ByMark):len(x.ByMark)], x.Doubtful) {
			row = append(row, say(countOrBlank(n)))
		}
		t.Rows = append(t.Rows, row)
	}
	p.table(t)
}

// countOrBlank leaves zeros out of a table of counts.
func countOrBlank(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

// The lengths of the lists that are cut short; the JSON form has all of it.
const (
	shownDeciders      = 25
	shownDisagreements = 40
)

func (p *page) deciders(list []census.Decider) {
	p.heading(1, "The values that decide the most")
	p.para(quiet, say("Of the facts of the starters: how often the value moves a fact more than any other does, and how often by more than a twentieth. A value without a range is moved by a tenth; a layer counts with its coats, under the value of the bare layer."))
	t := Table{Heads: []string{"Material or default", "Property", "Moves most", "Moves", "Source"}, Right: []int{2, 3}}
	for _, d := range list[:min(len(list), shownDeciders)] {
		source := "a default of ours"
		if d.Source != "" {
			source = p.sourceName(d.Source)
		}
		t.Rows = append(t.Rows, []Text{
			say(d.Material), say(capital(p.propertyTitle(d.Property))), say(fmt.Sprint(d.First)), say(fmt.Sprint(d.Moves)), marked(source, d.Evidence),
		})
	}
	p.table(t)
}

func (p *page) disagreements(list []census.Disagreement) {
	p.heading(1, "Where sources disagree the most")
	p.para(quiet, say("Single values of a material for its usual thickness, in the same state; from twice apart. The factor is between their nearest ends."))
	t := Table{Heads: []string{"Material", "Property", "Apart", "Lowest", "Highest", "Used"}, Right: []int{2}}
	for _, d := range list[:min(len(list), shownDisagreements)] {
		t.Rows = append(t.Rows, []Text{
			say(someOf(d.Materials)), say(capital(p.propertyTitle(d.Property)) + methodTail(d.Method)), say(fmt.Sprintf("%.3g times", d.Factor)),
			p.answer(d.Property, d.Low), p.answer(d.Property, d.High), p.answer(d.Property, d.Used),
		})
	}
	p.table(t)
	if more := len(list) - shownDisagreements; more > 0 {
		p.para(quiet, say(fmt.Sprintf("%d more lie between %.3g and %.3g times apart.", more, list[len(list)-1].Factor, list[shownDisagreements].Factor)))
	}
}

// someOf names the first of several materials and counts the rest.
func someOf(list []string) string {
	const named = 3
	if len(list) <= named {
		return strings.Join(list, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(list[:named], ", "), len(list)-named)
}

func methodTail(method string) string {
	if method == "" {
		return ""
	}
	return ", " + method
}

// answer writes a value with its source.
func (p *page) answer(property string, a census.Answer) Text {
	words := p.value(quantity.Exact(a.SI), p.dimensionOf(property)) + ", " + a.Source
	if a.Doubtful {
		words += ", in doubt"
	}
	return marked(words, a.Evidence)
}

func (p *page) dimensionOf(property string) quantity.Dimension {
	if x := p.Base.Property(property); x != nil {
		return x.Dimension
	}
	return quantity.Number
}

// simulated says what the hourly model can take.
func (p *page) simulated(h census.Hourly) {
	p.heading(1, "What can be simulated hour by hour")
	p.para(plain, say(fmt.Sprintf("%d materials with data of their own, %d with stand-ins or defaults that a result names, %d not at all: an assembly with one of these is answered unknown.",
		h.Own, len(h.Borrowed), len(h.Unknown))))
	t := Table{Caption: "Not at all", Heads: []string{"Material", "What is missing"}}
	for _, s := range h.Unknown {
		t.Rows = append(t.Rows, []Text{say(s.Material), say(strings.Join(s.Why, "; "))})
	}
	p.table(t)
	t = Table{Caption: "With stand-ins and defaults", Heads: []string{"Material", "What stands in"}}
	for _, s := range h.Borrowed {
		t.Rows = append(t.Rows, []Text{say(s.Material), marked(strings.Join(s.Why, "; "), kb.Assumed)})
	}
	p.table(t)
}

// missing lists layer materials without a value that the steady methods need.
func (p *page) missing(list []census.Gap) {
	if len(list) == 0 {
		return
	}
	p.heading(1, "What is missing")
	t := Table{Heads: []string{"Property", "Materials without it"}}
	for _, g := range list {
		t.Rows = append(t.Rows, []Text{say(capital(p.propertyTitle(g.Property))), say(strings.Join(g.Materials, ", "))})
	}
	p.table(t)
}
