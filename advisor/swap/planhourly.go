package swap

import (
	"context"
	"fmt"

	"relath/advisor/analysis"
	"relath/kb"
)

// hourly runs plans hour by hour and gives for each the reasons that turn it
// down: a mold index above its limit at some corner of the ranges, or what turns
// a single swap down. Plans for which there is no hourly answer stay and say so.
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
		results = append(results, p.After)
	}
	if err := analysis.AddHourly(ctx, s.base, o, results...); err != nil {
		return nil, err
	}
	before := s.before.Variants[0].Facts
	for i, p := range plans {
		after := p.After.Variants[0].Facts
		p.Compare = append(p.Compare, compareHourly(s.base, before, after)...)
		p.Proposal.Hourly = verdict(before, after)
		if p.Proposal.Hourly.Verdict == kb.No {
			why[i] = p.Proposal.Hourly.Because
		}
		why[i] = append(why[i], moldy(after)...)
	}
	return why, nil
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
