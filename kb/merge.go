package kb

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"relath/kb/strict"
)

// loader builds a base and collects what is wrong with it.
type loader struct {
	base     *Base
	docs     map[string]*strict.Document
	known    map[string][]string // sorted ids by what they name
	problems strict.Problems
}

// report adds a problem with the line it points at.
func (l *loader) report(pos strict.Pos, message, hint string) {
	p := strict.Problem{Pos: pos, Message: message, Hint: hint}
	if doc := l.docs[pos.File]; doc != nil {
		p = doc.Problem(pos, message, hint)
	}
	l.problems = append(l.problems, p)
}

// locate finds the place of a word inside the entry at a position, and gives
// the position itself where it is not found.
func (l *loader) locate(pos strict.Pos, word string) strict.Pos {
	doc := l.docs[pos.File]
	if doc == nil {
		return pos
	}
	if entry := search(doc.Root, func(v *strict.Value) bool { return v.Pos == pos && v.Kind == strict.Mapping }); entry != nil {
		if at := search(entry, func(v *strict.Value) bool { return v.Kind == strict.Scalar && v.Text == word }); at != nil {
			return at.Pos
		}
	}
	return pos
}

// search walks a tree in the order of the file.
func search(v *strict.Value, found func(*strict.Value) bool) *strict.Value {
	if found(v) {
		return v
	}
	for _, f := range v.Fields {
		if at := search(f.Value, found); at != nil {
			return at
		}
	}
	for _, item := range v.Items {
		if at := search(item, found); at != nil {
			return at
		}
	}
	return nil
}

// merge puts the parts together, list by list.
func (l *loader) merge(parts []part) {
	b := l.base
	b.Materials = mergeList(l, parts, "material", func(b *Base) []*Material { return b.Materials })
	b.Systems = mergeList(l, parts, "system", func(b *Base) []*System { return b.Systems })
	b.Recipes = mergeList(l, parts, "swap", func(b *Base) []*Recipe { return b.Recipes })
	b.Rules = mergeList(l, parts, "rule", func(b *Base) []*Rule { return b.Rules })
	b.Tables = mergeList(l, parts, "code table", func(b *Base) []*Table { return b.Tables })
	b.Lookups = mergeList(l, parts, "lookup table", func(b *Base) []*Lookup { return b.Lookups })
	b.Cautions = mergeList(l, parts, "caution", func(b *Base) []*Caution { return b.Cautions })
	b.Measurements = mergeList(l, parts, "measurement", func(b *Base) []*Measurement { return b.Measurements })
	b.Places = mergeList(l, parts, "place", func(b *Base) []*Place { return b.Places })
	b.Starters = mergeList(l, parts, "starter", func(b *Base) []*Starter { return b.Starters })
	b.Properties = mergeList(l, parts, "property", func(b *Base) []*Property { return b.Properties })
	b.Duties = mergeList(l, parts, "duty", func(b *Base) []*Duty { return b.Duties })
	b.Requirements = mergeList(l, parts, "requirement", func(b *Base) []*Requirement { return b.Requirements })
	b.Terms = mergeList(l, parts, "term", func(b *Base) []*Term { return b.Terms })
	b.Facts = mergeList(l, parts, "fact", func(b *Base) []*Fact { return b.Facts })
	b.Models = mergeList(l, parts, "model", func(b *Base) []*Model { return b.Models })
	b.Assumptions = mergeList(l, parts, "assumption", func(b *Base) []*Assumption { return b.Assumptions })
	b.Sources = mergeList(l, parts, "source", func(b *Base) []*Source { return b.Sources })
	b.Prices = mergeList(l, parts, "price", func(b *Base) []*Price { return b.Prices })
	for i := range parts {
		b.Synonyms = append(b.Synonyms, parts[i].base.Synonyms...)
	}
}

