package swap

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/kb"
	"relath/kb/quantity"
)

// Shortlist is how many proposals are verified hour by hour.
const Shortlist = 12

// Verified is what hourly runs make of a proposal: yes where nothing gets worse
// that matters, no where mold or wet wood would pass a limit that it does not pass
// now or passes less, depends where that is so at some corner of the ranges only.
type Verified struct {
	Verdict kb.Verdict
	Because []string
	Leak    []LeakTime // nil where no leak was run
}

// Verify runs the hourly model on the assembly as it is, over all its variants,
// and on the first of the proposals, for the first choice of each doubt. It adds
// what changed to the comparison and what a leak would do, and turns down what the
// hours speak against.
func Verify(ctx context.Context, base *kb.Base, a *Advice, o analysis.Hourly) error {
	all := o
	all.Deciders = true
	if err := analysis.AddHourly(ctx, base, all, a.Before); err != nil {
		return err
	}
	o.First = true
	list := a.Proposals[:min(Shortlist, len(a.Proposals))]
	var results []*analysis.Result
	for i := range list {
		results = append(results, list[i].After)
	}
	if err := analysis.AddHourly(ctx, base, o, results...); err != nil {
		return err
	}
	before := a.Before.Variants[0].Facts
	for i := range list {
		p := &list[i]
		after := p.After.Variants[0].Facts
		p.Compare = withHourly(p.Compare, base, before, after)
		p.Hourly = verdict(before, after)
	}
	if err := leaks(ctx, base, a, list, o); err != nil {
		return err
	}
	a.Proposals = slices.DeleteFunc(a.Proposals, func(p Proposal) bool {
		if p.Hourly == nil || p.Hourly.Verdict != kb.No {
			return false
		}
		a.Rejections = append(a.Rejections, Rejection{Candidate: p.Title, ID: idOf(&p), Layer: p.Layer, Because: p.Hourly.Because})
		return true
	})
	return nil
}

// idOf is the recipe or material of a proposal.
func idOf(p *Proposal) string {
	id, _, _ := strings.Cut(p.ID, "@")
	return id
}

// withHourly gives a comparison with the hourly facts that the registry wants
// before and after, in place of those that it has.
func withHourly(list []Compared, base *kb.Base, before, after analysis.Facts) []Compared {
	ids, _ := analysis.HourlyFacts()
	list = slices.DeleteFunc(slices.Clone(list), func(c Compared) bool { return slices.Contains(ids, c.Fact.ID) })
	for _, fact := range base.Facts {
		b, a := before[fact.ID], after[fact.ID]
		if fact.Screen != "before-after" || !slices.Contains(ids, fact.ID) || !b.Known || !a.Known {
			continue
		}
		list = append(list, Compared{
			Fact: fact, Before: b.Range, After: a.Range, Mark: b.Evidence.Weaker(a.Evidence),
			Change: change(fact.Better, b.Range, a.Range),
		})
	}
	return list
}

// Changes below which nothing got worse.
const (
	sameIndex = 0.05
	sameHours = 24
)

// verdict holds what the hours say after against before.
func verdict(before, after analysis.Facts) *Verified {
	if e := after["mold-index-cavity"]; !after["heat-loss"].Known {
		return &Verified{Verdict: kb.Unknown, Because: []string{"no hourly answer: " + e.Missing}}
	}
	v := &Verified{Verdict: kb.Yes}
	for _, x := range []struct {
		fact, words string
		limit, same float64
	}{
		{"mold-index-cavity", "the mold index inside", analysis.LimitOf("mold-index-cavity"), sameIndex},
		{"mold-index-room", "the mold index at the room face", analysis.LimitOf("mold-index-room"), sameIndex},
		{"wood-wet-hours", "the hours of wood above 20 % in a year", sameHours, sameHours},
	} {
		a := after[x.fact]
		if !a.Known {
			continue
		}
		b := before[x.fact] // zero where nothing of the kind was there
		passes := func(at func(quantity.Range) float64) bool {
			return at(a.Range) > x.limit && at(a.Range) > at(b.Range)+x.same
		}
		switch {
		case passes(func(r quantity.Range) float64 { return r.Best }):
			v.add(kb.No, fmt.Sprintf("hour by hour %s would go from %.3g to %.3g, limit %g", x.words, b.Range.Best, a.Range.Best, x.limit))
		case passes(func(r quantity.Range) float64 { return r.High }):
			v.add(kb.Depends, fmt.Sprintf("hour by hour %s could go from %.3g to %.3g, limit %g", x.words, b.Range.High, a.Range.High, x.limit))
		}
	}
	return v
}

// add keeps the worst verdict with all reasons for it.
func (v *Verified) add(verdict kb.Verdict, because string) {
	switch {
	case v.Verdict == verdict:
		v.Because = append(v.Because, because)
	case v.Verdict != kb.No:
		v.Verdict, v.Because = verdict, []string{because}
	}
}
