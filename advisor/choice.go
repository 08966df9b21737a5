package advisor

import (
	"context"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/swap"
)

// Choice says what is built: for each assembly of a house a plan, or nothing
// beyond what the description proposes.
type Choice struct {
	Assembly string    // only the assembly of this name; empty: all
	Plans    []string  // ids of plans or swaps, each may be led by "ASSEMBLY=", of a finish by "ROOM PART="; "as-described" for no change
	Best     bool      // the first swap that is not blocked, for every assembly without a plan
	Prefer   swap.Goal // the plan that is best at this, for every assembly without a plan
}

// Chosen gives the plan of each assembly, in the order of the house, and the
// house with all of them. It is a [ChoiceError] when a name or an id means
// nothing, or several things.
func Chosen(ctx context.Context, t rule.Tester, h *assembly.Resolved, c Choice) ([]report.Plan, *assembly.Resolved, error) {
	ids, err := c.assign(h)
	if err != nil {
		return nil, nil, err
	}
	plans, err := c.plans(ctx, t, h, ids)
	if err != nil {
		return nil, nil, err
	}
	finishes, err := c.finishSwaps(t, h)
	if err != nil {
		return nil, nil, err
	}
	after, err := together(t, h, plans, finishes)
	return plans, after, err
}

// plans makes the plan of each assembly. Those that are built alike and are to have
// the same plan share it.
func (c *Choice) plans(ctx context.Context, t rule.Tester, h *assembly.Resolved, ids [][]string) ([]report.Plan, error) {
	before, _, err := computed(ctx, t.Base, h.Assemblies)
	if err != nil {
		return nil, err
	}
	type wanted struct {
		description
		free bool
		ids  string
	}
	first := alike(len(ids), func(i int) wanted {
		return wanted{describe(h.Assemblies[i]), c.free(h.Assemblies[i]), strings.Join(ids[i], " ")}
	})
	plans := make([]report.Plan, len(ids))
	err = each(len(plans), func(i int) error {
		if first[i] != i {
			return nil
		}
		var err error
		plans[i], err = c.plan(ctx, t, before[i], ids[i])
		return err
	})
	if err != nil {
		return nil, err
	}
	return plans, each(len(plans), func(i int) error {
		var err error
		switch at := first[i]; {
		case at == i:
		case inTurn(&plans[at]):
			plans[i], err = onAlike(t, &plans[at], before[i])
		default:
			plans[i], err = c.plan(ctx, t, before[i], ids[i])
		}
		return err
	})
}

// free says whether an assembly without a plan of its own may get one.
func (c *Choice) free(a *assembly.Assembly) bool { return c.Assembly == "" || a.Name == c.Assembly }

// plan makes the plan of one assembly.
func (c *Choice) plan(ctx context.Context, t rule.Tester, before *analysis.Result, ids []string) (report.Plan, error) {
	switch {
	case len(ids) > 0:
		return planOf(ctx, t, before, ids)
	case !c.free(before.Assembly) || !c.Best && c.Prefer == "":
		return planOf(ctx, t, before, []string{AsDescribed})
	case c.Prefer == "":
		return planOf(ctx, t, before, nil)
	}
	id, err := preferred(ctx, t, before, c.Prefer)
	if err != nil {
		return report.Plan{}, err
	}
	if id == "" {
		id = AsDescribed
	}
	return planOf(ctx, t, before, []string{id})
}

// preferred gives the id of the plan that is best at a goal, or nothing.
func preferred(ctx context.Context, t rule.Tester, before *analysis.Result, goal swap.Goal) (string, error) {
	advice, err := swap.Propose(ctx, t, before.Assembly, swap.Options{Before: before})
	if err != nil {
		return "", err
	}
	if advice.Leave != "" {
		return "", nil
	}
	planning, err := swap.Plans(ctx, t, advice, swap.PlanOptions{Prefer: goal})
	if err != nil || len(planning.Plans) == 0 {
		return "", err
	}
	return planning.Plans[0].ID, nil
}

