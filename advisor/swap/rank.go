package swap

import (
	"cmp"
	"slices"

	"relath/kb"
)

// rank orders proposals: what can be built before what cannot, then by the
// weight of what they clear less what they bring, then by drying gained.
func rank(a *Advice) {
	prune(a)
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

// prune turns down single materials that another one for the same layer beats
// in every respect that counts, and keeps the reason.
func prune(a *Advice) {
	var kept []Proposal
	for i := range a.Proposals {
		p := &a.Proposals[i]
		better := beatenBy(p, a.Proposals)
		if better == nil {
			kept = append(kept, *p)
			continue
		}
		a.Rejections = append(a.Rejections, Rejection{
			Candidate: p.Material.Name, ID: p.Material.ID, Layer: p.Layer,
			Because: []string{better.Material.Name + " is as good or better for this layer in findings, drying, condensate, glue, food, heat loss and weight"},
		})
	}
	a.Proposals = kept
}

// beatenBy finds a single for the same layer that is nowhere worse and
// somewhere better; of equals the first by name stays.
func beatenBy(p *Proposal, all []Proposal) *Proposal {
	if p.Material == nil {
		return nil
	}
	for i := range all {
		o := &all[i]
		if o.Material == nil || o.ID == p.ID || o.Layer != p.Layer || order(o.Standing) > order(p.Standing) || score(o) < score(p) {
			continue
		}
		worse, better := standings(o, p)
		if !worse && (better || score(o) > score(p) || o.ID < p.ID) {
			return o
		}
	}
	return nil
}

// standings says whether o is worse or better than p in some compared fact by
// more than the change that counts as none.
func standings(o, p *Proposal) (worse, better bool) {
	for i := range o.Compare {
		c, d := &o.Compare[i], &p.Compare[min(i, len(p.Compare)-1)]
		if c.Fact.ID != d.Fact.ID {
			return true, false
		}
		switch change(c.Fact.Better, d.After, c.After) {
		case "worse":
			worse = true
		case "better":
			better = true
		}
	}
	return worse, better
}
