package kb

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"relath/kb/strict"
)

// check holds every reference to an entry that exists and every closed word to
// its list.
func (l *loader) check() {
	for _, m := range l.base.Materials {
		l.named(m.ID, m.Pos)
		l.checkMaterial(m)
	}
	for _, s := range l.base.Systems {
		l.named(s.ID, s.Pos)
		l.checkSystem(s)
	}
	for _, r := range l.base.Recipes {
		l.named(r.ID, r.Pos)
		l.checkRecipe(r)
	}
	for _, r := range l.base.Rules {
		l.named(r.ID, r.Pos)
		l.checkRule(r)
	}
	for _, t := range l.base.Tables {
		l.named(t.ID, t.Pos)
		l.checkTable(t)
	}
	for _, t := range l.base.Lookups {
		l.named(t.ID, t.Pos)
		l.checkLookup(t)
	}
	for _, c := range l.base.Cautions {
		l.named(c.ID, c.Pos)
		l.word(c.Pos, "owner", c.Owner, "yes")
		l.conditions(c.When, ofAssembly)
		l.bases(c.Pos, c.Basis)
	}
	for _, m := range l.base.Measurements {
		l.named(m.ID, m.Pos)
		l.checkMeasurement(m)
	}
	for _, p := range l.base.Places {
		l.named(p.ID, p.Pos)
		l.checkPlace(p)
	}
	for _, p := range l.base.Prices {
		l.checkPrice(p)
	}
	for _, s := range l.base.Starters {
		l.named(s.ID, s.Pos)
		l.bases(s.Pos, s.Basis)
	}
	l.checkRegistries()
}

// named holds the id of an entry to the name of its file.
func (l *loader) named(id string, pos strict.Pos) {
	want := strings.TrimSuffix(path.Base(pos.File), ".yaml")
	if id != want {
		l.report(pos, fmt.Sprintf("id %q in a file named %q", id, path.Base(pos.File)), fmt.Sprintf("the file of this id is %s.yaml", id))
	}
}

func (l *loader) checkMaterial(m *Material) {
	if folder := path.Base(path.Dir(m.Pos.File)); m.Family != folder {
		l.report(m.Pos, fmt.Sprintf("family %q in the folder %q", m.Family, folder), "the family is the name of the folder")
	}
	if isCoat := m.Form == Coat; isCoat != (m.Coating != nil) {
		l.report(m.Pos, "the field coating belongs to the form coat, and only to it", "")
	}
	l.word(m.Pos, "available", m.Available, "stocked", "ordered", "salvaged", "no-longer")
	l.word(m.Pos, "advise", m.Advise, "no")
	l.word(m.Pos, "breakdown", m.Breakdown, l.wordsOf("breakdown")...)
	l.references(m.Pos, "term", m.Terms)
	l.references(m.Pos, "caution", m.Cautions)
	l.reference(m.Pos, "material", m.StandsIn)
	for i := range m.Duties {
		l.checkOffer(&m.Duties[i])
	}
	if m.Coating != nil {
		l.references(m.Pos, "term", m.Coating.On)
		l.references(m.Pos, "term", m.Coating.Not)
	}
	l.optionalBasis(m.Pos, m.Composition.Basis)
	l.optionalBasis(m.Pos, m.Mold.Basis)
	l.values(m.Values, m.Choose)
}

func (l *loader) checkOffer(o *Offer) {
	l.reference(o.Pos, "duty", o.Duty)
	l.word(o.Pos, "verdict", o.Verdict, string(Depends))
	l.optionalBasis(o.Pos, o.Basis)
	if d := l.base.Duty(o.Duty); d != nil && d.Combine == "chain" {
		if o.As == "" {
			l.report(o.Pos, fmt.Sprintf("duty %q is a chain: as is missing", o.Duty), "as: "+strings.Join(d.Order, ", "))
		}
		l.word(o.Pos, "as", o.As, d.Order...)
	}
}

func (l *loader) checkSystem(s *System) {
	l.reference(s.Pos, "material", s.Substrate)
	l.references(s.Pos, "coating", s.Coats)
	l.values(s.Values, s.Choose)
}

func (l *loader) values(values []Value, choices []Choice) {
	for i := range values {
		v := &values[i]
		l.basis(v.Pos, v.Basis)
		if v.Curve != nil && v.Curve.Spread != nil {
			l.basis(v.Pos, v.Curve.Spread.Basis)
		}
		l.word(v.Pos, "method", v.At.Method, DryCup, WetCup, "unspecified", "service")
		l.word(v.Pos, "direction", v.At.Direction, "across-grain", "along-grain", "up", "down")
		l.reference(v.Pos, "source", v.ReplacedBy)
	}
	for i := range choices {
		c := &choices[i]
		if !slices.ContainsFunc(values, func(v Value) bool { return v.Withdrawn == "" && c.picks(&v) }) {
			l.report(c.Pos, fmt.Sprintf("choose: no value of property %q has source %q%s", c.Property, c.Source, also("method", c.Method)+also("locator", c.Locator)), "")
		}
	}
}

