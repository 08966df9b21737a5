package swap

import (
	"cmp"
	"context"
	"runtime"
	"slices"
	"sync"

	"relath/kb"
)

// aim is something a plan can be the best at.
type aim struct {
	name string
	goal Goal
	of   func(m *Marks) []int32 // less is better, the first first
}

// aims lists what plans are picked for.
func aims() []aim {
	at := func(places ...int) func(m *Marks) []int32 {
		return func(m *Marks) []int32 {
			list := make([]int32, len(places))
			for i, p := range places {
				list[i] = m[p]
			}
			return list
		}
	}
	return []aim{
		{"dries best", Drying, at(atDrying, atCondensate)},
		{"least water in winter", Condensate, at(atCondensate, atDrying)},
		{"least glue and mold food", Glue, func(m *Marks) []int32 { return []int32{m[atGlue] + m[atFood], m[atGlue], m[atFood]} }},
		{"least work", Changed, at(atChanged, atTrades)},
		{"holds heat best", Heat, at(atHeat)},
		{"lowest cost", Cost, at(atCost)},
		{"good all round", "", nil},
	}
}

// aimAt is the aim at one goal alone, for those who prefer it.
func aimAt(g Goal) aim {
	names := map[Goal]string{
		Warmth: "warmest room surface", Food: "least mold food", Thickness: "thinnest", Trades: "fewest trades",
	}
	for _, a := range aims() {
		if a.goal == g {
			return a
		}
	}
	at := slices.Index(Goal("").Allowed(), string(g))
	return aim{names[g], g, func(m *Marks) []int32 { return []int32{m[at]} }}
}

// aimsOf puts the aim that is preferred first.
func (s *search) aimsOf() []aim {
	list := aims()
	if s.opts.Costing == nil {
		list = slices.DeleteFunc(list, func(a aim) bool { return a.goal == Cost })
	}
	if s.opts.Prefer == "" {
		return list
	}
	first := aimAt(s.opts.Prefer)
	return append([]aim{first}, slices.DeleteFunc(list, func(a aim) bool { return a.name == first.name })...)
}

// mostRounds bounds how often plans that do not hold up in full are replaced by
// the next ones. What is still open after that is said.
const mostRounds = 50

// pick names the best members of the front for each aim. Several for each are
// judged in full, and what is left then chooses among them. What does not hold up
// leaves the front, which may bring in what it had beaten, and the search goes on.
func (s *search) pick(ctx context.Context, out *Planning) error {
	built := make(map[int]*Plan)
	var members []member
	var picks []pick
	for range s.rounds {
		var err error
		if members, err = s.front(ctx); err != nil {
			return err
		}
		able := s.able(members)
		failed, err := s.judgeAll(ctx, s.shortlist(able), built, out)
		if err != nil {
			return err
		}
		picks, out.Open = s.choose(able, built), nil
		if !failed {
			failed, err = s.inDoubt(ctx, picks, built, out)
		}
		if err != nil {
			return err
		}
		if !failed {
			break
		}
		for _, p := range s.choose(able, nil) {
			if built[p.index] == nil {
				out.Open = append(out.Open, p.good...)
			}
		}
	}
	out.OnFront = len(members)
	for _, p := range picks {
		if plan := built[p.index]; plan != nil {
			plan.Good = p.good
			out.Plans = append(out.Plans, plan)
		}
	}
	if s.opts.Front {
		if err := s.whole(ctx, members, built, out); err != nil {
			return err
		}
	}
	if s.opts.Hourly != nil {
		for _, m := range members {
			if built[m.index] == nil && !s.out[m.index] {
				out.NotRun = append(out.NotRun, s.turnedAway(m, nil).ID)
			}
		}
	}
	return nil
}

