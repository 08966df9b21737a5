package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/kb"
	"relath/kb/quantity"
)

// values writes every value of an entry, one table for each property, with
// which one is used and why.
func (p *page) values(values []kb.Value, choices []kb.Choice, working func(string) (kb.Working, bool)) {
	var properties []string
	for i := range values {
		properties = append(properties, values[i].Property)
	}
	properties = unique(properties)
	slices.Sort(properties)
	for _, id := range properties {
		w, ok := working(id)
		t := Table{Caption: capital(p.propertyTitle(id)), Heads: []string{"Value", "Conditions", "Used"}}
		for i := range values {
			if v := &values[i]; v.Property == id {
				t.Rows = append(t.Rows, p.valueRow(v, ok && (w.Value == v || slices.Contains(w.Widened, v))))
			}
		}
		p.table(t)
		for _, c := range choices {
			if c.Property == id {
				p.para(quiet, say("Preferred"+methodOf(c.Method)+": "+p.sourceName(c.Source)+", because "+strings.TrimSuffix(lower(c.Why), ".")+"."))
			}
		}
	}
}

func (p *page) propertyTitle(id string) string {
	if prop := p.Base.Property(id); prop != nil {
		return prop.Title
	}
	return strings.ReplaceAll(id, "-", " ")
}

// valueRow writes one value with its conditions, its source and its mark.
func (p *page) valueRow(v *kb.Value, used bool) []Text {
	word := "no"
	switch {
	case v.Withdrawn != "":
		word = "withdrawn: " + v.Withdrawn
	case used:
		word = "yes"
	}
	text := marked(p.printedValue(v), v.Evidence, p.basis(v.Basis), p.spreadNote(v))
	return []Text{text, say(conditionWords(v)), say(word)}
}

// printedValue gives a value as its source prints it and, where the page shows
// other units, in those too.
func (p *page) printedValue(v *kb.Value) string {
	if v.Curve != nil {
		text := fmt.Sprintf("%s at %s", v.Curve.Values.Value, v.Curve.Humidity.Value)
		if s := v.Curve.Spread; s != nil {
			text += fmt.Sprintf("; other products %s times as much", s.Factor.Value)
		}
		return text
	}
	text := printed(v.Value.Value, v.Range.Value)
	prop := p.Base.Property(v.Property)
	if prop == nil {
		return text
	}
	if shown := p.value(v.SI, prop.Dimension); shown != text && !sameUnit(text, shown) {
		text += " = " + shown
	}
	return text
}

// spreadNote is the footnote on the spread of a curve, 0 where there is none.
func (p *page) spreadNote(v *kb.Value) int {
	if v.Curve == nil || v.Curve.Spread == nil {
		return 0
	}
	return p.basis(v.Curve.Spread.Basis)
}

// sameUnit says whether two texts begin with the same number or end with the
// same unit, so that the second adds nothing.
func sameUnit(a, b string) bool {
	x, y := strings.Fields(a), strings.Fields(b)
	return len(x) > 0 && len(y) > 0 && (x[0] == y[0] || x[len(x)-1] == y[len(y)-1])
}

// conditionWords says under which conditions a value holds.
func conditionWords(v *kb.Value) string {
	at := v.At
	var words []string
	add := func(format string, text string) {
		if text != "" {
			words = append(words, fmt.Sprintf(format, text))
		}
	}
	add("%s", strings.ReplaceAll(at.Method, "-", " "))
	add("%s thick", at.Thickness.Value)
	add("at %s", at.Density.Value)
	add("at %s", at.Temperature.Value)
	add("at %s humidity", at.Humidity.Value)
	if at.Coats > 0 {
		add("%s", count(at.Coats, "coat"))
	}
	add("%s", strings.ReplaceAll(at.Direction, "-", " "))
	add("%s", at.State)
	add("formula: %s", v.Formula)
	add("%s", v.Note)
	if v.Doubt == "high" {
		words = append(words, "in doubt")
	}
	return strings.Join(words, "; ")
}

// systemsOf names the measured systems on a substrate or with a coating.
func (p *page) systemsOf(m *kb.Material) {
	var rows [][]Text
	for _, s := range p.Base.Systems {
		if s.Substrate != m.ID && !slices.Contains(s.Coats, m.ID) {
			continue
		}
		w, ok := s.Working("permeance", kb.AnyMethod)
		if !ok {
			continue
		}
		rows = append(rows, []Text{say(s.Name), marked(p.value(w.SI, quantity.Permeance), w.Evidence, p.basis(w.Value.Basis)), say(s.ID)})
	}
	p.table(Table{Caption: "Measured with coats: such a measurement beats the sum of its parts", Heads: []string{"System", "Permeance", "Id"}, Rows: rows})
}

// offers writes the duties a material can take.
func (p *page) offers(m *kb.Material) {
	var rows [][]Text
	for _, o := range m.Duties {
		verdict := "yes"
		if o.Verdict != "" {
			verdict = string(o.Verdict)
		}
		var terms []string
		for _, t := range []struct{ word, text string }{{"as ", o.As}, {"from ", o.From.Value}, {"needs ", o.Needs}, {"", o.Note}} {
			if t.text != "" {
				terms = append(terms, t.word+t.text)
			}
		}
		rows = append(rows, []Text{marked(p.dutyTitle(o.Duty), orRead(o.Basis.Evidence), p.basis(o.Basis)), say(verdict), say(strings.Join(terms, "; "))})
	}
	if len(rows) > 0 {
		p.heading(1, "What it can do in an assembly")
		p.table(Table{Heads: []string{"Duty", "Can it", "On which terms"}, Rows: rows})
	}
}

// orRead leaves a statement without a source unmarked: it is a word of the
// entry, not a number.
func orRead(e kb.Evidence) kb.Evidence {
	if e == "" {
		return kb.Read
	}
	return e
}

// namedCautions writes the cautions that always go with a material.
func (p *page) namedCautions(ids []string) {
	if len(ids) == 0 {
		return
	}
	p.heading(1, "Cautions")
	for _, id := range ids {
		if c := p.Base.Caution(id); c != nil {
			p.para(caution, p.cautionWords(c))
		}
	}
}

// System makes the card of a measured system.
func (m Maker) System(s *kb.System) *Document {
	p := m.page(s.Name, s.ID+" · measured system")
	var coats []string
	for _, id := range s.Coats {
		coats = append(coats, lower(p.materialName(id)))
	}
	p.para(lead, say(fmt.Sprintf("%s with %s, measured as one piece.", p.materialName(s.Substrate), join(coats, "and"))))
	if w, ok := s.Working("permeance", kb.AsCurve); ok {
		p.curve(w, "Permeance over humidity", s.Name)
	}
	p.values(s.Values, s.Choose, func(property string) (kb.Working, bool) { return s.Working(property, kb.AnyMethod) })
	if len(s.Notes) > 0 {
		p.heading(1, "Notes of the editors")
		p.list(says(s.Notes)...)
	}
	return p.finish()
}