// mergeList joins one list of all parts and sorts it. An id twice in one folder
// is a problem; in a later folder it replaces.
func mergeList[T entry](l *loader, parts []part, sort string, of func(*Base) []T) []T {
	var all []T
	at := map[string]int{}   // place in all
	from := map[string]int{} // folder
	for i := range parts {
		p := &parts[i]
		for _, e := range of(&p.base) {
			var none T
			if e == none {
				continue // reported when it was decoded
			}
			id, pos := e.key()
			old, known := at[id]
			switch {
			case id == "":
				continue // likewise
			case known && from[id] == p.file.tree:
				_, first := all[old].key()
				l.report(pos, fmt.Sprintf("%s %q is given twice (first at %s)", sort, id, first), "")
				continue
			case known:
				all[old] = e
			default:
				at[id] = len(all)
				all = append(all, e)
			}
			from[id] = p.file.tree
			if p.file.tree > 0 {
				l.base.Overlaid = append(l.base.Overlaid, Overlaid{Sort: sort, ID: id, File: p.file.name, Replaced: known})
			}
		}
	}
	slices.SortFunc(all, func(a, b T) int {
		x, _ := a.key()
		y, _ := b.key()
		return cmp.Compare(x, y)
	})
	return all
}

// entry is what the base keeps in lists.
type entry interface {
	comparable
	key() (id string, pos strict.Pos)
}

func (m *Material) key() (string, strict.Pos)    { return m.ID, m.Pos }
func (s *System) key() (string, strict.Pos)      { return s.ID, s.Pos }
func (r *Recipe) key() (string, strict.Pos)      { return r.ID, r.Pos }
func (r *Rule) key() (string, strict.Pos)        { return r.ID, r.Pos }
func (t *Table) key() (string, strict.Pos)       { return t.ID, t.Pos }
func (t *Lookup) key() (string, strict.Pos)      { return t.ID, t.Pos }
func (c *Caution) key() (string, strict.Pos)     { return c.ID, c.Pos }
func (m *Measurement) key() (string, strict.Pos) { return m.ID, m.Pos }
func (p *Place) key() (string, strict.Pos)       { return p.ID, p.Pos }
func (s *Starter) key() (string, strict.Pos)     { return s.ID, s.Pos }
func (p *Property) key() (string, strict.Pos)    { return p.ID, p.Pos }
func (d *Duty) key() (string, strict.Pos)        { return d.ID, d.Pos }
func (t *Term) key() (string, strict.Pos)        { return t.ID, t.Pos }
func (f *Fact) key() (string, strict.Pos)        { return f.ID, f.Pos }
func (m *Model) key() (string, strict.Pos)       { return m.ID, m.Pos }
func (a *Assumption) key() (string, strict.Pos)  { return a.ID, a.Pos }
func (s *Source) key() (string, strict.Pos)      { return s.ID, s.Pos }

// key of a requirement is what it is for.
func (r *Requirement) key() (string, strict.Pos) {
	return strings.Join(r.Kind, " ") + " between " + strings.Join(r.Between, " "), r.Pos
}

// index lists the ids that entries may refer to.
func (l *loader) index() {
	b := l.base
	l.known = map[string][]string{
		"material":    ids(b.Materials),
		"property":    ids(b.Properties),
		"duty":        ids(b.Duties),
		"term":        ids(b.Terms),
		"fact":        ids(b.Facts),
		"model":       ids(b.Models),
		"caution":     ids(b.Cautions),
		"source":      ids(b.Sources),
		"measurement": ids(b.Measurements),
		"assumption":  ids(b.Assumptions),
	}
	for _, m := range b.Materials {
		if m.Form == Coat {
			l.known["coating"] = append(l.known["coating"], m.ID)
		}
	}
	both := append(ids(b.Properties), ids(b.Duties)...)
	slices.Sort(both)
	l.known["property or duty"] = both
}

// ids lists the ids of entries.
func ids[T entry](list []T) []string {
	all := make([]string, len(list))
	for i, e := range list {
		all[i], _ = e.key()
	}
	return all
}