// whole judges the front in full until all of it holds up.
func (s *search) whole(ctx context.Context, members []member, built map[int]*Plan, out *Planning) error {
	for range s.rounds {
		failed, err := s.judgeAll(ctx, members, built, out)
		if err != nil {
			return err
		}
		if !failed {
			break
		}
		if members, err = s.front(ctx); err != nil {
			return err
		}
	}
	out.OnFront = len(members)
	for _, m := range members {
		if plan := built[m.index]; plan != nil {
			out.Front = append(out.Front, plan)
			continue
		}
		out.Unjudged++
	}
	return nil
}

// tries is how many members of the front are judged in full for each aim, so that
// what comes of it can put the second before the first.
const tries = 3

// shortlist lists the best members for each aim, as many of each as are tried.
func (s *search) shortlist(able []member) []member {
	var list []member
	left := able
	for range tries {
		for _, p := range s.choose(left, nil) {
			list = append(list, p.member)
		}
		left = slices.DeleteFunc(slices.Clone(left), func(m member) bool {
			return slices.ContainsFunc(list, func(o member) bool { return o.index == m.index })
		})
	}
	return list
}

// pick is a member of the front and what it is the best at.
type pick struct {
	member
	good []string
}

// able gives the members that clear what can be cleared, or come closest to it:
// they come before all others.
func (s *search) able(members []member) []member {
	return lightest(members, func(m member) []int32 { return s.burden(m.chosen) })
}

// lightest keeps the members with the least burden.
func lightest(members []member, burden func(member) []int32) []member {
	if len(members) == 0 {
		return nil
	}
	burdens := make([][]int32, len(members))
	for i := range members {
		burdens[i] = burden(members[i])
	}
	least := slices.MinFunc(burdens, slices.Compare)
	var kept []member
	for i, m := range members {
		if slices.Equal(burdens[i], least) {
			kept = append(kept, m)
		}
	}
	return kept
}

// weightOf is the burden of a plan that was judged as a whole: whether it is
// blocked, and how many findings surely and possibly stay with it or come. What
// the official has to be asked does not count.
func weightOf(p *Plan) []int32 {
	var w [3]int32
	if p.Standing == Blocked {
		w[0] = 1
	}
	for _, f := range slices.Concat(p.Introduced, p.Remaining) {
		switch {
		case f.Level == "info" || suspected(&f) || f.Kind == "code" && f.Verdict != kb.No:
		case f.Verdict == kb.No:
			w[1]++
		default:
			w[2]++
		}
	}
	return w[:]
}

// choose picks the best member for each aim. Of those that were judged in full it
// chooses among the ones with the least burden of what is sure, and what the hours
// say comes first; the balanced one leaves the least that is possible too.
func (s *search) choose(able []member, built map[int]*Plan) []pick {
	if built != nil {
		able = slices.DeleteFunc(slices.Clone(able), func(m member) bool { return built[m.index] == nil })
		able = lightest(able, func(m member) []int32 { return weightOf(built[m.index])[:2] })
	}
	if len(able) == 0 {
		return nil
	}
	var picks []pick
	take := func(m member, aim string) {
		at := slices.IndexFunc(picks, func(p pick) bool { return p.index == m.index })
		if at < 0 {
			at, picks = len(picks), append(picks, pick{member: m})
		}
		picks[at].good = append(picks[at].good, aim)
	}
	balance := balanceOf(able)
	for _, a := range s.aimsOf() {
		m := slices.MinFunc(able, func(x, y member) int {
			hours, by := 0, 0
			if built != nil {
				hours = byHours(built[x.index], built[y.index])
			}
			switch {
			case a.of == nil && built != nil:
				by = slices.Compare(weightOf(built[x.index]), weightOf(built[y.index]))
			case a.of != nil:
				by = slices.Compare(a.of(&x.marks), a.of(&y.marks))
			}
			return cmp.Or(hours, by, cmp.Compare(balance(&x.marks), balance(&y.marks)), cmp.Compare(x.index, y.index))
		})
		if a.of == nil || a.of(&m.marks)[0] != neverJudged { // else none is known to be good at it
			take(m, a.name)
		}
	}
	if built != nil && s.opts.Hourly != nil {
		take(slices.MinFunc(able, func(x, y member) int {
			a, b := built[x.index], built[y.index]
			return cmp.Or(cmp.Compare(moldMark(a), moldMark(b)), byHours(a, b), cmp.Compare(balance(&x.marks), balance(&y.marks)), cmp.Compare(x.index, y.index))
		}), "least mold hour by hour")
	}
	return picks
}

