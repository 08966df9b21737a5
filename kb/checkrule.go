package kb

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"relath/kb/quantity"
	"relath/kb/strict"
)

// scope says which facts conditions may read.
type scope []string

var (
	ofAssembly = scope{"assembly", "work"}
	ofLayer    = scope{"layer"}
)

// conditions checks a list of conditions and reads their limits.
func (l *loader) conditions(list []Condition, s scope) {
	for i := range list {
		l.condition(&list[i], s)
	}
}

func (l *loader) condition(c *Condition, s scope) {
	if c.Join != "" {
		inner := s
		if aboutLayers(c.Join) {
			if slices.Equal(s, ofLayer) {
				l.report(c.Pos, fmt.Sprintf("%s inside conditions about one layer", c.Join), "")
			}
			inner = ofLayer
		}
		l.conditions(c.Nested, inner)
		return
	}
	f := l.base.Fact(c.Fact)
	switch {
	case f == nil:
		l.unknown(c.Pos, "fact", c.Fact, append(joins(), l.known["fact"]...))
	case !slices.Contains(s, f.Scope):
		l.report(c.Pos, fmt.Sprintf("fact %q is about the %s", c.Fact, f.Scope), "facts about a layer stand below some-layer, no-layer or every-layer, the others beside them")
	default:
		l.test(c, f)
	}
}

// test holds the test of a condition to the type of the fact.
func (l *loader) test(c *Condition, f *Fact) {
	switch {
	case c.Known != "":
	case c.Flag == "" && c.Op == "" && len(c.Words) == 0: // reported when it was decoded
	case f.Type == "flag" && c.Flag == "":
		l.report(c.Pos, fmt.Sprintf("fact %q is yes or no", f.ID), fmt.Sprintf("write %s: yes", f.ID))
	case f.Type == "words" && len(c.Words) == 0:
		l.report(c.Pos, fmt.Sprintf("fact %q is one of some words", f.ID), fmt.Sprintf("write %s: [a, b]", f.ID))
	case f.Type == "quantity" && c.Op == "":
		l.report(c.Pos, fmt.Sprintf("fact %q is a quantity", f.ID), fmt.Sprintf("write %s: {over: limit}, or under, at-least, at-most", f.ID))
	case f.Type == "quantity":
		c.LimitSI = quantity.Exact(l.quantity(strict.Text{Value: c.Limit, Pos: c.Pos}, f.Dimension))
	case f.Type == "words":
		allowed := l.wordsOf(f.ID)
		for _, w := range c.Words {
			l.word(c.Pos, f.ID, w, allowed...)
		}
	}
}

func (l *loader) checkRule(r *Rule) {
	l.word(r.Pos, "judges", r.Judges, "any", "proposed")
	l.conditions(r.When, ofAssembly)
	l.placeholders(r.Pos, r.Say)
	l.references(r.Pos, "caution", r.Cautions)
	l.references(r.Pos, "measurement", r.Measure)
	l.references(r.Pos, "property or duty", r.Wish)
	l.bases(r.Pos, r.Basis)
}

func (l *loader) checkTable(t *Table) {
	l.word(t.Pos, "subject", t.Subject, codeSubjects()...)
	l.conditions(t.Applies, ofAssembly)
	for _, rows := range [][]Row{t.Except, t.Accept} {
		for i := range rows {
			l.conditions(rows[i].When, ofAssembly)
			l.word(rows[i].Pos, "verdict", string(rows[i].Verdict), string(Depends))
			if (rows[i].Verdict == "") != (rows[i].Asks == "") {
				l.report(rows[i].Pos, "a row that depends says on what, and only such a row", "give both verdict: depends and asks")
			}
			if rows[i].Basis != nil {
				l.basis(rows[i].Pos, *rows[i].Basis)
			}
		}
	}
	l.placeholders(t.Pos, t.Otherwise.Say)
	l.references(t.Pos, "caution", t.Cautions)
	l.bases(t.Pos, t.Basis)
}

