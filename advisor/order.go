package advisor

import (
	"context"
	"time"

	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/takeoff"
	"relath/kb"
)

// Ordering says what an order list is made of.
type Ordering struct {
	Assembly *assembly.Assembly // that the plan changes
	Plan     []string           // ids, none for the house as described
	All      bool               // what stands counts too
	Prices   *takeoff.PriceBook // nil for none
	Schedule bool
	Start    time.Time // zero: days are counted
}

// Order takes the quantities of a house, with a plan for one of its assemblies
// if one is given, its cost where there are prices, and its sequence of work.
func Order(ctx context.Context, t rule.Tester, h *assembly.Resolved, w Ordering) (report.Order, error) {
	o := report.Order{House: h}
	job := takeoff.Job{House: h, All: w.All}
	if len(w.Plan) > 0 {
		plan, err := Plan(ctx, t, w.Assembly, w.Plan)
		if err != nil {
			return o, err
		}
		job.House, job.Before = plan.After.Assembly.House, h
		job.Recipes = make(map[string][]*kb.Recipe)
		for _, s := range plan.Steps {
			o.Plan = append(o.Plan, s.Title)
			if s.Recipe != nil {
				job.Recipes[w.Assembly.Name] = append(job.Recipes[w.Assembly.Name], s.Recipe)
			}
		}
	}
	o.Takeoff = takeoff.Take(t.Base, job)
	if w.Prices != nil && len(o.Takeoff.Lines) > 0 {
		o.Cost = o.Takeoff.Price(t.Base, w.Prices)
	}
	if w.Schedule && len(o.Takeoff.Lines) > 0 {
		o.Schedule = o.Takeoff.Schedule(t.Base, h.Place, w.Start)
	}
	return o, nil
}
