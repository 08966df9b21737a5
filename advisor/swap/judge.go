package swap

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/rule"
	"relath/kb"
)

// judge compares before and after, fills in the proposal, and gives the
// reasons to turn it down, if any, and whether another swap may lift all of them.
func (f *finder) judge(p *Proposal, c candidate) (because []string, liftable bool) {
	found := rule.Evaluate(f.tester, p.After)
	p.Resolved, p.Introduced, p.Remaining = sortFindings(f.found, f.asWork, found)
	if reasons := f.unseen(p.After); len(reasons) > 0 {
		return reasons, false
	}
	p.Compare = f.compare(p.After)
	all := scenes(f.before, p.After)
	subjects := f.subjects(c, all)
	p.Needs = f.needs(p, subjects, all)
	p.Cautions = f.tester.Cautions(subjects, slices.Concat(p.Introduced, p.Remaining), f.named(c, all))
	p.Why, p.Standing = why(p), standing(p)
	nobody := lost(p)
	nobody = append(nobody, f.unmet(found, p.Recipe)...)
	p.Alone = slices.Concat(nobody, blocking(p))
	rest := slices.Concat(brings(p, false), useless(p, f.worthwhileShare()))
	if len(nobody) > 0 {
		return nobody, len(rest) == 0 || onlyLess(p.Recipe) && len(newProblems(p)) == 0
	}
	return slices.Concat(brings(p, true), rest), len(rest) == 0
}

// asWork is an analysis with every layer taken as proposed work. Rules and
// code tables judge an untouched assembly more gently than work; what a swap
// brings is held against what they would say of the old layers as work.
func asWork(r *analysis.Result) *analysis.Result {
	work := *r
	work.Variants = make([]*analysis.Variant, len(r.Variants))
	for i, v := range r.Variants {
		copied := *v
		copied.Facts = make(analysis.Facts, len(v.Facts))
		for id, e := range v.Facts {
			copied.Facts[id] = e
		}
		copied.Facts["existing"] = flag(false)
		work.Variants[i] = &copied
	}
	return &work
}

// sortFindings splits findings into those that a swap clears, brings and
// leaves. One that it only makes worse, from possibly to surely or to a
// stronger level, counts as brought; one that turns from surely to possibly
// counts as left.
func sortFindings(found, before, after []rule.Finding) (resolved, introduced, remaining []rule.Finding) {
	for _, f := range found {
		if f.Kind != "data-gap" && findingOf(after, f.Rule) == nil {
			resolved = append(resolved, f)
		}
	}
	for _, f := range after {
		if old := findingOf(before, f.Rule); old == nil || worse(old, &f) {
			introduced = append(introduced, f)
		} else {
			remaining = append(remaining, f)
		}
	}
	return resolved, introduced, remaining
}

func findingOf(list []rule.Finding, id string) *rule.Finding {
	for i := range list {
		if list[i].Rule == id {
			return &list[i]
		}
	}
	return nil
}

// worse says whether a finding of the same rule weighs more than it did.
func worse(old, now *rule.Finding) bool {
	levels := kb.Level("").Allowed()
	return slices.Index(levels, string(now.Level)) < slices.Index(levels, string(old.Level)) ||
		now.Verdict == kb.No && old.Verdict != kb.No
}

// unseen gives the compared facts that were known before and are not after: a
// swap that cannot be recomputed is not proposed. Facts of hourly runs come later,
// if at all.
func (f *finder) unseen(after *analysis.Result) []string {
	var titles, lacks []string
	for _, fact := range f.base.Facts {
		hourly := strings.HasPrefix(fact.Model, "hourly") && after.Hourly == nil
		if fact.Screen != beforeAfter || hourly || !overVariants(f.before, fact.ID).Known {
			continue
		}
		if a := overVariants(after, fact.ID); !a.Known {
			titles = append(titles, fact.Title)
			if a.Missing != "" && !slices.Contains(lacks, a.Missing) {
				lacks = append(lacks, a.Missing)
			}
		}
	}
	if len(titles) == 0 {
		return nil
	}
	return []string{"not known with it: " + strings.Join(lacks, "; ") + "; so these cannot be computed: " + strings.Join(titles, ", ")}
}

