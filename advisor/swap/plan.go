package swap

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
)

// PlanOptions narrow the plans for an assembly. The zero value narrows nothing.
type PlanOptions struct {
	Prefer       Goal             // named first; empty: as they come
	Keep         []string         // names of layers that stay as they are
	MaxThickness float64          // m, over all layers; 0: any
	No           []string         // materials or families that are not put in; "adhesive": nothing with glue
	Reno         bool             // what stays behind the room side stays: only layers inside of the bay change
	Front        bool             // judge the whole trade-off front, not only the plans that are named
	Hourly       *analysis.Hourly // not nil: plans are run hour by hour too, and dropped where that speaks against them
	Costing      *Costing         // not nil: cost is a goal
	Budget       float64          // no plan is dearer, in the currency of the costing; 0: any
	Available    bool             // only materials that the price book has are put in
	Most         int              // combinations that are screened at most; 0: [MostCombinations]
}

// MostCombinations is the number of combinations that are screened where
// nothing else is asked for.
const MostCombinations = 1_000_000

// Plan is a set of swaps that were applied together and recomputed as a whole.
type Plan struct {
	Proposal          // of all swaps together; its ID joins theirs with "+"
	Good     []string // what it is the best at, in words
	Steps    []*Proposal
	Costs    *Costs // nil without prices
	inDoubt  bool   // run hour by hour for every choice of the doubts
	Marks    Marks  // what the screening says of it, on the grid of the goals
}

// Trades is the number of trades that the plan needs.
func (p *Plan) Trades() int { return int(p.Marks[atTrades]) }

// LayersChanged is the number of layers taken out, put in or coated.
func (p *Plan) LayersChanged() int { return int(p.Marks[atChanged]) }

// Planning is what came of the search for plans.
type Planning struct {
	Plans      []*Plan // a handful, each good at something
	Front      []*Plan // judged members of the front, only where it was asked for
	Air        *AirMove
	Screened   int      // combinations that were looked at
	OnFront    int      // combinations that nothing beats in all goals
	AtOnce     int      // swaps that were combined at once, 0 for any number
	Open       []string // what a plan was sought for in vain, within the rounds of the search
	Unjudged   int      // members of the front that were asked for and not judged, within those rounds
	Costing    *Costing // as asked for
	Budget     float64
	Now        *Costs      // of the assembly as described: what of it is proposed; nil without prices
	Aside      []Rejection // swaps that the options leave out of every plan
	Joint      int         // swaps among those combined that are turned down by themselves
	Barred     []Rejection // swaps that are in no plan because of what no other swap can lift
	NotRun     []string    // ids of members of the front that were not run hour by hour, where others were
	Apart      []Apart     // swaps that rule each other out
	TurnedDown []Rejection
}

// Plans combines the proposals of an advice into whole plans. It is an error
// when the context ends or a method refuses its input.
func Plans(ctx context.Context, t rule.Tester, advice *Advice, opts PlanOptions) (*Planning, error) {
	if opts.Prefer != "" && !slices.Contains(opts.Prefer.Allowed(), string(opts.Prefer)) {
		return nil, fmt.Errorf("goal %q is not known; allowed: %s", opts.Prefer, strings.Join(opts.Prefer.Allowed(), ", "))
	}
	if opts.Costing == nil && (opts.Prefer == Cost || opts.Budget > 0 || opts.Available) {
		return nil, errors.New("without prices there is no cost to prefer, no budget to keep and nothing that is available")
	}
	f := finderOf(t, advice)
	pieces, barred := advice.pieces()
	s := newSearch(f, pieces, opts)
	out := &Planning{AtOnce: s.atOnce, Screened: s.count, Apart: s.apart, Aside: s.aside, Joint: s.joint(advice), Barred: barred, Costing: opts.Costing, Budget: opts.Budget, Now: s.now()}
	var err error
	if out.Air, err = f.drierAir(ctx); err != nil {
		return nil, err
	}
	if len(s.options) == 0 {
		return out, nil
	}
	return out, s.pick(ctx, out)
}

// BuildPlan applies proposals of an advice together, by the id of the plan or
// by their own ids in any order. The reasons say why they do not hold up
// together; then there is no plan.
func BuildPlan(ctx context.Context, t rule.Tester, advice *Advice, ids []string) (*Plan, []string, error) {
	f := finderOf(t, advice)
	var chosen []Proposal
	pieces := slices.Concat(advice.Proposals, advice.Joint)
	for _, id := range PlanSteps(ids) {
		i := slices.IndexFunc(pieces, func(p Proposal) bool { return p.ID == id })
		if i < 0 {
			return nil, []string{fmt.Sprintf("no swap here is called %q", id)}, nil
		}
		chosen = append(chosen, pieces[i])
	}
	s := newSearch(f, chosen, PlanOptions{})
	var all []int
	for i := range s.options {
		for j := range i {
			if s.options[i].clashes(&s.options[j]) {
				return nil, s.whyApart(j, i), nil
			}
		}
		all = append(all, i)
	}
	return s.build(ctx, all)
}

// joint counts the options that are turned down by themselves.
func (s *search) joint(a *Advice) (n int) {
	for i := range s.options {
		if slices.ContainsFunc(a.Joint, func(p Proposal) bool { return p.ID == s.options[i].proposal.ID }) {
			n++
		}
	}
	return n
}

// pieces are the swaps that plans are made of: those that hold up, and those of
// which another swap may lift what keeps them from it. Barred are those that wait
// for something else.
func (a *Advice) pieces() (list []Proposal, barred []Rejection) {
	for _, p := range slices.Concat(a.Proposals, a.Joint) {
		if why := waits(&p); len(why) > 0 {
			barred = append(barred, Rejection{Candidate: p.Title, ID: idOf(&p), Layer: p.Layer, Because: why})
			continue
		}
		list = append(list, p)
	}
	return list, barred
}