func (l *loader) checkRecipe(r *Recipe) {
	l.word(r.Pos, "part", r.Part, l.wordsOf("part")...)
	for _, layer := range r.Replaces {
		l.conditions(layer, ofLayer)
	}
	l.conditions(r.After, ofLayer)
	for i := range r.With {
		l.newLayer(&r.With[i])
	}
	l.newCoats(r.Pos, r.Coats)
	for i := range r.Beside {
		b := &r.Beside[i]
		l.conditions(b.When, ofAssembly)
		l.word(b.Pos, "place", b.Place, "before", "after")
		l.word(b.Pos, "item", b.Item, "let-in-braces")
		if b.Layer != nil {
			l.newLayer(b.Layer)
		}
	}
	l.conditions(r.Fits, ofAssembly)
	for i := range r.Unfit {
		l.conditions(r.Unfit[i].When, ofAssembly)
		l.placeholders(r.Unfit[i].Pos, r.Unfit[i].Say)
	}
	for i := range r.Needs {
		l.conditions(r.Needs[i].When, ofAssembly)
	}
	l.references(r.Pos, "duty", r.Gains)
	l.references(r.Pos, "duty", r.Loses)
	for _, subject := range r.Meets {
		l.word(r.Pos, "meets", subject, codeSubjects()...)
	}
	l.references(r.Pos, "caution", r.Cautions)
	l.values(r.Coverage, nil)
	l.bases(r.Pos, r.Basis)
}

func (l *loader) newLayer(n *NewLayer) {
	l.reference(n.Pos, "material", n.Material)
	l.references(n.Pos, "duty", n.Performs)
	l.word(n.Pos, "air", n.Air, l.wordsOf("air")...)
	l.word(n.Pos, "keep", n.Keep, "framing", "empty-framing", "layer")
	l.word(n.Pos, "sealed", n.Sealed, "yes", "no")
	if n.Thickness.Value != "same" {
		l.quantity(n.Thickness, quantity.Length)
	}
	l.quantity(n.Cavity, quantity.Length)
	if n.Material == "" && n.Cavity.Value == "" && n.Keep == "" {
		l.report(n.Pos, fmt.Sprintf("layer %q has no material and is no cavity", n.Name), "")
	}
	l.newCoats(n.Pos, n.Coats)
}

func (l *loader) newCoats(pos strict.Pos, c *NewCoats) {
	if c == nil {
		return
	}
	l.word(pos, "keep", c.Keep, "yes", "no")
	for _, coats := range [][]NewCoat{c.In, c.Out} {
		for i := range coats {
			l.reference(coats[i].Pos, "coating", coats[i].Coating)
		}
	}
}

// placeholder is {layer} or {fact-id} in a sentence.
var placeholder = regexp.MustCompile(`\{([^{}]*)\}`)

// placeholders holds what a sentence fills in to facts that exist.
func (l *loader) placeholders(pos strict.Pos, sentence string) {
	for _, m := range placeholder.FindAllStringSubmatch(sentence, -1) {
		if m[1] != "layer" && l.base.Fact(m[1]) == nil {
			l.unknown(pos, "placeholder", "{"+m[1]+"}", braced(l.known["fact"]))
		}
	}
	if strings.Count(sentence, "{") != strings.Count(sentence, "}") {
		l.report(pos, "a brace of a placeholder is not closed", "")
	}
}

func braced(words []string) []string {
	all := []string{"{layer}"}
	for _, w := range words {
		all = append(all, "{"+w+"}")
	}
	return all
}

func (l *loader) checkMeasurement(m *Measurement) {
	for i := range m.Settles {
		s := &m.Settles[i]
		for _, kind := range s.Doubt {
			l.word(s.Pos, "doubt", kind, "coats", "coating", "material", "fill")
		}
		l.references(s.Pos, "property", s.Property)
		l.references(s.Pos, "assumption", s.Assumption)
		l.references(s.Pos, "fact", s.Fact)
		l.references(s.Pos, "term", s.Terms)
		if len(s.Doubt)+len(s.Property)+len(s.Assumption)+len(s.Fact)+len(s.Finding) == 0 {
			l.report(s.Pos, "this settles nothing", "name a doubt, property, assumption, fact or finding")
		}
	}
	l.references(m.Pos, "caution", m.Cautions)
	l.bases(m.Pos, m.Basis)
}