// also writes a further condition of a choice.
func also(what, word string) string {
	if word == "" {
		return ""
	}
	return fmt.Sprintf(", %s %q", what, word)
}

func (l *loader) checkPlace(p *Place) {
	l.optionalBasis(p.Pos, p.ZoneBasis)
	seen := map[string]bool{}
	for i := range p.Months {
		s := &p.Months[i]
		l.basis(s.Pos, s.Basis)
		if seen[s.Quantity] {
			l.report(s.Pos, fmt.Sprintf("monthly quantity %q is given twice", s.Quantity), "")
		}
		seen[s.Quantity] = true
	}
	if p.Latitude < -90 || p.Latitude > 90 || p.Longitude < -180 || p.Longitude > 180 {
		l.report(p.Pos, "latitude lies between -90 and 90, longitude between -180 and 180 degrees", "")
	}
}

func (l *loader) checkRegistries() {
	for _, p := range l.base.Properties {
		l.word(p.Pos, "better", p.Better, "higher", "lower")
		l.word(p.Pos, "scales", p.Scales, "layer", "substance", "coat", "item")
		l.reference(p.Pos, "source", p.Source)
	}
	for _, d := range l.base.Duties {
		l.word(d.Pos, "combine", d.Combine, "sum", "series", "one", "chain", "system", "any")
		l.word(d.Pos, "needs", d.Needs, "sealed")
	}
	for _, r := range l.base.Requirements {
		l.references(r.Pos, "duty", r.Duties)
		for _, kind := range r.Kind {
			l.word(r.Pos, "kind", kind, l.wordsOf("kind")...)
		}
		for _, side := range r.Between {
			l.word(r.Pos, "between", side, l.wordsOf("outer-side")...)
		}
	}
	for _, f := range l.base.Facts {
		l.checkFact(f)
	}
	for _, m := range l.base.Models {
		l.bases(m.Pos, m.Basis)
	}
	for _, a := range l.base.Assumptions {
		l.basis(a.Pos, a.Basis)
	}
	for _, s := range l.base.Sources {
		l.word(s.Pos, "kind", s.Kind, "handbook", "standard", "code", "paper", "report", "agency", "web", "practice", "ours")
	}
}

func (l *loader) checkFact(f *Fact) {
	l.word(f.Pos, "scope", f.Scope, "assembly", "layer", "work")
	l.word(f.Pos, "type", f.Type, "quantity", "words", "flag")
	l.word(f.Pos, "of", f.Of, "terms", "duties")
	l.word(f.Pos, "better", f.Better, "higher", "lower")
	l.word(f.Pos, "screen", f.Screen, "before-after")
	l.reference(f.Pos, "model", f.Model)
	if isQuantity := f.Type == "quantity"; isQuantity != (f.Dimension != "") {
		l.report(f.Pos, "a fact has a dimension when it is a quantity, and only then", "")
	}
	l.word(f.Pos, "worth-for", f.WorthFor, "recipe")
	if f.Worth.Value != "" && (f.Better == "" || f.Screen == "") {
		l.report(f.Worth.Pos, "only a fact that is compared before and after, with a better direction, can be worth a swap", "")
	}
}

// wordsOf gives the words that a fact can be.
func (l *loader) wordsOf(fact string) []string {
	f := l.base.Fact(fact)
	switch {
	case f == nil:
		return nil
	case f.Of == "terms":
		return l.known["term"]
	case f.Of == "duties":
		return l.known["duty"]
	}
	return f.Words
}

// word holds a word to a closed list; an empty word, or an empty list, is fine.
func (l *loader) word(pos strict.Pos, field, word string, allowed ...string) {
	if word != "" && len(allowed) > 0 && !slices.Contains(allowed, word) {
		l.report(l.locate(pos, word), fmt.Sprintf("%s: %q is not allowed", field, word), strict.AllowedHint(word, allowed))
	}
}

// reference holds an id to a registry; an empty one is fine.
func (l *loader) reference(pos strict.Pos, what, id string) {
	if _, ok := slices.BinarySearch(l.known[what], id); id != "" && !ok {
		l.unknown(pos, what, id, l.known[what])
	}
}

func (l *loader) references(pos strict.Pos, what string, all []string) {
	for _, id := range all {
		l.reference(pos, what, id)
	}
}

func (l *loader) bases(pos strict.Pos, all []Basis) {
	for _, b := range all {
		l.basis(pos, b)
	}
}

// optionalBasis checks a basis that may be left out.
func (l *loader) optionalBasis(pos strict.Pos, b Basis) {
	if b != (Basis{}) {
		l.basis(pos, b)
	}
}

func (l *loader) basis(pos strict.Pos, b Basis) {
	l.reference(pos, "source", b.Source)
	l.word(pos, "doubt", b.Doubt, "high")
}
