package swap

import (
	"fmt"
	"math"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// Costing says what an assembly costs. Amounts are in its currency.
type Costing struct {
	Currency string
	Book     string // the price book in words
	Of       func(before, after *assembly.Assembly, recipes []*kb.Recipe) Costs
	Lists    func(m *kb.Material) bool // whether the price book has the material
	TearOut  bool                      // whether it prices taking out
}

// Costs is what is bought for an assembly, material and labor.
type Costs struct {
	Layers   []LayerCost    // of the described layers, in their order
	Rounding quantity.Range // what whole panels, bags and pieces cost more than the shares of them
	TearOut  LayerCost      // taking out what comes off, where the price book has prices of it
	Work     []string       // work that is in no price
}

// LayerCost is the cost of one layer.
type LayerCost struct {
	Amount  quantity.Range
	Missing []string // what has no price: the amount is without it
}

func (c *LayerCost) add(o LayerCost) {
	c.Amount.Low += o.Amount.Low
	c.Amount.Best += o.Amount.Best
	c.Amount.High += o.Amount.High
	c.Missing = append(c.Missing, without(o.Missing, c.Missing)...)
}

// Total is the cost of all layers in whole pieces, and what is not in it.
func (c *Costs) Total() LayerCost {
	var sum LayerCost
	for _, l := range c.Layers {
		sum.add(l)
	}
	sum.add(c.TearOut)
	sum.add(LayerCost{Amount: c.Rounding, Missing: c.Work})
	return sum
}

// money words an amount.
func (c *Costing) money(v float64) string { return fmt.Sprintf("%.0f %s", v, c.Currency) }

// now is the cost of the assembly as described, nil without prices.
func (s *search) now() *Costs {
	if s.opts.Costing == nil {
		return nil
	}
	costs := s.opts.Costing.Of(s.of, s.of, nil)
	return &costs
}

// costOf prices what an option puts in. Work beside its layers is in no price.
func (s *search) costOf(o *option) LayerCost {
	var sum LayerCost
	if s.opts.Costing == nil {
		return sum
	}
	after := o.proposal.After.Assembly
	costs := s.opts.Costing.Of(s.of, after, recipesOf(o.c))
	put := o.to - o.from + len(after.Described.Layers) - len(s.of.Described.Layers)
	for _, l := range costs.Layers[o.from : o.from+put] {
		sum.add(l)
	}
	sum.add(costs.TearOut)
	sum.Missing = append(sum.Missing, WorkBeside(o.proposal.Changes)...)
	return sum
}

func recipesOf(list ...candidate) []*kb.Recipe {
	var recipes []*kb.Recipe
	for _, c := range list {
		if c.recipe != nil {
			recipes = append(recipes, c.recipe)
		}
	}
	return recipes
}

// WorkBeside names work beside the layers, which no price covers.
func WorkBeside(changes []Change) []string {
	var list []string
	for _, c := range changes {
		if c.Layer == BesideLayers && !c.Counted {
			list = append(list, "no price of the work beside the layers: "+c.To)
		}
	}
	return list
}

// costWhole prices a plan as a whole and gives the reason to turn it down.
func (s *search) costWhole(p *Plan, chosen []int) []string {
	c := s.opts.Costing
	if c == nil {
		return nil
	}
	costs := c.Of(s.of, p.After.Assembly, s.recipes(chosen))
	costs.Work = WorkBeside(p.Changes)
	p.Costs = &costs
	if total := costs.Total(); s.opts.Budget > 0 && total.Amount.Best > s.opts.Budget {
		return []string{fmt.Sprintf("it costs %s, and the budget is %s", c.money(total.Amount.Best), c.money(s.opts.Budget))}
	}
	return nil
}

// The grid of costs: 3 % in ratio, begun at one unit of the currency.
const (
	costStep  = 1.03
	costFloor = 1.0
)

// spent is a cost that is summed up while screening.
type spent struct {
	best     float64
	unpriced bool // something has no price
}

func (c *spent) add(l *LayerCost) {
	c.best += l.Amount.Best
	c.unpriced = c.unpriced || len(l.Missing) > 0
}

// mark rounds a cost to steps of 3 %. A cost that is not known in full counts as
// dearer than any that is, and as dear as any other such.
func (c *spent) mark() int32 {
	switch {
	case c.unpriced:
		return neverJudged
	case c.best <= costFloor:
		return 0
	}
	return int32(math.Round(math.Log(c.best/costFloor) / math.Log(costStep)))
}

// tooDear says whether what is known of the cost is above the budget already.
func (x *screener) tooDear() bool {
	const slack = 0.005 // half a hundredth
	return x.opts.Budget > 0 && x.cost.best > x.opts.Budget+slack
}
