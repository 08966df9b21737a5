package report

import (
	"fmt"

	"relath/advisor/swap"
)

// SwapPage is one swap of an advice by itself, for a page of its own.
type SwapPage struct {
	ID, Title, Layer string
	Standing         string
	Changes          []string // what is done, layer by layer
	Improves         []string // in words, with the numbers before and after; empty for nothing
	Worsens          []string
	Asks             []string // who must agree, and what must be found out first
	Page             *Document
}

// SwapPages gives the swaps of an advice in their order.
func (m Maker) SwapPages(a *swap.Advice) []SwapPage {
	list := make([]SwapPage, len(a.Proposals))
	for i := range a.Proposals {
		list[i] = m.swapPage(&a.Proposals[i])
	}
	return list
}

func (m Maker) swapPage(x *swap.Proposal) SwapPage {
	p := m.page(x.Title, "")
	p.proposalBody(x)
	s := SwapPage{ID: x.ID, Title: x.Title, Layer: x.Layer, Standing: string(x.Standing), Changes: changeWords(x.Changes), Page: p.finish()}
	s.Improves, s.Worsens = p.weighed(x)
	for _, n := range x.Needs {
		s.Asks = append(s.Asks, needWords(n))
	}
	for _, a := range x.Asks {
		s.Asks = append(s.Asks, "To find out first: "+stop(a))
	}
	return s
}

// weighed says what a swap improves and what it makes worse.
func (p *page) weighed(x *swap.Proposal) (improves, worsens []string) {
	for _, t := range titles(x.Resolved) {
		improves = append(improves, "No longer: "+t+".")
	}
	for _, t := range titles(x.Introduced) {
		worsens = append(worsens, "It brings: "+t+".")
	}
	for _, c := range x.Compare {
		text := fmt.Sprintf("%s: %s, before %s.", capital(c.Fact.Title), p.value(c.After, c.Fact.Dimension), p.value(c.Before, c.Fact.Dimension))
		switch c.Change {
		case "better":
			improves = append(improves, text)
		case "worse":
			worsens = append(worsens, text)
		}
	}
	if x.Recipe != nil && x.Recipe.Worse != "" {
		worsens = append(worsens, capital(stop(x.Recipe.Worse)))
	}
	return improves, worsens
}

func changeWords(list []swap.Change) []string {
	var words []string
	for _, t := range changes(list) {
		words = append(words, t.Words)
	}
	return words
}

// Rejections makes the part of a page of advice that says what was turned down;
// a layer keeps only its own candidates.
func (m Maker) Rejections(list []swap.Rejection, layer string) *Document {
	p := m.page("Turned down", "")
	var kept []swap.Rejection
	for _, r := range list {
		if layer == "" || r.Layer == layer {
			kept = append(kept, r)
		}
	}
	p.rejections(kept)
	return p.finish()
}

// PlanPage is one plan for an assembly by itself.
type PlanPage struct {
	ID, Title string
	Standing  string
	Changes   []string
	Improves  []string
	Worsens   []string
	Page      *Document
}

// PlanPages gives the plans of an advice: the table that puts them side by side,
// and each in full.
func (m Maker) PlanPages(a *swap.Advice) (table *Document, list []PlanPage) {
	p := m.page("Plans", "")
	x := a.Plans
	if x == nil {
		return p.finish(), nil
	}
	if len(x.Plans) > 0 {
		p.para(plain, say(howPlansWereFound(x)))
		p.planTable("Side by side", a, x.Plans)
	}
	p.drierAir(x.Air)
	p.turnedDown(x.TurnedDown)
	for _, plan := range x.Plans {
		q := m.page(plan.Title, "")
		q.planBody(x, plan)
		one := PlanPage{ID: plan.ID, Title: join(plan.Good, "and"), Standing: string(plan.Standing), Changes: changeWords(plan.Changes), Page: q.finish()}
		one.Improves, one.Worsens = q.weighed(&plan.Proposal)
		list = append(list, one)
	}
	return p.finish(), list
}
