package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// shownMeasures bounds the measurements that a page shows in full.
const shownMeasures = 6

// toMeasure writes what is worth measuring on site, each once, what decides most
// first.
func (p *page) toMeasure(list []Analysis) {
	all := p.allMeasures(list)
	if len(all) == 0 {
		return
	}
	p.heading(1, "What to measure on site")
	p.para(quiet, say("What decides most comes first. A reading that is entered under readings narrows the ranges."))
	for _, m := range all[:min(len(all), shownMeasures)] {
		p.measuring(m)
	}
	if rest := all[min(len(all), shownMeasures):]; len(rest) > 0 {
		titles := make([]string, len(rest))
		for i, m := range rest {
			titles[i] = m.Of.Title
		}
		p.para(plain, say("Worth less: "+join(titles, "and")+"."))
	}
}

// placed is a measurement with the places of a house where it is taken.
type placed struct {
	rule.Measure
	on    []string
	reads []string // what a reading says of a finding here
}

// said is what a reading says of a finding.
func (p *page) said(a Analysis, x rule.Read, several bool) string {
	text := x.Title
	if several {
		text += ", " + a.Result.Assembly.Name
	}
	return fmt.Sprintf("Here: %s. %s", lower(text), p.flipping(x.Kind, x.Hinge))
}

// allMeasures joins the measurements of the assemblies of a page.
func (p *page) allMeasures(list []Analysis) []placed {
	var all []placed
	for _, a := range list {
		for _, m := range a.Measures {
			at := slices.IndexFunc(all, func(o placed) bool { return o.Of == m.Of })
			if at < 0 {
				at = len(all)
				all = append(all, placed{Measure: rule.Measure{Of: m.Of}})
			}
			one := &all[at]
			one.Score += m.Score
			one.Layers = unique(append(one.Layers, m.Layers...))
			one.Decides = unique(append(one.Decides, m.Decides...))
			one.Checks = unique(append(one.Checks, m.Checks...))
			one.Narrows = unique(append(one.Narrows, m.Narrows...))
			for _, x := range m.Reads {
				one.reads = append(one.reads, p.said(a, x, len(list) > 1))
			}
			one.on = append(one.on, spotOf(a.Result.Assembly.Name, m.Layers, len(list) > 1))
		}
	}
	slices.SortStableFunc(all, func(a, b placed) int { return cmp.Compare(b.Score, a.Score) })
	return all
}

// spotOf says on which layers of an assembly something is measured.
func spotOf(assembly string, layers []string, several bool) string {
	switch {
	case len(layers) == 0 && several:
		return assembly
	case len(layers) == 0:
		return ""
	case several:
		return join(layers, "and") + " of the " + assembly
	}
	return join(layers, "and")
}

// measuring writes one measurement: what it settles, how it is done, what a
// reading means and how it is written down.
func (p *page) measuring(m placed) {
	p.heading(2, capital(m.Of.Title))
	var parts []string
	on := slices.DeleteFunc(unique(m.on), func(s string) bool { return s == "" })
	if len(on) > 0 {
		parts = append(parts, "On: "+join(on, "and")+".")
	}
	if len(m.Decides) > 0 {
		parts = append(parts, "It settles: "+inRow(m.Decides)+".")
	}
	if len(m.Checks) > 0 {
		parts = append(parts, "It bears on: "+inRow(m.Checks)+".")
	}
	if len(m.Narrows) > 0 {
		parts = append(parts, "It narrows: "+join(m.Narrows, "and")+".")
	}
	p.para(plain, say(strings.Join(parts, " ")))
	p.para(plain, p.measureText(m.Of))
	var items []Text
	for _, words := range slices.Concat(m.reads, m.Of.Means) {
		items = append(items, say(words))
	}
	p.list(items...)
	if enter := entered(m.Of, m.Layers); enter != "" {
		p.add(Block{Verbatim: &Verbatim{Caption: "Written down, for example", Text: enter}})
	}
}

// inRow puts titles of findings in a row.
func inRow(list []string) string {
	words := make([]string, len(list))
	for i, t := range list {
		words[i] = lower(t)
	}
	return strings.Join(words, "; ")
}

// measureText says how a measurement is done, with its sources.
func (p *page) measureText(m *kb.Measurement) Text {
	mark := kb.Evidence("")
	for _, b := range m.Basis {
		mark = mark.Weaker(b.Evidence)
	}
	return marked(m.Do+" Takes: "+lower(stop(m.Takes)), mark, p.bases(m.Basis)...)
}

// entered is how a reading is written into the description.
func entered(m *kb.Measurement, layers []string) string {
	layer := "NAME OF THE LAYER"
	if len(layers) > 0 {
		layer = layers[0]
	}
	return strings.ReplaceAll(m.Enter, "{layer}", layer)
}

// taken lists the readings that the description holds: those of some assemblies,
// and those of the air of the house, which are said once on a page.
func (p *page) taken(h *assembly.Resolved, list ...*assembly.Assembly) {
	var items []Text
	for _, a := range list {
		for _, t := range a.Taken {
			text := fmt.Sprintf("%s: %s", t.Date, t.What)
			if len(list) > 1 {
				text += ", " + a.Name
			}
			if t.Before != "" {
				text += fmt.Sprintf(" (described: %s)", t.Before)
			}
			items = append(items, say(text+"."))
		}
	}
	if !p.aired {
		for _, t := range h.Air {
			items = append(items, say(p.airReading(t)))
		}
		p.aired = true
	}
	if len(items) > 0 {
		p.heading(1, "What was read on site")
		p.list(items...)
	}
}

// airReading says a reading of room air and what it is used for.
func (p *page) airReading(t assembly.TakenAir) string {
	text := t.Of.Date.Value + ": room air at " + p.value(quantity.Exact(t.Humidity), quantity.Ratio)
	if t.Warm {
		text += " and " + p.value(quantity.Exact(t.Temperature), quantity.Temperature)
	}
	if t.Of.Room.Value != "" {
		text += " in the " + t.Of.Room.Value
	}
	if t.Season == "" {
		return text + "; not used: the month belongs to no season of the method."
	}
	return text + "; it stands for the " + t.Season + " season in the place of what is described."
}