// waits says what of a swap no other swap can lift: a hazard that may be there
// and is cleared by a test or an expert before the work.
func waits(p *Proposal) []string {
	var list []string
	for _, in := range p.Introduced {
		if in.Level == "block" && suspected(&in) {
			list = append(list, in.Title+": "+in.Say)
		}
	}
	return list
}

// whyApart says why two options are not combined.
func (s *search) whyApart(i, j int) []string {
	a, b := s.options[i].proposal, s.options[j].proposal
	for _, x := range s.apart {
		if x.Swap == a.Title && slices.Contains(x.Beside, b.Title) || x.Swap == b.Title && slices.Contains(x.Beside, a.Title) {
			return x.Because
		}
	}
	return []string{fmt.Sprintf("%s and %s change the same layers", a.ID, b.ID)}
}

// PlanSteps splits ids of plans into the ids of their swaps.
func PlanSteps(ids []string) []string {
	var list []string
	for _, id := range ids {
		list = append(list, strings.Split(id, "+")...)
	}
	return list
}

// finderOf makes a finder of what an advice already holds.
func finderOf(t rule.Tester, a *Advice) *finder {
	return &finder{
		tester: t, base: t.Base, house: a.Assembly.House.House, of: a.Assembly, before: a.Before, now: rule.SubjectsOf(a.Before),
		found: a.Findings, asWork: rule.Evaluate(t, asWork(a.Before)), covers: coversOf(t.Base, a.Assembly),
	}
}

// candidateOf gives the candidate behind a proposal.
func (f *finder) candidateOf(p *Proposal) candidate {
	c := candidate{recipe: p.Recipe, material: p.Material, title: p.Title, length: 1}
	if p.Recipe != nil {
		c.length = len(p.Recipe.Replaces)
	}
	c.at = slices.IndexFunc(f.of.Described.Layers, func(l assembly.Layer) bool { return l.Name.Value == p.Layer })
	return c
}

// option is a proposal as a piece of a plan.
type option struct {
	proposal *Proposal
	c        candidate
	from, to int  // described layers it takes out or changes; the same for one that only adds, at that place
	outer    bool // puts a layer beside its run, on its outer end
	inner    bool
	sections []analysis.Section
	changed  int // layers taken out, put in or coated
	trades   uint16
	cost     LayerCost
}

// newOption makes a piece of a proposal.
func (f *finder) newOption(p *Proposal) option {
	o := option{proposal: p, c: f.candidateOf(p)}
	o.from, o.to = o.c.at, o.c.at+o.c.span()
	if o.c.span() == 0 {
		o.from, o.to = o.c.at+1, o.c.at+1
	}
	if o.c.recipe != nil && !o.c.coatsOnly() {
		before, after := (&edit{finder: f, c: o.c}).beside()
		o.outer, o.inner = len(before) > 0, len(after) > 0
	}
	after := p.After.Assembly
	put := o.to - o.from + len(after.Described.Layers) - len(f.of.Described.Layers)
	for _, s := range analysis.Sections(f.base, after, after.Variants[0]) {
		if s.Part.Layer >= o.from && s.Part.Layer < o.from+put {
			o.sections = append(o.sections, s)
		}
	}
	o.changed = max(o.to-o.from, put)
	o.trades = f.tradesOf(&o)
	return o
}

// adds says whether the option takes nothing out.
func (o *option) adds() bool { return o.from == o.to }

// clashes says whether two options cannot be applied together: they change the
// same layers, one goes behind a layer that the other takes out, or both put
// layers in the same place.
func (o *option) clashes(b *option) bool {
	a := o
	if a.from > b.from || a.from == b.from && b.adds() {
		a, b = b, a
	}
	switch {
	case a.adds() && b.adds():
		return a.from == b.from
	case a.adds():
		return a.from == b.from && b.outer
	case b.adds():
		return b.from < a.to || b.from == a.to && (!a.c.coatsOnly() || a.inner)
	}
	return b.from < a.to || b.from == a.to && a.inner && b.outer
}

// The trades that are told apart, a convention of ours.
const (
	sidingTrade uint16 = 1 << iota
	carpentryTrade
	insulationTrade
	boardTrade
	plasterTrade
	paintTrade
	masonryTrade
)

// tradesOf says who is needed for an option: for what comes out and what goes
// in.
func (f *finder) tradesOf(o *option) uint16 {
	if o.c.coatsOnly() {
		return paintTrade
	}
	var parts []*assembly.Part
	for _, p := range f.of.Variants[0].Layers {
		if p.Layer >= o.from && p.Layer < o.to {
			parts = append(parts, p)
		}
	}
	for i := range o.sections {
		parts = append(parts, o.sections[i].Part)
	}
	var trades uint16
	for _, m := range materialsOf(parts) {
		trades |= tradeOf(m)
	}
	if trades == 0 {
		return carpentryTrade // a gap alone
	}
	return trades
}

// tradeOf says who works with a material.
func tradeOf(m *kb.Material) uint16 {
	has := func(terms ...string) bool {
		return slices.ContainsFunc(terms, func(t string) bool { return slices.Contains(m.Terms, t) })
	}
	switch {
	case has("cladding", "roofing", "water-resistive-barrier"):
		return sidingTrade
	case m.Form == kb.Plaster:
		return plasterTrade
	case m.Form == kb.Masonry:
		return masonryTrade
	case m.Form == kb.Coat:
		return paintTrade
	case m.Form == kb.Fill, m.Form == kb.Sheet:
		return insulationTrade
	case has("lining", "gypsum-board"):
		return boardTrade
	}
	return carpentryTrade
}
