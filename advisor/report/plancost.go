package report

import (
	"fmt"
	"strings"

	"relath/advisor/swap"
)

// costWord gives one wording where plans are priced and another where not.
func costWord(x *swap.Planning, priced, not string) string {
	if x.Costing != nil {
		return priced
	}
	return not
}

// costWords is what is known of a cost.
func costWords(c *swap.Costs, by *swap.Costing) string {
	if c == nil {
		return ""
	}
	total := c.Total()
	r := total.Amount
	text := whole(r.Best)
	if whole(r.Low) != whole(r.High) {
		text += " (" + whole(r.Low) + " to " + whole(r.High) + ")"
	}
	text += " " + by.Currency
	switch n := len(total.Missing); {
	case n > 0 && r.High == 0:
		return "not known: " + count(n, "price") + " missing"
	case n > 0:
		return "over " + text + ": " + count(n, "price") + " missing"
	case r.High == 0:
		return "nothing is bought"
	}
	return text
}

// whole words an amount without hundredths, thousands set apart.
func whole(v float64) string {
	text := amount(int64(v+0.5) * 100)
	return text[:strings.IndexByte(text, '.')]
}

// howCosted says what is in the cost of plans.
func howCosted(by *swap.Costing) string {
	if by == nil {
		return ""
	}
	out := "Taking out and hauling off, what comes off and goes back, and trim around openings are not in it."
	if by.TearOut {
		out = "Taking out and hauling off the layers that go is in it; what comes off besides and goes back, and trim around openings are not."
	}
	return fmt.Sprintf("Cost is material and labor of what is new, in whole panels, bags and pieces, %s. %s What lacks a price counts as dearer than what is priced in full.", by.Book, out)
}

// planCost says what is not in the cost of a plan, and whether it keeps the
// budget.
func (p *page) planCost(of *swap.Planning, x *swap.Plan) {
	if x.Costs == nil {
		return
	}
	total := x.Costs.Total()
	text := ""
	if len(total.Missing) > 0 {
		text = "Not in its cost: " + strings.Join(lowers(total.Missing), "; ") + "."
	}
	if of.Budget > 0 && (len(total.Missing) > 0 || total.Amount.High > of.Budget) {
		text += fmt.Sprintf(" Whether it keeps the budget of %s %s depends on what is asked for these and on the range of the prices: %s.",
			whole(of.Budget), of.Costing.Currency, costWords(x.Costs, of.Costing))
	}
	p.para(warning, say(strings.TrimSpace(text)))
}
