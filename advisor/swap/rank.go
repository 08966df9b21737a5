package swap

import (
	"cmp"
	"slices"

	"relath/kb"
)

// rank orders proposals: what can be built before what cannot, then by the
// weight of what they clear less what they bring, then by drying gained.
func rank(a *Advice) {
	slices.SortStableFunc(a.Proposals, func(x, y Proposal) int {
		return cmp.Or(
			cmp.Compare(order(x.Standing), order(y.Standing)),
			cmp.Compare(score(&y), score(&x)),
			cmp.Compare(gain(&y), gain(&x)),
			cmp.Compare(x.ID, y.ID),
		)
	})
	slices.SortStableFunc(a.Rejections, func(x, y Rejection) int {
		return cmp.Or(cmp.Compare(x.Layer, y.Layer), cmp.Compare(x.Candidate, y.Candidate))
	})
}

func order(s Standing) int {
	if s == Blocked {
		return 1
	}
	return 0
}

// score weighs findings by their level.
func score(p *Proposal) int {
	weights := map[kb.Level]int{"block": 8, "engineer": 3, "warn": 4, "info": 1}
	total := 0
	for _, f := range p.Resolved {
		total += weights[f.Level]
	}
	for _, f := range p.Introduced {
		total -= weights[f.Level]
	}
	return total
}

// gain is the drying capacity after over before.
func gain(p *Proposal) float64 {
	for _, c := range p.Compare {
		if c.Fact.ID == "drying-capacity" {
			return c.After.Best - c.Before.Best
		}
	}
	return 0
}
