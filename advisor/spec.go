package advisor

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"time"

	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/advisor/takeoff"
)

// Wishes say what goes on the papers of a house beside its plans.
type Wishes struct {
	Prices *takeoff.PriceBook // nil for none
	Start  time.Time          // zero: days are counted
	Whole  bool               // with the page of the whole house as it is
}

// Spec gathers the papers of a house: its plans, the limits that products have
// to keep, quantities, cost where there are prices, and the sequence of work.
func Spec(ctx context.Context, t rule.Tester, h *assembly.Resolved, c Choice, w Wishes) (report.Spec, error) {
	s := report.Spec{Before: h}
	var err error
	if s.Plans, s.House, err = Chosen(ctx, t, h, c); err != nil {
		return s, err
	}
	o := ordered(t, h, s.House, s.Plans, Ordering{Choice: c, Prices: w.Prices, Schedule: true, Start: w.Start})
	s.Takeoff, s.Cost, s.Schedule = o.Takeoff, o.Cost, o.Schedule
	if c.Assembly != "" {
		s.Plans = slices.DeleteFunc(s.Plans, func(p report.Plan) bool { return p.Before.Assembly.Name != c.Assembly })
	}
	if err := limits(ctx, t, &s); err != nil {
		return s, err
	}
	if s.Finishes, err = specFinishes(t, h, s.House, c); err != nil {
		return s, err
	}
	if w.Whole {
		results := make([]report.Analysis, len(s.Plans))
		for i, p := range s.Plans {
			if results[i], err = judged(t, p.Before); err != nil {
				return s, err
			}
		}
		s.Whole, err = House(ctx, t, h, results, Hourly{})
	}
	return s, err
}

// specFinishes lists the finishes that are put in new, with the cautions of what
// goes in and of the swap that brings it.
func specFinishes(t rule.Tester, h, after *assembly.Resolved, c Choice) ([]report.SpecFinish, error) {
	swaps, err := c.finishSwaps(t, h)
	if err != nil || c.Assembly != "" {
		return nil, err
	}
	var list []report.SpecFinish
	for i := range after.Finishes {
		f := &after.Finishes[i]
		if f.State != "proposed" || len(f.Materials) == 0 {
			continue
		}
		x := report.SpecFinish{Finish: f, Cautions: swap.FinishCautions(t, after, f), Swap: swaps[i]}
		if x.Swap != nil {
			x.Cautions = rule.JoinCautions(x.Cautions, x.Swap.Proposal.Cautions)
		}
		list = append(list, x)
	}
	return list, nil
}

// limits finds the limits of what is bought for each assembly. Assemblies that
// are built alike, before and after, and of which the same is bought share them.
func limits(ctx context.Context, t rule.Tester, s *report.Spec) error {
	bought := make(map[[2]string]bool)
	for i := range s.Takeoff.Lines {
		l := &s.Takeoff.Lines[i]
		bought[[2]string{l.Where.Assembly, l.Where.Layer}] = true
	}
	work := make([]int, len(s.Plans)) // how many layers are bought
	first := alike(len(s.Plans), func(i int) [3]string {
		before, after := s.Plans[i].Before.Assembly, s.Plans[i].After.Assembly
		var layers []string
		for _, name := range layerNames([]*assembly.Assembly{after}) {
			if bought[[2]string{after.Name, name}] {
				layers = append(layers, name)
			}
		}
		work[i] = len(layers)
		return [3]string{describe(before).text, describe(after).text, strings.Join(layers, "\n")}
	})
	var own []int // plans that share no other's, the longest work first
	for i, at := range first {
		if at == i {
			own = append(own, i)
		}
	}
	slices.SortStableFunc(own, func(a, b int) int { return cmp.Compare(work[b], work[a]) })
	err := each(len(own), func(k int) error {
		p := &s.Plans[own[k]]
		a := p.After.Assembly
		var err error
		p.Limits, err = swap.Limits(ctx, t, a, func(part *assembly.Part) bool { return bought[[2]string{a.Name, part.Name}] })
		return err
	})
	for i, at := range first {
		s.Plans[i].Limits = s.Plans[at].Limits
	}
	return err
}
