package advisor

import (
	"context"
	"time"

	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/advisor/takeoff"
	"relath/kb"
)

// Ordering says what an order list is made of.
type Ordering struct {
	Choice
	All      bool               // what stands counts too
	Prices   *takeoff.PriceBook // nil for none
	Schedule bool
	Start    time.Time // zero: days are counted
}

// Order takes the quantities of a house with the plans chosen for its assemblies,
// its cost where there are prices, and its sequence of work. What stands and
// stays is not bought.
func Order(ctx context.Context, t rule.Tester, h *assembly.Resolved, w Ordering) (report.Order, error) {
	if len(w.Plans) == 0 && (len(h.Assemblies) == 0 || !w.Best && w.Prefer == "") && !w.Schedule {
		return ordered(t, h, h, nil, w), nil
	}
	plans, after, err := Chosen(ctx, t, h, w.Choice)
	if err != nil {
		return report.Order{House: h}, err
	}
	o := ordered(t, h, after, plans, w)
	finishes, err := w.finishSwaps(t, h)
	for i, x := range finishes {
		if x != nil {
			f := &h.Finishes[i]
			o.Plan = append(o.Plan, report.Planned{
				Assembly: finishName(f), Title: x.Proposal.Title,
				Changes: []swap.Change{{Layer: f.Name, From: x.Old.Name, To: x.Proposal.Material.Name}},
			})
		}
	}
	if err != nil || !w.Schedule {
		return o, err
	}
	s := report.Spec{Plans: plans, Takeoff: o.Takeoff}
	if s.Finishes, err = specFinishes(t, h, after, w.Choice); err != nil {
		return o, err
	}
	o.Cautions = s.Cautions()
	return o, nil
}

// ordered takes the quantities of a house after its plans.
func ordered(t rule.Tester, before, after *assembly.Resolved, plans []report.Plan, w Ordering) report.Order {
	o := report.Order{House: before}
	job := takeoff.Job{House: after, Only: w.Assembly, All: w.All, Recipes: make(map[string][]*kb.Recipe)}
	for _, p := range plans {
		if len(p.Steps) == 0 {
			continue
		}
		job.Before = before
		name := p.Before.Assembly.Name
		for _, s := range p.Steps {
			o.Plan = append(o.Plan, report.Planned{Assembly: name, Title: s.Title, Changes: s.Changes})
			if s.Recipe != nil {
				job.Recipes[name] = append(job.Recipes[name], s.Recipe)
			}
		}
	}
	o.Takeoff = takeoff.Take(t.Base, job)
	if w.Prices != nil && len(o.Takeoff.Lines) > 0 {
		o.Cost = o.Takeoff.Price(t.Base, w.Prices)
	}
	if w.Schedule && len(o.Takeoff.Lines) > 0 {
		o.Schedule = o.Takeoff.Schedule(t.Base, before.Place, w.Start)
	}
	return o
}
