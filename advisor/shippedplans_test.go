package advisor_test

import (
	"context"
	"testing"

	"relath/advisor"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb/quantity"
)

// No plan for a shipped house leaves a duty uncovered that was covered, fails a
// code table or lacks a caution; each is judged anew from its written file. With
// all drawn assemblies run hour by hour, so are these, for the mold index.
func TestPlansOfShippedHouses(t *testing.T) {
	b := base(t)
	tester := rule.Tester{Base: b, System: quantity.InchPound}
	options := swap.PlanOptions{Most: 60}
	if *drawnHours >= drawnHouses {
		options = swap.PlanOptions{Hourly: &advisor.Hourly{Years: 1}}
	}
	plans, known := 0, 0
	for _, text := range shipped(t) {
		house, err := advisor.Load(b, "shipped.yaml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		advice, err := advisor.Advise(context.Background(), tester, house.Assemblies, swap.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if err := advisor.PlanAll(context.Background(), tester, advice, options); err != nil {
			t.Fatal(err)
		}
		for i, a := range advice {
			if a.Plans == nil {
				continue
			}
			for _, p := range a.Plans.Plans {
				plans++
				name := house.House.House + ", " + house.Assemblies[i].Name + ", " + p.ID
				after := rewritten(t, b, name, p.After.Assembly)
				keepsDuties(t, b, name, house.Assemblies[i], after.Assembly, p)
				keepsCodes(t, tester, name, after)
				hasCautions(t, name, p, after, tester)
				if options.Hourly != nil {
					known += keepsMoldLimits(t, b, name, p)
				}
			}
		}
	}
	t.Logf("%d plans, %d mold indices known", plans, known)
	if plans < 15 || options.Hourly != nil && known == 0 {
		t.Errorf("%d plans with %d mold indices", plans, known)
	}
}
