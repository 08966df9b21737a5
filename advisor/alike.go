package advisor

import (
	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/kb/strict"
)

// description is what an assembly is computed from: the house with its climate and
// its room air, and the assembly as it is written but for its name, its note, its
// size and the side it faces. The sun and driven rain count in hourly runs
// only, which share nothing.
type description struct {
	house *assembly.Resolved
	text  string
}

// describe gives the description of an assembly; one that cannot be written is
// like no other.
func describe(a *assembly.Assembly) description {
	d := *a.Described
	d.Name, d.Faces, d.Area, d.Openings, d.Note = strict.Text{}, "", strict.Text{}, strict.Text{}, ""
	text, err := assembly.Write(&assembly.House{Assemblies: []assembly.Described{d}})
	if err != nil {
		return description{a.House, a.Name}
	}
	return description{a.House, string(text)}
}

// alike gives for each of n things the first that has the same key.
func alike[K comparable](n int, key func(i int) K) []int {
	first := make(map[K]int)
	list := make([]int, n)
	for i := range list {
		k := key(i)
		at, met := first[k]
		if !met {
			first[k], at = i, i
		}
		list[i] = at
	}
	return list
}

// onAlike gives the plan of an assembly for one that is built like it: the same
// steps, in its own description.
func onAlike(t rule.Tester, of *report.Plan, before *analysis.Result) (report.Plan, error) {
	plan := *of
	plan.Before, plan.After, plan.Steps = before, before, nil
	for _, step := range of.Steps {
		on, err := step.On(t.Base, plan.After.Assembly)
		if err != nil {
			return plan, err
		}
		plan.Steps, plan.After = append(plan.Steps, on), on.After
	}
	return plan, nil
}

// inTurn says whether each step of a plan was applied to what the ones before it
// left, and the plan is where the last led.
func inTurn(p *report.Plan) bool {
	return len(p.Steps) == 0 || p.Steps[len(p.Steps)-1].After == p.After
}
