// Package kb holds the knowledge base: its types, strict loading and lookup.
//
// A Base is immutable once loaded. The package knows no physics, no search
// engine and no house; it never guesses a missing value. Every number it holds
// has a unit, a source, a locator and a mark of evidence.
package kb

import "sort"

// Base is the whole knowledge base, decoded and checked. All lists are sorted
// by id. It must not be changed after Load.
type Base struct {
	Materials    []*Material // materials/ and coatings/
	Systems      []*System
	Recipes      []*Recipe
	Rules        []*Rule
	Tables       []*Table
	Lookups      []*Lookup
	Cautions     []*Caution
	Measurements []*Measurement
	Places       []*Place
	Starters     []*Starter
	Properties   []*Property
	Duties       []*Duty
	Requirements []*Requirement
	Terms        []*Term
	Facts        []*Fact
	Models       []*Model
	Assumptions  []*Assumption
	Sources      []*Source
	Prices       []*Price // of folders laid over the base
	Synonyms     [][]string
	Overlaid     []Overlaid // what came from folders laid over the base
	Version      string     // hash of the bytes it was made from
}

// Overlaid is an entry that a folder laid over the base has added or replaced.
type Overlaid struct {
	Sort     string // material, system, swap, rule, source, ...
	ID       string
	File     string
	Replaced bool // an entry of the same id was replaced
}

// find returns the entry of a list sorted by id, or nil.
func find[T any](list []*T, id string, idOf func(*T) string) *T {
	i := sort.Search(len(list), func(i int) bool { return idOf(list[i]) >= id })
	if i < len(list) && idOf(list[i]) == id {
		return list[i]
	}
	return nil
}

// Material returns a material or coating by id, or nil.
func (b *Base) Material(id string) *Material {
	return find(b.Materials, id, func(m *Material) string { return m.ID })
}

// System returns a measured system by id, or nil.
func (b *Base) System(id string) *System {
	return find(b.Systems, id, func(s *System) string { return s.ID })
}

// Term returns a word of the closed vocabulary by id, or nil.
func (b *Base) Term(id string) *Term {
	return find(b.Terms, id, func(t *Term) string { return t.ID })
}

// Recipe returns a swap recipe by id, or nil.
func (b *Base) Recipe(id string) *Recipe {
	return find(b.Recipes, id, func(r *Recipe) string { return r.ID })
}

// Rule returns a rule by id, or nil.
func (b *Base) Rule(id string) *Rule {
	return find(b.Rules, id, func(r *Rule) string { return r.ID })
}

// Table returns a code table by id, or nil.
func (b *Base) Table(id string) *Table {
	return find(b.Tables, id, func(t *Table) string { return t.ID })
}

// Lookup returns a table to be read by id, or nil.
func (b *Base) Lookup(id string) *Lookup {
	return find(b.Lookups, id, func(l *Lookup) string { return l.ID })
}

// Caution returns a caution by id, or nil.
func (b *Base) Caution(id string) *Caution {
	return find(b.Cautions, id, func(c *Caution) string { return c.ID })
}

// Measurement returns a measurement by id, or nil.
func (b *Base) Measurement(id string) *Measurement {
	return find(b.Measurements, id, func(m *Measurement) string { return m.ID })
}

// Place returns a place by id, or nil.
func (b *Base) Place(id string) *Place {
	return find(b.Places, id, func(p *Place) string { return p.ID })
}

// Starter returns a starter by id, or nil.
func (b *Base) Starter(id string) *Starter {
	return find(b.Starters, id, func(s *Starter) string { return s.ID })
}

// Property returns an entry of the glossary by id, or nil.
func (b *Base) Property(id string) *Property {
	return find(b.Properties, id, func(p *Property) string { return p.ID })
}

// Duty returns a duty by id, or nil.
func (b *Base) Duty(id string) *Duty {
	return find(b.Duties, id, func(d *Duty) string { return d.ID })
}

// Fact returns an entry of the registry of facts by id, or nil.
func (b *Base) Fact(id string) *Fact {
	return find(b.Facts, id, func(f *Fact) string { return f.ID })
}

// Model returns a model by id, or nil.
func (b *Base) Model(id string) *Model {
	return find(b.Models, id, func(m *Model) string { return m.ID })
}

// Assumption returns a default of ours by id, or nil.
func (b *Base) Assumption(id string) *Assumption {
	return find(b.Assumptions, id, func(a *Assumption) string { return a.ID })
}

// Source returns a source by id, or nil.
func (b *Base) Source(id string) *Source {
	return find(b.Sources, id, func(s *Source) string { return s.ID })
}
