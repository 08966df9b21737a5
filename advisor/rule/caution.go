package rule

import (
	"slices"
	"strings"

	"relath/kb"
)

// Cautions lists the cautions that a subject calls for: those whose own
// conditions hold or may hold, and those that are named. For says what called.
func (t Tester) Cautions(s Subject, named map[string][]string) []Caution {
	var list []Caution
	for _, c := range t.Base.Cautions {
		calls := slices.Clone(named[c.ID])
		certain := len(calls) > 0
		if len(c.When) > 0 {
			switch a := t.All(c.When, s); a.Verdict {
			case kb.Yes:
				certain = true
				calls = append(calls, because(a.Because))
			case kb.Depends, kb.Unknown:
				calls = append(calls, because(a.Because))
			}
		}
		if len(calls) > 0 {
			slices.Sort(calls)
			list = append(list, Caution{Caution: c, For: slices.Compact(calls), Certain: certain})
		}
	}
	return list
}

// because joins the reasons that hold into one line.
func because(list []Reason) string {
	var words []string
	for _, r := range list {
		if r.Verdict != kb.No && !slices.Contains(words, r.Text) {
			words = append(words, r.Text)
		}
	}
	return strings.Join(words, "; ")
}
