package advisor

import (
	"cmp"
	"context"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/house"
	"relath/advisor/report"
	"relath/advisor/rule"
)

// ManyParts says whether a house is more than one assembly, so that a page of
// the whole says something.
func ManyParts(h *assembly.Resolved) bool {
	return len(h.Assemblies) > 1 || len(h.Finishes)+len(h.Rooms)+len(h.Cold) > 0
}

// House looks at a whole house after its assemblies were analyzed, under the
// weather of hourly runs.
func House(ctx context.Context, t rule.Tester, h *assembly.Resolved, results []report.Analysis, under Hourly) (*house.Result, error) {
	var list []*analysis.Result
	var said []house.Said
	for _, a := range results {
		list = append(list, a.Result)
		said = append(said, saidOf(a))
	}
	return house.New(t.Base, h, under).Run(ctx, list, said)
}

// saidOf passes on what was found about an assembly.
func saidOf(a report.Analysis) house.Said {
	s := house.Said{Assembly: a.Result.Assembly.Name}
	for _, f := range a.Findings {
		s.Findings = append(s.Findings, house.Finding{
			ID: f.Rule, Title: f.Title, Kind: f.Kind, Level: f.Level, Verdict: f.Verdict, Layer: f.Layer, Say: f.Say, Settle: cmp.Or(f.Settle, f.Decider),
		})
	}
	for _, c := range a.Cautions {
		s.Cautions = append(s.Cautions, house.Caution{ID: c.Caution.ID, For: c.For, Certain: c.Certain})
	}
	return s
}