// needs collects who must agree. The conditions of a recipe look at the
// assembly as it is and at the work.
func (f *finder) needs(p *Proposal, subjects []rule.Subject, all []scene) []kb.Need {
	var list []kb.Need
	if p.Recipe != nil {
		here := make([]rule.Subject, len(subjects))
		for i := range subjects {
			here[i] = rule.SubjectOf(all[i].before)
			here[i].Work = subjects[i].Work
		}
		for _, n := range p.Recipe.Needs {
			if f.tester.Over(n.When, here).Verdict != kb.No {
				list = append(list, n)
			}
		}
	}
	if !slices.ContainsFunc(list, func(n kb.Need) bool { return n.Who == official }) {
		list = append(list, f.dutyNeeds(p, all)...)
	}
	return list
}

// official is who decides about duties that are never plainly covered.
const official = "official"

// dutyNeeds asks the official about duties that are never plainly covered and
// that a new layer takes over.
func (f *finder) dutyNeeds(p *Proposal, all []scene) []kb.Need {
	fresh := make(map[string]bool)
	for _, s := range all {
		for _, part := range s.fresh {
			fresh[part.Name] = true
		}
	}
	var list []kb.Need
	for _, d := range p.Duties {
		taken := slices.ContainsFunc(d.After, func(layer string) bool { return fresh[layer] })
		if duty := f.base.Duty(d.Duty); taken && duty.Verdict == kb.Depends && d.Verdict == kb.Depends {
			list = append(list, kb.Need{Who: official, What: "that the new layer may " + duty.Title + ": " + strings.Join(d.Asks, ", ")})
		}
	}
	return list
}

// named lists the cautions that recipe and new materials name.
func (f *finder) named(c candidate, all []scene) map[string][]string {
	named := map[string][]string{}
	if c.recipe != nil {
		for _, id := range c.recipe.Cautions {
			named[id] = append(named[id], c.recipe.Title)
		}
	}
	for _, s := range all {
		for _, m := range freshMaterials(c, s.fresh) {
			for _, id := range m.Cautions {
				named[id] = append(named[id], m.Name)
			}
		}
	}
	return named
}

// why is the reason in the recipe's words, or for a single material what it
// resolves or betters.
func why(p *Proposal) string {
	if p.Recipe != nil {
		return p.Recipe.Why
	}
	var gains []string
	for _, r := range p.Resolved {
		gains = append(gains, "it clears: "+r.Title)
	}
	for _, x := range p.Compare {
		if x.Change == better {
			gains = append(gains, "better "+x.Fact.Title)
		}
	}
	return strings.Join(gains, "; ")
}

// brings says what a single material brings that a recipe would have dealt
// with: a swap that needs more beside it is no swap of one material. It gives
// either what surely blocks, which another swap may lift, or the rest.
func brings(p *Proposal, blocking bool) []string {
	if p.Recipe != nil {
		return nil
	}
	var reasons []string
	for _, in := range p.Introduced {
		if (in.Level != "info" || in.Kind == "food") && blocks(&in) == blocking {
			reasons = append(reasons, "it brings: "+in.Say)
		}
	}
	return reasons
}

// unmet gives the code tables that recipes want to be met and that surely or
// perhaps are not.
func (f *finder) unmet(found []rule.Finding, recipes ...*kb.Recipe) []string {
	var list []string
	for _, x := range found {
		table := f.base.Table(x.Rule)
		if table == nil || x.Verdict == kb.Yes {
			continue
		}
		if slices.ContainsFunc(recipes, func(r *kb.Recipe) bool { return r != nil && slices.Contains(r.Meets, table.Subject) }) {
			list = append(list, "it is legal only where this table is met: "+x.Title)
		}
	}
	return list
}

// blocks says whether a finding of code or hazard surely blocks. Both look at all
// layers together, so that another swap may lift them.
func blocks(f *rule.Finding) bool {
	return (f.Kind == "code" || f.Kind == "hazard") && f.Level == "block" && f.Verdict == kb.No
}

// notAllowed words what blocks.
const notAllowed = "the code does not allow it: "

// blocking names what is met now and surely blocks the swap alone.
func blocking(p *Proposal) []string {
	var list []string
	for _, in := range p.Introduced {
		if blocks(&in) {
			list = append(list, notAllowed+in.Title)
		}
	}
	return list
}

