package swap

import (
	"context"
	"errors"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
)

// LeakTime is how long the assembly takes to dry after the default leak in one
// season, as it is and changed, by the best values of the first choice of each
// doubt. It is shown; it turns nothing down.
type LeakTime struct {
	Season        string // winter or summer
	Wood          bool   // until wood is below 20 %; else until every layer is near the undisturbed one
	Before, After analysis.Span
}

// leaks wets the assembly as it is and every proposal that was verified.
func leaks(ctx context.Context, base *kb.Base, a *Advice, list []Proposal, o analysis.Hourly) error {
	before, err := wetted(ctx, base, a.Before.Assembly, o)
	if err != nil || before == nil {
		return err
	}
	for i := range list {
		p := &list[i]
		if p.Hourly == nil || p.Hourly.Verdict == kb.Unknown || p.Hourly.Verdict == kb.No {
			continue
		}
		after, err := wetted(ctx, base, p.After.Assembly, o)
		if err != nil {
			return err
		}
		if after != nil {
			p.Hourly.Leak = leakTimes(before, after)
		}
	}
	return nil
}

// wetted runs the default leak, nil where there is no answer.
func wetted(ctx context.Context, base *kb.Base, a *assembly.Assembly, o analysis.Hourly) (*analysis.LeakResult, error) {
	o.Progress = nil
	r, err := analysis.RunLeak(ctx, base, a, analysis.Leak{Hourly: o, Brief: true})
	var asked *analysis.AskError
	switch {
	case errors.As(err, &asked):
		return nil, nil // there is nothing to wet
	case err != nil:
		return nil, err
	case r.Missing != "":
		return nil, nil
	}
	return r, nil
}

// leakTimes sets the times of two leaks side by side.
func leakTimes(before, after *analysis.LeakResult) []LeakTime {
	var list []LeakTime
	for i, b := range before.Cases {
		a := after.Cases[i]
		if b.Wood.Applies && a.Wood.Applies {
			list = append(list, LeakTime{Season: b.Season, Wood: true, Before: b.Wood, After: a.Wood})
		}
		list = append(list, LeakTime{Season: b.Season, Before: b.Dry, After: a.Dry})
	}
	return list
}
