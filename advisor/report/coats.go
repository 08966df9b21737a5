package report

import (
	"fmt"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// coatCounts are the numbers of finish coats of the page on coats.
func coatCounts() []int { return []int{1, 2, 3, 5} }

// Coats answers the paint question for a substrate: bare, with the first coats,
// and with one, two, three and five of the last. Coats run from the substrate
// outward; the last one is the one that is repeated.
func (m Maker) Coats(substrate *kb.Material, coats []*kb.Material) *Document {
	p := m.page(substrate.Name+" and its coats", substrate.ID+" · "+coatWords(coats)+coatedAt(substrate))
	steps := p.steps(substrate, coats)
	p.para(lead, say(coatsInShort(p, steps)))
	t := Table{
		Caption: "Permeance of the coated " + substrate.Name,
		Heads:   []string{"Coats", "Dry cup", "Class", "At 50 % humidity", "Wet cup", "How it is known"},
	}
	c := Curve{Caption: "Permeance over humidity, best values", XLabel: "relative humidity", Log: true}
	for _, s := range steps {
		t.Rows = append(t.Rows, p.stepRow(s))
		if s.coated.Missing != "" {
			continue
		}
		line, unit := p.lineOf(s.name, s.sampled())
		c.Lines, c.YLabel, c.X = append(c.Lines, line), unit+", log scale", humidityWords(s.sampled())
	}
	p.table(t)
	p.para(quiet, say("The code goes by the dry cup; drying is computed with the value at the humidity that the layer has.", p.model("retarder-class"), p.model("steady-vapor")))
	if len(c.Lines) > 0 {
		p.add(Block{Curve: &c})
	}
	p.heading(1, "Why")
	p.list(p.reasons(substrate, coats)...)
	p.heading(1, "What the trade says beside it")
	p.tradeOn(substrate, coats)
	return p.finish()
}

func coatedAt(m *kb.Material) string {
	if m.Thickness.Usual.Value == "" {
		return ""
	}
	return " · " + m.Thickness.Usual.Value
}

// step is a substrate with a number of coats.
type step struct {
	name   string
	coats  []*kb.Material
	coated analysis.Coated
}

// sampled gives a curve at common humidities, so that lines can stand in one
// table.
func (s step) sampled() []kb.Point {
	var points []kb.Point
	for _, rh := range []float64{0.1, 0.3, 0.5, 0.7, 0.9} {
		points = append(points, kb.Point{RH: rh, SI: kb.Working{Curve: s.coated.Curve}.At(rh)})
	}
	return points
}

// steps coats the substrate step by step.
func (p *page) steps(substrate *kb.Material, coats []*kb.Material) []step {
	list := []step{{name: "bare"}}
	last := coats[len(coats)-1]
	first := coats[:len(coats)-1]
	for i := range first {
		list = append(list, step{name: coatWords(first[:i+1]), coats: first[:i+1]})
	}
	for _, n := range coatCounts() {
		run := append([]*kb.Material(nil), first...)
		for range n {
			run = append(run, last)
		}
		list = append(list, step{name: coatWords(run), coats: run})
	}
	for i := range list {
		list[i].coated = analysis.Coat(p.Base, &assembly.Part{
			Name: lower(substrate.Name), Material: substrate, Depth: substrate.Thickness.UsualSI, CoatsIn: list[i].coats,
		})
	}
	return list
}

// stepRow writes one step.
func (p *page) stepRow(s step) []Text {
	c := s.coated
	if c.Missing != "" {
		return []Text{say(s.name), say("not known: " + c.Missing)}
	}
	var mark kb.Evidence
	for _, in := range c.Inputs {
		if in.Value != nil {
			mark = mark.Weaker(in.Value.Mark())
		}
	}
	return []Text{
		say(s.name),
		marked(p.value(c.Dry, quantity.Permeance), mark, p.inputSources(c.Inputs)...),
		say(join(c.Classes, "or")),
		say(p.value(c.Middle, quantity.Permeance)),
		say(p.value(c.Wet, quantity.Permeance)),
		say(howKnown(s)),
	}
}

// howKnown says what the number of a step rests on.
func howKnown(s step) string {
	rest := len(s.coats) - s.coated.Covered
	switch {
	case len(s.coats) == 0:
		return "without coats"
	case s.coated.System == nil:
		return "material and coats in series"
	case rest == 0:
		return "measured as one piece"
	}
	return fmt.Sprintf("measured with %s, then %s in series", count(s.coated.Covered, "coat"), count(rest, "more coat"))
}

// coatsInShort is the answer in a sentence.
func coatsInShort(p *page, steps []step) string {
	bare, most := steps[0].coated, steps[len(steps)-1]
	if bare.Missing != "" || most.coated.Missing != "" {
		return "The base lacks a value for one of them."
	}
	text := fmt.Sprintf("Bare it lets %s through when dry; with %s it is %s dry and %s at 50 %% humidity. Each further coat takes less than the one before.",
		p.value(bare.Dry, quantity.Permeance), most.name, p.value(most.coated.Dry, quantity.Permeance), p.value(most.coated.Middle, quantity.Permeance))
	if most.coated.Wet.Best > most.coated.Dry.Best {
		text += " Coated and bare, it opens as the air gets humid."
	}
	return text
}

// reasons lists how the numbers come about, in the words of the base.
func (p *page) reasons(substrate *kb.Material, coats []*kb.Material) []Text {
	items := []Text{
		say("A measured system of substrate and coats beats the sum of its parts; further coats act in series with the nearest one, and a coat never makes a layer more open."),
		say("One coating is one variable: when its film is tight, all its coats are."),
	}
	for _, s := range p.Base.Systems {
		if s.Substrate != substrate.ID {
			continue
		}
		for _, c := range s.Choose {
			items = append(items, say(s.Name+": "+c.Why, p.choiceSource(c)))
		}
		items = append(items, says(s.Notes)...)
	}
	for _, c := range append([]*kb.Material{substrate}, coats...) {
		for _, choice := range c.Choose {
			if choice.Property == "permeance" {
				items = append(items, say(c.Name+": "+choice.Why, p.choiceSource(choice)))
			}
		}
		items = append(items, says(c.Notes)...)
	}
	return distinctTexts(items)
}

func (p *page) choiceSource(c kb.Choice) int {
	text := p.sourceName(c.Source)
	if c.Locator != "" {
		text += ", " + c.Locator
	}
	return p.note("source", text)
}

func distinctTexts(items []Text) []Text {
	var out []Text
	seen := make(map[string]bool)
	for _, t := range items {
		if !seen[t.Words] {
			seen[t.Words] = true
			out = append(out, t)
		}
	}
	return out
}

// tradeOn lists every permeance that the base holds for the substrate, its
// systems and its coats.
func (p *page) tradeOn(substrate *kb.Material, coats []*kb.Material) {
	t := Table{Heads: []string{"What", "Who says", "Permeance", "Conditions"}}
	add := func(name string, v *kb.Value, w kb.Working) {
		t.Rows = append(t.Rows, []Text{
			say(name), say(p.kindOfSource(v)), marked(p.value(w.SI, quantity.Permeance), v.Evidence, p.basis(v.Basis)),
			say(strings.Join(fields(methodWords(v), v.Note), "; ")),
		})
	}
	seen := make(map[string]bool)
	for _, m := range append([]*kb.Material{substrate}, coats...) {
		if seen[m.ID] {
			continue
		}
		seen[m.ID] = true
		for _, v := range p.bySpeaker(m.Values) {
			if w, ok := alone(m, v); ok && v.Withdrawn == "" {
				add(m.Name, v, w)
			}
		}
	}
	for _, s := range p.Base.Systems {
		if s.Substrate != substrate.ID {
			continue
		}
		for i := range s.Values {
			single := *s
			single.Values, single.Choose = []kb.Value{s.Values[i]}, nil
			if w, ok := single.Working("permeance", kb.AnyMethod); ok && s.Values[i].Withdrawn == "" {
				add(s.Name, &s.Values[i], w)
			}
		}
	}
	p.table(t)
}

// fields drops empty words.
func fields(words ...string) []string {
	var out []string
	for _, w := range words {
		if w != "" {
			out = append(out, w)
		}
	}
	return out
}

// UsualCoats gives the coats of the longest measured system on a substrate, nil
// where none is measured.
func UsualCoats(base *kb.Base, substrate *kb.Material) []*kb.Material {
	var most []string
	for _, s := range base.Systems {
		if s.Substrate == substrate.ID && len(s.Coats) > len(most) {
			most = s.Coats
		}
	}
	var coats []*kb.Material
	for i, id := range most {
		if i > 0 && id == most[i-1] {
			continue // the last coat is repeated anyway
		}
		if m := base.Material(id); m != nil {
			coats = append(coats, m)
		}
	}
	return coats
}

// CoatsStep is a substrate with a number of coats, in SI.
type CoatsStep struct {
	Coats   []string     `json:"coats"`
	Missing string       `json:"missing,omitempty"`
	Dry     *NumberData  `json:"dry-cup,omitempty"`
	Middle  *NumberData  `json:"at-50-percent,omitempty"`
	Wet     *NumberData  `json:"wet-cup,omitempty"`
	Classes []string     `json:"classes,omitempty"`
	Curve   []CurveValue `json:"curve,omitempty"`
	How     string       `json:"how"`
	Inputs  []InputData  `json:"inputs"`
}

// CurveValue is a permeance at a relative humidity, 0 to 1.
type CurveValue struct {
	Humidity float64    `json:"humidity"`
	Number   NumberData `json:"number"`
}

// CoatsData gives the numbers behind the page of coats.
func (m Maker) CoatsData(substrate *kb.Material, coats []*kb.Material) []CoatsStep {
	var out []CoatsStep
	for _, s := range m.page("", "").steps(substrate, coats) {
		d := CoatsStep{Missing: s.coated.Missing, How: howKnown(s), Coats: []string{}}
		for _, c := range s.coats {
			d.Coats = append(d.Coats, c.ID)
		}
		for _, in := range s.coated.Inputs {
			d.Inputs = append(d.Inputs, inputData(in))
		}
		if s.coated.Missing == "" {
			dry, middle, wet := number3(s.coated.Dry, quantity.Permeance), number3(s.coated.Middle, quantity.Permeance), number3(s.coated.Wet, quantity.Permeance)
			d.Dry, d.Middle, d.Wet, d.Classes = &dry, &middle, &wet, s.coated.Classes
			for _, pt := range s.coated.Curve {
				d.Curve = append(d.Curve, CurveValue{pt.RH, number3(pt.SI, quantity.Permeance)})
			}
		}
		out = append(out, d)
	}
	return out
}
