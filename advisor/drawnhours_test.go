package advisor_test

import (
	"context"
	"flag"
	"fmt"
	"testing"

	"relath/advisor"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb/quantity"
)

var drawnHours = flag.Int("drawn-hours", 6, "how many of the drawn assemblies are planned and run hour by hour; 200 are all")

// No plan for a drawn assembly of any kind, made hour by hour, has a mold index
// over its limit at any corner, in any way it may be built.
func TestPlansOfDrawnAssembliesHourByHour(t *testing.T) {
	b := base(t)
	tester := rule.Tester{Base: b, System: quantity.InchPound}
	plans, known, refused := 0, 0, 0
	for i := range *drawnHours {
		kind := drawnKind(i)
		text := newDrawer(b, uint64(i)).house(kind)
		house, err := advisor.Load(b, "drawn.yaml", []byte(text))
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		advice, err := advisor.Advise(context.Background(), tester, house.Assemblies, swap.Options{})
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if err := advisor.PlanAll(context.Background(), tester, advice, swap.PlanOptions{Most: 6, Hourly: &advisor.Hourly{Years: 1}}); err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		refused += len(advice[0].Plans.TurnedDown)
		for _, p := range advice[0].Plans.Plans {
			plans++
			known += keepsMoldLimits(t, b, fmt.Sprintf("drawn %d, %s, %s", i, kind, p.ID), p)
		}
	}
	t.Logf("%d plans of %d assemblies, %d mold indices known, %d combinations turned down", plans, *drawnHours, known, refused)
	if plans == 0 || known == 0 {
		t.Errorf("%d plans with %d mold indices", plans, known)
	}
}
