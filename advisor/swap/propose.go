package swap

import (
	"context"
	"fmt"
	"runtime"
	"sync"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
)

// Options narrow the search.
type Options struct {
	Layer string // only swaps of this layer
}

// finder holds what is the same for all candidates of one assembly.
type finder struct {
	tester  rule.Tester
	base    *kb.Base
	house   *assembly.House
	of      *assembly.Assembly
	before  *analysis.Result
	subject rule.Subject
	found   []rule.Finding
	covers  []analysis.Cover
}

// Propose analyzes an assembly, finds swaps, and recomputes each of them.
func Propose(ctx context.Context, t rule.Tester, a *assembly.Assembly, opts Options) (*Advice, error) {
	before, err := analysis.Run(ctx, t.Base, a)
	if err != nil {
		return nil, err
	}
	f := &finder{tester: t, base: t.Base, house: a.House.House, of: a, before: before}
	f.subject = rule.SubjectOf(before.Variants[0])
	f.found = rule.Evaluate(t, before)
	f.covers = analysis.Covers(t.Base, a, a.Variants[0])
	advice := &Advice{Assembly: a, Before: before, Findings: f.found, Cautions: t.Cautions(f.subject, namedBy(f.found))}
	advice.Leave = f.leave()
	if advice.Leave != "" && opts.Layer == "" {
		return advice, nil
	}
	if err := f.all(ctx, advice, opts); err != nil {
		return nil, err
	}
	rank(advice)
	return advice, nil
}

// namedBy lists the cautions that findings name, with the finding's title.
func namedBy(found []rule.Finding) map[string][]string {
	named := make(map[string][]string)
	for _, f := range found {
		for _, id := range f.Cautions {
			named[id] = append(named[id], f.Title)
		}
	}
	return named
}

// leave says why the assembly is best left alone: it stands or is planned
// without anything that moisture, mold, hazard or code would have changed.
func (f *finder) leave() string {
	for _, found := range f.found {
		if found.Level == "info" || found.Kind == "data-gap" || found.Kind == "food" {
			continue
		}
		if found.Kind == "hazard" && found.Verdict != kb.No {
			continue
		}
		if found.Verdict == kb.No || found.Verdict == kb.Depends {
			return ""
		}
	}
	return "Nothing here asks for a change: no moisture, mold or code finding. Leave it alone and keep the water out."
}

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
		case a.proposal != nil:
			advice.Proposals = append(advice.Proposals, *a.proposal)
		case a.rejection != nil:
			advice.Rejections = append(advice.Rejections, *a.rejection)
		}
	}
	return nil
}

// try applies one candidate, analyzes the changed assembly and judges it.
func (f *finder) try(ctx context.Context, c candidate) (*Proposal, *Rejection, error) {
	reject := func(because ...string) (*Proposal, *Rejection, error) {
		return nil, &Rejection{Candidate: c.title, ID: c.id(), Layer: f.nameAt(c.at), Because: because}, nil
	}
	if reasons := f.unfit(c); len(reasons) > 0 {
		return reject(reasons...)
	}
	house, changes, err := f.apply(c)
	if err != nil {
		return reject(err.Error())
	}
	resolved, problems := assembly.Resolve(house, nil, f.base)
	if len(problems) > 0 {
		return reject("it cannot be built as described: " + problems[0].Message)
	}
	changed := resolved.Assemblies[f.of.Index]
	after, err := analysis.Run(ctx, f.base, changed)
	if err != nil {
		return nil, nil, err
	}
	p := &Proposal{
		ID: c.id() + "@" + f.nameAt(c.at), Title: c.title, Recipe: c.recipe, Material: c.material,
		Layer: f.nameAt(c.at), Changes: changes, House: house, After: after,
	}
	if reasons := f.judge(p, c, changed); len(reasons) > 0 {
		return reject(reasons...)
	}
	return p, nil, nil
}

// nameAt gives the name of a described layer.
func (f *finder) nameAt(i int) string {
	layers := f.of.Described.Layers
	if i < 0 || i >= len(layers) {
		return f.of.Name
	}
	return layers[i].Name.Value
}

// unfit tests the conditions of a recipe on the assembly as it is.
func (f *finder) unfit(c candidate) []string {
	if c.recipe == nil {
		return nil
	}
	var reasons []string
	if a := f.tester.All(c.recipe.Fits, f.subject); a.Verdict == kb.No {
		for _, r := range a.Because {
			if r.Verdict == kb.No {
				reasons = append(reasons, "it does not fit here: "+r.Text)
			}
		}
	}
	for _, u := range c.recipe.Unfit {
		if f.tester.All(u.When, f.subject).Verdict == kb.Yes {
			reasons = append(reasons, u.Say)
		}
	}
	return reasons
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
				return fill.Material.Name + " between " + p.Material.Name
			}
		}
		return "empty bay between " + p.Material.Name
	}
	return p.Material.Name
}
