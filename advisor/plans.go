package advisor

import (
	"context"
	"errors"
	"slices"

	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/swap"
)

// PlanAll adds whole plans to advice. A name of a layer that no assembly has is
// an error.
func PlanAll(ctx context.Context, t rule.Tester, list []*swap.Advice, opts swap.PlanOptions) error {
	var of []*assembly.Assembly
	for _, a := range list {
		of = append(of, a.Assembly)
	}
	for _, name := range opts.Keep {
		if names := layerNames(of); !slices.Contains(names, name) {
			return &ChoiceError{What: "layer", Name: name, Allowed: names}
		}
	}
	for _, a := range list {
		var err error
		if a.Plans, err = swap.Plans(ctx, t, a, opts); err != nil {
			return err
		}
		for _, p := range a.Plans.Plans {
			if err := errors.Join(t.Flips(p.After, p.Introduced), t.Flips(p.After, p.Remaining)); err != nil {
				return err
			}
		}
	}
	return nil
}

// joined builds a plan by its id, the ids of its swaps joined by "+", all of
// them applied to the assembly as described.
func joined(ctx context.Context, t rule.Tester, a *assembly.Assembly, ids []string, plan *report.Plan) error {
	advice, err := swap.Propose(ctx, t, a, swap.Options{Only: swap.PlanSteps(ids)})
	if err != nil {
		return err
	}
	built, why, err := swap.BuildPlan(ctx, t, advice, ids)
	if err != nil {
		return err
	}
	if len(why) > 0 {
		return &PlanError{Assembly: a.Name, Because: why}
	}
	plan.Steps, plan.After = built.Steps, built.After
	plan.Steps[0].Cautions = rule.JoinCautions(plan.Steps[0].Cautions, built.Cautions)
	return nil
}

// PlanError says why the swaps of a plan do not hold up together.
type PlanError struct {
	Assembly string
	Because  []string
}

// Error gives the reasons.
func (e *PlanError) Error() string {
	text := "the plan for the " + e.Assembly + " does not hold up: "
	for i, b := range e.Because {
		if i > 0 {
			text += "; "
		}
		text += b
	}
	return text
}
