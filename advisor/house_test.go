package advisor_test

import (
	"context"
	"strings"
	"testing"

	"relath/advisor"
	"relath/advisor/report"
	"relath/advisor/rule"
)

// TestGoldenHouse holds the page of a house of several assemblies, with
// finishes, rooms and cold surfaces, up to its first assembly.
func TestGoldenHouse(t *testing.T) {
	b := base(t)
	h, tester := houses(t, b)["birch-corner"], rule.Tester{Base: b}
	results, err := advisor.Analyze(context.Background(), tester, h.Assemblies)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := advisor.House(context.Background(), tester, h, results, advisor.Hourly{})
	if err != nil {
		t.Fatal(err)
	}
	m := report.Maker{Base: b}
	page, rest, ok := strings.Cut(text(t, m.HouseAnalysis(h, whole, results)), "\nNorth wall\n==")
	if !ok {
		t.Fatal("the first assembly does not come after the house")
	}
	golden(t, "birch-corner.house.txt", page)
	for _, c := range whole.Cautions {
		if !strings.Contains(page, c.Caution.Title) {
			t.Errorf("caution %s is not said", c.Caution.ID)
		}
	}
	for _, w := range whole.Order[1:] {
		if !strings.Contains(rest, strings.ToUpper(w.Assembly[:1])+w.Assembly[1:]) {
			t.Errorf("%s has no part of its own", w.Assembly)
		}
	}
}

// A house of one assembly and nothing else needs no page of the whole.
func TestManyParts(t *testing.T) {
	all := houses(t, base(t))
	for name, want := range map[string]bool{"larch-lane": false, "alder-court": true, "birch-corner": true, "mill-row": true} {
		if got := advisor.ManyParts(all[name]); got != want {
			t.Errorf("%s: %t, want %t", name, got, want)
		}
	}
}

// An interrupt ends the look at a house with the error of the context.
func TestHouseInterrupt(t *testing.T) {
	b := base(t)
	h, tester := houses(t, b)["birch-corner"], rule.Tester{Base: b}
	results, err := advisor.Analyze(context.Background(), tester, h.Assemblies)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := advisor.House(ctx, tester, h, results, advisor.Hourly{}); err != context.Canceled {
		t.Errorf("got %v", err)
	}
}
