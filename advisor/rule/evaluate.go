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
	existing := untouched(r)
	if existing && rule.Judges == "proposed" {
		return Finding{}, false
	}
	answers := make([]Answer, len(r.Variants))
	for i, v := range r.Variants {
		answers[i] = t.All(rule.When, SubjectOf(v))
	}
	joined := join(answers)
	if joined == kb.No {
		return Finding{}, false
	}
	at := strongest(answers)
	f := Finding{
		Rule: rule.ID, Title: rule.Title, Kind: rule.Kind, Level: rule.Level, Layer: answers[at].Layer,
		Why: rule.Why, Settle: rule.Settle, Cautions: rule.Cautions, Basis: rule.Basis, Because: answers[at].Because,
	}
	f.Say = t.Fill(rule.Say, f.Layer, SubjectOf(r.Variants[at]))
	f.Verdict = joined
	if joined == kb.Yes {
		f.Verdict = kb.No
		if rule.Verdict != "" {
			f.Verdict = rule.Verdict
		}
	}
	if f.Verdict == kb.Unknown && rule.Kind != "data-gap" {
		if !gapMatters(f) {
			return Finding{}, false
		}
		f.Say = notJudged(f.Because)
	}
	f.soften(existing)
	f.mark()
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

// decide names the input that decides a finding that depends: the doubt that
// turns it, else the strongest driver of the fact that straddles its limit.
func (t Tester) decide(f *Finding, r *analysis.Result, answers []Answer) {
	if t.Mute || f.Verdict != kb.Depends && f.Verdict != kb.Unknown {
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
		f.Unlikely = f.Unlikely || reason.Verdict == kb.Depends && reason.Unlikely
		if f.Decider == "" {
			f.Decider = t.deciderOf(reason, r)
		}
	}
}

// deciderOf names the strongest driver behind a reason, or its fact.
func (t Tester) deciderOf(reason Reason, r *analysis.Result) string {
	e := r.Variants[0].Facts[reason.Fact]
	switch {
	case reason.Layer != "":
		return t.title(reason.Fact) + " of " + reason.Layer
	case len(e.Drivers) == 0:
		return t.title(reason.Fact)
	}
	in := e.Drivers[0].Input
	if a := t.Base.Assumption(in.Material); a != nil {
		return a.Title
	}
	return fmt.Sprintf("%s of %s (%s)", strings.ReplaceAll(in.Property, "-", " "), in.Layer, t.nameOf(in.Material))
}

// nameOf gives the name of a material or a measured system.
func (t Tester) nameOf(id string) string {
	if m := t.Base.Material(id); m != nil {
		return m.Name
	}
	if s := t.Base.System(id); s != nil {
		return s.Name
	}
	return id
}

// turningDoubt finds the doubt that decides: one whose choices alone separate
// the answers, else the first that turns an answer while the others stand.
func turningDoubt(r *analysis.Result, answers []Answer) string {
	for d, doubt := range r.Assembly.Doubts {
		if by, clean := choices(r, answers, d); clean && differ(by) {
			return doubtText(doubt.Where, doubt.Choices, by)
		}
	}
	for d, doubt := range r.Assembly.Doubts {
		if turns(r, answers, d) {
			return doubt.Where
		}
	}
	return ""
}

// choices gives the answer for each choice of a doubt; it is not clean when
// one choice has several answers.
func choices(r *analysis.Result, answers []Answer, doubt int) (by map[string]kb.Verdict, clean bool) {
	by = make(map[string]kb.Verdict)
	for i, v := range r.Variants {
		choice := v.Of.Settled[doubt].Choice
		if old, ok := by[choice]; ok && old != answers[i].Verdict {
			return nil, false
		}
		by[choice] = answers[i].Verdict
	}
	return by, true
}

// differ says whether the choices have more than one answer.
func differ(by map[string]kb.Verdict) bool {
	seen := make(map[kb.Verdict]bool)
	for _, v := range by {
		seen[v] = true
	}
	return len(seen) > 1
}

// turns says whether two variants that differ in this doubt alone have
// different answers.
func turns(r *analysis.Result, answers []Answer, doubt int) bool {
	first := make(map[string]kb.Verdict)
	for i, v := range r.Variants {
		others := ""
		for _, s := range v.Of.Settled {
			if s.Doubt != doubt {
				others += s.Choice + "\n"
			}
		}
		if old, ok := first[others]; ok && old != answers[i].Verdict {
			return true
		}
		first[others] = answers[i].Verdict
	}
	return false
}

// doubtText words how a finding turns over the choices of a doubt.
func doubtText(where string, choices []string, by map[string]kb.Verdict) string {
	words := map[kb.Verdict]string{kb.Yes: "it holds", kb.Depends: "it depends", kb.Unknown: "it is not known", kb.No: "it does not hold"}
	var parts []string
	for _, v := range []kb.Verdict{kb.Yes, kb.Depends, kb.Unknown, kb.No} {
		var such []string
		for _, c := range choices {
			if answer, ok := by[c]; ok && answer == v {
				such = append(such, c)
			}
		}
		if len(such) > 0 {
			parts = append(parts, fmt.Sprintf("with %s %s", strings.Join(such, ", "), words[v]))
		}
	}
	return where + ": " + strings.Join(parts, ", ")
}
