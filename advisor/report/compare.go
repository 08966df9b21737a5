package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
)

// Beside is one assembly, as described or with a plan, of those put side by side.
type Beside struct {
	Name  string
	About string // what is done, where the name does not say it
	Analysis
	Costs   *swap.Costs // nil without prices
	Costing *swap.Costing
}

// Compare makes the page that puts assemblies side by side: the facts that are
// compared before and after a swap, what it costs, charts of drying, water and
// mold, what stands out in each, and who takes each duty.
func (m Maker) Compare(list []Beside) *Document {
	names := namesOf(list)
	p := m.page("Side by side", strings.Join(names, "; "))
	var abouts []Text
	for _, a := range list {
		if a.About != "" {
			abouts = append(abouts, say(capital(a.Name)+": "+a.About))
		}
	}
	p.list(abouts...)
	p.factsDrawn(list)
	p.table(p.factsBeside(names, list))
	if len(list) > 0 && list[0].Costing != nil {
		p.para(quiet, say(howCosted(list[0].Costing)))
	}
	p.dryingBeside(list)
	p.waterBeside(list)
	p.moldBeside(list)
	p.heading(1, "What stands out")
	p.table(findingsBeside(names, list))
	p.heading(1, "Duties")
	p.table(p.dutiesBeside(names, list))
	p.heading(1, "Layers")
	results := make([]*analysis.Result, len(list))
	for i := range list {
		results[i] = list[i].Result
	}
	p.cutaways(names, results)
	return p.finish()
}

func namesOf(list []Beside) []string {
	names := make([]string, len(list))
	for i := range list {
		names[i] = list[i].Name
	}
	return names
}

// factsBeside lists facts and costs.
func (p *page) factsBeside(names []string, list []Beside) Table {
	t := Table{Heads: append([]string{"What"}, names...)}
	for _, f := range p.Base.Facts {
		if f.Screen != "before-after" || !slices.ContainsFunc(list, func(a Beside) bool { return across(a.Result, f.ID).Known }) {
			continue
		}
		cells := []Text{say(capital(f.Title), p.model(f.Model))}
		for _, a := range list {
			e := across(a.Result, f.ID)
			cells = append(cells, marked(p.factWords(f, e), e.Evidence))
		}
		t.Rows = append(t.Rows, cells)
	}
	if !slices.ContainsFunc(list, func(a Beside) bool { return a.Costs != nil }) {
		return t
	}
	cells := []Text{say("Cost of what is new")}
	for _, a := range list {
		cells = append(cells, say(costWords(a.Costs, a.Costing)))
	}
	t.Rows = append(t.Rows, cells)
	return t
}

// findingsBeside lists every finding with its verdict in each assembly.
func findingsBeside(names []string, list []Beside) Table {
	t := Table{Caption: "A finding that does not hold has no word", Heads: append([]string{"Finding"}, names...)}
	var seen []string
	for _, a := range list {
		for _, f := range a.Findings {
			if slices.Contains(seen, f.Rule) {
				continue
			}
			seen = append(seen, f.Rule)
			cells := []Text{say(f.Title)}
			for _, other := range list {
				cells = append(cells, say(holds(other.Findings, f.Rule)))
			}
			t.Rows = append(t.Rows, cells)
		}
	}
	return t
}

// holds words how far a finding holds.
func holds(list []rule.Finding, id string) string {
	for _, f := range list {
		if f.Rule != id {
			continue
		}
		if f.Verdict == kb.No {
			return "holds, " + levelWords(f.Level)
		}
		return string(f.Verdict) + ", " + levelWords(f.Level)
	}
	return ""
}

// dutiesBeside lists every duty with the layers that take it.
func (p *page) dutiesBeside(names []string, list []Beside) Table {
	t := Table{Heads: append([]string{"Duty"}, names...)}
	covers := make([][]analysis.Cover, len(list))
	for i, a := range list {
		covers[i] = analysis.Covers(p.Base, a.Result.Assembly, a.Result.Variants[0].Of)
	}
	for _, d := range p.Base.Duties {
		cells, asked := []Text{say(p.dutyTitle(d.ID))}, false
		for i := range list {
			words := ""
			for _, c := range covers[i] {
				if c.Duty == d.ID {
					words, asked = fmt.Sprintf("%s (%s)", by(c.By), c.Verdict), true
				}
			}
			cells = append(cells, say(words))
		}
		if asked {
			t.Rows = append(t.Rows, cells)
		}
	}
	return t
}
