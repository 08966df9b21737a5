package swap

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// beforeAfter marks the facts that are compared, in the registry of facts.
const beforeAfter = "before-after"

// unchanged is the relative change below which a fact counts as unchanged.
const unchanged = 0.02

// The words for a change of a fact.
const (
	better  = "better"
	poorer  = "worse"
	even    = "same"
	unclear = "unclear"
)

// compare lists the facts that the registry wants before and after, where both
// are known.
func (f *finder) compare(after *analysis.Result) []Compared {
	var list []Compared
	for _, fact := range f.base.Facts {
		if fact.Screen != beforeAfter {
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

// overVariants joins a fact over all variants: the best value of the first, the
// bounds and the weakest mark of all.
func overVariants(r *analysis.Result, id string) analysis.Estimate {
	e := r.Variants[0].Facts[id]
	for _, v := range r.Variants[1:] {
		o := v.Facts[id]
		if !o.Known || !e.Known {
			return analysis.Estimate{Missing: e.Missing + o.Missing}
		}
		e.Range = e.Range.Union(o.Range)
		e.Evidence = e.Evidence.Weaker(o.Evidence)
	}
	return e
}

// change judges by the best values and says unclear where the ranges overlap
// so far that each holds the other's best value.
func change(wanted string, b, a quantity.Range) string {
	scale := max(abs(b.Best), abs(a.Best))
	switch {
	case abs(a.Best-b.Best) <= unchanged*scale || wanted == "":
		return even
	case b.Contains(a.Best) && a.Contains(b.Best):
		return unclear
	case (a.Best > b.Best) == (wanted == "higher"):
		return better
	}
	return poorer
}

func abs(v float64) float64 { return max(v, -v) }

// coversOf says who takes each duty over all variants of an assembly. Where
// the variants differ the cover depends.
func coversOf(base *kb.Base, a *assembly.Assembly) []analysis.Cover {
	list := analysis.Covers(base, a, a.Variants[0])
	for _, v := range a.Variants[1:] {
		for _, o := range analysis.Covers(base, a, v) {
			i := slices.IndexFunc(list, func(c analysis.Cover) bool { return c.Duty == o.Duty })
			if i < 0 {
				o.Verdict, o.Asks = kb.Depends, append(slices.Clone(o.Asks), inDoubt)
				list = append(list, o)
				continue
			}
			list[i] = joinCovers(list[i], o)
		}
	}
	return list
}

// inDoubt is what is asked where variants differ.
const inDoubt = "which of the layers in doubt is there"

// joinCovers joins the covers of one duty in two variants.
func joinCovers(a, b analysis.Cover) analysis.Cover {
	for _, layer := range b.By {
		if !slices.Contains(a.By, layer) {
			a.By = append(slices.Clone(a.By), layer)
		}
	}
	if a.Verdict != b.Verdict {
		a.Verdict = kb.Depends
		if !slices.Contains(a.Asks, inDoubt) {
			a.Asks = append(slices.Clone(a.Asks), inDoubt)
		}
	}
	return a
}

// dutyChanges says who takes each duty before and after. What was required
// before is required after.
func (f *finder) dutyChanges(after []analysis.Cover) []DutyChange {
	var list []DutyChange
	for _, d := range f.base.Duties {
		b, hadIt := coverOf(f.covers, d.ID)
		a, hasIt := coverOf(after, d.ID)
		if hadIt || hasIt {
			list = append(list, DutyChange{Duty: d.ID, Before: b.By, After: a.By, Was: b.Verdict, Verdict: a.Verdict, Asks: a.Asks})
		}
	}
	return list
}

// coverOf finds the cover of a duty; one that is not listed has none.
func coverOf(list []analysis.Cover, duty string) (analysis.Cover, bool) {
	for _, c := range list {
		if c.Duty == duty {
			return c, true
		}
	}
	return analysis.Cover{Duty: duty, Verdict: kb.No}, false
}

// retardVapor is the duty that code tables judge by zone and kind of wall: a
// recipe may give it up where they allow it.
const retardVapor = "retard-vapor"

// lost gives the duties that were covered and no longer are.
func lost(p *Proposal) []string {
	given := p.Recipe != nil && slices.Contains(p.Recipe.Loses, retardVapor)
	var reasons []string
	for _, d := range p.Duties {
		if uncovered(d.Was, d.Verdict) && !(given && d.Duty == retardVapor) {
			reasons = append(reasons, nobodyTakes(&d))
		}
	}
	return reasons
}

// uncovered says whether a duty that was covered, surely or perhaps, no longer
// is.
func uncovered(was, now kb.Verdict) bool { return was != kb.No && now == kb.No }

func nobodyTakes(d *DutyChange) string {
	return fmt.Sprintf("no layer would take the duty %q that %s had", d.Duty, strings.Join(d.Before, ", "))
}
