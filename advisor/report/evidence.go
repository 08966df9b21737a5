package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/kb"
)

// BaseSound makes the page of a base without problems.
func (m Maker) BaseSound() *Document {
	p := m.page("The base is sound", "")
	p.para(lead, say("No problem found."))
	p.holdings()
	p.overlaid()
	return p.finish()
}

// holdings counts the entries of the base.
func (p *page) holdings() {
	b := p.Base
	var rows [][]Text
	for _, x := range []struct {
		name string
		n    int
	}{
		{"Materials and coatings", len(b.Materials)},
		{"Measured systems", len(b.Systems)},
		{"Recipes", len(b.Recipes)},
		{"Rules", len(b.Rules)},
		{"Code tables", len(b.Tables)},
		{"Cautions", len(b.Cautions)},
		{"Places", len(b.Places)},
		{"Starters", len(b.Starters)},
		{"Facts", len(b.Facts)},
		{"Sources", len(b.Sources)},
	} {
		rows = append(rows, []Text{say(x.name), say(fmt.Sprint(x.n))})
	}
	p.table(Table{Caption: "What the base holds", Heads: []string{"Entries", "Number"}, Right: []int{1}, Rows: rows})
}

// overlaid lists what a folder laid over the base changed.
func (p *page) overlaid() {
	var rows [][]Text
	for _, o := range p.Base.Overlaid {
		word := "added"
		if o.Replaced {
			word = "replaced"
		}
		rows = append(rows, []Text{say(o.Sort), say(o.ID), say(word), say(o.File)})
	}
	p.table(Table{Caption: "What was laid over the base", Heads: []string{"Sort", "Id", "What", "File"}, Rows: rows})
}

// Evidence makes the report of what the numbers of the base rest on.
func (m Maker) Evidence() *Document {
	p := m.page("What the base rests on", "every value of materials, coatings and measured systems")
	d := EvidenceData(m.Base)
	p.para(lead, say(fmt.Sprintf("%d values of %d materials and coatings from %d sources.", d.Values, len(m.Base.Materials), len(d.Sources))))
	p.holdings()
	p.overlaid()
	p.heading(1, "By mark of evidence")
	t := Table{Heads: []string{"Mark", "Values", "In doubt"}, Right: []int{1, 2}}
	for _, c := range d.Marks {
		t.Rows = append(t.Rows, []Text{marked(c.Name, kb.Evidence(c.Name)), say(fmt.Sprint(c.Values)), say(fmt.Sprint(c.Doubtful))})
	}
	p.table(t)
	p.heading(1, "By property")
	t = Table{Heads: []string{"Property", "Values", "Read", "In doubt"}, Right: []int{1, 2, 3}}
	for _, c := range d.Properties {
		t.Rows = append(t.Rows, []Text{say(capital(p.propertyTitle(c.Name))), say(fmt.Sprint(c.Values)), say(fmt.Sprint(c.Read)), say(fmt.Sprint(c.Doubtful))})
	}
	p.table(t)
	p.heading(1, "By source")
	t = Table{Heads: []string{"Source", "Values", "Read", "In doubt"}, Right: []int{1, 2, 3}}
	for _, c := range d.Sources {
		t.Rows = append(t.Rows, []Text{say(p.sourceName(c.Name) + " (" + c.Name + ")"), say(fmt.Sprint(c.Values)), say(fmt.Sprint(c.Read)), say(fmt.Sprint(c.Doubtful))})
	}
	p.table(t)
	p.gaps(d.Gaps)
	return p.finish()
}

// gaps lists the layer materials without a value that the models need.
func (p *page) gaps(list []EvidenceGap) {
	if len(list) == 0 {
		return
	}
	p.heading(1, "What is missing")
	t := Table{Heads: []string{"Property", "Materials without it"}}
	for _, g := range list {
		t.Rows = append(t.Rows, []Text{say(capital(p.propertyTitle(g.Property))), say(strings.Join(g.Materials, ", "))})
	}
	p.table(t)
}

// EvidenceCount counts the values of a mark, a property or a source.
type EvidenceCount struct {
	Name     string `json:"name"`
	Values   int    `json:"values"`
	Read     int    `json:"read"`
	Doubtful int    `json:"doubtful"`
}

// EvidenceGap names materials that lack a property.
type EvidenceGap struct {
	Property  string   `json:"property"`
	Materials []string `json:"materials"`
}

// EvidenceSummary is what the base rests on.
type EvidenceSummary struct {
	Values     int             `json:"values"`
	Marks      []EvidenceCount `json:"marks"`
	Properties []EvidenceCount `json:"properties"`
	Sources    []EvidenceCount `json:"sources"`
	Gaps       []EvidenceGap   `json:"gaps"`
}

// EvidenceData counts the values of a base.
func EvidenceData(b *kb.Base) EvidenceSummary {
	var d EvidenceSummary
	marks, properties, sources := make(counts), make(counts), make(counts)
	take := func(values []kb.Value) {
		for i := range values {
			v := &values[i]
			d.Values++
			marks.take(string(v.Evidence), v)
			properties.take(v.Property, v)
			sources.take(v.Source, v)
		}
	}
	for _, m := range b.Materials {
		take(m.Values)
	}
	for _, s := range b.Systems {
		take(s.Values)
	}
	d.Marks, d.Properties, d.Sources = marks.list(), properties.list(), sources.list()
	slices.SortStableFunc(d.Marks, func(x, y EvidenceCount) int { return kb.Evidence(x.Name).Rank() - kb.Evidence(y.Name).Rank() })
	for _, property := range []string{"permeance", "thermal-resistance", "density"} {
		g := EvidenceGap{Property: property}
		for _, m := range b.Materials {
			if _, ok := m.Working(property, kb.AnyMethod, 0); !ok && needs(m, property) {
				g.Materials = append(g.Materials, m.ID)
			}
		}
		if len(g.Materials) > 0 {
			d.Gaps = append(d.Gaps, g)
		}
	}
	return d
}

// needs says whether the models ask a property of a material: sheets and coats
// have no thermal resistance, units and joints are no layers.
func needs(m *kb.Material, property string) bool {
	switch m.Form {
	case kb.Unit, kb.Joint:
		return false
	case kb.Sheet, kb.Coat:
		return property == "permeance"
	}
	return true
}

// counts counts values by name.
type counts map[string]*EvidenceCount

func (c counts) take(name string, v *kb.Value) {
	x := c[name]
	if x == nil {
		x = &EvidenceCount{Name: name}
		c[name] = x
	}
	x.Values++
	if v.Evidence == kb.Read {
		x.Read++
	}
	if v.Doubt == "high" {
		x.Doubtful++
	}
}

// list gives the counts, the largest first, then by name.
func (c counts) list() []EvidenceCount {
	out := make([]EvidenceCount, 0, len(c))
	for _, x := range c {
		out = append(out, *x)
	}
	slices.SortFunc(out, func(a, b EvidenceCount) int {
		if a.Values != b.Values {
			return b.Values - a.Values
		}
		return strings.Compare(a.Name, b.Name)
	})
	return out
}
