package report

import (
	"relath/advisor/swap"
)

// SwapPage is one swap of an advice by itself, for a page of its own.
type SwapPage struct {
	ID, Title, Layer string
	Standing         string
	Clears, Worsens  []string // in words; empty for nothing
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
	p.proposalBody(1, x, make(map[string]int))
	return SwapPage{
		ID: x.ID, Title: x.Title, Layer: x.Layer, Standing: string(x.Standing),
		Clears: titles(x.Resolved), Worsens: append(p.factsThat(x, "worse"), titles(x.Introduced)...), Page: p.finish(),
	}
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
	for i, plan := range x.Plans {
		q := m.page(plan.Title, "")
		q.planBody(i+1, x, plan, make(map[string]int))
		list = append(list, PlanPage{ID: plan.ID, Title: join(plan.Good, "and"), Page: q.finish()})
	}
	return p.finish(), list
}
