package honesty_test

import (
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
)

// generated gives assemblies that the program takes.
func generated(t *testing.T, base *kb.Base, seed uint64, n int) []*assembly.Assembly {
	t.Helper()
	g := newGenerator(base, seed)
	var list []*assembly.Assembly
	for i := 0; len(list) < n; i++ {
		if i > 5*n {
			t.Fatalf("only %d of %d houses are taken", len(list), i)
		}
		s := g.house(i)
		if house, problems := read(base, s); len(problems) == 0 {
			list = append(list, house.Assemblies[0])
		}
	}
	return list
}

// TestGeneratedFacts: every fact of every assembly is a number or says why it
// is none.
func TestGeneratedFacts(t *testing.T) {
	base := embedded(t)
	for i, a := range generated(t, base, 1, 200) {
		r := analyze(t, base, a)
		for _, v := range r.Variants {
			soundFacts(t, i, "", v.Facts)
			for _, l := range v.Layers {
				soundFacts(t, i, l.Part.Name+" ", l.Facts)
			}
		}
		for _, f := range rule.Evaluate(tester(base), r) {
			if f.Say == "" || strings.ContainsAny(f.Say, "{}") || len(f.Because) == 0 {
				t.Errorf("house %d: %s says %q for %d reasons", i, f.Rule, f.Say, len(f.Because))
			}
			if (f.Verdict == kb.Depends || f.Verdict == kb.Unknown) && f.Decider == "" && f.Settle == "" {
				t.Errorf("house %d: %s is %s and nothing says what decides it", i, f.Rule, f.Verdict)
			}
		}
	}
}

func soundFacts(t *testing.T, house int, prefix string, facts analysis.Facts) {
	t.Helper()
	for id, e := range facts {
		for _, x := range []float64{e.Range.Low, e.Range.Best, e.Range.High} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Errorf("house %d: %s%s is %v", house, prefix, id, e.Range)
			}
		}
		if e.Range.Low > e.Range.Best || e.Range.Best > e.Range.High {
			t.Errorf("house %d: %s%s is out of order: %v", house, prefix, id, e.Range)
		}
		if !e.Known && e.Missing == "" {
			t.Errorf("house %d: %s%s is not known and does not say why", house, prefix, id)
		}
		for _, d := range e.Drivers {
			if math.IsNaN(d.Low) || math.IsNaN(d.High) {
				t.Errorf("house %d: %s%s is driven from %g to %g", house, prefix, id, d.Low, d.High)
			}
		}
	}
}

// TestGeneratedAdvice holds what is proposed for generated assemblies to what
// a proposal promises, all of it worked out here once more.
func TestGeneratedAdvice(t *testing.T) {
	base := embedded(t)
	proposals, rejections := 0, 0
	for i, a := range generated(t, base, 2, 40) {
		advice := propose(t, base, a, "")
		for k := range advice.Proposals {
			p := &advice.Proposals[k]
			dutiesStay(t, i, base, advice, p)
			standingHolds(t, i, base, advice, p)
			cautionsStand(t, i, base, advice, p)
			comparedFacts(t, i, advice, p)
			proposals++
		}
		for _, r := range advice.Rejections {
			if len(r.Because) == 0 || slices.Contains(r.Because, "") || r.Candidate == "" || r.ID == "" {
				t.Errorf("house %d: %s is turned down for %q", i, r.ID, r.Because)
			}
			rejections++
		}
	}
	t.Logf("%d proposals, %d rejections", proposals, rejections)
	if proposals < 100 || rejections < 500 {
		t.Errorf("only %d proposals and %d rejections", proposals, rejections)
	}
}

// dutiesStay: what every variant covered before is covered, or depends, after.
// The one duty that a recipe may give up, in so many words, is to slow vapor:
// code tables judge it by zone and kind of wall.
func dutiesStay(t *testing.T, house int, base *kb.Base, advice *swap.Advice, p *swap.Proposal) {
	t.Helper()
	uncovered := func(a *assembly.Assembly, v *assembly.Variant) map[string]bool {
		open := make(map[string]bool)
		for _, c := range analysis.Covers(base, a, v) {
			if c.Verdict == kb.No {
				open[c.Duty] = true
			}
		}
		return open
	}
	before := map[string]bool{"retard-vapor": p.Recipe != nil && slices.Contains(p.Recipe.Loses, "retard-vapor")}
	for _, v := range advice.Assembly.Variants {
		for duty := range uncovered(advice.Assembly, v) {
			before[duty] = true
		}
	}
	for _, v := range p.After.Assembly.Variants {
		for duty := range uncovered(p.After.Assembly, v) {
			if !before[duty] && everywhere(base, p.After.Assembly, duty) {
				t.Errorf("house %d, %s: nothing covers %s any more", house, p.ID, duty)
			}
		}
	}
}