// assign gives each assembly the ids meant for it.
func (c *Choice) assign(h *assembly.Resolved) ([][]string, error) {
	if _, err := Choose(h, c.Assembly); err != nil && (c.Assembly != "" || len(h.Finishes) == 0) {
		return nil, err
	}
	ids := make([][]string, len(h.Assemblies))
	for _, plan := range c.Plans {
		if at, _ := finishOf(h, plan); at >= 0 || plan == AsDescribed && c.Assembly == "" {
			continue // of a finish, or what an assembly without a plan is
		}
		i, id, err := c.assemblyOf(h, plan)
		if err != nil {
			return nil, err
		}
		ids[i] = append(ids[i], id)
	}
	return ids, nil
}

// assemblyOf finds the assembly that a plan is for: the one named before it, else
// the only one that has all layers of the plan.
func (c *Choice) assemblyOf(h *assembly.Resolved, plan string) (int, string, error) {
	names := assemblyNames(h)
	name, id, named := strings.Cut(plan, "=")
	if !named {
		name, id = c.Assembly, plan
	}
	if len(names) == 1 && !named {
		return 0, id, nil
	}
	if name != "" {
		i := slices.Index(names, name)
		if i < 0 {
			return 0, "", &ChoiceError{What: "assembly or finish", Name: name, Allowed: append(names, finishNames(h)...)}
		}
		return i, id, nil
	}
	var fits []int
	for i, a := range h.Assemblies {
		if hasAll(a, id) {
			fits = append(fits, i)
		}
	}
	switch len(fits) {
	case 1:
		return fits[0], id, nil
	case 0:
		return 0, "", &ChoiceError{What: "plan", Name: id, Allowed: []string{AsDescribed, "those that relath advise names, each with the layer it changes"}}
	}
	var allowed []string
	for _, i := range fits {
		allowed = append(allowed, names[i])
	}
	return 0, "", &ChoiceError{What: "assembly of " + id, Allowed: allowed, Flag: "--plan ASSEMBLY=ID"}
}

// hasAll says whether an assembly has every layer that a plan changes.
func hasAll(a *assembly.Assembly, plan string) bool {
	for _, step := range swap.PlanSteps([]string{plan}) {
		_, layer, _ := strings.Cut(step, "@")
		if !hasLayer(a, layer) && layer != a.Name {
			return false
		}
	}
	return true
}

func assemblyNames(h *assembly.Resolved) []string {
	var list []string
	for _, a := range h.Assemblies {
		list = append(list, a.Name)
	}
	return list
}

// together puts all plans into one description and reads it back.
func together(t rule.Tester, h *assembly.Resolved, plans []report.Plan, finishes []*report.FinishSwap) (*assembly.Resolved, error) {
	if !slices.ContainsFunc(plans, func(p report.Plan) bool { return len(p.Steps) > 0 }) &&
		!slices.ContainsFunc(finishes, func(x *report.FinishSwap) bool { return x != nil }) {
		return h, nil
	}
	house := *h.House
	house.Assemblies = slices.Clone(house.Assemblies)
	for i := range plans {
		house.Assemblies[i] = plans[i].After.Assembly.House.House.Assemblies[i]
	}
	house.Finishes = slices.Clone(house.Finishes)
	for i, x := range finishes {
		if x != nil {
			house.Finishes[i] = withFinish(house.Finishes[i], x)
		}
	}
	text, err := assembly.Write(&house)
	if err != nil {
		return nil, err
	}
	after, err := Load(t.Base, "plan.yaml", text)
	if err != nil {
		return nil, fmt.Errorf("the plans do not go together: %w", err)
	}
	return after, nil
}

// each calls f for 0 to n−1 on all processors, begun in that order, and gives the
// first error in it.
func each(n int, f func(i int) error) error {
	errs := make([]error, n)
	var group sync.WaitGroup
	var next atomic.Int64
	for range min(n, max(1, runtime.GOMAXPROCS(0))) {
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				errs[i] = f(i)
			}
		})
	}
	group.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
