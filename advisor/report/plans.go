package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/swap"
	"relath/kb"
)

// plans writes the whole plans for an assembly: how they were found, a table of
// all beside what is there, and each in full.
func (p *page) plans(a *swap.Advice) {
	x := a.Plans
	if x == nil || len(x.Plans) == 0 && x.Air == nil && len(x.Open) == 0 && len(x.Aside)+len(x.Barred) == 0 {
		return
	}
	p.heading(1, "Plans for the whole "+kindName(a.Assembly.Kind))
	if len(x.Plans) > 0 {
		p.para(plain, say(howPlansWereFound(x)))
		p.planTable("Side by side; the swaps of each plan stand below", a, x.Plans)
		p.para(quiet, say(howCosted(x.Costing)))
		for i, plan := range x.Plans {
			p.spot = spotOfPlan(i + 1)
			p.plan(i+1, x, plan)
		}
		p.spot = ""
	}
	p.para(warning, say(openWords(x)))
	p.drierAir(x.Air)
	if len(x.Front) > 0 {
		p.frontTable(x)
	}
	p.notRun(a)
	p.turnedDown(x.TurnedDown)
	p.apart(x.Apart)
	p.aside("Swaps that are in no plan, as you asked", x.Aside)
	p.aside("Swaps that are in no plan until what blocks them is cleared", x.Barred)
}

// notRun lists the combinations that nothing beats and that were not run hour by
// hour, by the numbers of their swaps in the list below.
func (p *page) notRun(a *swap.Advice) {
	list := a.Plans.NotRun
	if len(list) == 0 {
		return
	}
	numbers := make([]string, len(list))
	for i, id := range list {
		var steps []string
		for _, step := range swap.PlanSteps([]string{id}) {
			name := step // of a swap that stands in the list only as turned down
			if at := slices.IndexFunc(a.Proposals, func(x swap.Proposal) bool { return x.ID == step }); at >= 0 {
				name = fmt.Sprint(at + 1)
			}
			steps = append(steps, name)
		}
		numbers[i] = strings.Join(steps, "+")
	}
	p.para(quiet, say(fmt.Sprintf("%s that nothing beats in the screening %s not run hour by hour. By the numbers of the swaps below: %s.",
		capital(count(len(list), "combination")), plural(len(list), "was", "were"), strings.Join(numbers, ", "))))
}

// aside writes which swaps are in no plan, and why.
func (p *page) aside(caption string, list []swap.Rejection) {
	t := Table{Caption: caption, Heads: []string{"Swap", "Why"}}
	for _, r := range list {
		t.Rows = append(t.Rows, []Text{say(r.Candidate), say(sentences(r.Because))})
	}
	p.table(t)
}

// openWords says what the search did not come to an end with.
func openWords(x *swap.Planning) string {
	var list []string
	if len(x.Open) > 0 {
		list = append(list, fmt.Sprintf("The search ended before a plan held up that is the best at: %s. One may exist among the %s.", strings.Join(x.Open, ", "), count(x.Screened, "combination")))
	}
	if x.Unjudged > 0 {
		list = append(list, fmt.Sprintf("%s that nothing beats %s screened and not judged in full.", capital(count(x.Unjudged, "combination")), plural(x.Unjudged, "was", "were")))
	}
	return strings.Join(list, " ")
}

// apart writes which swaps are never combined, and why; those that share the
// others and the reason share a row.
func (p *page) apart(list []swap.Apart) {
	t := Table{Caption: "Swaps that do not go together", Heads: []string{"Swap", "Not beside", "Why"}}
	for _, a := range list {
		row := []Text{say(a.Swap), say(strings.Join(lowers(a.Beside), "; ")), say(sentences(a.Because))}
		same := slices.IndexFunc(t.Rows, func(o []Text) bool { return o[1].Words == row[1].Words && o[2].Words == row[2].Words })
		if same < 0 {
			t.Rows = append(t.Rows, row)
			continue
		}
		t.Rows[same][0].Words += "; " + lower(a.Swap)
	}
	p.table(t)
}

func lowers(list []string) []string {
	out := make([]string, len(list))
	for i, x := range list {
		out[i] = lower(x)
	}
	return out
}

// turnedDown writes the combinations that did not hold up as a whole.
func (p *page) turnedDown(list []swap.Rejection) {
	t := Table{Caption: "Combinations that screened well and did not hold up as a whole", Heads: []string{"Swaps", "Why not"}}
	for _, r := range list {
		t.Rows = append(t.Rows, []Text{say(r.Candidate), say(sentences(r.Because))})
	}
	p.table(t)
}

