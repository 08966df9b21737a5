package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// Explain makes the page of whatever entry of the base an id names: a rule, a
// code table, a table to be read, a fact, a source, a caution, a recipe, a property, a model, a
// duty, a measurement, an assumption, a term or a mark of evidence. An id that names several
// gets all of them. It is false when the base has no such entry.
func (m Maker) Explain(id string) (*Document, bool) {
	p := m.page(id, "")
	known := false
	for _, write := range []func(string) bool{
		p.explainRule, p.explainTable, p.explainLookup, p.explainFact, p.explainModel, p.explainProperty, p.explainDuty,
		p.explainCaution, p.explainMeasurement, p.explainRecipe, p.explainAssumption, p.explainTerm, p.explainSource, p.explainMark,
	} {
		known = write(id) || known
	}
	return p.finish(), known
}

// Explained lists every id that Explain knows, with the sort of entry it
// names.
func (m Maker) Explained() [][2]string {
	b := m.Base
	var list [][2]string
	add := func(sort string, ids []string) {
		for _, id := range ids {
			list = append(list, [2]string{id, sort})
		}
	}
	add("rule", ids(b.Rules, func(x *kb.Rule) string { return x.ID }))
	add("code table", ids(b.Tables, func(x *kb.Table) string { return x.ID }))
	add("table to be read", ids(b.Lookups, func(x *kb.Lookup) string { return x.ID }))
	add("fact", ids(b.Facts, func(x *kb.Fact) string { return x.ID }))
	add("model", ids(b.Models, func(x *kb.Model) string { return x.ID }))
	add("property", ids(b.Properties, func(x *kb.Property) string { return x.ID }))
	add("duty", ids(b.Duties, func(x *kb.Duty) string { return x.ID }))
	add("caution", ids(b.Cautions, func(x *kb.Caution) string { return x.ID }))
	add("measurement", ids(b.Measurements, func(x *kb.Measurement) string { return x.ID }))
	add("recipe", ids(b.Recipes, func(x *kb.Recipe) string { return x.ID }))
	add("assumption", ids(b.Assumptions, func(x *kb.Assumption) string { return x.ID }))
	add("term", ids(b.Terms, func(x *kb.Term) string { return x.ID }))
	add("source", ids(b.Sources, func(x *kb.Source) string { return x.ID }))
	add("mark", kb.Evidence("").Allowed())
	return list
}

func ids[T any](list []*T, id func(*T) string) []string {
	out := make([]string, len(list))
	for i, x := range list {
		out[i] = id(x)
	}
	return out
}

func (p *page) sort(sort, title string) {
	p.heading(1, sort+": "+title)
}

func (p *page) explainRule(id string) bool {
	r := p.Base.Rule(id)
	if r == nil {
		return false
	}
	p.sort("Rule", r.Title)
	p.para(lead, say(fmt.Sprintf("%s, %s.", kindWord(r.Kind), levelWords(r.Level)), p.bases(r.Basis)...))
	p.para(plain, say(p.pattern(r.Say)))
	p.para(plain, say(r.Why))
	if r.Left != "" {
		p.para(plain, say("If nothing is done: "+lower(r.Left)))
	}
	if r.Settle != "" {
		p.para(plain, say("To settle it: "+lower(r.Settle)))
	}
	p.conditions("It speaks when all of this holds", r.When)
	p.namedCautions(r.Cautions)
	p.example("An example on which it speaks", r.Avoid)
	p.example("An example on which it stays silent", r.Prefer)
	return true
}

func (p *page) example(caption, house string) {
	p.add(Block{Verbatim: &Verbatim{Caption: caption, Text: house}})
}

func (p *page) explainTable(id string) bool {
	t := p.Base.Table(id)
	if t == nil {
		return false
	}
	p.sort("Code table", t.Title)
	p.para(lead, say(strings.TrimSpace(t.Section+" "+p.pattern(t.Otherwise.Say)), p.bases(t.Basis)...))
	p.para(plain, say(t.Otherwise.Why))
	p.conditions("It applies when all of this holds", t.Applies)
	for _, r := range t.Except {
		p.conditions("It does not apply: "+r.Row, r.When)
	}
	for _, r := range t.Accept {
		row := "It accepts: " + r.Row
		if r.Asks != "" {
			row += " (depends on " + r.Asks + ")"
		}
		p.conditions(row, r.When)
	}
	p.namedCautions(t.Cautions)
	p.example("An example on which it speaks", t.Avoid)
	p.example("An example on which it stays silent", t.Prefer)
	return true
}

