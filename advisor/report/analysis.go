package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb/quantity"
)

// Analysis is what the page of one analyzed assembly shows.
type Analysis struct {
	Result   *analysis.Result
	Findings []rule.Finding
	Codes    []rule.TableAnswer
	Cautions []rule.Caution
	Measures []rule.Measure
}

// Analysis makes the page of analyzed assemblies of one house.
func (m Maker) Analysis(list []Analysis) *Document {
	p := m.housePage(len(list), func(i int) *assembly.Assembly { return list[i].Result.Assembly })
	for _, a := range list {
		p.begin(len(list), a.Result.Assembly)
		p.analysis(a)
	}
	if len(list) != 1 {
		p.deeper = 0
		p.toMeasure(list)
	}
	return p.finish()
}

// housePage begins the page of one or more assemblies of a house: one gives
// the page its title, several get a heading each.
func (m Maker) housePage(n int, at func(int) *assembly.Assembly) *page {
	switch n {
	case 0:
		return m.page("Finishes of the house", "")
	case 1:
		return m.page(title(at(0)), m.where(at(0)))
	}
	return m.page(at(0).House.House.House, m.where(at(0)))
}

// begin begins the part of an assembly on a page of several.
func (p *page) begin(n int, a *assembly.Assembly) {
	p.at = a.Name
	if n > 1 {
		p.deeper = 0
		p.heading(1, capital(a.Name))
		p.deeper = 1
	}
}

// analysis writes one assembly.
func (p *page) analysis(a Analysis) {
	p.para(lead, say(p.inShort(a)))
	p.warnings(a.Result)
	if len(a.Findings) > 0 {
		p.heading(1, "What stands out")
		p.findings(a.Findings)
	}
	p.codes(1, a.Codes)
	p.taken(a.Result.Assembly.House, a.Result.Assembly)
	if p.deeper == 0 {
		p.toMeasure([]Analysis{a})
	}
	p.heading(1, "Layer by layer")
	p.cutaway(a.Result)
	p.layers(a.Result)
	p.chokes(a.Result)
	p.heading(1, "Where water can leave")
	p.drying(a.Result)
	p.water(a.Result)
	p.january(a.Result)
	p.doubts(a.Result)
	p.hourly(a.Result)
	p.heading(1, "The whole assembly")
	p.numbersByModel(a.Result)
	p.duties(analysis.Covers(p.Base, a.Result.Assembly, a.Result.Variants[0].Of))
	p.closing(a.Result, a.Cautions)
}

// title names an assembly and its house.
func title(a *assembly.Assembly) string {
	return capital(a.Name) + ", " + a.House.House.House
}

// where says place, code and year on one line.
func (m Maker) where(a *assembly.Assembly) string {
	h := a.House
	var parts []string
	if h.Place != nil {
		parts = append(parts, h.Place.Name+", "+h.Place.Region)
	}
	if h.Zone != "" {
		zone := "zone " + h.Zone
		if !h.Confirmed {
			zone += " (not confirmed)"
		}
		parts = append(parts, zone)
	}
	if h.Edition != "" {
		parts = append(parts, h.Edition)
	} else {
		parts = append(parts, "adopted code not given")
	}
	if h.House.Built != 0 {
		parts = append(parts, fmt.Sprintf("built %d", h.House.Built))
	}
	parts = append(parts, string(a.State))
	return strings.Join(parts, " · ")
}

// inShort is the answer in a few sentences.
func (p *page) inShort(a Analysis) string {
	var strong []string
	for _, f := range a.Findings {
		if f.Level != "info" && f.Kind != "data-gap" {
			strong = append(strong, lower(f.Title))
		}
	}
	text := "Nothing here asks for a change."
	if len(strong) > 0 {
		text = fmt.Sprintf("%s %s worth acting on: %s.", capital(number(len(strong))), plural(len(strong), "point is", "points are"), strings.Join(unique(strong), "; "))
	}
	if e := across(a.Result, "drying-capacity"); e.Known {
		text += fmt.Sprintf(" Wet at its slowest place, the %s gives off %s to both sides together over the year.",
			kindName(a.Result.Assembly.Kind), p.value(e.Range, quantity.VaporFlow))
	}
	if e := across(a.Result, "dries-in-year"); e.Known && e.Flag && !e.Mixed {
		text += " By the monthly method no water is carried over from year to year."
	} else if e.Known && !e.Flag && !e.Mixed {
		text += " By the monthly method water stays from year to year."
	}
	return text
}

// number writes small numbers as words.
func number(n int) string {
	words := []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"}
	if n < len(words) {
		return words[n]
	}
	return fmt.Sprint(n)
}

func kindName(k assembly.Kind) string { return strings.ReplaceAll(string(k), "-", " ") }

// warnings writes what the reader must know about the whole analysis.
func (p *page) warnings(r *analysis.Result) {
	for _, w := range r.Warnings {
		p.para(warning, say(capital(stop(w))))
	}
}

