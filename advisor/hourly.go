package advisor

import (
	"context"
	"io"
	"slices"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/kb"
)

// Hourly and Wetting are the wishes for hourly runs and for a leak.
type (
	Hourly  = analysis.Hourly
	Wetting = analysis.Leak
	Weather = analysis.Weather
	Shift   = analysis.Shift
)

// ReadWeather reads a measured hourly year.
func ReadWeather(r io.Reader, at *kb.Place) (*Weather, error) { return analysis.ReadWeather(r, at) }

// AnalyzeHourly analyzes assemblies with the facts of hourly runs, and judges them.
func AnalyzeHourly(ctx context.Context, t rule.Tester, list []*assembly.Assembly, o Hourly) ([]report.Analysis, error) {
	out := make([]report.Analysis, len(list))
	for i, a := range list {
		result, err := analysis.Run(ctx, t.Base, a)
		if err != nil {
			return nil, err
		}
		if err := analysis.AddHourly(ctx, t.Base, result, o); err != nil {
			return nil, err
		}
		out[i] = judged(t, result)
	}
	return out, nil
}

// Leak wets a layer of each of the assemblies. A named layer keeps those that have
// it.
func Leak(ctx context.Context, t rule.Tester, list []*assembly.Assembly, w Wetting) ([]*analysis.LeakResult, error) {
	if w.Layer != "" {
		if !slices.Contains(layerNames(list), w.Layer) {
			return nil, &ChoiceError{What: "layer", Name: w.Layer, Allowed: layerNames(list)}
		}
		list = slices.DeleteFunc(slices.Clone(list), func(a *assembly.Assembly) bool { return !hasLayer(a, w.Layer) })
	}
	var out []*analysis.LeakResult
	for _, a := range list {
		r, err := analysis.RunLeak(ctx, t.Base, a, w)
		if err != nil {
			return nil, err
		}
		out = append(out, r)
	}
	return out, nil
}