// conditions writes conditions as a list.
func (p *page) conditions(caption string, list []kb.Condition) {
	if len(list) == 0 {
		return
	}
	p.para(plain, say(caption+":"))
	var items []Text
	for i := range list {
		items = append(items, say(p.condition(&list[i])))
	}
	p.list(items...)
}

// condition words one condition.
func (p *page) condition(c *kb.Condition) string {
	if c.Join != "" {
		var inner []string
		for i := range c.Nested {
			inner = append(inner, p.condition(&c.Nested[i]))
		}
		joined := strings.Join(inner, "; ")
		switch c.Join {
		case "any":
			return "any of these: " + joined
		case "not":
			return "not: " + joined
		case "some-layer":
			return "some layer with: " + joined
		case "no-layer":
			return "no layer with: " + joined
		case "every-layer":
			return "every layer with: " + joined
		}
		return "all of these: " + joined
	}
	title := c.Fact
	f := p.Base.Fact(c.Fact)
	if f != nil {
		title = f.Title
	}
	switch {
	case c.Known == "yes":
		return title + " is known"
	case c.Known == "no":
		return title + " is not known"
	case c.Flag != "":
		return title + ": " + c.Flag
	case len(c.Words) > 0:
		return title + " is " + join(c.Words, "or")
	}
	limit := c.Limit
	if f != nil {
		limit = quantity.Format(c.LimitSI.Best, f.Dimension, p.Units)
	}
	return title + " " + strings.ReplaceAll(c.Op, "-", " ") + " " + limit
}

func (p *page) explainFact(id string) bool {
	f := p.Base.Fact(id)
	if f == nil {
		return false
	}
	p.sort("Fact", f.Title)
	p.para(lead, say(capital(strings.TrimSuffix(f.About, "."))+".", p.model(f.Model)))
	rows := [][]Text{{say("Of"), say("the " + f.Scope)}, {say("Kind"), say(f.Type)}}
	if f.Dimension != "" {
		rows = append(rows, []Text{say("SI unit"), say(orWord(f.Dimension.Unit(), "none"))})
	}
	if len(f.Words) > 0 {
		rows = append(rows, []Text{say("Words"), say(strings.Join(f.Words, ", "))})
	}
	if f.Of != "" {
		rows = append(rows, []Text{say("Words"), say("the ids of " + f.Of)})
	}
	if f.Better != "" {
		rows = append(rows, []Text{say("Better"), say(f.Better)})
	}
	if f.Worth.Value != "" {
		worth := "by any change"
		if f.WorthSI > 0 {
			worth = "by a change of more than " + quantity.Format(f.WorthSI, f.Dimension, p.Units)
		}
		if f.WorthFor != "" {
			worth += ", for a " + f.WorthFor
		}
		rows = append(rows, []Text{say("Alone worth a swap"), say(worth)})
	}
	p.table(Table{Heads: []string{"What", "Says"}, Rows: rows})
	if f.Model != "" {
		p.explainModel(f.Model)
	}
	var readers []Text
	for _, r := range p.Base.Rules {
		if reads(r.When, id) {
			readers = append(readers, say(r.ID+": "+r.Title))
		}
	}
	if len(readers) > 0 {
		p.para(plain, say("Rules that read it:"))
		p.list(readers...)
	}
	return true
}

func orWord(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
}

// reads says whether conditions test a fact.
func reads(list []kb.Condition, fact string) bool {
	return slices.ContainsFunc(list, func(c kb.Condition) bool { return c.Fact == fact || reads(c.Nested, fact) })
}

func (p *page) explainModel(id string) bool {
	m := p.Base.Model(id)
	if m == nil {
		return false
	}
	p.sort("Model", m.Title)
	p.para(plain, say(m.About, p.bases(m.Basis)...))
	if len(m.Limits) > 0 {
		p.para(warning, say("Limits of this model: "+strings.Join(m.Limits, "; ")+"."))
	}
	return true
}

