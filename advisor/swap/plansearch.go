package swap

import (
	"context"
	"runtime"
	"slices"
	"sync"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
)

// search looks through all combinations of options of one assembly.
type search struct {
	*finder
	opts     PlanOptions
	options  []option // by place
	clash    [][]bool
	standing [][]analysis.Section // of each described layer
	count    int                  // combinations, the one that changes nothing included
	atOnce   int                  // options at once, 0 for any number
	rounds   int                  // of the search for plans that hold up
	codes    rule.Tester          // with the rules and tables that can block
	had      []analysis.Cover     // duties as first described
	apart    []Apart
	aside    []Rejection  // proposals that the options leave out
	costs    []LayerCost  // of each described layer as it stands; none without prices
	out      map[int]bool // combinations that were judged in full and turned down
	known    sync.Map     // index of a combination to whether it is allowed
}

func newSearch(f *finder, proposals []Proposal, opts PlanOptions) *search {
	s := &search{finder: f, opts: opts, rounds: mostRounds, out: make(map[int]bool), had: analysis.Covers(f.base, f.of, f.of.Variants[0])}
	for i := range proposals {
		p := &proposals[i]
		if why := f.leftOut(p, opts); why != "" {
			s.aside = append(s.aside, Rejection{Candidate: p.Title, ID: idOf(p), Layer: p.Layer, Because: []string{why}})
			continue
		}
		o := f.newOption(p)
		o.cost = s.costOf(&o)
		s.options = append(s.options, o)
	}
	slices.SortStableFunc(s.options, func(a, b option) int { return a.from - b.from })
	s.codes = rule.Tester{Base: s.blocking(), System: f.tester.System}
	s.clash = make([][]bool, len(s.options))
	for i := range s.options {
		s.clash[i] = make([]bool, len(s.options))
		for j := range s.options {
			s.clash[i][j] = i != j && s.options[i].clashes(&s.options[j])
		}
	}
	s.standing = make([][]analysis.Section, len(f.of.Described.Layers))
	for _, x := range analysis.Sections(f.base, f.of, f.of.Variants[0]) {
		s.standing[x.Part.Layer] = append(s.standing[x.Part.Layer], x)
	}
	if now := s.now(); now != nil {
		s.costs = now.Layers
	}
	s.ruleOut()
	s.limit()
	return s
}

// blocking is the base with the rules and tables that can keep a combination from
// being a plan.
func (s *search) blocking() *kb.Base {
	wanted := make(map[string]bool)
	for i := range s.options {
		for _, r := range recipesOf(s.options[i].c) {
			for _, subject := range r.Meets {
				wanted[subject] = true
			}
		}
	}
	few := *s.base
	few.Rules = slices.DeleteFunc(slices.Clone(few.Rules), func(r *kb.Rule) bool { return r.Kind != "code" && r.Kind != "hazard" || r.Level != "block" })
	few.Tables = slices.DeleteFunc(slices.Clone(few.Tables), func(t *kb.Table) bool { return t.Otherwise.Level != "block" && !wanted[t.Subject] })
	return &few
}

// limit counts the combinations, and lowers the number of swaps at once where
// there are more than may be screened.
func (s *search) limit() {
	most := s.opts.Most
	if most == 0 {
		most = MostCombinations
	}
	for s.atOnce = 0; ; {
		s.count = 0
		s.each(func(int, []int) bool {
			s.count++
			return s.count <= most
		})
		if s.count <= most || s.atOnce == 1 {
			return
		}
		if s.atOnce == 0 {
			s.atOnce = len(s.options)
		}
		s.atOnce--
	}
}

