package swap

import (
	"context"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/strict"
)

// Options narrow the search.
type Options struct {
	Layer string   // only swaps of this layer
	Only  []string // only swaps of these ids; empty: all

	Before *analysis.Result // of the assembly as it is, where it is known already
}

// finder holds what is the same for all candidates of one assembly.
type finder struct {
	tester rule.Tester
	base   *kb.Base
	house  *assembly.House
	of     *assembly.Assembly
	before *analysis.Result
	now    []rule.Subject // the assembly as it is, in every way it may be built
	found  []rule.Finding // what rules say of it
	asWork []rule.Finding // what they would say if all of it were proposed work
	covers []analysis.Cover
	brief  bool // candidates are judged only: nothing of them is read
}

// subject is the first variant: the doubts settled by their first choices.
func (f *finder) subject() rule.Subject { return f.now[0] }

// newFinder judges the assembly as it is.
func newFinder(t rule.Tester, before *analysis.Result) *finder {
	a := before.Assembly
	return &finder{
		tester: t, base: t.Base, house: a.House.House, of: a, before: before, now: rule.SubjectsOf(before),
		found: rule.Evaluate(t, before), asWork: rule.Evaluate(t, asWork(before)), covers: coversOf(t.Base, a),
	}
}

// Propose analyzes an assembly, finds swaps, and recomputes each of them. It
// is an error when the context ends or a method refuses its input.
func Propose(ctx context.Context, t rule.Tester, a *assembly.Assembly, opts Options) (*Advice, error) {
	before := opts.Before
	if before == nil {
		var err error
		if before, err = analysis.Run(ctx, t.Base, a); err != nil {
			return nil, err
		}
	}
	f := newFinder(t, before)
	advice := &Advice{Assembly: a, Before: f.before, Findings: f.found, Cautions: t.Cautions(f.now, f.found, nil)}
	advice.Leave = f.leave()
	if advice.Leave != "" && opts.Layer == "" && len(opts.Only) == 0 {
		return advice, nil
	}
	if err := f.all(ctx, advice, opts); err != nil {
		return nil, err
	}
	rank(advice, weightsOf(f.base))
	return advice, nil
}

// leave says why the assembly is best left alone: it stands or is planned
// without anything that moisture, mold, hazard or code would have changed. What
// stands is not changed for what the best figures speak against. What could not
// be judged is said.
func (f *finder) leave() string {
	var open, unjudged []string
	for _, found := range f.found {
		if found.Level == "info" || found.Kind == "data-gap" || found.Kind == "food" || suspected(&found) {
			continue
		}
		switch {
		case found.Verdict == kb.No, found.Verdict == kb.Depends && !(found.Unlikely && f.stands()):
			return ""
		case found.Verdict == kb.Depends:
			open = append(open, found.Title)
		case found.Verdict == kb.Unknown:
			unjudged = append(unjudged, found.Title)
		}
	}
	if len(unjudged) > 0 {
		return "Nothing that could be judged asks for a change. Not judged: " + strings.Join(slices.Concat(unjudged, open), "; ") + "." + f.foodWords()
	}
	say := "Nothing here asks for a change: no moisture, mold or code finding. Leave it alone and keep the water out."
	if len(open) > 0 {
		say = "It stands, and nothing surely asks for a change. Leave it alone and keep the water out. Still open: " + strings.Join(open, "; ") + "."
	}
	return say + f.foodWords()
}

// foodWords names the layers that hold glue or mold food, for those who would
// change them for that alone.
func (f *finder) foodWords() string {
	var layers []string
	for _, found := range f.found {
		if found.Kind == "food" && found.Layer != "" && !slices.Contains(layers, found.Layer) {
			layers = append(layers, found.Layer)
		}
	}
	if len(layers) == 0 {
		return ""
	}
	return " Glue or mold food is in: " + strings.Join(layers, ", ") + "; ask for one of these layers to see what could take its place."
}

// stands says whether the assembly is untouched.
func (f *finder) stands() bool { return f.before.Variants[0].Facts["existing"].Flag }

// all tries every candidate, in parallel, and keeps the order of candidates.
func (f *finder) all(ctx context.Context, advice *Advice, opts Options) error {
	candidates, rejected := f.candidates(opts)
	advice.Rejections = append(advice.Rejections, rejected...)
	type answer struct {
		proposal  *Proposal
		rejection *Rejection
		err       error
	}
	answers := make([]answer, len(candidates))
	var group sync.WaitGroup
	slots := make(chan struct{}, max(1, runtime.GOMAXPROCS(0)))
	for i, c := range candidates {
		group.Go(func() {
			slots <- struct{}{}
			defer func() { <-slots }()
			a := &answers[i]
			a.proposal, a.rejection, a.err = f.try(ctx, c)
		})
	}
	group.Wait()
	for _, a := range answers {
		switch {
		case a.err != nil:
			return a.err
		case a.rejection == nil && a.proposal != nil:
			advice.Proposals = append(advice.Proposals, *a.proposal)
		case a.rejection != nil:
			advice.Rejections = append(advice.Rejections, *a.rejection)
			if a.proposal != nil {
				advice.Joint = append(advice.Joint, *a.proposal)
			}
		}
	}
	return nil
}

