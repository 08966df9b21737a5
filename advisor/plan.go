package advisor

import (
	"context"
	"fmt"
	"slices"

	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/swap"
)

// AsDescribed is the plan that changes nothing.
const AsDescribed = "as-described"

// Plan applies swaps to an assembly one after the other, each found and
// recomputed on what the ones before it left, and judges the whole. Without ids
// it takes the first proposal that is not blocked, or the assembly as described
// where nothing asks for a change.
func Plan(ctx context.Context, t rule.Tester, a *assembly.Assembly, ids []string) (report.Plan, error) {
	before, err := Analyze(ctx, t, []*assembly.Assembly{a})
	if err != nil {
		return report.Plan{}, err
	}
	plan := report.Plan{Before: before[0].Result, After: before[0].Result}
	if !slices.Equal(ids, []string{AsDescribed}) {
		if err := steps(ctx, t, a, ids, &plan); err != nil {
			return report.Plan{}, err
		}
	}
	after := judged(t, plan.After)
	plan.Findings, plan.Cautions = after.Findings, after.Cautions
	for _, s := range plan.Steps {
		plan.Cautions = withCautions(plan.Cautions, s.Cautions)
	}
	text, err := assembly.Write(plan.After.Assembly.House.House)
	plan.File = string(text)
	return plan, err
}

// steps finds the swaps of a plan.
func steps(ctx context.Context, t rule.Tester, a *assembly.Assembly, ids []string, plan *report.Plan) error {
	if len(swap.PlanSteps(ids)) > len(ids) {
		return joined(ctx, t, a, ids, plan)
	}
	chosen := slices.Clone(ids)
	for i := 0; i == 0 || i < len(chosen); i++ {
		advice, err := swap.Propose(ctx, t, a, swap.Options{})
		if err != nil {
			return err
		}
		if i == 0 {
			plan.Others = proposalIDs(advice)
			if len(chosen) == 0 {
				chosen = best(advice)
			}
			if len(chosen) == 0 {
				return nil
			}
		}
		step := find(advice, chosen[i])
		if step == nil {
			return &ChoiceError{What: fmt.Sprintf("plan for the %s", a.Name), Name: chosen[i], Allowed: append(proposalIDs(advice), AsDescribed)}
		}
		plan.Steps, plan.After, a = append(plan.Steps, step), step.After, step.After.Assembly
	}
	plan.Others = slices.DeleteFunc(plan.Others, func(id string) bool { return slices.Contains(chosen, id) })
	return nil
}

// best is the first proposal that is not blocked.
func best(advice *swap.Advice) []string {
	for i := range advice.Proposals {
		if advice.Proposals[i].Standing != swap.Blocked {
			return []string{advice.Proposals[i].ID}
		}
	}
	return nil
}

func proposalIDs(advice *swap.Advice) []string {
	var ids []string
	for i := range advice.Proposals {
		ids = append(ids, advice.Proposals[i].ID)
	}
	return ids
}

func find(advice *swap.Advice, id string) *swap.Proposal {
	for i := range advice.Proposals {
		if advice.Proposals[i].ID == id {
			return &advice.Proposals[i]
		}
	}
	return nil
}

// withCautions adds cautions that are not there yet; a certain one replaces one
// that only may apply.
func withCautions(list, more []rule.Caution) []rule.Caution {
	for _, c := range more {
		at := slices.IndexFunc(list, func(o rule.Caution) bool { return o.Caution.ID == c.Caution.ID })
		switch {
		case at < 0:
			list = append(list, c)
		case c.Certain && !list[at].Certain:
			list[at] = c
		}
	}
	return list
}