// howPlansWereFound says what was screened and what is left.
func howPlansWereFound(x *swap.Planning) string {
	text := fmt.Sprintf("%s of the swaps below%s %s screened by duties, code tables and the monthly method with the best values.",
		capital(count(x.Screened, "combination")), joinedIn(x), plural(x.Screened, "was", "were"))
	if x.AtOnce > 0 {
		text += fmt.Sprintf(" There are more: no more than %s were combined at once.", count(x.AtOnce, "swap"))
	}
	text += fmt.Sprintf(" %s beaten by no other in all of drying, condensate, room-surface temperature, glue, mold food, heat loss, thickness, trades%s together.",
		capital(count(x.OnFront, "combination"))+plural(x.OnFront, " is", " are"), costWord(x, ", layers changed and cost", " and layers changed"))
	return text + fmt.Sprintf(" Less than 5 %% of drying, 10 g/m² of condensate, 0.01 of the temperature ratio, 1 lb/100 ft² of glue, 0.002 of the U-factor%s or 1/4 in counts as the same.", costWord(x, ", 3 % of cost", "")) +
		" The plans here were applied together and the whole was computed again; they keep every duty and fail no code table." + hourlyChoice(x)
}

// joinedIn says that swaps were combined too that do not hold up by themselves.
func joinedIn(x *swap.Planning) string {
	if x.Joint == 0 {
		return ""
	}
	return fmt.Sprintf(", and of %s turned down alone for what another may lift,", count(x.Joint, "swap"))
}

// hourlyChoice says what hourly runs have to do with the choice.
func hourlyChoice(x *swap.Planning) string {
	if !slices.ContainsFunc(x.Plans, func(p *swap.Plan) bool { return p.Hourly != nil }) {
		return ""
	}
	return " The best of the screening for each aim were run hour by hour; those that hold at every corner of the ranges come before those that hold at some, and one with a mold index over its limit is no plan."
}

// planTable puts plans beside what is there, fact by fact.
func (p *page) planTable(caption string, a *swap.Advice, list []*swap.Plan) {
	t := Table{Caption: caption, Heads: []string{"What", "As it is"}}
	for i := range list {
		t.Heads = append(t.Heads, fmt.Sprintf("Plan %d", i+1))
	}
	row := func(name, now string, of func(plan *swap.Plan) string) {
		cells := []Text{say(name), say(now)}
		for _, plan := range list {
			cells = append(cells, say(of(plan)))
		}
		t.Rows = append(t.Rows, cells)
	}
	if len(list) > 1 {
		row("Good at", "", func(plan *swap.Plan) string { return strings.Join(plan.Good, ", ") })
	}
	row("Standing", "", func(plan *swap.Plan) string { return string(plan.Standing) })
	for _, c := range list[0].Compare {
		if !slices.Contains(goalFacts(), c.Fact.ID) {
			continue
		}
		cells := []Text{say(capital(c.Fact.Title), p.model(c.Fact.Model)), say(p.value(c.Before, c.Fact.Dimension))}
		for _, plan := range list {
			cells = append(cells, p.after(plan, c.Fact))
		}
		t.Rows = append(t.Rows, cells)
	}
	if x := a.Plans; x.Costing != nil {
		row("Cost", costWords(x.Now, x.Costing), func(plan *swap.Plan) string { return costWords(plan.Costs, x.Costing) })
	}
	row("Trades", "", func(plan *swap.Plan) string { return fmt.Sprint(plan.Trades()) })
	row("Layers changed", "", func(plan *swap.Plan) string { return fmt.Sprint(plan.LayersChanged()) })
	row("Clears", "", func(plan *swap.Plan) string { return orNothing(titles(plan.Resolved)) })
	row("Leaves or brings", strings.Join(titles(a.Findings), "; "), func(plan *swap.Plan) string {
		return orNothing(titles(slices.Concat(plan.Introduced, plan.Remaining)))
	})
	p.table(t)
}

// goalFacts lists the facts by which plans are told apart.
func goalFacts() []string {
	return []string{"drying-capacity", "peak-condensate", "temperature-ratio", "adhesive-mass", "cavity-food", "u-factor", "thickness", "mold-index-cavity", "mold-index-room"}
}

// after is a compared fact of a plan.
func (p *page) after(plan *swap.Plan, f *kb.Fact) Text {
	for _, c := range plan.Compare {
		if c.Fact == f {
			return marked(p.value(c.After, f.Dimension), c.Mark)
		}
	}
	return say("not known")
}

// plan writes one plan in full.
func (p *page) plan(n int, of *swap.Planning, x *swap.Plan) {
	good := join(x.Good, "and")
	if len(of.Plans) == 1 {
		good = "the only one that holds up"
	}
	p.heading(2, fmt.Sprintf("Plan %d: %s", n, good))
	p.planBody(of, x)
}