func (p *page) explainProperty(id string) bool {
	prop := p.Base.Property(id)
	if prop == nil {
		return false
	}
	p.sort("Property", prop.Title)
	p.para(lead, say(capital(strings.TrimSuffix(prop.About, "."))+"."))
	count := 0
	for _, m := range p.Base.Materials {
		if slices.ContainsFunc(m.Values, func(v kb.Value) bool { return v.Property == id }) {
			count++
		}
	}
	p.table(Table{Heads: []string{"What", "Says"}, Rows: [][]Text{
		{say("SI unit"), say(orWord(prop.Dimension.Unit(), "none"))},
		{say("Belongs to"), say("the " + prop.Scales)},
		{say("Better"), say(orWord(prop.Better, "neither"))},
		{say("Materials with a value"), say(fmt.Sprintf("%d of %d", count, len(p.Base.Materials)))},
	}})
	return true
}

func (p *page) explainDuty(id string) bool {
	d := p.Base.Duty(id)
	if d == nil {
		return false
	}
	p.sort("Duty", d.Title)
	p.para(lead, say(d.About))
	rows := [][]Text{{say("Combines over layers"), say(d.Combine)}}
	if d.Needs != "" {
		rows = append(rows, []Text{say("Needs"), say(d.Needs)})
	}
	if len(d.Order) > 0 {
		rows = append(rows, []Text{say("Order"), say(strings.Join(d.Order, ", "))})
	}
	if d.Verdict != "" {
		rows = append(rows, []Text{say("Verdict"), say(string(d.Verdict))})
	}
	if len(d.Asks) > 0 {
		rows = append(rows, []Text{say("Asks"), say(join(d.Asks, "and"))})
	}
	p.table(Table{Heads: []string{"What", "Says"}, Rows: rows})
	return true
}

func (p *page) explainCaution(id string) bool {
	c := p.Base.Caution(id)
	if c == nil {
		return false
	}
	p.sort("Caution", c.Title)
	p.para(caution, p.cautionWords(c))
	p.conditions("It is printed wherever all of this holds", c.When)
	return true
}

func (p *page) explainMeasurement(id string) bool {
	m := p.Base.Measurement(id)
	if m == nil {
		return false
	}
	p.sort("Measurement", m.Title)
	p.measuring(placed{Measure: rule.Measure{Of: m}})
	p.namedCautions(m.Cautions)
	return true
}

func (p *page) explainAssumption(id string) bool {
	a := p.Base.Assumption(id)
	if a == nil {
		return false
	}
	p.sort("Assumption", a.Title)
	p.para(lead, marked(capital(a.Title)+": "+printed(a.Value.Value, a.Range.Value)+".", a.Evidence, p.basis(a.Basis)))
	return true
}

func (p *page) explainTerm(id string) bool {
	t := p.Base.Term(id)
	if t == nil {
		return false
	}
	p.sort("Term", t.ID)
	p.para(lead, say(t.About))
	var items []Text
	for _, m := range p.Base.Materials {
		if slices.Contains(m.Terms, id) {
			items = append(items, say(m.Name+" ("+m.ID+")"))
		}
	}
	p.list(items...)
	return true
}

func (p *page) explainSource(id string) bool {
	s := p.Base.Source(id)
	if s == nil {
		return false
	}
	p.sort("Source", s.Title)
	var rows [][]Text
	for _, r := range [][2]string{{"By", s.By}, {"Year", s.Year}, {"Kind", s.Kind}, {"Address", s.Address}, {"Note", s.Note}} {
		if r[1] != "" {
			rows = append(rows, []Text{say(r[0]), say(r[1])})
		}
	}
	used := make(map[kb.Evidence]int)
	for _, m := range p.Base.Materials {
		for i := range m.Values {
			if m.Values[i].Source == id {
				used[m.Values[i].Evidence]++
			}
		}
	}
	for _, mark := range kb.Evidence("").Allowed() {
		if n := used[kb.Evidence(mark)]; n > 0 {
			rows = append(rows, []Text{say("Values " + mark), say(fmt.Sprint(n))})
		}
	}
	p.table(Table{Heads: []string{"What", "Says"}, Rows: rows})
	return true
}

func (p *page) explainMark(id string) bool {
	if !slices.Contains(kb.Evidence("").Allowed(), id) {
		return false
	}
	p.sort("Mark of evidence", id)
	p.para(lead, say(capital(meaning(kb.Evidence(id)))+"."))
	return true
}

func conditionTail(v *kb.Value) string {
	if words := conditionWords(v); words != "" {
		return " (" + words + ")"
	}
	return ""
}
