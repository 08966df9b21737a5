package cli

import (
	"context"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/kb"
)

// analysisPage writes analyzed assemblies, after the page of their house where
// all of it was asked for and it is more than one assembly.
func (a *app) analysisPage(ctx context.Context, base *kb.Base, h *assembly.Resolved, all bool, results []report.Analysis, under advisor.Hourly) error {
	m := a.maker(base)
	data := func() (any, error) { return m.AnalysisData(results), nil }
	if !all || !advisor.ManyParts(h) {
		return a.page("analysis", m.Analysis(results), data)
	}
	whole, err := advisor.House(ctx, a.tester(base), h, results, under)
	if err != nil {
		return computed(err)
	}
	return a.answer(report.Answer{Kind: "analysis", Document: m.HouseAnalysis(h, whole, results), House: m.HouseData(whole)}, data)
}