// worthwhileShare is the share of itself by which a fact must get better where no
// finding is cleared.
func (f *finder) worthwhileShare() float64 {
	if a := f.base.Assumption("worthwhile-share"); a != nil {
		return a.SI.Best
	}
	return 0
}

// onlyLess says whether a recipe takes away what the code counts: what it is good
// for shows beside swaps that make up for it.
func onlyLess(r *kb.Recipe) bool { return r != nil && len(r.Meets) > 0 }

// newProblems names the problems of moisture that a swap surely brings.
func newProblems(p *Proposal) []string {
	var reasons []string
	for _, in := range p.Introduced {
		if (in.Kind == "moisture" || in.Kind == "mold") && in.Level == "block" && in.Verdict == kb.No {
			reasons = append(reasons, "it brings a new problem: "+in.Say)
		}
	}
	return reasons
}

// useless says why a swap that could be built is not worth proposing: nothing is
// cleared, and no fact gets better by more than the share of itself and by what
// is worth a swap.
func useless(p *Proposal, share float64) []string {
	reasons := newProblems(p)
	if len(reasons) > 0 || clears(p) {
		return reasons
	}
	if gains(p) {
		return nil
	}
	if stays := closesFurther(p); stays != "" {
		return []string{fmt.Sprintf("it clears no finding, and with it less water can leave while this stays: %q", stays)}
	}
	for _, x := range p.Compare {
		if x.Change == better && (x.Fact.WorthFor == "" || p.Recipe != nil) && worthwhile(&x, share) {
			return nil
		}
	}
	return []string{"it clears no finding, brings no duty that is missing, and neither drying, condensate, glue, mold food, storage nor heat loss gets better"}
}

// closesFurther gives the moisture finding that stays where a material by itself
// lets less water leave than the one before it, or "". A recipe may close one way
// for what another swap of the plan opens.
func closesFurther(p *Proposal) string {
	if p.Recipe != nil || !slices.ContainsFunc(p.Compare, func(x Compared) bool { return x.Change == poorer && x.Fact.Dimension == "vapor-flow" }) {
		return ""
	}
	for _, f := range p.Remaining {
		if f.Kind == "moisture" && f.Level != "info" && f.Verdict == kb.No {
			return f.Title
		}
	}
	return ""
}

// gains says whether a recipe brings a duty that it is meant to bring and that
// nobody took before.
func gains(p *Proposal) bool {
	return p.Recipe != nil && slices.ContainsFunc(p.Duties, func(d DutyChange) bool {
		return (d.Was == kb.No && d.Verdict != kb.No || d.Was != kb.Yes && d.Verdict == kb.Yes) && slices.Contains(p.Recipe.Gains, d.Duty)
	})
}

// clears says whether a finding is cleared that is worth it.
func clears(p *Proposal) bool {
	return slices.ContainsFunc(p.Resolved, func(f rule.Finding) bool {
		return !suspected(&f) && (f.Level != "info" || f.Kind == "food")
	})
}

// suspected says whether a finding is a hazard that may or may not be there,
// such as lead under paint: it asks for a test and is no reason to disturb it.
func suspected(f *rule.Finding) bool { return f.Kind == "hazard" && f.Verdict != kb.No }

// worthwhile says whether the change of a fact alone is worth a swap.
func worthwhile(x *Compared, share float64) bool {
	change := abs(x.After.Best - x.Before.Best)
	return x.Fact.Worth.Value != "" && change > x.Fact.WorthSI && change > share*max(abs(x.Before.Best), abs(x.After.Best))
}

// standing says what a proposal needs before it can be built. Findings that
// stay do not block it, but it is not free while a strong one does.
func standing(p *Proposal) Standing {
	s := Free
	if len(p.Cautions) > 0 || len(p.Needs) > 0 || len(p.Asks) > 0 {
		s = Warned
	}
	for _, in := range slices.Concat(p.Introduced, p.Remaining) {
		if in.Level == "block" || in.Level == "engineer" {
			s = Warned
		}
	}
	for _, n := range p.Needs {
		if n.Who == "engineer" {
			s = NeedsEngineer
		}
	}
	for _, in := range p.Introduced {
		switch {
		case in.Level == "block" && (in.Verdict == kb.No || in.Kind == "hazard"):
			return Blocked // a hazard that may be there is cleared before the work
		case in.Level == "engineer":
			s = NeedsEngineer
		}
	}
	return s
}
