package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/kb"
	"relath/kb/quantity"
)

// Material makes the card of a material or coating: everything the base holds
// about it.
func (m Maker) Material(mat *kb.Material) *Document {
	p := m.page(mat.Name, mat.ID+" · "+strings.ReplaceAll(mat.Family, "-", " ")+" · "+string(mat.Form))
	p.para(lead, say(mat.Summary))
	if mat.Advise == "no" {
		p.para(warning, say("This base does not recommend it as an alternative; the notes say why."))
	}
	p.heading(1, "What it is")
	p.table(Table{Heads: []string{"What", "Says"}, Rows: p.identity(mat)})
	p.vapor(mat)
	p.heading(1, "Every value")
	p.values(mat.Values, mat.Choose, func(property string) (kb.Working, bool) { return mat.Working(property, kb.AnyMethod, 0) })
	p.systemsOf(mat)
	p.offers(mat)
	if len(mat.Notes) > 0 {
		p.heading(1, "Notes of the editors")
		p.list(says(mat.Notes)...)
	}
	p.namedCautions(mat.Cautions)
	return p.finish()
}

func says(list []string) []Text {
	items := make([]Text, len(list))
	for i, s := range list {
		items[i] = say(s)
	}
	return items
}

// identity lists what the entry says in words.
func (p *page) identity(m *kb.Material) [][]Text {
	var rows [][]Text
	add := func(head, words string, notes ...int) {
		if words != "" {
			rows = append(rows, []Text{say(head), say(words, notes...)})
		}
	}
	add("Also called", strings.Join(m.Also, ", "))
	add("Thickness", thicknessWords(m.Thickness))
	add("Built in", eraWords(m.Era))
	add("To be had", strings.ReplaceAll(m.Available, "-", " "))
	c, basis := m.Composition, p.basis(m.Composition.Basis)
	add("Glue", c.Adhesive, basis)
	add("Food for mold", strings.Join(c.Food, ", "), basis)
	add("Mineral", c.Mineral, basis)
	add("Plastic", c.Plastic, basis)
	add("Formaldehyde", c.Formaldehyde, basis)
	add("Treatment", c.Treatment, basis)
	add("Mold class", moldWords(m.Mold), p.basis(m.Mold.Basis))
	add("Broken down to", m.Breakdown)
	add("How it dries", m.Drying)
	add("Care", m.Care)
	if k := m.Coating; k != nil {
		add("Binder", k.Binder)
		add("Goes on", strings.Join(k.On, ", "))
		add("Not on", strings.Join(k.Not, ", "))
		if k.UsualCoats > 0 {
			add("Usual coats", fmt.Sprint(k.UsualCoats))
		}
		add("Renewal", k.Renewal)
	}
	add("Stands in for its storage", p.standIn(m))
	return rows
}

func (p *page) standIn(m *kb.Material) string {
	if m.StandsIn == "" {
		return ""
	}
	return p.materialName(m.StandsIn) + " (assumed)"
}

func thicknessWords(t kb.Thickness) string {
	var parts []string
	if t.Usual.Value != "" {
		parts = append(parts, "usually "+t.Usual.Value)
	}
	var sold []string
	for _, s := range t.Sold {
		sold = append(sold, s.Value)
	}
	if len(sold) > 0 {
		parts = append(parts, "sold in "+join(sold, "and"))
	}
	return strings.Join(parts, "; ")
}

func eraWords(e kb.Era) string {
	switch {
	case e.From != 0 && e.To != 0:
		return fmt.Sprintf("%d to %d", e.From, e.To)
	case e.From != 0:
		return fmt.Sprintf("since %d", e.From)
	case e.To != 0:
		return fmt.Sprintf("until %d", e.To)
	}
	return ""
}

func moldWords(m kb.Mold) string {
	words := strings.ReplaceAll(string(m.Face), "-", " ")
	if m.Back != "" && m.Back != m.Face {
		words += ", back " + strings.ReplaceAll(string(m.Back), "-", " ")
	}
	if m.Why != "" && words != "" {
		words += ": " + m.Why
	}
	return words
}

// vapor says what the material is to vapor, and what the trade says beside what
// the handbooks say.
func (p *page) vapor(m *kb.Material) {
	dry, hasDry := m.Working("permeance", kb.DryCup, 0)
	if _, ok := m.Working("permeance", kb.AnyMethod, 0); !ok {
		return
	}
	p.heading(1, "What it is to vapor")
	if hasDry {
		thick := ""
		if m.Thickness.Usual.Value != "" && m.Form != kb.Sheet && m.Form != kb.Coat {
			thick = ", " + m.Thickness.Usual.Value + " thick"
		}
		text := marked(fmt.Sprintf("By dry cup %s%s.", p.value(dry.SI, quantity.Permeance), thick), dry.Evidence, p.basis(dry.Value.Basis), p.model("retarder-class"))
		if wet, ok := m.Working("permeance", kb.WetCup, 0); ok && wet.SI != dry.SI {
			text.Words += fmt.Sprintf(" By wet cup %s.", p.value(wet.SI, quantity.Permeance))
			text.Notes = tidy(append(text.Notes, p.basis(wet.Value.Basis)))
		}
		p.para(plain, text)
	}
	if w, ok := m.Working("permeance", kb.AsCurve, 0); ok {
		p.curve(w, "Permeance over humidity", m.Name)
	}
	p.disagreement(m)
}

// curve draws a property over humidity.
func (p *page) curve(w kb.Working, caption, label string) {
	line, unit := p.lineOf(label, w.Curve)
	p.add(Block{Curve: &Curve{Caption: caption, XLabel: "relative humidity", YLabel: unit, X: humidityWords(w.Curve), Lines: []Line{line}}})
}

