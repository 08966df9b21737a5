package rule

import (
	"slices"
	"strings"

	"relath/kb"
)

// Cautions lists the cautions that are called for: those that findings name,
// those that something else names, and those whose own conditions hold or may
// hold for some of the subjects, which are the ways an assembly may be built. For
// says what called. A finding that may not be so names its cautions no more
// surely than that.
func (t Tester) Cautions(subjects []Subject, found []Finding, named map[string][]string) []Caution {
	var list []Caution
	for _, c := range t.Base.Cautions {
		calls := slices.Clone(named[c.ID])
		certain := len(calls) > 0
		for _, f := range found {
			if slices.Contains(f.Cautions, c.ID) {
				calls = append(calls, f.Title)
				certain = certain || f.Verdict == kb.No
			}
		}
		if len(c.When) > 0 {
			triggered, surely := t.triggers(c, subjects)
			calls = append(calls, triggered...)
			certain = certain || surely
		}
		if len(calls) > 0 {
			slices.Sort(calls)
			list = append(list, Caution{Caution: c, For: slices.Compact(calls), Certain: certain})
		}
	}
	return list
}

// triggers gives what calls for a caution, and whether it surely does, that is
// for every subject.
func (t Tester) triggers(c *kb.Caution, subjects []Subject) (calls []string, surely bool) {
	surely = len(subjects) > 0
	for _, s := range subjects {
		v := t.Verdict(c.When, s)
		surely = surely && v == kb.Yes
		if v != kb.No {
			calls = append(calls, because(t.All(c.When, s).Because))
		}
	}
	return calls, surely
}

// because joins the reasons that hold or may hold into one line.
func because(list []Reason) string {
	var words []string
	for _, r := range list {
		if r.Verdict != kb.No && !slices.Contains(words, r.Text) {
			words = append(words, r.Text)
		}
	}
	return strings.Join(words, "; ")
}

// JoinCautions adds cautions that are not there yet; a certain one replaces one
// that only may apply.
func JoinCautions(list, more []Caution) []Caution {
	for _, c := range more {
		at := slices.IndexFunc(list, func(o Caution) bool { return o.Caution.ID == c.Caution.ID })
		switch {
		case at < 0:
			list = append(list, c)
		case c.Certain && !list[at].Certain:
			list[at] = c
		}
	}
	return list
}
