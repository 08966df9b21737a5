package swap

import (
	"context"
	"slices"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
	"relath/kb/strict"
)

// Found is what a search for swaps comes to.
type Found struct {
	Leave string   // not empty: leave it alone, and why
	IDs   []string // of the proposals, in their order
	First string   // the first of them that clears a finding and is not blocked, or empty
}

// First finds the same swaps as [Propose] in the same order and says which of
// them is taken where none is chosen. Nothing is kept of the candidates that only
// a report reads, so that it takes a fraction of the time. Errors are those of
// Propose.
func First(ctx context.Context, t rule.Tester, before *analysis.Result) (Found, error) {
	f := newFinder(t, before)
	found := Found{Leave: f.leave()}
	if found.Leave != "" {
		return found, nil
	}
	f.brief, f.tester.Mute = true, true
	advice := &Advice{}
	if err := f.all(ctx, advice, Options{}); err != nil {
		return found, err
	}
	rank(advice, weightsOf(f.base))
	for i := range advice.Proposals {
		p := &advice.Proposals[i]
		found.IDs = append(found.IDs, p.ID)
		if found.First == "" && p.Standing != Blocked && len(p.Resolved) > 0 {
			found.First = p.ID
		}
	}
	return found, nil
}

// tryBriefly analyzes and judges a changed assembly as far as that decides whether
// it is proposed and where it stands. It keeps no reason.
func (f *finder) tryBriefly(ctx context.Context, a *assembly.Assembly, p *Proposal, c candidate) (*Proposal, *Rejection, error) {
	if len(lost(p)) > 0 {
		return nil, nil, nil
	}
	h := analysis.NewHolder(f.base, a)
	first, err := h.First(ctx)
	if err != nil || f.hopeless(p, first) {
		return nil, nil, err
	}
	if p.Recipe != nil {
		if p.After, err = h.Rest(ctx); err != nil || f.turnsDown(p, c) {
			return nil, nil, err
		}
		if clears(p) || gains(p) {
			return p, nil, nil
		}
	}
	// It stands by its figures, or single materials are held against one another by
	// them: now their ranges count.
	h.BracketDrying()
	if p.After, err = h.Run(ctx, nil, false); err != nil || f.turnsDown(p, c) {
		return nil, nil, err
	}
	return p, nil, nil
}

func (f *finder) turnsDown(p *Proposal, c candidate) bool {
	because, _ := f.judge(p, c)
	return len(because) > 0
}

// hopeless says whether a candidate is turned down by the first of the ways in which
// the changed assembly may be built already, whatever the others say: a fact that
// is not known in one is not known over all, a finding on one is one on all, and
// the best values are those of the first.
func (f *finder) hopeless(p *Proposal, first *analysis.Result) bool {
	if len(f.unseen(first)) > 0 {
		return true
	}
	q := *p
	q.Resolved, q.Introduced, _ = sortFindings(f.found, f.asWork, rule.Evaluate(f.tester, first))
	q.Introduced = slices.DeleteFunc(q.Introduced, func(x rule.Finding) bool { return findingOf(f.asWork, x.Rule) != nil })
	if len(brings(&q, true))+len(brings(&q, false)) > 0 {
		return true
	}
	q.Introduced = nil // what is surely so in one may be open over all
	q.Compare = f.compare(first)
	for i := range q.Compare {
		c := &q.Compare[i] // over all it may be unclear, never better where it is not by the best values
		c.Change = change(c.Fact.Better, quantity.Exact(c.Before.Best), quantity.Exact(c.After.Best))
	}
	return len(useless(&q, f.worthwhileShare())) > 0
}

// On gives the same swap on an assembly that is built like the one that it was
// computed on, in the same house: only its name, its place and its size are its
// own. The error is what the description of the changed assembly lacks.
func (p *Proposal) On(base *kb.Base, a *assembly.Assembly) (*Proposal, error) {
	house := *a.House.House
	house.Assemblies = append([]assembly.Described(nil), house.Assemblies...)
	changed := &house.Assemblies[a.Index]
	own := *changed
	*changed = p.House.Assemblies[p.After.Assembly.Index]
	changed.Name, changed.Faces, changed.Area, changed.Openings, changed.Note = own.Name, own.Faces, own.Area, own.Openings, own.Note
	reread, err := reread(&house, a.Index)
	if err != nil {
		return nil, err
	}
	resolved, problems := assembly.Resolve(reread, nil, base)
	if len(problems) > 0 {
		return nil, strict.Problems(problems)
	}
	on := *p
	on.House, on.After = reread, p.After.On(base, resolved.Assemblies[a.Index])
	return &on, nil
}
