package advisor_test

import (
	"context"
	"os"
	"strings"
	"testing"

	"relath/advisor"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/takeoff"
)

// TestGoldenOrder holds the order list of the demonstration house with invented
// prices and a start date.
func TestGoldenOrder(t *testing.T) {
	b := base(t)
	h := houses(t, b)["birch-corner"]
	data, err := os.ReadFile("../testdata/prices/demo.yaml")
	if err != nil {
		t.Fatal(err)
	}
	book, problems := takeoff.ReadPrices(b, "demo.yaml", data)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	start, err := takeoff.ParseDate("2027-04-05")
	if err != nil {
		t.Fatal(err)
	}
	o, err := advisor.Order(context.Background(), rule.Tester{Base: b}, h, advisor.Ordering{Prices: book, Schedule: true, Start: start})
	if err != nil {
		t.Fatal(err)
	}
	page := text(t, report.Maker{Base: b}.Order(o))
	golden(t, "birch-corner.order.txt", page)
	// 240 ft² less 36 ft² of openings are 204 ft² of felt; a tenth is lapped.
	for _, want := range []string{"The prices are invented", "every price is invented", "224 (224 to 235) ft²", "204 ft²"} {
		if !strings.Contains(strings.Join(strings.Fields(page), " "), want) {
			t.Errorf("%q is not on the page", want)
		}
	}
}

// A plan orders what it brings, not what stands.
func TestOrderOfPlan(t *testing.T) {
	b := base(t)
	h := houses(t, b)["alder-court"]
	tester := rule.Tester{Base: b}
	o, err := advisor.Order(context.Background(), tester, h, advisor.Ordering{
		Choice: advisor.Choice{Plans: []string{"variable-retarder-for-plastic-film@poly"}},
	})
	if err != nil {
		t.Fatal(err)
	}
	var items []string
	for _, l := range o.Takeoff.Lines {
		items = append(items, l.Item)
	}
	list := strings.Join(items, " ")
	if !strings.Contains(list, "variable-retarder") || strings.Contains(list, "vinyl-siding") || strings.Contains(list, "osb") {
		t.Errorf("ordered: %s", list)
	}
	if _, err := advisor.Order(context.Background(), tester, h, advisor.Ordering{Choice: advisor.Choice{Plans: []string{"no-such-swap"}}}); err == nil {
		t.Error("an unknown plan is ordered")
	}
}
