package swap

import (
	"context"
	"slices"
	"strings"
	"testing"
)

// energy5 is the largest U-factor of a framed wall in zone 5 by the 2012 to 2018
// tables: 0.060 Btu/(h·ft²·°F), in W/(m²·K) (IECC table R402.1.4, recalled).
const energy5 = 0.060 * 5.678263

// Less insulation in the bay is proposed only where the whole meets the energy
// table: all of it moved outside of the sheathing does by itself, a thinner fill
// with insulation outside, and neither where the edition is not given.
func TestLessInsulationInTheBay(t *testing.T) {
	a := advised(t, vinylWall())
	u := func(p *Proposal) float64 { return p.After.Variants[0].Facts["u-factor"].Range.High }
	i := slices.IndexFunc(a.Proposals, func(p Proposal) bool { return p.ID == "insulation-moved-outside@gap" })
	if i < 0 {
		t.Fatalf("insulation is not moved outside: %s", idsOf(a.Proposals))
	}
	moved := &a.Proposals[i]
	if f := moved.After.Variants[0].Facts; !f["bay-empty"].Flag || u(moved) > energy5 {
		t.Errorf("the bay is empty: %v, and U is up to %g", f["bay-empty"].Flag, u(moved))
	}
	thin := "thin-fill-in-deep-bay@bay"
	if slices.ContainsFunc(a.Proposals, func(p Proposal) bool { return p.ID == thin }) {
		t.Error("a thinner fill is proposed by itself")
	}
	r := slices.IndexFunc(a.Rejections, func(r Rejection) bool { return r.ID+"@"+r.Layer == thin })
	if r < 0 || !strings.Contains(strings.Join(a.Rejections[r].Because, " "), "Framed wall insulation") {
		t.Error("the energy table does not turn down a thinner fill")
	}
	plan, why, err := BuildPlan(context.Background(), tester(embedded(t)), a, []string{thin, "mineral-wool-outside@gap"})
	if err != nil || len(why) > 0 {
		t.Fatal(why, err)
	}
	if u(&plan.Proposal) > energy5 || plan.After.Variants[0].Facts["bay-full"].Flag {
		t.Errorf("U is up to %g, the bay full: %v", u(&plan.Proposal), plan.After.Variants[0].Facts["bay-full"].Flag)
	}
	open := advised(t, strings.Replace(vinylWall(), "edition: IRC-2018, ", "", 1))
	for _, p := range slices.Concat(open.Proposals, open.Joint) {
		if len(recipesOf(candidate{recipe: p.Recipe})) > 0 && len(p.Recipe.Meets) > 0 && len(p.Asks) == 0 {
			t.Errorf("%s is offered without an edition and asks for none", p.ID)
		}
	}
}
