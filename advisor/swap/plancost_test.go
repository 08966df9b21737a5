package swap

import (
	"context"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"relath/advisor/assembly"
	"relath/advisor/takeoff"
	"relath/kb"
	"relath/kb/quantity"
)

// madeUp prices every layer that is not as it was by the letters of its material,
// and knows no price of the materials in a list.
func madeUp(unpriced ...string) *Costing {
	return &Costing{
		Currency: "USD", Book: "by made-up prices",
		Of: func(before, after *assembly.Assembly, _ []*kb.Recipe) Costs {
			costs := Costs{Layers: make([]LayerCost, len(after.Described.Layers))}
			for _, p := range after.Variants[0].Layers {
				if p.Cavity || slices.ContainsFunc(before.Variants[0].Layers, func(b *assembly.Part) bool { return b.Name == p.Name && b.Material == p.Material }) {
					continue
				}
				price := 0.0
				for _, letter := range p.Material.ID {
					price += 7 * float64(letter%11)
				}
				l := LayerCost{Amount: quantity.Range{Low: price, Best: price, High: price}}
				if slices.Contains(unpriced, p.Material.ID) {
					l = LayerCost{Missing: []string{"no price of " + p.Material.Name}}
				}
				costs.Layers[p.Layer].add(l)
			}
			return costs
		},
		Lists: func(m *kb.Material) bool { return !slices.Contains(unpriced, m.ID) },
	}
}

// With cost as one of the goals, some of it not known, and with a budget, the
// search and brute force agree.
func TestSearchAgreesWithCost(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 3))
	for name, a := range shipped(t) {
		for _, budget := range []float64{0, 600} {
			some := slices.DeleteFunc(slices.Clone(a.Proposals), func(Proposal) bool { return random.IntN(2) == 0 })
			opts := PlanOptions{Costing: madeUp("clay-finish-plaster", "cork-board"), Budget: budget, Most: 30 + random.IntN(300)}
			agrees(t, name, newSearch(finderOf(tester(embedded(t)), a), some, opts), random)
		}
	}
}

// A plan within the budget, of materials that can be had; what has no price is
// never taken for free.
func TestBudgetAndAvailability(t *testing.T) {
	a := shipped(t)["alder-court, north wall"]
	costing := madeUp("clay-finish-plaster")
	plans := func(o PlanOptions) *Planning {
		t.Helper()
		o.Costing = costing
		out, err := Plans(context.Background(), tester(embedded(t)), a, o)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	for _, p := range plans(PlanOptions{Budget: 500}).Plans {
		if got := p.Costs.Total().Amount.Best; got > 500 {
			t.Errorf("%s costs %g", p.ID, got)
		}
	}
	unpriced := 0
	for _, p := range plans(PlanOptions{}).Plans {
		total := p.Costs.Total()
		if slices.Contains(p.Good, "lowest cost") && len(total.Missing) > 0 {
			t.Errorf("%s is called the cheapest without the price of %q", p.ID, total.Missing)
		}
		if strings.Contains(p.ID, "clay-on-board") {
			unpriced++
			if len(total.Missing) == 0 || p.Marks[atCost] != neverJudged {
				t.Errorf("%s is priced: %+v", p.ID, total)
			}
		}
	}
	if unpriced == 0 {
		t.Error("no plan with a material that has no price")
	}
	out := plans(PlanOptions{Available: true})
	for _, p := range out.Plans {
		if strings.Contains(p.ID, "clay-on-board") {
			t.Errorf("%s puts in what cannot be had", p.ID)
		}
	}
	if !slices.ContainsFunc(out.Aside, func(r Rejection) bool {
		return r.ID == "clay-on-board-with-variable-retarder" && strings.Contains(r.Because[0], "Clay finish plaster")
	}) {
		t.Errorf("left aside: %+v", out.Aside)
	}
	if _, err := Plans(context.Background(), tester(embedded(t)), a, PlanOptions{Budget: 500}); err == nil {
		t.Error("a budget without prices is taken")
	}
}

// Steps of 3 % by hand: 100 is ln 100 / ln 1.03 = 155.80 steps, 102 is 156.47 and
// 106 is 157.77.
func TestCostMark(t *testing.T) {
	mark := func(v float64, missing ...string) int32 {
		var c spent
		c.add(&LayerCost{Amount: quantity.Exact(v), Missing: missing})
		return c.mark()
	}
	if mark(100) != 156 || mark(102) != 156 || mark(106) != 158 || mark(0) != 0 {
		t.Errorf("100, 102, 106 and nothing are %d, %d, %d, %d", mark(100), mark(102), mark(106), mark(0))
	}
	if mark(0, "no price of it") <= mark(1e9) {
		t.Error("what has no price is cheaper than what has one")
	}
}

// What a price book lists: what has a price, and what is mixed of what has one.
func TestPriceBookLists(t *testing.T) {
	base := embedded(t)
	book, problems := takeoff.ReadPrices(base, "p.yaml", []byte("format: 1\ncurrency: USD\nprices:\n"+
		"  - {price: hydrated-lime, costs: 16, per: bag}\n  - {price: plaster-sand, costs: 2, per: 1 ft3}\n  - {price: osb, costs: 18, per: panel}\n"))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	for id, want := range map[string]bool{"osb": true, "lime-plaster-on-wood-lath": true, "plywood-sheathing": false} {
		if got := book.Lists(base, base.Material(id)); got != want {
			t.Errorf("%s: %v", id, got)
		}
	}
}