// try applies one candidate, analyzes the changed assembly and judges it. One that
// is turned down for what another swap may lift is both proposed and rejected.
func (f *finder) try(ctx context.Context, c candidate) (*Proposal, *Rejection, error) {
	reject := func(because ...string) (*Proposal, *Rejection, error) {
		return nil, &Rejection{Candidate: c.title, ID: c.id(), Layer: f.nameAt(c.at), Because: because}, nil
	}
	reasons, asks := f.unfit(c)
	if len(reasons) > 0 {
		return reject(reasons...)
	}
	changed, err := f.apply(c)
	if err != nil {
		return reject(err.Error())
	}
	a, problems := f.resolve(changed.house)
	if len(problems) > 0 {
		return reject("it cannot be built as described: " + problems[0].Message)
	}
	p := &Proposal{
		ID: f.idOf(c), Title: c.title, Recipe: c.recipe, Material: c.material,
		Layer: f.nameAt(c.at), Changes: changed.changes, House: changed.house, Asks: append(asks, changed.asks...),
		Duties: f.dutyChanges(coversOf(f.base, a)),
	}
	if f.brief {
		return f.tryBriefly(ctx, a, p, c)
	}
	if p.After, err = analysis.Run(ctx, f.base, a); err != nil {
		return nil, nil, err
	}
	reasons, liftable := f.judge(p, c)
	if len(reasons) == 0 {
		return p, nil, nil
	}
	_, rejection, _ := reject(reasons...)
	if !liftable {
		p = nil
	}
	return p, rejection, nil
}

// resolve ties the changed assembly to the base.
func (f *finder) resolve(h *assembly.House) (*assembly.Assembly, strict.Problems) {
	if f.brief {
		return assembly.ResolveOne(h, f.of.Index, f.base)
	}
	resolved, problems := assembly.Resolve(h, nil, f.base)
	if len(problems) > 0 {
		return nil, problems
	}
	return resolved.Assemblies[f.of.Index], nil
}

// idOf names a candidate within the house.
func (f *finder) idOf(c candidate) string { return c.id() + "@" + f.nameAt(c.at) }

// nameAt gives the name of a described layer.
func (f *finder) nameAt(i int) string {
	layers := f.of.Described.Layers
	if i < 0 || i >= len(layers) {
		return f.of.Name
	}
	return layers[i].Name.Value
}

// unfit tests the conditions of a recipe on the assembly as it is: what turns
// it down, and what is open and must be asked.
func (f *finder) unfit(c candidate) (reasons, asks []string) {
	if c.recipe == nil {
		return nil, nil
	}
	switch a := f.tester.Over(c.recipe.Fits, f.now); a.Verdict {
	case kb.No:
		for _, r := range a.Because {
			if r.Verdict == kb.No {
				reasons = append(reasons, "it does not fit here: "+within(r))
			}
		}
	case kb.Depends, kb.Unknown:
		asks = append(asks, "whether it fits: "+open(a))
	}
	for _, u := range c.recipe.Unfit {
		say := f.tester.Fill(u.Say, "", f.subject())
		switch a := f.tester.Over(u.When, f.now); a.Verdict {
		case kb.Yes:
			reasons = append(reasons, say)
		case kb.Depends, kb.Unknown:
			asks = append(asks, fmt.Sprintf("%s Whether this applies is open: %s.", say, open(a)))
		}
	}
	return reasons, asks
}

// within words a reason with the layer it is about.
func within(r rule.Reason) string {
	if r.Layer == "" {
		return r.Text
	}
	return r.Layer + ", " + r.Text
}

// open says what keeps an answer open.
func open(a rule.Answer) string {
	var words []string
	for _, r := range a.Because {
		if (r.Verdict == kb.Depends || r.Verdict == kb.Unknown) && !slices.Contains(words, r.Text) {
			words = append(words, r.Text)
		}
	}
	if len(words) == 0 {
		return "it turns on which of the layers in doubt is there"
	}
	return strings.Join(words, "; ")
}

// partOf gives the index of the part that a described layer became in the
// first variant, or -1.
func (f *finder) partOf(layer int) int {
	for i, p := range f.of.Variants[0].Layers {
		if p.Layer == layer {
			return i
		}
	}
	return -1
}

// wordsOf says what a part is made of.
func wordsOf(p *assembly.Part) string {
	switch {
	case p.Cavity:
		return fmt.Sprintf("%s air space", p.Air)
	case p.Framed:
		for _, fill := range p.Fills {
			if fill.Material != nil {
				return fill.Material.Name + " between the framing"
			}
		}
		return "empty bay between " + p.Material.Name
	}
	return p.Material.Name + coatWords(len(p.CoatsIn)+len(p.CoatsOut))
}

// coatWords says how many coats a layer carries.
func coatWords(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return " with a coat on it"
	}
	return fmt.Sprintf(" with %d coats on it", n)
}