// burden weighs what speaks against a combination before any aim: findings that
// some swap would clear but none of these does, those that surely hold before
// those that may.
func (s *search) burden(chosen []int) []int32 {
	cleared := make(map[string]bool)
	for _, c := range chosen {
		for _, r := range s.options[c].proposal.Resolved {
			cleared[r.Rule] = true
		}
	}
	left := func(verdict kb.Verdict) (n int32) {
		for _, id := range s.wanted(verdict) {
			if !cleared[id] {
				n++
			}
		}
		return n
	}
	return []int32{left(kb.No), left(kb.Depends)}
}

// wanted lists the findings of a verdict that weigh something, are more than
// suspected, and that some option clears.
func (s *search) wanted(verdict kb.Verdict) []string {
	var list []string
	for _, f := range s.found {
		if f.Verdict != verdict || f.Level == "info" || suspected(&f) {
			continue
		}
		if slices.ContainsFunc(s.options, func(o option) bool { return findingOf(o.proposal.Resolved, f.Rule) != nil }) {
			list = append(list, f.Rule)
		}
	}
	return list
}

// balanceOf measures marks by the mean place between the best and the worst of
// each goal.
func balanceOf(members []member) func(*Marks) float64 {
	low, high := members[0].marks, members[0].marks
	for _, m := range members {
		for i, v := range m.marks {
			low[i], high[i] = min(low[i], v), max(high[i], v)
		}
	}
	return func(m *Marks) float64 {
		sum := 0.0
		for i, v := range m {
			if high[i] > low[i] {
				sum += float64(v-low[i]) / float64(high[i]-low[i])
			}
		}
		return sum
	}
}

// judgeAll builds what was not built yet, on all processors, and says whether
// something did not hold up.
func (s *search) judgeAll(ctx context.Context, members []member, built map[int]*Plan, out *Planning) (failed bool, err error) {
	type answer struct {
		plan *Plan
		why  []string
		err  error
	}
	answers := make([]answer, len(members))
	var group sync.WaitGroup
	slots := make(chan struct{}, max(1, runtime.GOMAXPROCS(0)))
	for i, m := range members {
		if built[m.index] != nil {
			continue
		}
		group.Go(func() {
			slots <- struct{}{}
			defer func() { <-slots }()
			a := &answers[i]
			a.plan, a.why, a.err = s.build(ctx, m.chosen)
		})
	}
	group.Wait()
	var fresh []*Plan
	var at []int
	for i := range answers {
		if a := &answers[i]; a.err == nil && len(a.why) == 0 && a.plan != nil {
			fresh, at = append(fresh, a.plan), append(at, i)
		}
	}
	against, err := s.hourly(ctx, fresh)
	if err != nil {
		return false, err
	}
	for k, i := range at {
		answers[i].why = against[k]
	}
	for i, m := range members {
		a := &answers[i]
		switch {
		case a.err != nil:
			return false, a.err
		case len(a.why) > 0:
			s.out[m.index], failed = true, true
			out.TurnedDown = append(out.TurnedDown, s.turnedAway(m, a.why))
		case a.plan != nil:
			built[m.index] = a.plan
		}
	}
	return failed, nil
}

// turnedAway keeps why a combination is no plan.
func (s *search) turnedAway(m member, why []string) Rejection {
	p := &Plan{}
	for _, c := range m.chosen {
		p.Steps = append(p.Steps, s.options[c].proposal)
	}
	p.name()
	return Rejection{Candidate: p.Title, ID: p.ID, Layer: p.Layer, Because: why}
}