// each visits every combination of options that do not clash, once and always
// in the same order, until the visitor has enough.
func (s *search) each(visit func(index int, chosen []int) bool) {
	index := 0
	var chosen []int
	var from func(i int) bool
	from = func(i int) bool {
		if !visit(index, chosen) {
			return false
		}
		index++
		if s.atOnce > 0 && len(chosen) == s.atOnce {
			return true
		}
		for ; i < len(s.options); i++ {
			if slices.ContainsFunc(chosen, func(c int) bool { return s.clash[c][i] }) {
				continue
			}
			chosen = append(chosen, i)
			more := from(i + 1)
			chosen = chosen[:len(chosen)-1]
			if !more {
				return false
			}
		}
		return true
	}
	from(0)
}

// front searches all combinations on all processors. The front of the whole is
// the front of the fronts of its parts.
func (s *search) front(ctx context.Context) ([]member, error) {
	workers := max(1, runtime.GOMAXPROCS(0))
	fronts, errs := make([]front, workers), make([]error, workers)
	var group sync.WaitGroup
	for w := range workers {
		group.Go(func() { fronts[w], errs[w] = s.share(ctx, w, workers) })
	}
	group.Wait()
	var whole front
	for w := range workers {
		if errs[w] != nil {
			return nil, errs[w]
		}
		for _, m := range fronts[w].members {
			whole.add(m)
		}
	}
	return whole.sorted(), nil
}

// share searches every n-th block of combinations.
func (s *search) share(ctx context.Context, worker, workers int) (front, error) {
	const block = 64
	x := s.screener()
	var failed error
	s.each(func(index int, chosen []int) bool {
		if index/block%workers != worker || s.out[index] {
			return true
		}
		if failed = ctx.Err(); failed == nil {
			failed = x.look(index, chosen)
		}
		return failed == nil
	})
	return x.found, failed
}

// screener is the memory of one worker.
type screener struct {
	*search
	screen   *analysis.Screen
	sections []*analysis.Section
	cost     spent // of the combination the screen is set to
	found    front
}

func (s *search) screener() *screener {
	return &screener{search: s, screen: analysis.NewScreen(s.base, s.of)}
}

// look screens one combination, cheapest first, and stops as soon as one that
// was found beats the best that it could still turn out to be.
func (x *screener) look(index int, chosen []int) error {
	m, sums, err := x.light(chosen)
	if err != nil || x.tooThick(sums) || x.tooDear() {
		return err
	}
	if x.screen.Judged() {
		m[atDrying] = dryingMark(x.screen.DryingAtMost())
		if x.found.beaten(&m) {
			return nil
		}
		lost := false
		drying, err := x.screen.Drying(func(atMost float64) bool {
			m[atDrying] = dryingMark(atMost)
			lost = x.found.beaten(&m)
			return lost
		})
		if err != nil || lost {
			return err
		}
		m[atDrying] = dryingMark(drying)
		if x.found.beaten(&m) {
			return nil
		}
		peak, err := x.screen.Peak()
		if err != nil {
			return err
		}
		m[atCondensate] = grid(peak, condensateStep)
	}
	if x.found.beaten(&m) || x.found.has(&m, index) {
		return nil
	}
	fits, err := x.remembered(index, chosen)
	if err == nil && fits {
		x.found.add(member{index: index, chosen: slices.Clone(chosen), marks: m})
	}
	return err
}

// remembered asks only once whether a combination is allowed.
func (x *screener) remembered(index int, chosen []int) (bool, error) {
	if fits, ok := x.known.Load(index); ok {
		return fits.(bool), nil
	}
	fits, err := x.allowed(chosen)
	if err == nil {
		x.known.Store(index, fits)
	}
	return fits, err
}

