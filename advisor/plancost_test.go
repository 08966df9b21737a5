package advisor_test

import (
	"context"
	"math"
	"os"
	"testing"

	"relath/advisor"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/advisor/takeoff"
	"relath/kb"
)

func wallPrices(t testing.TB, b *kb.Base) *takeoff.PriceBook {
	t.Helper()
	data, err := os.ReadFile("../testdata/prices/walls.yaml")
	if err != nil {
		t.Fatal(err)
	}
	book, problems := takeoff.ReadPrices(b, "walls.yaml", data)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return book
}

// The cost of a plan is what the order list of that plan costs, and the screening
// sums it up from its swaps: before whole pieces both are the same within a step
// of 3 % and the screws of another framing.
func TestPlanCostIsThatOfTheOrder(t *testing.T) {
	b := base(t)
	tester, book := rule.Tester{Base: b}, wallPrices(t, b)
	checked := 0
	for name, house := range houses(t, b) {
		if name != "alder-court" && name != "cedar-row" {
			continue
		}
		a := house.Assemblies[0]
		advice, err := advisor.Advise(context.Background(), tester, house.Assemblies[:1], swap.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if err := advisor.PlanAll(context.Background(), tester, advice, swap.PlanOptions{Costing: advisor.Costing(b, book)}); err != nil {
			t.Fatal(err)
		}
		for _, p := range advice[0].Plans.Plans {
			order, err := advisor.Order(context.Background(), tester, house, advisor.Ordering{Choice: advisor.Choice{Plans: []string{a.Name + "=" + p.ID}}, Prices: book})
			if err != nil {
				t.Fatal(err)
			}
			want := 0.0
			for _, g := range order.Cost.Groups {
				if g.Assembly == a.Name {
					want += float64(g.Total.Best) / 100
				}
			}
			got := p.Costs.Total()
			if math.Abs(got.Amount.Best-p.Costs.Rounding.Best-want) > 0.005 {
				t.Errorf("%s, %s costs %.2f, the order %.2f", name, p.ID, got.Amount.Best-p.Costs.Rounding.Best, want)
			}
			if len(got.Missing) > 0 {
				continue
			}
			checked++
			const steps = 1.0
			if by := math.Log(want) / math.Log(1.03); math.Abs(by-float64(p.Marks[len(p.Marks)-1])) > steps {
				t.Errorf("%s, %s: %.1f steps of 3 %%, the screening has %d", name, p.ID, by, p.Marks[len(p.Marks)-1])
			}
		}
	}
	if checked < 5 {
		t.Errorf("only %d plans are priced in full", checked)
	}
}
