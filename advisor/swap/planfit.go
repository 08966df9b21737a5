package swap

import (
	"context"
	"fmt"
	"slices"

	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
)

// Apart is a swap that does not fit where some other one is in place.
type Apart struct {
	Swap    string   // title
	Beside  []string // titles of the others
	Because []string
}

// ruleOut finds the pairs of options that rule each other out: one does not fit
// where the other is in place. They are never combined, as if they clashed.
func (s *search) ruleOut() {
	now := make([][]rule.Subject, len(s.options))
	for i := range s.options {
		now[i] = rule.SubjectsOf(s.options[i].proposal.After)
	}
	clash := make([][]bool, len(s.options))
	for i := range s.options {
		clash[i] = slices.Clone(s.clash[i])
		for j := range s.options {
			if i == j || s.clash[i][j] {
				continue
			}
			if why := s.misfit(i, now[j]); len(why) > 0 {
				clash[i][j] = true
				s.setApart(i, j, why)
			}
		}
	}
	for i := range clash {
		for j := range i {
			s.clash[i][j] = clash[i][j] || clash[j][i]
			s.clash[j][i] = s.clash[i][j]
		}
	}
}

// setApart notes why an option does not fit beside another one; those with the
// same reasons are kept together.
func (s *search) setApart(option, beside int, why []string) {
	title, other := s.options[option].proposal.Title, s.options[beside].proposal.Title
	for i := range s.apart {
		if a := &s.apart[i]; a.Swap == title && slices.Equal(a.Because, why) {
			if !slices.Contains(a.Beside, other) {
				a.Beside = append(a.Beside, other)
			}
			return
		}
	}
	s.apart = append(s.apart, Apart{Swap: title, Beside: []string{other}, Because: why})
}

// misfit gives the reasons why an option does not fit an assembly with other
// changes in place.
func (s *search) misfit(option int, now []rule.Subject) []string {
	f := *s.finder
	f.now = now
	reasons, _ := f.unfit(s.options[option].c)
	return reasons
}

// stillFit tests the conditions of each step on the assembly with all the
// others in place. Pairs were tested before; three and more may rule out what no
// two of them do.
func (s *search) stillFit(ctx context.Context, x *screener, chosen []int) ([]string, error) {
	if len(chosen) < 3 {
		return nil, nil
	}
	var why []string
	for i, c := range chosen {
		others := slices.Delete(slices.Clone(chosen), i, i+1)
		surely, err := x.surelyFits(c, others)
		if err != nil {
			return nil, err
		}
		if surely {
			continue
		}
		with, _, cannot, err := s.computed(ctx, others)
		if err != nil || cannot != "" {
			return reasons(cannot), err
		}
		for _, r := range s.misfit(c, rule.SubjectsOf(with)) {
			why = append(why, fmt.Sprintf("%s, with the rest of the plan in place: %s", s.options[c].proposal.Title, r))
		}
	}
	return why, nil
}

// surelyFits says whether an option fits beside others by the facts that need
// no moisture method, which is all that most recipes ask for.
func (x *screener) surelyFits(option int, others []int) (bool, error) {
	r := x.options[option].c.recipe
	if r == nil {
		return true, nil // a single material has no conditions
	}
	house, _, err := x.together(others)
	if err != nil {
		return false, nil // the full computation says why
	}
	resolved, problems := assembly.Resolve(house, nil, x.base)
	if len(problems) > 0 {
		return false, nil
	}
	var now []rule.Subject
	for _, v := range resolved.Assemblies[x.of.Index].Variants {
		facts, err := x.screen.Variant(v)
		if err != nil {
			return false, err
		}
		now = append(now, rule.SubjectOf(facts))
	}
	if x.tester.Over(r.Fits, now).Verdict != kb.Yes {
		return false, nil
	}
	for _, u := range r.Unfit {
		if x.tester.Over(u.When, now).Verdict != kb.No {
			return false, nil
		}
	}
	return true, nil
}
