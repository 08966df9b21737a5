package advisor

import (
	"slices"
	"strconv"
	"strings"

	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
	"relath/kb/strict"
)

// finishName is how a finish is named in a choice.
func finishName(f *assembly.ResolvedFinish) string { return f.Finish.Room.Value + " " + f.Name }

func finishNames(h *assembly.Resolved) []string {
	var list []string
	for i := range h.Finishes {
		list = append(list, finishName(&h.Finishes[i]))
	}
	return list
}

// finishOf gives the place in the schedule of the finish that a plan is for, −1
// for none, and the id of its swap.
func finishOf(h *assembly.Resolved, plan string) (int, string) {
	name, id, named := strings.Cut(plan, "=")
	if !named || slices.Contains(assemblyNames(h), name) {
		return -1, ""
	}
	return slices.IndexFunc(h.Finishes, func(f assembly.ResolvedFinish) bool { return finishName(&f) == name }), id
}

// finishSwaps gives the swap chosen for each finish of the schedule, nil for none.
// It is a [ChoiceError] when an id is none of its swaps.
func (c *Choice) finishSwaps(t rule.Tester, h *assembly.Resolved) ([]*report.FinishSwap, error) {
	list := make([]*report.FinishSwap, len(h.Finishes))
	for _, plan := range c.Plans {
		at, id := finishOf(h, plan)
		if at < 0 || id == AsDescribed {
			continue
		}
		x, err := finishSwap(t, h, &h.Finishes[at], id)
		if err != nil {
			return nil, err
		}
		list[at] = x
	}
	return list, nil
}

// finishSwap finds a swap of a finish by its id.
func finishSwap(t rule.Tester, h *assembly.Resolved, f *assembly.ResolvedFinish, id string) (*report.FinishSwap, error) {
	allowed := []string{AsDescribed}
	for _, a := range swap.Finishes(t, h) {
		if a.Finish != f.Finish {
			continue
		}
		for i := range a.Proposals {
			p := &a.Proposals[i]
			if p.Recipe.ID == id {
				return &report.FinishSwap{Proposal: p, Old: a.Material}, nil
			}
			allowed = append(allowed, p.Recipe.ID)
		}
		for _, r := range a.Rejections {
			if r.ID == id {
				return nil, &PlanError{Assembly: finishName(f), Because: r.Because}
			}
		}
	}
	return nil, &ChoiceError{What: "plan for the " + finishName(f), Name: id, Allowed: allowed}
}

// withFinish describes a finish after its swap: the new material in the size that
// was there, with the coats of the recipe.
func withFinish(f assembly.Finish, x *report.FinishSwap) assembly.Finish {
	f.Material, f.State, f.Coats = assembly.Pick(x.Proposal.Material.ID), "proposed", nil
	r := x.Proposal.Recipe
	for _, coats := range []*kb.NewCoats{r.With[0].Coats, r.Coats} {
		if coats == nil {
			continue
		}
		for _, run := range slices.Concat(coats.In, coats.Out) {
			f.Coats = append(f.Coats, assembly.CoatRun{Coating: assembly.Pick(run.Coating), Count: strict.Text{Value: strconv.Itoa(max(1, run.Count))}})
		}
	}
	return f
}
