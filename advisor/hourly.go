package advisor

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/swap"
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
	results := make([]*analysis.Result, len(list))
	for i, a := range list {
		var err error
		if results[i], err = analysis.Run(ctx, t.Base, a); err != nil {
			return nil, err
		}
	}
	o.Deciders = true
	if err := analysis.AddHourly(ctx, t.Base, o, results...); err != nil {
		return nil, err
	}
	out := make([]report.Analysis, len(list))
	for i, r := range results {
		var err error
		if out[i], err = judged(t, r); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// AdviseHourly finds swaps, verifies the first of them hour by hour, and adds what
// hourly runs find in the assembly as it is.
func AdviseHourly(ctx context.Context, t rule.Tester, list []*assembly.Assembly, opts swap.Options, o Hourly) ([]*swap.Advice, error) {
	out, err := Advise(ctx, t, list, opts)
	if err != nil {
		return nil, err
	}
	for _, a := range out {
		if err := swap.Verify(ctx, t.Base, a, o); err != nil {
			return nil, err
		}
		found := rule.Evaluate(t, a.Before)
		if err := t.Flips(a.Before, found); err != nil {
			return nil, err
		}
		addFindings(a, found)
	}
	return out, nil
}

// addFindings puts what hourly runs found beside the rest. An answer to leave the
// assembly alone rests on what was known without them, and says so.
func addFindings(a *swap.Advice, found []rule.Finding) {
	var titles []string
	for _, f := range found {
		known := slices.ContainsFunc(a.Findings, func(x rule.Finding) bool { return x.Rule == f.Rule })
		if !known && f.Verdict != kb.Yes {
			titles = append(titles, fmt.Sprintf("%s (%s)", f.Title, f.Verdict))
		}
	}
	a.Findings = found
	if a.Leave != "" && len(titles) > 0 {
		a.Leave += " That is by the month; the hours find more: " + strings.Join(titles, "; ") + "."
	}
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

// AskError says that something was asked for that there is not.
type AskError = analysis.AskError

// LeakFace and LeakDay say where and when a leak is.
type (
	LeakFace = analysis.LeakFace
	LeakDay  = analysis.LeakDay
)

// ParseLeakDay reads a day as MM-DD.
func ParseLeakDay(text string) (LeakDay, error) { return analysis.ParseLeakDay(text) }

// ExportHourly writes the hourly runs of assemblies as plain tables, those of each
// assembly into a folder of its own. Assemblies without an hourly answer are left
// out; it is an error when that leaves none.
func ExportHourly(ctx context.Context, t rule.Tester, list []*assembly.Assembly, o Hourly, create analysis.Create) error {
	return exportEach(list, func(a *assembly.Assembly) error {
		return analysis.ExportHourly(ctx, t.Base, a, o, under(a, create))
	})
}

// ExportLeak writes the runs of a leak as plain tables, as [ExportHourly] does.
func ExportLeak(ctx context.Context, t rule.Tester, list []*assembly.Assembly, w Wetting, create analysis.Create) error {
	if w.Layer != "" {
		list = slices.DeleteFunc(slices.Clone(list), func(a *assembly.Assembly) bool { return !hasLayer(a, w.Layer) })
	}
	return exportEach(list, func(a *assembly.Assembly) error {
		return analysis.ExportLeak(ctx, t.Base, a, w, under(a, create))
	})
}

func exportEach(list []*assembly.Assembly, export func(*assembly.Assembly) error) error {
	var nothing error
	written := 0
	for _, a := range list {
		var asked *AskError
		switch err := export(a); {
		case errors.As(err, &asked):
			nothing = fmt.Errorf("%s: %w", a.Name, err)
		case err != nil:
			return fmt.Errorf("%s: %w", a.Name, err)
		default:
			written++
		}
	}
	if written > 0 {
		return nil
	}
	return nothing
}

// under puts the files of an assembly into a folder of its name and number.
func under(a *assembly.Assembly, create analysis.Create) analysis.Create {
	plain := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return '-'
	}, a.Name)
	return func(name string) (io.WriteCloser, error) {
		return create(fmt.Sprintf("%d-%s/%s", a.Index+1, plain, name))
	}
}
