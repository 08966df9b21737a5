package report

import (
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
)

// person is somebody who has to confirm things before the work.
type person struct {
	name string
	what []string
}

// roster gathers by person what has to be confirmed.
type roster struct{ list []person }

// add notes a thing for a person, once.
func (r *roster) add(name, what string) {
	name, what = personName(name), strings.TrimSuffix(strings.TrimSpace(what), ".")
	at := slices.IndexFunc(r.list, func(p person) bool { return p.name == name })
	if at < 0 {
		at = len(r.list)
		r.list = append(r.list, person{name: name})
	}
	if !slices.Contains(r.list[at].what, what) {
		r.list[at].what = append(r.list[at].what, what)
	}
}

// personName names a person in one way, however an entry calls them.
func personName(who string) string {
	switch who {
	case "official":
		return "building official"
	case "engineer", "registered design professional":
		return "engineer (registered design professional)"
	case "electrician":
		return "licensed electrician"
	}
	return strings.ReplaceAll(who, "-", " ")
}

// confirm writes a list by person of what has to be confirmed before the work:
// what the steps need, the duties that are never plainly covered and change
// hands, and the cautions that name somebody.
func (p *page) confirm(needs []kb.Need, duties []swap.DutyChange, cautions []rule.Caution) {
	var r roster
	for _, n := range needs {
		r.add(n.Who, strings.TrimSuffix(n.What, ", the official"))
	}
	for _, d := range duties {
		changed := !slices.Equal(d.Before, d.After) || d.Was != d.Verdict
		words := "may " + lower(p.dutyTitle(d.Duty))
		asked := slices.ContainsFunc(needs, func(n kb.Need) bool { return strings.Contains(n.What, words) })
		if changed && !asked && d.Verdict == kb.Depends && slices.Contains(d.Asks, "the official") {
			asks := slices.DeleteFunc(slices.Clone(d.Asks), func(s string) bool { return s == "the official" })
			r.add("official", "that "+join(d.After, "and")+" "+words+": "+join(asks, "and"))
		}
	}
	for _, c := range cautions {
		if c.Caution.Ask != "" {
			r.add(c.Caution.Ask, lower(c.Caution.Title)+", see the caution")
		}
	}
	var rows [][]Text
	for _, x := range r.list {
		rows = append(rows, []Text{say(capital(x.name)), say(capital(strings.Join(x.what, "; ")) + ".")})
	}
	p.table(Table{Caption: "Who has to confirm what before the work", Heads: []string{"Person", "What"}, Rows: rows})
}

// handedOver writes who takes each duty before and after a plan; without steps
// who takes it.
func (p *page) handedOver(plan *Plan) {
	after := analysis.Covers(p.Base, plan.After.Assembly, plan.After.Variants[0].Of)
	if len(plan.Steps) == 0 {
		p.duties(after)
		return
	}
	before := analysis.Covers(p.Base, plan.Before.Assembly, plan.Before.Variants[0].Of)
	var list []swap.DutyChange
	for _, d := range p.Base.Duties {
		is := func(c analysis.Cover) bool { return c.Duty == d.ID }
		x := swap.DutyChange{Duty: d.ID, Was: kb.No, Verdict: kb.No}
		b, a := slices.IndexFunc(before, is), slices.IndexFunc(after, is)
		if b >= 0 {
			x.Before, x.Was = before[b].By, before[b].Verdict
		}
		if a >= 0 {
			x.After, x.Verdict, x.Asks = after[a].By, after[a].Verdict, after[a].Asks
		}
		if a >= 0 || b >= 0 {
			list = append(list, x)
		}
	}
	p.dutyTable(list)
}
