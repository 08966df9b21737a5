package swap

import (
	"context"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// together applies options to one copy of the house, from the second side
// outward so that places stay what they are, and gives for each what changed.
func (s *search) together(chosen []int) (*assembly.House, []applied, error) {
	house, err := reread(s.house, s.of.Index)
	if err != nil {
		return nil, nil, err
	}
	order := s.inPlace(chosen)
	done := make([]applied, len(order))
	for i := len(order) - 1; i >= 0; i-- {
		c := s.options[order[i]].c
		e := &edit{finder: s.finder, described: &house.Assemblies[s.of.Index], c: c}
		switch {
		case c.recipe == nil:
			e.single()
		case c.coatsOnly():
			e.coat()
		default:
			e.run()
		}
		done[i] = applied{changes: e.changes, asks: e.asks}
	}
	house, err = reread(house, s.of.Index)
	return house, done, err
}

// computed applies options together and analyzes the whole. The text says why
// it cannot be built.
func (s *search) computed(ctx context.Context, chosen []int) (*analysis.Result, []applied, string, error) {
	if len(chosen) == 1 {
		p := s.options[chosen[0]].proposal
		return p.After, []applied{{house: p.House, changes: p.Changes, asks: p.Asks}}, "", nil
	}
	house, done, err := s.together(chosen)
	if err != nil {
		return nil, nil, err.Error(), nil
	}
	resolved, problems := assembly.Resolve(house, nil, s.base)
	if len(problems) > 0 {
		return nil, nil, "it cannot be built as described: " + problems[0].Message, nil
	}
	after, err := analysis.Run(ctx, s.base, resolved.Assemblies[s.of.Index])
	return after, done, "", err
}

// build applies options together, analyzes the whole and judges it like a
// single swap. The reasons say why it does not hold up.
func (s *search) build(ctx context.Context, chosen []int) (*Plan, []string, error) {
	chosen = s.inPlace(chosen)
	after, done, cannot, err := s.computed(ctx, chosen)
	if err != nil || cannot != "" {
		return nil, reasons(cannot), err
	}
	p := &Plan{}
	p.House, p.After = after.Assembly.House.House, after
	for i, c := range chosen {
		step := *s.options[c].proposal
		step.Changes = done[i].changes
		p.Steps = append(p.Steps, &step)
		p.Changes = append(p.Changes, done[i].changes...)
		p.Asks = append(p.Asks, without(step.Asks, p.Asks)...)
	}
	p.name()
	x := s.screener()
	if p.Marks, err = x.full(chosen); err != nil {
		return nil, nil, err
	}
	if why := append(s.judgeWhole(p, chosen), s.costWhole(p, chosen)...); len(why) > 0 {
		return nil, why, nil
	}
	why, err := s.stillFit(ctx, x, chosen)
	return p, why, err
}

func reasons(why string) []string {
	if why == "" {
		return nil
	}
	return []string{why}
}

// without gives what is not in another list yet.
func without(list, had []string) []string {
	return slices.DeleteFunc(slices.Clone(list), func(x string) bool { return slices.Contains(had, x) })
}

// name names a plan after its steps.
func (p *Plan) name() {
	var ids, titles, whys []string
	for _, step := range p.Steps {
		ids, titles, whys = append(ids, step.ID), append(titles, step.Title), append(whys, step.Why)
	}
	p.ID, p.Title, p.Why = strings.Join(ids, "+"), strings.Join(titles, "; "), strings.Join(whys, " ")
	p.Layer = p.Steps[0].Layer
}

// judgeWhole compares the whole before and after, fills in the plan, and gives
// the reasons to turn it down.
func (s *search) judgeWhole(p *Plan, chosen []int) []string {
	found := rule.Evaluate(s.tester, p.After)
	p.Resolved, p.Introduced, p.Remaining = sortFindings(s.found, s.asWork, found)
	if why := s.unseen(p.After); len(why) > 0 {
		return why
	}
	p.Compare = s.compare(p.After)
	p.Duties = s.dutyChanges(coversOf(s.base, p.After.Assembly))
	all := scenes(s.before, p.After)
	subjects := s.wholeWork(chosen, all)
	for _, c := range chosen {
		step := p.Proposal
		step.Recipe = s.options[c].c.recipe
		for _, n := range s.needs(&step, subjects, all) {
			if !slices.ContainsFunc(p.Needs, func(o kb.Need) bool { return o.Who == n.Who && o.What == n.What }) {
				p.Needs = append(p.Needs, n)
			}
		}
	}
	p.Cautions = s.tester.Cautions(subjects, slices.Concat(p.Introduced, p.Remaining), s.namedWhole(chosen, all))
	p.Standing = standing(&p.Proposal)
	return s.turnDown(p, chosen, found)
}

// namedWhole lists the cautions that recipes and new materials of
// all steps name.
func (s *search) namedWhole(chosen []int, all []scene) map[string][]string {
	whole := map[string][]string{}
	for _, c := range chosen {
		for id, who := range s.named(s.options[c].c, all) {
			whole[id] = append(whole[id], without(who, whole[id])...)
		}
	}
	return whole
}

// turnDown gives the reasons why a plan is not offered: a duty that nothing
// takes, a code table that is surely not met, or a new problem of moisture.
func (s *search) turnDown(p *Plan, chosen []int, found []rule.Finding) []string {
	var why []string
	for _, d := range p.Duties {
		if uncovered(d.Was, d.Verdict) && !(d.Duty == retardVapor && s.giveUpRetarder(chosen)) {
			why = append(why, nobodyTakes(&d))
		}
	}
	for _, title := range s.forbidden(found) {
		why = append(why, notAllowed+title)
	}
	why = append(why, s.unmet(found, s.recipes(chosen)...)...)
	return append(why, newProblems(&p.Proposal)...)
}

// wholeWork is the assembly after a plan, in every way it may be built, with
// the facts of the work of all steps.
func (s *search) wholeWork(chosen []int, all []scene) []rule.Subject {
	list := make([]rule.Subject, len(all))
	for i, sc := range all {
		list[i] = rule.SubjectOf(sc.after)
		list[i].Work = s.work(s.options[chosen[0]].c, sc)
		for _, c := range chosen[1:] {
			addWork(list[i].Work, s.work(s.options[c].c, sc))
		}
		inside := 0.0
		for _, c := range chosen {
			inside += depthInside(sc.before, goneParts(s.options[c].c, sc))
		}
		list[i].Work["added-thickness-inside"] = known(quantity.Exact(depthInside(sc.after, sc.fresh) - inside))
	}
	return list
}

// addWork joins the work of another step: words together, flags where one of
// them holds. What differs before and after is that of the whole already.
func addWork(work, more analysis.Facts) {
	for id, e := range more {
		had := work[id]
		switch {
		case len(e.Words) > 0 || len(had.Words) > 0:
			list := slices.Concat(had.Words, e.Words)
			if id == "opens" && slices.ContainsFunc(list, func(w string) bool { return w != "nothing" }) {
				list = without(list, []string{"nothing"})
			}
			work[id] = words(list...)
		case e.Known && e.Flag:
			work[id] = e
		}
	}
}

// full gives all marks of a combination.
func (x *screener) full(chosen []int) (Marks, error) {
	m, _, err := x.light(chosen)
	if err != nil || !x.screen.Judged() {
		return m, err
	}
	drying, err := x.screen.Drying(func(float64) bool { return false })
	if err != nil {
		return m, err
	}
	peak, err := x.screen.Peak()
	m[atDrying], m[atCondensate] = dryingMark(drying), grid(peak, condensateStep)
	return m, err
}