// water says where water collects by the monthly method, as a curve over the
// months of the wettest plane.
func (p *page) water(r *analysis.Result) {
	d := r.Variants[0].Detail
	plane, most := wettest(d)
	peak := across(r, "peak-condensate")
	if !peak.Known {
		return
	}
	model := p.model("steady-monthly")
	if peak.Range.High <= 0 {
		p.para(plain, say("By the monthly method no plane collects water, at any corner of the ranges.", model))
		return
	}
	p.para(plain, marked(fmt.Sprintf("By the monthly method %s of water collects at the wettest plane within the year.",
		p.value(peak.Range, quantity.AreaDensity)), peak.Evidence, model))
	if plane < 0 {
		return
	}
	_, unit := quantity.Display(most, quantity.AreaDensity, p.Units)
	c := Curve{Caption: "Water at the wettest plane at the end of each month, best values", XLabel: "month", YLabel: unit, X: monthNames()}
	line := Line{Label: "water"}
	for i, month := range d.Months {
		x, _ := quantity.Display(month.Water[plane], quantity.AreaDensity, p.Units)
		line.Points = append(line.Points, Point{X: float64(i + 1), Low: x, Best: x, High: x, Shown: p.bare(quantity.Exact(month.Water[plane]), quantity.AreaDensity)})
	}
	c.Lines = []Line{line}
	p.add(Block{Curve: &c})
}

func monthNames() []string {
	return []string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}
}

// doubts says what the description leaves open and how far it matters.
func (p *page) doubts(r *analysis.Result) {
	if len(r.Assembly.Doubts) == 0 {
		return
	}
	p.heading(1, "What the description leaves open")
	var items []Text
	for i := range r.Assembly.Doubts {
		d := &r.Assembly.Doubts[i]
		items = append(items, say(capital(d.Where)+": "+p.choicesWords(d)+"."))
	}
	p.list(items...)
	facts := []string{"drying-capacity", "peak-condensate", "permeance-inward", "permeance-outward"}
	t := Table{Caption: fmt.Sprintf("What each choice makes of it, over %s", count(len(r.Variants), "combination")), Heads: []string{"Choice"}}
	for _, id := range facts {
		t.Heads = append(t.Heads, capital(p.Base.Fact(id).Title))
	}
	for d, doubt := range r.Assembly.Doubts {
		for _, choice := range doubt.Choices {
			of := settledAs(r, d, choice)
			if len(of) == 0 {
				continue // only the ends of the doubts were analyzed
			}
			row := []Text{say(capital(doubt.Where) + ": " + p.choiceWords(doubt.Of, choice))}
			for _, id := range facts {
				e := joined(len(of), func(i int) analysis.Estimate { return of[i].Facts[id] })
				row = append(row, say(p.factWords(p.Base.Fact(id), e)))
			}
			t.Rows = append(t.Rows, row)
		}
	}
	p.table(t)
}

// settledAs lists the variants that settle a doubt one way.
func settledAs(r *analysis.Result, doubt int, choice string) []*analysis.Variant {
	var list []*analysis.Variant
	for _, v := range r.Variants {
		if slices.Contains(v.Of.Settled, assembly.Settled{Doubt: doubt, Choice: choice}) {
			list = append(list, v)
		}
	}
	return list
}

// numbersByModel writes the computed facts, one table for each model.
func (p *page) numbersByModel(r *analysis.Result) {
	for _, id := range r.Models {
		m := p.Base.Model(id)
		if m == nil {
			continue
		}
		var rows [][]Text
		for _, f := range p.Base.Facts {
			if f.Model != id || f.Scope != "assembly" {
				continue
			}
			e := across(r, f.ID)
			if e.Known && f.Dimension == quantity.ThermalResistance && e.Range.High == 0 {
				continue // no such insulation
			}
			rows = append(rows, []Text{say(capital(f.Title)), p.fact(f, e)})
		}
		p.table(Table{Caption: capital(m.Title), Notes: tidy([]int{p.model(id)}), Heads: []string{"Fact", "Value"}, Rows: rows})
	}
}

// closing writes cautions and assumptions.
func (p *page) closing(r *analysis.Result, cautions []rule.Caution) {
	if len(cautions) > 0 {
		p.heading(1, "Cautions")
		p.cautionsOf(cautions)
	}
	p.assumptions(r)
}

// assumptions lists what was assumed where the description does not say.
func (p *page) assumptions(r *analysis.Result) {
	if len(r.Assumptions) == 0 {
		return
	}
	p.heading(1, "What was assumed")
	var items []Text
	var said []string
	for _, a := range r.Assumptions {
		words := assumptionWords(a) + "."
		if slices.Contains(said, words) {
			continue // the same of several rooms
		}
		said = append(said, words)
		items = append(items, marked(words, a.Basis.Evidence, p.basis(a.Basis)))
	}
	p.list(items...)
}
