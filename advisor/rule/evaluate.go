package rule

import (
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/kb"
)

// Evaluate runs every rule and every code table of the base over an analysis.
// Findings come strongest first and then in the order of their ids.
func Evaluate(t Tester, r *analysis.Result) []Finding {
	var list []Finding
	for _, rule := range t.Base.Rules {
		if f, ok := t.rule(rule, r); ok {
			list = append(list, f)
		}
	}
	for _, table := range t.Base.Tables {
		if f, ok := t.table(table, r); ok {
			list = append(list, f)
		}
	}
	slices.SortStableFunc(list, func(a, b Finding) int { return weight(a) - weight(b) })
	return list
}

// weight orders findings: level, then verdict.
func weight(f Finding) int {
	level := slices.Index(kb.Level("").Allowed(), string(f.Level))
	verdict := slices.Index([]kb.Verdict{kb.No, kb.Depends, kb.Unknown, kb.Yes}, f.Verdict)
	return 10*level + verdict
}

// rule evaluates one rule over all variants.
func (t Tester) rule(rule *kb.Rule, r *analysis.Result) (Finding, bool) {
	existing := untouched(r)
	if existing && rule.Judges == "proposed" {
		return Finding{}, false
	}
	subjects := SubjectsOf(r)
	verdicts := verdictsOf(subjects, func(s Subject) kb.Verdict { return t.Verdict(rule.When, s) })
	joined := join(verdicts)
	if joined == kb.No {
		return Finding{}, false
	}
	nearest := strongest(verdicts)
	at := subjects[nearest]
	a := t.All(rule.When, at)
	f := Finding{
		Rule: rule.ID, Title: rule.Title, Kind: rule.Kind, Level: rule.Level, Layer: a.Layer,
		Why: rule.Why, Left: rule.Left, Settle: rule.Settle, Measure: rule.Measure, Cautions: rule.Cautions, Basis: rule.Basis, Because: a.Because,
	}
	if !t.Mute {
		f.Say = t.Fill(rule.Say, f.Layer, at)
	}
	f.Verdict = joined
	if joined == kb.Yes {
		f.Verdict = yesOf(rule)
	}
	if f.Verdict == kb.Unknown && rule.Kind != "data-gap" {
		switch {
		case gapMatters(f):
			f.Say = notJudged(f.Because)
		case verdicts[nearest] == kb.Unknown:
			return Finding{}, false
		}
	}
	f.soften(existing)
	f.mark()
	t.decide(&f, r, verdicts, yesOf(rule))
	return f, true
}

// yesOf gives the answer of a finding whose conditions hold.
func yesOf(rule *kb.Rule) kb.Verdict {
	if rule.Verdict != "" {
		return rule.Verdict
	}
	return kb.No
}

// soften turns a code finding on an untouched existing assembly into
// information: code judges proposed work.
func (f *Finding) soften(existing bool) {
	if existing && f.Kind == "code" {
		f.Level = "info"
	}
}

// gapMatters says whether an unknown is worth a finding of its own: rules that
// wait only for the adopted edition or the zone are covered by the data gaps.
func gapMatters(f Finding) bool {
	for _, r := range f.Because {
		if r.Verdict == kb.Unknown && !slices.Contains([]string{"edition", "zone", "zone-confirmed", "state", "regime"}, r.Fact) {
			return true
		}
	}
	return false
}

// notJudged says what is missing, in place of a sentence whose figures are not
// known.
func notJudged(because []Reason) string {
	var words []string
	for _, r := range because {
		if r.Verdict == kb.Unknown && !slices.Contains(words, r.Text) {
			words = append(words, r.Text)
		}
	}
	return "Not judged: " + strings.Join(words, "; ") + "."
}

// join gives the verdict over all variants: when they differ it depends.
func join(verdicts []kb.Verdict) kb.Verdict {
	v := verdicts[0]
	for _, other := range verdicts[1:] {
		if other != v {
			if v == kb.Unknown || other == kb.Unknown {
				return kb.Unknown
			}
			return kb.Depends
		}
	}
	return v
}

// strongest picks the variant whose reasons are shown: the first in which the
// conditions hold, or nearly.
func strongest(verdicts []kb.Verdict) int {
	for _, v := range []kb.Verdict{kb.Yes, kb.Depends, kb.Unknown} {
		if i := slices.Index(verdicts, v); i >= 0 {
			return i
		}
	}
	return 0
}

// untouched says whether the assembly stands as it is.
func untouched(r *analysis.Result) bool {
	e := r.Variants[0].Facts["existing"]
	return e.Known && e.Flag
}

// mark sets the mark of evidence: the weakest among the facts and the limits,
// which are as well founded as their best source.
func (f *Finding) mark() {
	for _, reason := range f.Because {
		f.Mark = f.Mark.Weaker(reason.Mark)
	}
	if len(f.Basis) == 0 {
		return
	}
	limits := f.Basis[0].Evidence
	for _, b := range f.Basis {
		if b.Evidence.Rank() < limits.Rank() {
			limits = b.Evidence
		}
	}
	f.Mark = f.Mark.Weaker(limits)
}
