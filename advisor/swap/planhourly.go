package swap

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"relath/advisor/analysis"
	"relath/kb"
)

// hourly runs plans hour by hour for the first choice of each doubt and gives for
// each the reasons that turn it down: a mold index above its limit at some corner
// of the ranges, or what turns a single swap down. Plans for which there is no
// hourly answer stay and say so.
func (s *search) hourly(ctx context.Context, plans []*Plan) ([][]string, error) {
	why := make([][]string, len(plans))
	if s.opts.Hourly == nil || len(plans) == 0 {
		return why, nil
	}
	o := *s.opts.Hourly
	o.First = true
	var results []*analysis.Result
	if s.before.Hourly == nil {
		results = append(results, s.before)
	}
	for _, p := range plans {
		if p.After.Hourly == nil { // a single swap was run with the swaps
			results = append(results, p.After)
		}
	}
	if err := analysis.AddHourly(ctx, s.base, o, results...); err != nil {
		return nil, err
	}
	before := s.before.Variants[0].Facts
	for i, p := range plans {
		after := p.After.Variants[0].Facts
		p.Compare = withHourly(p.Compare, s.base, before, after)
		p.Proposal.Hourly = verdict(before, after)
		if p.Proposal.Hourly.Verdict == kb.No {
			why[i] = p.Proposal.Hourly.Because
		}
		why[i] = append(why[i], moldy(after)...)
	}
	return why, nil
}

// inDoubt runs picked plans hour by hour for every choice of the doubts and turns
// down those that are moldy with one of them. It says whether it did.
func (s *search) inDoubt(ctx context.Context, picks []pick, built map[int]*Plan, out *Planning) (failed bool, err error) {
	if s.opts.Hourly == nil {
		return false, nil
	}
	var open []member
	var results []*analysis.Result
	for _, m := range picks {
		p := built[m.index]
		if p == nil || p.inDoubt || len(p.After.Variants) < 2 {
			continue
		}
		again, err := analysis.Run(ctx, s.base, p.After.Assembly)
		if err != nil {
			return false, err
		}
		open, results = append(open, m.member), append(results, again)
	}
	if err := analysis.AddHourly(ctx, s.base, *s.opts.Hourly, results...); err != nil {
		return false, err
	}
	for i, m := range open {
		p := built[m.index]
		p.After, p.inDoubt = results[i], true
		var why []string
		for _, v := range results[i].Variants[1:] {
			why = append(why, without(moldy(v.Facts), why)...)
		}
		if len(why) > 0 {
			s.out[m.index], failed = true, true
			delete(built, m.index)
			out.TurnedDown = append(out.TurnedDown, s.turnedAway(m, why))
		}
	}
	return failed, nil
}

// moldy names the mold indices above their limits.
func moldy(after analysis.Facts) []string {
	var list []string
	for _, x := range [][2]string{{"mold-index-cavity", "the mold index inside"}, {"mold-index-room", "the mold index at the room face"}} {
		if e, limit := after[x[0]], analysis.LimitOf(x[0]); e.Known && e.Range.High > limit {
			list = append(list, fmt.Sprintf("hour by hour %s may reach %.3g, limit %g", x[1], e.Range.High, limit))
		}
	}
	return list
}

// byHours orders plans by what the hours say: what holds before what holds at
// some corners only, and that before what could not be run.
func byHours(a, b *Plan) int {
	order := []kb.Verdict{kb.Yes, kb.Depends, kb.Unknown}
	place := func(p *Plan) int {
		if p.Hourly == nil {
			return 0
		}
		return slices.Index(order, p.Hourly.Verdict)
	}
	return cmp.Compare(place(a), place(b))
}

// moldStep is the grid of the mold index; less is the same.
const moldStep = 0.1

// moldMark is the highest mold index as a share of its limit, on its grid; what
// was not run comes last.
func moldMark(p *Plan) int32 {
	most, known := 0.0, false
	for _, id := range []string{"mold-index-cavity", "mold-index-room"} {
		if e := p.After.Variants[0].Facts[id]; e.Known {
			most, known = max(most, e.Range.High/analysis.LimitOf(id)), true
		}
	}
	if !known {
		return math.MaxInt32
	}
	return grid(most, moldStep)
}