// lineOf makes a line of permeance over humidity.
func (p *page) lineOf(label string, points []kb.Point) (Line, string) {
	line, unit := Line{Label: label}, ""
	for _, pt := range points {
		low, _ := quantity.Display(pt.SI.Low, quantity.Permeance, p.Units)
		high, _ := quantity.Display(pt.SI.High, quantity.Permeance, p.Units)
		best, u := quantity.Display(pt.SI.Best, quantity.Permeance, p.Units)
		unit = u
		line.Points = append(line.Points, Point{X: pt.RH * 100, Low: low, Best: best, High: high, Shown: p.bare(pt.SI, quantity.Permeance)})
	}
	return line, unit
}

func humidityWords(points []kb.Point) []string {
	words := make([]string, len(points))
	for i, pt := range points {
		words[i] = quantity.Format(pt.RH, quantity.Ratio, quantity.SI)
	}
	return words
}

// kindOfSource sorts sources into what the trade says and what is published.
func (p *page) kindOfSource(v *kb.Value) string {
	if v.Evidence == kb.Practice {
		return "trade"
	}
	s := p.Base.Source(v.Source)
	if s == nil {
		return "other"
	}
	switch s.Kind {
	case "practice", "web":
		return "trade"
	case "handbook", "standard":
		return "handbook or standard"
	case "paper", "report", "agency":
		return "test or study"
	}
	return s.Kind
}

// bySpeaker sorts values by who says them: the trade first, then what is
// published.
func (p *page) bySpeaker(values []kb.Value) []*kb.Value {
	list := make([]*kb.Value, len(values))
	for i := range values {
		list[i] = &values[i]
	}
	order := []string{"trade", "handbook or standard", "test or study"}
	rank := func(v *kb.Value) int {
		if at := slices.Index(order, p.kindOfSource(v)); at >= 0 {
			return at
		}
		return len(order)
	}
	slices.SortStableFunc(list, func(a, b *kb.Value) int { return rank(a) - rank(b) })
	return list
}

// disagreement puts every permeance that the base knows beside the one that is
// used, brought to the usual thickness, and says where the trade and what is
// published part.
func (p *page) disagreement(m *kb.Material) {
	used, ok := m.Working("permeance", kb.AnyMethod, 0)
	if !ok {
		return
	}
	dry, _ := m.Working("permeance", kb.DryCup, 0)
	wet, _ := m.Working("permeance", kb.WetCup, 0)
	var rows [][]Text
	var trade, published []quantity.Range
	for _, v := range p.bySpeaker(m.Values) {
		w, ok := alone(m, v)
		if v.Withdrawn != "" || !ok {
			continue
		}
		speaker := p.kindOfSource(v)
		rows = append(rows, []Text{say(speaker), marked(p.value(w.SI, quantity.Permeance), v.Evidence, p.basis(v.Basis)), say(methodWords(v)), say(usedWord(v, used, dry, wet))})
		if speaker == "trade" {
			trade = append(trade, w.SI)
		} else {
			published = append(published, w.SI)
		}
	}
	p.table(Table{Caption: "What the trade says beside what handbooks and tests say, as permeance at the usual thickness", Heads: []string{"Who says", "Permeance", "Measured", "Used"}, Rows: rows})
	p.parted(trade, published, used)
	for _, c := range m.Choose {
		if slices.Contains([]string{"permeance", "permeability", "vapor-resistance-factor", "equivalent-air-layer"}, c.Property) {
			p.para(plain, say("What decided: "+p.sourceName(c.Source)+" for "+strings.ReplaceAll(c.Property, "-", " ")+methodOf(c.Method)+": "+strings.TrimSuffix(c.Why, ".")+"."))
		}
	}
}

// parted names the values of the trade that meet some published value nowhere,
// and those published values.
func (p *page) parted(trade, published []quantity.Range, used kb.Working) {
	var ours, theirs []string
	for _, t := range trade {
		for _, o := range published {
			if t.Low > o.High || t.High < o.Low {
				ours = append(ours, p.value(t, quantity.Permeance))
				theirs = append(theirs, p.value(o, quantity.Permeance))
			}
		}
	}
	if len(ours) == 0 {
		return
	}
	p.para(plain, say(fmt.Sprintf("They disagree: the trade says %s, published are %s. Computed with: %s.",
		join(unique(ours), "and"), join(unique(theirs), "and"), p.value(used.SI, quantity.Permeance))))
}

func methodOf(method string) string {
	if method == "" {
		return ""
	}
	return " by " + strings.ReplaceAll(method, "-", " ")
}

// alone gives the permeance that a single value stands for, whatever the entry
// prefers.
func alone(m *kb.Material, v *kb.Value) (kb.Working, bool) {
	single := *m
	single.Values, single.Choose = []kb.Value{*v}, nil
	return single.Working("permeance", kb.AnyMethod, 0)
}

// methodWords says how a value was measured.
func methodWords(v *kb.Value) string {
	switch {
	case v.Curve != nil:
		return "over humidity"
	case v.At.Method == "":
		return "not said"
	}
	return strings.ReplaceAll(v.At.Method, "-", " ")
}

// usedWord says for which question a value is used.
func usedWord(v *kb.Value, any, dry, wet kb.Working) string {
	is := func(w kb.Working) bool {
		same := func(o *kb.Value) bool { return o == v }
		return w.Value == v || slices.ContainsFunc(w.Widened, same)
	}
	var words []string
	if is(dry) {
		words = append(words, "dry cup")
	}
	if is(wet) {
		words = append(words, "wet cup")
	}
	if is(any) && len(words) == 0 {
		words = append(words, "yes")
	}
	return strings.Join(words, ", ")
}
