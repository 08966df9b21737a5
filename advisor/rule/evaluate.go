package rule

import (
	"fmt"
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
	answers := make([]Answer, len(r.Variants))
	for i, v := range r.Variants {
		answers[i] = t.All(rule.When, SubjectOf(v))
	}
	joined := join(answers)
	if joined == kb.No {
		return Finding{}, false
	}
	existing := untouched(r)
	if existing && rule.Judges == "proposed" {
		return Finding{}, false
	}
	at := strongest(answers)
	f := Finding{
		Rule: rule.ID, Title: rule.Title, Kind: rule.Kind, Level: rule.Level, Layer: answers[at].Layer,
		Why: rule.Why, Settle: rule.Settle, Cautions: rule.Cautions, Basis: rule.Basis, Because: answers[at].Because,
	}
	f.Say = t.fill(rule.Say, f.Layer, SubjectOf(r.Variants[at]))
	f.Verdict = joined
	if joined == kb.Yes {
		f.Verdict = kb.No
		if rule.Verdict != "" {
			f.Verdict = rule.Verdict
		}
	}
	if f.Verdict == kb.Unknown && rule.Kind != "data-gap" && !gapMatters(f) {
		return Finding{}, false
	}
	f.soften(existing)
	t.decide(&f, r, answers)
	return f, true
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

// join gives the answer over all variants: when they differ it depends.
func join(answers []Answer) kb.Verdict {
	v := answers[0].Verdict
	for _, a := range answers[1:] {
		if a.Verdict != v {
			if v == kb.Unknown || a.Verdict == kb.Unknown {
				return kb.Unknown
			}
			return kb.Depends
		}
	}
	return v
}

// strongest picks the variant whose reasons are shown: the first in which the
// conditions hold, or nearly.
func strongest(answers []Answer) int {
	for _, v := range []kb.Verdict{kb.Yes, kb.Depends, kb.Unknown} {
		for i, a := range answers {
			if a.Verdict == v {
				return i
			}
		}
	}
	return 0
}

func untouched(r *analysis.Result) bool {
	e := r.Variants[0].Facts["existing"]
	return e.Known && e.Flag
}

// decide names the input that decides a finding that depends: the doubt that
// turns it, else the strongest driver of the fact that straddles its limit.
func (t Tester) decide(f *Finding, r *analysis.Result, answers []Answer) {
	for _, reason := range f.Because {
		f.Mark = f.Mark.Weaker(reason.Mark)
	}
	if f.Verdict != kb.Depends && f.Verdict != kb.Unknown {
		return
	}
	if text := turningDoubt(r, answers); text != "" {
		f.Decider = text
		return
	}
	for _, reason := range f.Because {
		if reason.Verdict != kb.Depends && reason.Verdict != kb.Unknown {
			continue
		}
		f.Decider = t.deciderOf(reason, r)
		return
	}
}

func (t Tester) deciderOf(reason Reason, r *analysis.Result) string {
	e := r.Variants[0].Facts[reason.Fact]
	if len(e.Drivers) > 0 {
		in := e.Drivers[0].Input
		name := in.Material
		if m := t.Base.Material(in.Material); m != nil {
			name = m.Name
		} else if a := t.Base.Assumption(in.Material); a != nil {
			return a.Title
		}
		return fmt.Sprintf("%s of %s (%s)", in.Property, in.Layer, name)
	}
	if reason.Layer != "" {
		return t.title(reason.Fact) + " of " + reason.Layer
	}
	return t.title(reason.Fact)
}

// turningDoubt finds the doubt whose choices separate the answers best.
func turningDoubt(r *analysis.Result, answers []Answer) string {
	for d, doubt := range r.Assembly.Doubts {
		by := make(map[string]kb.Verdict)
		mixed := false
		for i, v := range r.Variants {
			choice := v.Of.Settled[d].Choice
			if old, ok := by[choice]; ok && old != answers[i].Verdict {
				mixed = true
			}
			by[choice] = answers[i].Verdict
		}
		if !mixed && differ(by) {
			return doubtText(doubt.Where, doubt.Choices, by)
		}
	}
	if len(r.Assembly.Doubts) > 0 && differs(answers) {
		return r.Assembly.Doubts[0].Where
	}
	return ""
}

func differ(by map[string]kb.Verdict) bool {
	seen := make(map[kb.Verdict]bool)
	for _, v := range by {
		seen[v] = true
	}
	return len(seen) > 1
}

func differs(answers []Answer) bool {
	return slices.ContainsFunc(answers, func(a Answer) bool { return a.Verdict != answers[0].Verdict })
}

// doubtText words how a verdict turns over the choices of a doubt.
func doubtText(where string, choices []string, by map[string]kb.Verdict) string {
	var holds, clears []string
	for _, c := range choices {
		if v, ok := by[c]; ok && v == kb.No {
			clears = append(clears, c)
		} else if ok {
			holds = append(holds, c)
		}
	}
	return fmt.Sprintf("%s: with %s it holds, with %s it does not", where, strings.Join(holds, ", "), strings.Join(clears, ", "))
}
