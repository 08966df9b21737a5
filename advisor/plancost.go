package advisor

import (
	"fmt"
	"slices"

	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/swap"
	"relath/advisor/takeoff"
	"relath/kb"
	"relath/kb/quantity"
)

// Costing lets plans be priced by a price book; nil for none.
func Costing(base *kb.Base, book *takeoff.PriceBook) *swap.Costing {
	if book == nil {
		return nil
	}
	return &swap.Costing{
		Currency: book.Currency, Book: book.Words(),
		Of: func(before, after *assembly.Assembly, recipes []*kb.Recipe) swap.Costs {
			all, cost := bought(base, book, before, after, recipes)
			costs := layered(after, all, cost)
			if !book.PricesTearOut(base) {
				costs.TearOut.Missing = nil // in no plan alike
			}
			return costs
		},
		Lists:   func(m *kb.Material) bool { return book.Lists(base, m) },
		TearOut: book.PricesTearOut(base),
	}
}

// bought takes and prices what is bought for one assembly that was changed.
func bought(base *kb.Base, book *takeoff.PriceBook, before, after *assembly.Assembly, recipes []*kb.Recipe) (*takeoff.Takeoff, *takeoff.Cost) {
	all := takeoff.Take(base, takeoff.Job{
		House: alone(after), Before: alone(before), Recipes: map[string][]*kb.Recipe{after.Name: recipes},
	})
	return all, all.Price(base, book)
}

// alone is the house of an assembly without its other parts.
func alone(a *assembly.Assembly) *assembly.Resolved {
	house := *a.House
	house.Assemblies, house.Finishes = []*assembly.Assembly{a}, nil
	return &house
}

// layered sorts the cost of lines by the described layers they belong to.
func layered(a *assembly.Assembly, all *takeoff.Takeoff, cost *takeoff.Cost) swap.Costs {
	costs := swap.Costs{Layers: make([]swap.LayerCost, len(a.Described.Layers)), Rounding: currency(cost.Rounding)}
	for i, l := range cost.Lines {
		if all.Lines[i].IsTearOut() {
			add(&costs.TearOut, l)
			continue
		}
		at := slices.IndexFunc(a.Variants[0].Layers, func(p *assembly.Part) bool { return p.Name == all.Lines[i].Where.Layer })
		if at < 0 {
			costs.Work = append(costs.Work, fmt.Sprintf("no layer for %s", all.Lines[i].Name))
			continue
		}
		add(&costs.Layers[a.Variants[0].Layers[at].Layer], l)
	}
	return costs
}

// add puts the cost of a line to that of a layer.
func add(layer *swap.LayerCost, l takeoff.LineCost) {
	sum := currency(l.Total())
	layer.Amount.Low += sum.Low
	layer.Amount.Best += sum.Best
	layer.Amount.High += sum.High
	if l.Missing != "" && !slices.Contains(layer.Missing, l.Missing) {
		layer.Missing = append(layer.Missing, l.Missing)
	}
}

// currency gives hundredths as an amount of the currency.
func currency(m takeoff.Money) quantity.Range {
	return quantity.Range{Low: float64(m.Low) / 100, Best: float64(m.Best) / 100, High: float64(m.High) / 100}
}

// PriceOf gives what an assembly costs as described, or with a plan.
func PriceOf(c *swap.Costing, p report.Plan) *swap.Costs {
	if c == nil {
		return nil
	}
	costs := c.Of(p.Before.Assembly, p.After.Assembly, recipesOf(p))
	costs.Work = swap.WorkBeside(changesOf(p))
	return &costs
}

// CostOf gives the cost of what a plan puts in, line by line; nil where nothing is
// bought or there are no prices.
func CostOf(base *kb.Base, book *takeoff.PriceBook, p report.Plan) *takeoff.Cost {
	if book == nil {
		return nil
	}
	all, cost := bought(base, book, p.Before.Assembly, p.After.Assembly, recipesOf(p))
	if len(all.Lines) == 0 {
		return nil
	}
	cost.Missing = append(cost.Missing, swap.WorkBeside(changesOf(p))...)
	return cost
}

func recipesOf(p report.Plan) []*kb.Recipe {
	var list []*kb.Recipe
	for _, s := range p.Steps {
		if s.Recipe != nil {
			list = append(list, s.Recipe)
		}
	}
	return list
}

func changesOf(p report.Plan) []swap.Change {
	var list []swap.Change
	for _, s := range p.Steps {
		list = append(list, s.Changes...)
	}
	return list
}