// planBody is plan without its heading.
func (p *page) planBody(of *swap.Planning, x *swap.Plan) {
	p.para(plain, say(fmt.Sprintf("%s. %s; its id is %s.", capital(join(lowered(x.Steps), "and")), capital(string(x.Standing)), x.ID)))
	p.list(changes(x.Changes)...)
	p.planCost(of, x)
	p.lifted(x)
	p.planLosses(x)
	p.verified(x.Hourly)
	p.para(plain, say(whatDecides(x)))
	p.dutyTable(x.Duties)
	p.confirm(x.Needs, x.Duties, x.Cautions)
	p.asks(x.Asks)
	p.cautionsOf(x.Cautions)
}

func lowered(steps []*swap.Proposal) []string {
	var names []string
	for _, s := range steps {
		names = append(names, lower(s.Title))
	}
	return names
}

// lifted says of each step that would not hold up by itself why not.
func (p *page) lifted(x *swap.Plan) {
	for _, s := range x.Steps {
		if len(s.Alone) > 0 {
			p.para(plain, say(fmt.Sprintf("Only as a whole: %s does not hold up by itself, because %s; what else is done here lifts that.", lower(s.Title), join(s.Alone, "and"))))
		}
	}
}

// planLosses says what gets worse, in numbers and in the words of each step.
func (p *page) planLosses(x *swap.Plan) {
	const felt = 0.1 // a rise of the mold index that comes before all else
	for _, c := range x.Compare {
		if strings.HasPrefix(c.Fact.ID, "mold-index") && (c.After.Best > c.Before.Best+felt || c.After.High > c.Before.High+felt) {
			p.para(warning, say(fmt.Sprintf("What gets worse: the %s rises from %s to %s.", c.Fact.Title, p.value(c.Before, c.Fact.Dimension), p.value(c.After, c.Fact.Dimension))))
		}
	}
	p.losses(&x.Proposal)
	p.list(p.lossesOf(x.Steps)...)
}

// whatDecides names the inputs on which findings of the plan still turn.
func whatDecides(x *swap.Plan) string {
	var list []string
	for _, f := range slices.Concat(x.Introduced, x.Remaining) {
		if f.Verdict == kb.Depends && f.Decider != "" {
			words := fmt.Sprintf("%s turns on %s", lower(f.Title), f.Decider)
			if f.Hinge != nil && f.Hinge.Doubt == "" && f.Hinge.Flip != "" {
				words += " at about " + f.Hinge.Flip
			}
			list = append(list, words)
		}
	}
	if len(list) == 0 {
		return ""
	}
	return "What decides: " + strings.Join(unique(list), "; ") + "."
}

// dutyTable writes every duty against the layers that take it before and after.
func (p *page) dutyTable(list []swap.DutyChange) {
	t := Table{Caption: "Duties before and after", Heads: []string{"Duty", "Before", "After", "Covered", "Depends on"}}
	for _, d := range list {
		t.Rows = append(t.Rows, []Text{
			say(p.dutyTitle(d.Duty)), say(by(d.Before)), say(by(d.After)), say(string(d.Verdict)), say(asks(d.Verdict, d.Asks)),
		})
	}
	p.table(t)
}

// drierAir writes the cure that changes no layer.
func (p *page) drierAir(m *swap.AirMove) {
	if m == nil {
		return
	}
	p.heading(2, "Drier air instead")
	p.para(plain, say(fmt.Sprintf("At %.0f %% instead of %.0f %% humidity in the heating season, by ventilation and by giving off less water, this clears without a change to a layer: %s. It has to be kept up every winter, and it is for the whole house.",
		100*m.To, 100*m.From, strings.Join(titles(m.Resolved), "; "))))
	p.compared(m.Compare)
}

// frontTable writes the combinations that nothing beats, one line each.
func (p *page) frontTable(of *swap.Planning) {
	list := of.Front
	p.heading(2, "All combinations that nothing beats")
	t := Table{Heads: []string{"Id", "Standing"}}
	facts := slices.DeleteFunc(slices.Clone(list[0].Compare), func(c swap.Compared) bool { return !slices.Contains(goalFacts(), c.Fact.ID) })
	for _, c := range facts {
		t.Heads = append(t.Heads, capital(c.Fact.Title))
	}
	t.Heads = append(t.Heads, "Trades", "Layers")
	if of.Costing != nil {
		t.Heads = append(t.Heads, "Cost")
	}
	for _, plan := range list {
		cells := []Text{say(plan.ID), say(string(plan.Standing))}
		for _, c := range facts {
			cells = append(cells, p.after(plan, c.Fact))
		}
		cells = append(cells, say(fmt.Sprint(plan.Trades())), say(fmt.Sprint(plan.LayersChanged())))
		if of.Costing != nil {
			cells = append(cells, say(costWords(plan.Costs, of.Costing)))
		}
		t.Rows = append(t.Rows, cells)
	}
	p.table(t)
}
