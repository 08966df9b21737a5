package analysis

import (
	"context"
	"math"

	"relath/advisor/assembly"
	"relath/kb"
)

// mostChoices is how many variants of an assembly are wetted. Of more, those are
// taken that differ from the first in one doubt alone.
const mostChoices = 12

// LeakChoice is what came of a leak into another variant than the first, at best
// values and with all layers tight.
type LeakChoice struct {
	Variant *assembly.Variant
	Cases   []LeakCase // in the order of the days; without courses
	Missing string     // why there is no answer
}

// LeakDecider is the doubt that moves the drying time of one wetting most: the
// largest step between two variants that differ in it alone.
type LeakDecider struct {
	Case, Doubt  int
	Fast, Slow   string // the choices
	Short, Long  Span   // until every layer is near the undisturbed wall
	WoodS, WoodL Span   // until wood is below its limit
}

// otherVariants lists the variants that are wetted beside the first.
func otherVariants(a *assembly.Assembly) []*assembly.Variant {
	all := a.Variants[1:]
	if len(all) < mostChoices {
		return all
	}
	var list []*assembly.Variant
	for _, v := range all {
		if differing(a.Variants[0], v) >= 0 && len(list) < mostChoices-1 {
			list = append(list, v)
		}
	}
	return list
}

// differing is the one doubt in which two variants differ, -1 for none or several.
func differing(a, b *assembly.Variant) int {
	doubt := -1
	for i := range a.Settled {
		if a.Settled[i].Choice == b.Settled[i].Choice {
			continue
		}
		if doubt >= 0 {
			return -1
		}
		doubt = a.Settled[i].Doubt
	}
	return doubt
}

// runChoices wets the other variants, one after the other because their courses
// take much memory, and finds the doubts that decide.
func (s *leakStudy) runChoices(ctx context.Context, base *kb.Base) error {
	others := otherVariants(s.out.Assembly)
	for _, v := range others {
		next, err := s.choice(ctx, base, v)
		if err != nil {
			return err
		}
		s.out.Choices = append(s.out.Choices, next)
	}
	s.out.NotRun = len(s.out.Assembly.Variants) - 1 - len(others)
	for k := range s.out.Cases {
		if d, ok := s.out.decider(k); ok {
			s.out.Deciders = append(s.out.Deciders, d)
		}
	}
	return nil
}

// choice wets one of the other variants. Where the wetted layer is not there it has
// no answer.
func (s *leakStudy) choice(ctx context.Context, base *kb.Base, v *assembly.Variant) (LeakChoice, error) {
	next, err := newLeakStudy(base, s.out.Assembly, v, s.asked)
	if err != nil {
		return LeakChoice{Variant: v, Missing: err.Error()}, nil
	}
	next.few = true
	if next.out.Missing == "" {
		if err := next.compile(); err != nil {
			return LeakChoice{}, err
		}
		if err := next.run(ctx); err != nil {
			return LeakChoice{}, err
		}
		next.conclude(base)
	}
	for i := range next.out.Cases {
		next.out.Cases[i].Course = nil
	}
	return LeakChoice{Variant: v, Cases: next.out.Cases, Missing: next.out.Missing}, nil
}

// decider finds the doubt that moves the drying time of a case most, by a tenth at
// least.
func (r *LeakResult) decider(k int) (LeakDecider, bool) {
	const tenth = 1.1
	all := append([]LeakChoice{{Variant: r.Variant, Cases: r.Cases}}, r.Choices...)
	found, most := LeakDecider{}, tenth
	for i, a := range all {
		for _, b := range all[i+1:] {
			doubt := differing(a.Variant, b.Variant)
			if doubt < 0 || a.Missing != "" || b.Missing != "" {
				continue
			}
			fast, slow := a, b
			if slower(fast.Cases[k], slow.Cases[k]) < 1 {
				fast, slow = slow, fast
			}
			if by := slower(fast.Cases[k], slow.Cases[k]); by > most {
				most = by
				found = LeakDecider{
					Case: k, Doubt: doubt, Fast: choiceIn(fast.Variant, doubt), Slow: choiceIn(slow.Variant, doubt),
					Short: fast.Cases[k].Dry, Long: slow.Cases[k].Dry, WoodS: fast.Cases[k].Wood, WoodL: slow.Cases[k].Wood,
				}
			}
		}
	}
	return found, most > tenth
}

// slower is by how much b takes longer than a in the best case, by that of the two
// times which differs more; 1 where there is nothing to wait for.
func slower(a, b LeakCase) float64 {
	by := 1.0
	for _, x := range [][2]Span{{a.Dry, b.Dry}, {a.Wood, b.Wood}} {
		if !x[0].Applies || !x[1].Applies {
			continue
		}
		if ratio := (x[1].Time.Best + secondsPerHour) / (x[0].Time.Best + secondsPerHour); math.Abs(math.Log(ratio)) > math.Abs(math.Log(by)) {
			by = ratio
		}
	}
	return by
}

func choiceIn(v *assembly.Variant, doubt int) string {
	for _, s := range v.Settled {
		if s.Doubt == doubt {
			return s.Choice
		}
	}
	return ""
}
