package advisor

import (
	"context"
	"fmt"
	"slices"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/swap"
)

// AsDescribed is the plan that changes nothing.
const AsDescribed = "as-described"

// Plan applies swaps to an assembly one after the other, each found and
// recomputed on what the ones before it left, and judges the whole. Without ids
// it takes the first proposal that clears a finding and is not blocked, or the
// assembly as described where there is none.
func Plan(ctx context.Context, t rule.Tester, a *assembly.Assembly, ids []string) (report.Plan, error) {
	before, err := analysis.Run(ctx, t.Base, a)
	if err != nil {
		return report.Plan{}, err
	}
	return planOf(ctx, t, before, ids)
}

// planOf is Plan for an assembly that was analyzed.
func planOf(ctx context.Context, t rule.Tester, before *analysis.Result, ids []string) (report.Plan, error) {
	plan := report.Plan{Before: before, After: before}
	if !slices.Equal(ids, []string{AsDescribed}) {
		if err := steps(ctx, t, ids, &plan); err != nil {
			return report.Plan{}, err
		}
	}
	plan.Findings = rule.Evaluate(t, plan.After)
	plan.Cautions = swap.DescribedCautions(t, plan.After, plan.Findings)
	for _, s := range plan.Steps {
		plan.Cautions = rule.JoinCautions(plan.Cautions, s.Cautions)
	}
	return plan, nil
}

// steps finds the swaps of a plan.
func steps(ctx context.Context, t rule.Tester, ids []string, plan *report.Plan) error {
	if len(swap.PlanSteps(ids)) > len(ids) {
		return joined(ctx, t, plan.Before.Assembly, ids, plan)
	}
	if len(ids) == 0 {
		return firstStep(ctx, t, plan)
	}
	for _, id := range ids {
		now := plan.After
		advice, err := swap.Propose(ctx, t, now.Assembly, swap.Options{Only: []string{id}, Before: now})
		if err != nil {
			return err
		}
		step := find(advice, id)
		if step == nil {
			return unknownPlan(ctx, t, now.Assembly, id)
		}
		plan.Steps, plan.After = append(plan.Steps, step), step.After
	}
	return nil
}

// firstStep takes the first proposal that clears a finding and is not blocked, if
// there is one.
func firstStep(ctx context.Context, t rule.Tester, plan *report.Plan) error {
	found, err := swap.First(ctx, t, plan.Before)
	if err != nil {
		return err
	}
	plan.Leave = found.Leave
	plan.Others = slices.DeleteFunc(found.IDs, func(id string) bool { return id == found.First })
	if found.First == "" {
		return nil
	}
	return steps(ctx, t, []string{found.First}, plan)
}

// unknownPlan says which plans there are, and why the one that was asked for is
// none of them where it was turned down.
func unknownPlan(ctx context.Context, t rule.Tester, a *assembly.Assembly, id string) error {
	advice, err := swap.Propose(ctx, t, a, swap.Options{})
	if err != nil {
		return err
	}
	for _, r := range advice.Rejections {
		if r.ID+"@"+r.Layer == id {
			return &PlanError{Assembly: a.Name, Because: r.Because}
		}
	}
	return &ChoiceError{What: fmt.Sprintf("plan for the %s", a.Name), Name: id, Allowed: append(proposalIDs(advice), AsDescribed)}
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
