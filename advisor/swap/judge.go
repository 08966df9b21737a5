package swap

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// judge compares before and after, fills in the proposal, and gives the
// reasons to turn it down, if any.
func (f *finder) judge(p *Proposal, c candidate, after *assembly.Assembly) []string {
	found := rule.Evaluate(f.tester, p.After)
	p.Resolved, p.Introduced, p.Remaining = sortFindings(f.found, found)
	p.Compare = f.compare(p.After)
	p.Duties = f.dutyChanges(analysis.Covers(f.base, after, after.Variants[0]))
	if reasons := lost(p.Duties); len(reasons) > 0 {
		return reasons
	}
	subject := rule.SubjectOf(p.After.Variants[0])
	subject.Work = f.work(p, c, after)
	f.needs(p, subject)
	p.Cautions = f.tester.Cautions(subject, f.named(p, c, after))
	p.Why = f.why(p, c)
	if reasons := useless(p); len(reasons) > 0 {
		return reasons
	}
	p.Standing = standing(p)
	return nil
}

// sortFindings splits findings into those that a swap clears, brings and
// leaves. A finding that only turns from surely to possibly counts as left.
func sortFindings(before, after []rule.Finding) (resolved, introduced, remaining []rule.Finding) {
	in := func(list []rule.Finding, f rule.Finding) bool {
		return slices.ContainsFunc(list, func(o rule.Finding) bool { return o.Rule == f.Rule })
	}
	for _, f := range before {
		if f.Kind != "data-gap" && !in(after, f) {
			resolved = append(resolved, f)
		}
	}
	for _, f := range after {
		if in(before, f) {
			remaining = append(remaining, f)
		} else {
			introduced = append(introduced, f)
		}
	}
	return resolved, introduced, remaining
}

// same is the relative change below which a fact counts as unchanged, and
// trifle the share of the larger spread.
const same = 0.02

// compare lists the facts that the registry wants before and after.
func (f *finder) compare(after *analysis.Result) []Compared {
	var list []Compared
	for _, fact := range f.base.Facts {
		if fact.Screen != "before-after" {
			continue
		}
		b, a := overVariants(f.before, fact.ID), overVariants(after, fact.ID)
		if !b.Known || !a.Known {
			continue
		}
		list = append(list, Compared{
			Fact: fact, Before: b.Range, After: a.Range, Mark: b.Evidence.Weaker(a.Evidence),
			Change: change(fact.Better, b.Range, a.Range),
		})
	}
	return list
}

// overVariants joins the range of a fact over all variants.
func overVariants(r *analysis.Result, id string) analysis.Estimate {
	e := r.Variants[0].Facts[id]
	for _, v := range r.Variants[1:] {
		o := v.Facts[id]
		if !o.Known || !e.Known {
			return analysis.Estimate{Missing: o.Missing}
		}
		e.Range = e.Range.Union(o.Range)
	}
	return e
}

// change judges by the best values and says unclear where the ranges overlap
// so far that each holds the other's best value.
func change(better string, b, a quantity.Range) string {
	scale := max(abs(b.Best), abs(a.Best))
	if abs(a.Best-b.Best) <= same*scale || better == "" {
		return "same"
	}
	up := a.Best > b.Best
	word := "worse"
	if up == (better == "higher") {
		word = "better"
	}
	if b.Contains(a.Best) && a.Contains(b.Best) {
		return "unclear"
	}
	return word
}

func abs(v float64) float64 { return max(v, -v) }

// dutyChanges says who takes each duty before and after.
func (f *finder) dutyChanges(after []analysis.Cover) []DutyChange {
	var list []DutyChange
	for _, d := range f.base.Duties {
		b, hadIt := coverOf(f.covers, d.ID)
		a, hasIt := coverOf(after, d.ID)
		if !hadIt && !hasIt {
			continue
		}
		list = append(list, DutyChange{Duty: d.ID, Before: b.By, After: a.By, Verdict: verdictAfter(b, a, hasIt), Asks: a.Asks})
	}
	return list
}

// verdictAfter keeps a duty that was covered from vanishing: what was required
// before is required after.
func verdictAfter(b, a analysis.Cover, hasIt bool) kb.Verdict {
	if !hasIt {
		return kb.No
	}
	return a.Verdict
}

func coverOf(list []analysis.Cover, duty string) (analysis.Cover, bool) {
	for _, c := range list {
		if c.Duty == duty {
			return c, true
		}
	}
	return analysis.Cover{Duty: duty, Verdict: kb.No}, false
}

