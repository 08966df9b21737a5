package swap

import (
	"cmp"
	"slices"

	"relath/kb"
)

// rank orders proposals: what can be built before what cannot, then by the
// weight of what they clear less what they bring, then by drying gained.
func rank(a *Advice, w levelWeights) {
	slices.SortStableFunc(a.Proposals, func(x, y Proposal) int {
		return cmp.Or(
			cmp.Compare(order(x.Standing), order(y.Standing)),
			cmp.Compare(w.score(&y), w.score(&x)),
			cmp.Compare(gain(&y), gain(&x)),
			cmp.Compare(x.Title, y.Title),
			cmp.Compare(x.Layer, y.Layer),
		)
	})
	prune(a, w)
	slices.SortStableFunc(a.Rejections, func(x, y Rejection) int {
		return cmp.Or(cmp.Compare(x.Layer, y.Layer), cmp.Compare(x.Candidate, y.Candidate))
	})
}

// order puts what cannot be built last.
func order(s Standing) int {
	if s == Blocked {
		return 1
	}
	return 0
}

// levelWeights say how much a finding of a level counts.
type levelWeights map[kb.Level]float64

// weightsOf reads the weights from the base.
func weightsOf(base *kb.Base) levelWeights {
	w := levelWeights{}
	for _, level := range kb.Level("").Allowed() {
		if a := base.Assumption("weight-of-" + level); a != nil {
			w[kb.Level(level)] = a.SI.Best
		}
	}
	return w
}

// score weighs what a proposal clears against what it brings, by level.
func (w levelWeights) score(p *Proposal) float64 {
	total := 0.0
	for _, f := range p.Resolved {
		if !suspected(&f) {
			total += w[f.Level]
		}
	}
	for _, f := range p.Introduced {
		total -= w[f.Level]
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
// in every respect that counts, and keeps the reason. Proposals come in their
// order, so that what beats another is itself kept.
func prune(a *Advice, w levelWeights) {
	var kept []Proposal
	for _, p := range a.Proposals {
		i := slices.IndexFunc(kept, func(o Proposal) bool { return w.score(&o) >= w.score(&p) && beats(&o, &p) })
		if i < 0 {
			kept = append(kept, p)
			continue
		}
		a.Rejections = append(a.Rejections, Rejection{
			Candidate: p.Material.Name, ID: p.Material.ID, Layer: p.Layer,
			Because: []string{kept[i].Material.Name + " is as good or better for this layer in findings, drying, condensate, glue, food, heat loss and weight"},
		})
	}
	a.Proposals = kept
	var joint []Proposal
	for _, p := range a.Joint {
		beaten := func(o Proposal) bool { return w.score(&o) >= w.score(&p) && beats(&o, &p) }
		if !slices.ContainsFunc(kept, beaten) && !slices.ContainsFunc(joint, beaten) {
			joint = append(joint, p)
		}
	}
	a.Joint = joint
}

// beats says whether a single for the same layer is in nothing that is compared
// worse than another one that stands no better.
func beats(o, p *Proposal) bool {
	if o.Material == nil || p.Material == nil || o.Layer != p.Layer || weight(o.Standing) > weight(p.Standing) {
		return false
	}
	for i := range min(len(o.Compare), len(p.Compare)) {
		c, d := &o.Compare[i], &p.Compare[i]
		if change(c.Fact.Better, d.After, c.After) == poorer {
			return false
		}
	}
	return true
}

// weight orders the standings from free to blocked.
func weight(s Standing) int {
	return slices.Index([]Standing{Free, Warned, NeedsEngineer, Blocked}, s)
}
