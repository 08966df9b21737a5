package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/kb"
	"relath/kb/quantity"
)

// across joins a fact over all variants of an assembly: the range that holds
// all of them, all the words it may be. A fact that one variant lacks is not
// known.
func across(r *analysis.Result, id string) analysis.Estimate {
	return joined(len(r.Variants), func(i int) analysis.Estimate { return r.Variants[i].Facts[id] })
}

// layerAcross joins a fact of a described layer over the variants that have
// the layer.
func layerAcross(r *analysis.Result, layer int, id string) analysis.Estimate {
	var list []analysis.Estimate
	for _, v := range r.Variants {
		for _, l := range v.Layers {
			if l.Part.Layer == layer {
				list = append(list, l.Facts[id])
			}
		}
	}
	return joined(len(list), func(i int) analysis.Estimate { return list[i] })
}

func joined(n int, at func(int) analysis.Estimate) analysis.Estimate {
	if n == 0 {
		return analysis.Estimate{}
	}
	e := at(0)
	for i := 1; i < n; i++ {
		o := at(i)
		if !e.Known || !o.Known {
			if e.Known {
				e = o
			}
			return e
		}
		e.Range = e.Range.Union(o.Range)
		if !slices.Equal(e.Words, o.Words) {
			e.Words = unique(append(slices.Clone(e.Words), o.Words...))
			e.Mixed = true
		}
		e.Mixed = e.Mixed || o.Mixed || e.Flag != o.Flag
		e.Evidence = e.Evidence.Weaker(o.Evidence)
		e.Warnings = unique(append(slices.Clone(e.Warnings), o.Warnings...))
		e.Inputs = distinct(append(slices.Clone(e.Inputs), o.Inputs...))
	}
	return e
}

// distinct drops inputs that are named twice.
func distinct(list []analysis.Input) []analysis.Input {
	var out []analysis.Input
	for _, in := range list {
		if !slices.Contains(out, in) {
			out = append(out, in)
		}
	}
	return out
}

// fact words an estimate with its mark and the footnotes that hang on it: its
// model, what moves it, its warnings.
func (p *page) fact(f *kb.Fact, e analysis.Estimate) Text {
	words := p.factWords(f, e)
	if !e.Known {
		return say(words)
	}
	notes := []int{p.drivers(f, e)}
	if len(e.Warnings) > 0 {
		notes = append(notes, p.note("warning", capital(f.Title)+": "+strings.Join(e.Warnings, "; ")+"."))
	}
	return marked(words, e.Evidence, notes...)
}

// factWords words the value of a fact.
func (p *page) factWords(f *kb.Fact, e analysis.Estimate) string {
	switch {
	case !e.Known && e.Missing != "":
		return "not known: " + e.Missing
	case !e.Known:
		return "not known"
	case f.Type == "words" && len(e.Words) == 0:
		return "none"
	case f.Type == "words" && e.Mixed:
		return join(e.Words, "or")
	case f.Type == "words":
		return strings.Join(e.Words, ", ")
	case f.Type == "flag" && e.Mixed:
		return "depends"
	case f.Type == "flag" && e.Flag:
		return "yes"
	case f.Type == "flag":
		return "no"
	}
	return p.value(e.Range, f.Dimension)
}

// maxDrivers is how many drivers a footnote names.
const maxDrivers = 3

// drivers gives the footnote that says what moves a fact and how sure its
// inputs are; 0 when there is nothing to say.
func (p *page) drivers(f *kb.Fact, e analysis.Estimate) int {
	var words []string
	for i, d := range e.Drivers {
		if i == maxDrivers {
			words = append(words, fmt.Sprintf("%d more", len(e.Drivers)-i))
			break
		}
		words = append(words, p.inputWords(d.Input))
	}
	var text []string
	if len(words) > 0 {
		text = append(text, "It is moved most by "+join(words, "and")+".")
	}
	if e.Minor > 0 {
		text = append(text, fmt.Sprintf("%s that %s not read from a source %s it by less than 5 %%.",
			count(e.Minor, "further input"), plural(e.Minor, "is", "are"), plural(e.Minor, "moves", "move")))
	}
	if len(words) == 0 && e.Evidence.Rank() > 0 && e.Evidence != "" {
		if weak := p.weakInputs(e); len(weak) > 0 {
			text = append([]string{"It rests on " + join(weak, "and") + "."}, text...)
		}
	}
	if len(text) == 0 {
		return 0
	}
	return p.note("evidence", capital(f.Title)+": "+lower(strings.Join(text, " ")))
}

// weakInputs names the inputs that carry the mark of the estimate.
func (p *page) weakInputs(e analysis.Estimate) []string {
	var words []string
	for _, in := range e.Inputs {
		if in.Value != nil && in.Value.Mark() == e.Evidence {
			words = append(words, p.inputWords(in))
		}
	}
	return unique(words)
}

// inputWords names an input with its mark.
func (p *page) inputWords(in analysis.Input) string {
	mark := func(e kb.Evidence) string {
		if e == kb.Read || e == "" {
			return ""
		}
		return " (" + string(e) + ")"
	}
	if in.Value == nil {
		if a := p.Base.Assumption(in.Material); a != nil {
			return fmt.Sprintf("%s, %s%s", a.Title, printed(a.Value.Value, a.Range.Value), mark(a.Evidence))
		}
		if in.Layer == "" {
			return in.Material
		}
	}
	name := strings.ReplaceAll(in.Property, "-", " ")
	if prop := p.Base.Property(in.Property); prop != nil {
		name = prop.Title
	}
	evidence := kb.Assumed // an input without a value is an assumption
	if in.Value != nil {
		evidence = in.Value.Mark()
	}
	return fmt.Sprintf("%s of %s (%s)%s", name, in.Layer, p.materialName(in.Material), mark(evidence))
}

// materialName gives the name of a material or a measured system.
func (p *page) materialName(id string) string {
	if m := p.Base.Material(id); m != nil {
		return m.Name
	}
	if s := p.Base.System(id); s != nil {
		return s.Name
	}
	return id
}

// inputSources gives the footnotes of the sources behind inputs.
func (p *page) inputSources(list []analysis.Input) []int {
	var notes []int
	for _, in := range list {
		if in.Value == nil {
			if a := p.Base.Assumption(in.Material); a != nil {
				notes = append(notes, p.note("assumption", capital(a.Title)+": "+printed(a.Value.Value, a.Range.Value)+". "+p.basisWords(a.Basis)+"."))
			}
			continue
		}
		notes = append(notes, p.basis(in.Value.Basis))
	}
	return notes
}

// printed joins a value and a range as the base prints them.
func printed(value, span string) string {
	switch {
	case span == "" || span == value:
		return value
	case value == "":
		return span
	}
	return value + " (" + span + ")"
}

// count words a number of things.
func count(n int, thing string) string {
	many := thing + "s"
	switch {
	case strings.HasSuffix(thing, "sh"), strings.HasSuffix(thing, "ch"):
		many = thing + "es"
	case strings.HasSuffix(thing, "bly"): // an assembly; a bay keeps its y
		many = strings.TrimSuffix(thing, "y") + "ies"
	}
	return fmt.Sprintf("%d %s", n, plural(n, thing, many))
}

// both words a value in the units of the page and, for inch-pound pages, in SI
// beside it.
func (p *page) both(v float64, d quantity.Dimension) string {
	if p.Units == quantity.InchPound {
		return quantity.FormatBoth(v, d)
	}
	return quantity.Format(v, d, quantity.SI)
}