// lost gives the duties that were covered and no longer are.
func lost(duties []DutyChange) []string {
	var reasons []string
	for _, d := range duties {
		if d.Verdict == kb.No && len(d.Before) > 0 {
			reasons = append(reasons, fmt.Sprintf("no layer would take the duty %q that %s had", d.Duty, strings.Join(d.Before, ", ")))
		}
	}
	return reasons
}

// needs collects who must agree.
func (f *finder) needs(p *Proposal, s rule.Subject) {
	if p.Recipe != nil {
		for _, n := range p.Recipe.Needs {
			if f.tester.All(n.When, s).Verdict != kb.No {
				p.Needs = append(p.Needs, n)
			}
		}
	}
	for _, d := range p.Duties {
		if d.Verdict == kb.Depends && !slices.Equal(d.Before, d.After) && d.Duty == "brace" {
			p.Needs = append(p.Needs, kb.Need{Who: "official", What: "bracing by the new layer: " + strings.Join(d.Asks, ", ")})
		}
	}
}

// named lists cautions that recipe, materials and findings name.
func (f *finder) named(p *Proposal, c candidate, after *assembly.Assembly) map[string][]string {
	named := namedBy(append(slices.Clone(p.Introduced), p.Remaining...))
	if c.recipe != nil {
		for _, id := range c.recipe.Cautions {
			named[id] = append(named[id], c.recipe.Title)
		}
	}
	for _, part := range fresh(f.of.Variants[0].Layers, after.Variants[0].Layers) {
		if part.Cavity {
			continue
		}
		materials := append(append([]*kb.Material{}, part.CoatsIn...), part.CoatsOut...)
		if !part.Framed {
			materials = append(materials, part.Material)
		}
		for _, fill := range part.Fills {
			if fill.Material != nil {
				materials = append(materials, fill.Material)
			}
		}
		for _, m := range materials {
			for _, id := range m.Cautions {
				named[id] = append(named[id], m.Name)
			}
		}
	}
	return named
}

// why is the reason in the recipe's words, or for a single material what it
// resolves or betters.
func (f *finder) why(p *Proposal, c candidate) string {
	if c.recipe != nil {
		return c.recipe.Why
	}
	var gains []string
	for _, r := range p.Resolved {
		gains = append(gains, "it clears: "+r.Title)
	}
	for _, x := range p.Compare {
		if x.Change == "better" {
			gains = append(gains, "better "+x.Fact.Title)
		}
	}
	return strings.Join(gains, "; ")
}

// useless says why a swap that could be built is not worth proposing.
func useless(p *Proposal) []string {
	var reasons []string
	for _, in := range p.Introduced {
		if in.Kind == "moisture" && in.Level == "block" && in.Verdict == kb.No {
			reasons = append(reasons, "it brings a new problem: "+in.Say)
		}
	}
	if len(reasons) > 0 {
		return reasons
	}
	if clears(p) {
		return nil
	}
	for _, x := range p.Compare {
		if x.Change == "better" && decisive(x.Fact.ID) && worthwhile(&x) {
			return nil
		}
	}
	return []string{"it clears no finding, and neither drying, condensate, glue nor mold food gets better"}
}

func clears(p *Proposal) bool {
	return slices.ContainsFunc(p.Resolved, func(f rule.Finding) bool { return f.Level != "info" || f.Kind == "food" })
}

// decisive says whether an improvement of a fact alone is worth a proposal.
func decisive(fact string) bool {
	return slices.Contains([]string{"drying-capacity", "peak-condensate", "adhesive-mass", "cavity-food"}, fact)
}

// worthwhile asks a quarter of change where no finding is cleared.
func worthwhile(x *Compared) bool {
	const quarter = 0.25
	return abs(x.After.Best-x.Before.Best) > quarter*max(abs(x.Before.Best), abs(x.After.Best))
}

// standing says what a proposal needs before it can be built.
func standing(p *Proposal) Standing {
	s := Free
	if len(p.Cautions) > 0 || len(p.Needs) > 0 {
		s = Warned
	}
	for _, n := range p.Needs {
		if n.Who == "engineer" {
			s = NeedsEngineer
		}
	}
	for _, in := range p.Introduced {
		switch {
		case in.Level == "block" && in.Verdict == kb.No:
			return Blocked
		case in.Level == "block" && s != NeedsEngineer:
			s = Warned
		case in.Level == "engineer":
			s = NeedsEngineer
		}
	}
	return s
}