// everywhere says whether a duty is uncovered in all variants.
func everywhere(base *kb.Base, a *assembly.Assembly, duty string) bool {
	for _, v := range a.Variants {
		for _, c := range analysis.Covers(base, a, v) {
			if c.Duty == duty && c.Verdict != kb.No {
				return false
			}
		}
	}
	return true
}

// standingHolds: what rules surely block in the changed assembly, and would not
// in the old one if it were new, is blocked or not proposed.
func standingHolds(t *testing.T, house int, base *kb.Base, advice *swap.Advice, p *swap.Proposal) {
	t.Helper()
	if p.Standing == swap.Blocked {
		return
	}
	old := make(map[string]bool)
	for _, f := range rule.Evaluate(tester(base), asProposed(t, base, advice.Assembly)) {
		old[f.Rule] = true
	}
	for _, f := range rule.Evaluate(tester(base), p.After) {
		if f.Level == "block" && f.Verdict == kb.No && !old[f.Rule] {
			t.Errorf("house %d, %s is %q and brings %s: %s", house, p.ID, p.Standing, f.Rule, f.Say)
		}
	}
}

// asProposed analyzes the assembly with every layer marked as proposed.
func asProposed(t *testing.T, base *kb.Base, a *assembly.Assembly) *analysis.Result {
	t.Helper()
	text, err := assembly.Write(a.House.House)
	if err != nil {
		t.Fatal(err)
	}
	house, doc, problems := assembly.Parse("house.yaml", text)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	d := &house.Assemblies[a.Index]
	d.State = "proposed"
	for i := range d.Layers {
		d.Layers[i].State = "proposed"
	}
	resolved, problems := assembly.Resolve(house, doc, base)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return analyze(t, base, resolved.Assemblies[a.Index])
}

// cautionsStand: a caution whose only trigger is that something is put in
// stands with every proposal that puts it in; so do those of the recipe and of
// the findings.
func cautionsStand(t *testing.T, house int, base *kb.Base, advice *swap.Advice, p *swap.Proposal) {
	t.Helper()
	has := make(map[string]bool)
	for _, c := range p.Cautions {
		has[c.Caution.ID] = true
		if len(c.For) == 0 {
			t.Errorf("house %d, %s: nothing calls for %s", house, p.ID, c.Caution.ID)
		}
	}
	need := func(id, why string) {
		if !has[id] {
			t.Errorf("house %d, %s: no %s caution, for %s", house, p.ID, id, why)
		}
	}
	old := make(map[string]bool)
	for _, m := range materialsIn(advice.Assembly) {
		old[m.ID] = true
	}
	for _, m := range materialsIn(p.After.Assembly) {
		if old[m.ID] {
			continue
		}
		for _, id := range m.Cautions {
			need(id, m.Name)
		}
		for _, c := range base.Cautions {
			if len(c.When) == 1 && c.When[0].Fact == "adds" && slices.ContainsFunc(m.Terms, func(t string) bool { return slices.Contains(c.When[0].Words, t) }) {
				need(c.ID, m.Name)
			}
		}
	}
	if p.Recipe != nil {
		for _, id := range p.Recipe.Cautions {
			need(id, p.Recipe.ID)
		}
	}
	for _, f := range slices.Concat(p.Introduced, p.Remaining) {
		for _, id := range f.Cautions {
			need(id, f.Rule)
		}
	}
}

// comparedFacts: before and after are the facts of the two analyses, over all
// variants.
func comparedFacts(t *testing.T, house int, advice *swap.Advice, p *swap.Proposal) {
	t.Helper()
	for _, c := range p.Compare {
		for _, side := range []struct {
			r   *analysis.Result
			got [3]float64
		}{
			{advice.Before, [3]float64{c.Before.Low, c.Before.Best, c.Before.High}},
			{p.After, [3]float64{c.After.Low, c.After.Best, c.After.High}},
		} {
			first := side.r.Variants[0].Facts[c.Fact.ID].Range
			want := [3]float64{first.Low, first.Best, first.High}
			for _, v := range side.r.Variants {
				e := v.Facts[c.Fact.ID]
				if !e.Known {
					t.Errorf("house %d, %s: %s is compared and not known", house, p.ID, c.Fact.ID)
				}
				want[0], want[2] = min(want[0], e.Range.Low), max(want[2], e.Range.High)
			}
			if side.got != want {
				t.Errorf("house %d, %s: %s is %v, want %v", house, p.ID, c.Fact.ID, side.got, want)
			}
		}
	}
}

// TestDeterministic: two runs give the same bytes, on one processor and on two.
func TestDeterministic(t *testing.T) {
	base := embedded(t)
	old := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(old)
	answers := func(processors int) string {
		runtime.GOMAXPROCS(processors)
		var d dump
		for _, a := range generated(t, base, 3, 6) {
			d.advice(t, propose(t, base, a, ""))
		}
		return d.String()
	}
	first := answers(2)
	if len(first) < 100_000 {
		t.Fatalf("only %d bytes to compare", len(first))
	}
	differ(t, "again", answers(2), first)
	differ(t, "on one processor", answers(1), first)
}