// light sets the screen to a combination and gives the marks that need no
// moisture method; those that do are as good as can be.
func (x *screener) light(chosen []int) (Marks, analysis.Sums, error) {
	x.sections, x.cost = x.sections[:0], spent{}
	next, changed := 0, 0
	var trades uint16
	stand := func(to int) {
		for ; next < to; next++ {
			for i := range x.standing[next] {
				x.sections = append(x.sections, &x.standing[next][i])
			}
			if x.costs != nil {
				x.cost.add(&x.costs[next])
			}
		}
	}
	for _, c := range x.inPlace(chosen) {
		o := &x.options[c]
		stand(o.from)
		for i := range o.sections {
			x.sections = append(x.sections, &o.sections[i])
		}
		next = max(next, o.to)
		changed += o.changed
		trades |= o.trades
		x.cost.add(&o.cost)
	}
	stand(len(x.standing))
	x.screen.Set(x.sections)
	var m Marks
	m[atCost] = x.cost.mark()
	if !x.screen.Judged() {
		m[atDrying], m[atCondensate] = neverJudged, neverJudged
	}
	if slices.ContainsFunc(x.sections, func(s *analysis.Section) bool { return s.Heatless != "" }) {
		sums := analysis.Sums{}
		m.put(sums, trades, changed)
		m[atWarmth], m[atHeat] = neverJudged, neverJudged
		return m, sums, nil
	}
	sums, err := x.screen.Sums()
	m.put(sums, trades, changed)
	return m, sums, err
}

// inPlace orders chosen options from the first side inward; one that only adds
// comes before a run that begins at the same place. Options are sorted by
// place, so this seldom changes anything.
func (s *search) inPlace(chosen []int) []int {
	for i := 1; i < len(chosen); i++ {
		a, b := &s.options[chosen[i-1]], &s.options[chosen[i]]
		if a.from == b.from && !a.adds() && b.adds() {
			swapped := slices.Clone(chosen)
			swapped[i-1], swapped[i] = swapped[i], swapped[i-1]
			return s.inPlace(swapped)
		}
	}
	return chosen
}

// tooThick says whether an assembly is thicker than asked for.
func (s *search) tooThick(sums analysis.Sums) bool {
	const slack = 1e-6
	return s.opts.MaxThickness > 0 && sums.Thickness > s.opts.MaxThickness+slack
}

// allowed says whether a combination keeps every duty and meets every code
// table, as first described. To change nothing is no plan.
func (x *screener) allowed(chosen []int) (bool, error) {
	if len(chosen) == 0 {
		return false, nil
	}
	v := &assembly.Variant{Settled: x.of.Variants[0].Settled}
	for _, s := range x.sections {
		v.Layers = append(v.Layers, s.Part)
	}
	if x.loses(v, chosen) {
		return false, nil
	}
	facts, err := x.screen.Variant(v)
	if err != nil {
		return false, err
	}
	result := &analysis.Result{Assembly: x.of, Variants: []*analysis.Variant{facts}}
	found := rule.Evaluate(x.codes, result)
	return len(x.forbidden(found)) == 0 && len(x.unmet(found, x.recipes(chosen)...)) == 0, nil
}

// recipes gives the recipes of options.
func (s *search) recipes(chosen []int) []*kb.Recipe {
	var list []candidate
	for _, i := range chosen {
		list = append(list, s.options[i].c)
	}
	return recipesOf(list...)
}

// loses says whether a duty that was covered no longer is.
func (x *screener) loses(v *assembly.Variant, chosen []int) bool {
	now := analysis.Covers(x.base, x.of, v)
	for _, had := range x.had {
		c, _ := coverOf(now, had.Duty)
		if uncovered(had.Verdict, c.Verdict) && !(had.Duty == retardVapor && x.giveUpRetarder(chosen)) {
			return true
		}
	}
	return false
}

// giveUpRetarder says whether a swap gives up the vapor retarder, which the
// code tables judge.
func (s *search) giveUpRetarder(chosen []int) bool {
	return slices.ContainsFunc(chosen, func(c int) bool {
		r := s.options[c].c.recipe
		return r != nil && slices.Contains(r.Loses, retardVapor)
	})
}

// forbidden names the code tables that are surely not met, and hazards that
// surely hold and did not before.
func (s *search) forbidden(found []rule.Finding) []string {
	var list []string
	for i := range found {
		f := &found[i]
		if blocks(f) && (f.Kind == "code" || findingOf(s.asWork, f.Rule) == nil) {
			list = append(list, f.Title)
		}
	}
	return list
}
