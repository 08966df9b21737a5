package honesty_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
	"relath/kb/quantity"
)

// plansOf finds plans for an assembly, of no more combinations than a test has
// time for.
func plansOf(t testing.TB, base *kb.Base, a *swap.Advice, opts swap.PlanOptions) *swap.Planning {
	t.Helper()
	if opts.Most == 0 {
		opts.Most = 2000
	}
	x, err := swap.Plans(context.Background(), tester(base), a, opts)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// TestPlansKeepTheirPromises: on every labelled house and on generated
// assemblies of all kinds and zones, no plan has a duty uncovered that was
// covered, a code table that is surely not met, or a caution missing; and each
// is what a file of it gives.
func TestPlansKeepTheirPromises(t *testing.T) {
	base := embedded(t)
	var all []*swap.Advice
	all = append(all, advised(t)...)
	for _, a := range generated(t, base, 5, 200) {
		all = append(all, propose(t, base, a, ""))
	}
	plans, several := 0, 0
	for i, a := range all {
		x := plansOf(t, base, a, swap.PlanOptions{})
		for k, p := range x.Plans {
			plans++
			if len(p.Steps) > 1 {
				several++
			}
			planKeepsDuties(t, i, base, a, p)
			planMeetsCodes(t, i, base, p)
			planHasCautions(t, i, base, a, p)
			if k == 0 {
				planIsItsFile(t, i, base, a, p)
			}
		}
	}
	t.Logf("%d plans, %d of several swaps", plans, several)
	if plans < 100 || several < 50 {
		t.Errorf("only %d plans, %d of several swaps", plans, several)
	}
}

// planKeepsDuties: what every variant covered before is covered, or depends.
func planKeepsDuties(t *testing.T, house int, base *kb.Base, a *swap.Advice, p *swap.Plan) {
	t.Helper()
	given := slices.ContainsFunc(p.Steps, func(s *swap.Proposal) bool {
		return s.Recipe != nil && slices.Contains(s.Recipe.Loses, "retard-vapor")
	})
	for _, d := range base.Duties {
		if d.ID == "retard-vapor" && given {
			continue
		}
		if !uncovered(base, a.Assembly, d.ID) && uncovered(base, p.After.Assembly, d.ID) {
			t.Errorf("house %d, %s: nothing covers %s any more", house, p.ID, d.ID)
		}
	}
}

// uncovered says whether no variant of an assembly has a layer for a duty that
// it asks for.
func uncovered(base *kb.Base, a *assembly.Assembly, duty string) bool {
	for _, v := range a.Variants {
		for _, c := range analysis.Covers(base, a, v) {
			if c.Duty == duty {
				return everywhere(base, a, duty)
			}
		}
	}
	return false
}

// planMeetsCodes: no code finding that blocks surely holds.
func planMeetsCodes(t *testing.T, house int, base *kb.Base, p *swap.Plan) {
	t.Helper()
	for _, f := range rule.Evaluate(tester(base), p.After) {
		if f.Kind == "code" && f.Level == "block" && f.Verdict == kb.No {
			t.Errorf("house %d, %s: %s", house, p.ID, f.Say)
		}
	}
}

// planHasCautions: those that its recipes, its new materials and its findings
// name stand with it.
func planHasCautions(t *testing.T, house int, base *kb.Base, a *swap.Advice, p *swap.Plan) {
	t.Helper()
	cautionsStand(t, house, base, a, &p.Proposal)
	has := make(map[string]bool)
	for _, c := range p.Cautions {
		has[c.Caution.ID] = true
	}
	for _, s := range p.Steps {
		var named []string
		if s.Recipe != nil {
			named = s.Recipe.Cautions
		} else {
			named = s.Material.Cautions
		}
		for _, id := range named {
			if !has[id] {
				t.Errorf("house %d, %s: the caution %s of %s is missing", house, p.ID, id, s.ID)
			}
		}
	}
}

// planIsItsFile: the description of a plan, written and read again, gives its
// numbers; and so does the plan built by its id.
func planIsItsFile(t *testing.T, house int, base *kb.Base, a *swap.Advice, p *swap.Plan) {
	t.Helper()
	text, err := assembly.Write(p.House)
	if err != nil {
		t.Fatal(err)
	}
	again := analyze(t, base, resolve(t, base, source{"plan.yaml", string(text)}).Assemblies[a.Assembly.Index])
	built, why, err := swap.BuildPlan(context.Background(), tester(base), a, []string{p.ID})
	if err != nil || len(why) > 0 {
		t.Fatalf("house %d, %s: %v %v", house, p.ID, why, err)
	}
	for _, c := range p.Compare {
		for _, r := range []*analysis.Result{again, built.After} {
			got, want := r.Variants[0].Facts[c.Fact.ID].Range, p.After.Variants[0].Facts[c.Fact.ID].Range
			if got != want {
				t.Errorf("house %d, %s: %s is %v, then %v", house, p.ID, c.Fact.ID, want, got)
			}
		}
	}
}

// zoned is one new wall in different places.
func zoned(t *testing.T, base *kb.Base, place, code string) *swap.Advice {
	t.Helper()
	text := fmt.Sprintf(`format: 1
house: Test
place: %s
code: {%s, confirmed: yes}
indoor: {heating: {temperature: 68 F, humidity: 40 %%}, cooling: {temperature: 74 F, humidity: 50 %%}}
assemblies:
  - name: wall
    kind: wall
    between: [outdoors, room]
    state: proposed
    needs: [brace]
    layers:
      - {name: siding, material: vinyl-siding}
      - {name: gap, cavity: 3/8 in, air: drained}
      - {name: wrap, material: nonwoven-house-wrap}
      - {name: sheathing, material: osb, thickness: 7/16 in, performs: [brace]}
      - {name: bay, framing: {material: spf-lumber, size: 2x6, spacing: 16 in}, fill: [{material: fiberglass-batt, thickness: 5-1/2 in}]}
      - {name: poly, material: polyethylene-6mil, sealed: yes}
      - {name: board, material: gypsum-board, thickness: 1/2 in, coats: {in: [{coating: latex-primer}, {coating: latex-paint, count: 2}]}}
`, place, code)
	return propose(t, base, resolve(t, base, source{"zoned.yaml", text}).Assemblies[0], "")
}

// TestPlansDifferByZone: the same wall gets other plans, or the same ones for
// other numbers and other findings, in zones 3, 5, 6 and 7 and in Wisconsin. The
// state asks for a retarder of 1 perm dry cup (SPS 322.38), the model code for R-5
// outside of R-20, or a U-factor of at most 0.045 Btu/(h·ft²·°F), in zones 6 and 7
// (IRC 2018 Tables N1102.1.2 and N1102.1.4, recalled).
func TestPlansDifferByZone(t *testing.T) {
	base := embedded(t)
	seen := make(map[string]string)
	for zone, at := range map[string][2]string{
		"3":         {"atlanta-ga", `edition: IRC-2018, state: GA, zone: 3A`},
		"5":         {"des-moines-ia", `edition: IRC-2018, state: IA, zone: 5A`},
		"6":         {"burlington-vt", `edition: IRC-2018, state: VT, zone: 6A`},
		"7":         {"fargo-nd", `edition: IRC-2018, state: ND, zone: "7"`},
		"Wisconsin": {"madison-wi", `edition: IRC-2018, state: WI, zone: 6A`},
	} {
		a := zoned(t, base, at[0], at[1])
		x := plansOf(t, base, a, swap.PlanOptions{})
		var ids, reasons []string
		for _, p := range x.Plans {
			ids = append(ids, p.ID)
			reasons = append(reasons, fmt.Sprint(p.Marks, titlesOf(p.Resolved), titlesOf(p.Remaining), titlesOf(p.Introduced)))
			if zone == "6" || zone == "7" {
				f := p.After.Variants[0].Facts
				if outside, u := f["exterior-insulation"].Range.Best, f["u-factor"].Range.Best; outside < 5*0.176110 && u > 0.045*5.678263 {
					t.Errorf("zone %s, %s: R %g outside and U %g", zone, p.ID, outside, u)
				}
			}
			if zone == "Wisconsin" {
				dry := p.After.Variants[0].Facts["tightest-inward-dry"].Range.Best
				if dry > 1.001*57.2135e-12 && !math.IsInf(dry, 0) {
					t.Errorf("Wisconsin, %s: the tightest layer inside has %g", p.ID, dry)
				}
			}
		}
		t.Logf("zone %s leaves %q, %d turned down:\n  %s\n  %s", zone, a.Leave, len(a.Rejections), strings.Join(ids, "\n  "), strings.Join(reasons, "\n  "))
		if len(ids) == 0 && a.Leave == "" {
			t.Errorf("zone %s has no plan", zone)
		}
		key := strings.Join(append(ids, reasons...), "\n") + a.Leave
		if other, ok := seen[key]; ok {
			t.Errorf("zones %s and %s have the same plans for the same reasons", zone, other)
		}
		seen[key] = zone
	}
}

func titlesOf(list []rule.Finding) []string {
	var titles []string
	for _, f := range list {
		titles = append(titles, f.Rule)
	}
	return titles
}

// TestPlanOptions: each option holds on every plan, the front included.
func TestPlanOptions(t *testing.T) {
	base := embedded(t)
	for _, a := range advised(t) {
		if len(a.Proposals) < 5 {
			continue
		}
		kept := a.Assembly.Described.Layers[0].Name.Value
		thick := a.Before.Variants[0].Facts["thickness"].Range.Best
		for _, p := range plansOf(t, base, a, swap.PlanOptions{Keep: []string{kept}}).Plans {
			if got, want := line(p.House.Assemblies[a.Assembly.Index].Layers[0]), line(a.Assembly.Described.Layers[0]); got != want {
				t.Errorf("%s: %s was to stay %s and is %s", p.ID, kept, want, got)
			}
		}
		for _, p := range plansOf(t, base, a, swap.PlanOptions{MaxThickness: thick}).Plans {
			if got := p.After.Variants[0].Facts["thickness"].Range.Best; got > thick+1e-6 {
				t.Errorf("%s is %g m thick, more than %g m", p.ID, got, thick)
			}
		}
		for _, p := range plansOf(t, base, a, swap.PlanOptions{No: []string{"plaster", "cellulose-dense-packed", "adhesive"}}).Plans {
			noneOf(t, a, p)
		}
		for _, goal := range swap.Goal("").Allowed() {
			preferred(t, base, a, swap.Goal(goal))
		}
	}
}

// noneOf: no plaster, no cellulose and no glue is put in.
func noneOf(t *testing.T, a *swap.Advice, p *swap.Plan) {
	t.Helper()
	had := make(map[string]bool)
	for _, part := range a.Assembly.Variants[0].Layers {
		if part.Material != nil {
			had[part.Material.ID] = true
		}
	}
	for _, part := range p.After.Assembly.Variants[0].Layers {
		m := part.Material
		if m == nil || had[m.ID] {
			continue
		}
		share, ok := m.Working("adhesive-share", kb.AnyMethod, 0)
		if m.Family == "plaster" || m.ID == "cellulose-dense-packed" || ok && share.SI.High > 0 {
			t.Errorf("%s puts in %s", p.ID, m.ID)
		}
	}
}

// byLayer asks 100 for each layer of a material that was not there.
func byLayer() *swap.Costing {
	return &swap.Costing{Currency: "USD", Book: "by made-up prices", Of: func(before, after *assembly.Assembly, _ []*kb.Recipe) swap.Costs {
		costs := swap.Costs{Layers: make([]swap.LayerCost, len(after.Described.Layers))}
		for _, p := range after.Variants[0].Layers {
			had := slices.ContainsFunc(before.Variants[0].Layers, func(b *assembly.Part) bool { return b.Material == p.Material })
			if p.Material != nil && !had {
				costs.Layers[p.Layer].Amount = quantity.Exact(100)
			}
		}
		return costs
	}}
}

// preferred: of the plans that clear as much and bring as little, the one named
// first is nowhere beaten in the goal that was preferred.
func preferred(t *testing.T, base *kb.Base, a *swap.Advice, goal swap.Goal) {
	t.Helper()
	opts := swap.PlanOptions{Prefer: goal}
	if goal == swap.Cost {
		opts.Costing = byLayer()
	}
	x := plansOf(t, base, a, opts)
	at := slices.Index(goal.Allowed(), string(goal))
	if goal == swap.Glue {
		return // glue and food are weighed together
	}
	for _, p := range x.Plans {
		if p.Marks[at] < x.Plans[0].Marks[at] {
			t.Errorf("%s is better in %s than %s, which is named first", p.ID, goal, x.Plans[0].ID)
		}
	}
}

func line(l assembly.Layer) string {
	return fmt.Sprint(l.Name.Value, l.Material.String(), l.Thickness.Value, l.Cavity.Value, l.Air, l.Coats)
}

// TestNoPlanWhereNothingAsks: what is best left alone has no plan.
func TestNoPlanWhereNothingAsks(t *testing.T) {
	base := embedded(t)
	left := 0
	for _, a := range advised(t) {
		if a.Leave == "" {
			continue
		}
		left++
		if x := plansOf(t, base, a, swap.PlanOptions{}); len(x.Plans) > 0 || x.Air != nil {
			t.Errorf("%s is left alone and has plans", a.Assembly.Name)
		}
	}
	if left == 0 {
		t.Error("nothing is left alone")
	}
}
