package index

import (
	"strings"

	"relath/kb"
	"relath/kb/quantity"
)

// Kind is a sort of entries that can be found.
type Kind string

// The kinds, in the order in which equals are listed.
const (
	Material Kind = "material"
	Coating  Kind = "coating"
	System   Kind = "system" // a measured substrate with coats
	Recipe   Kind = "recipe" // a swap
	Starter  Kind = "starter"
	Rule     Kind = "rule"
	Code     Kind = "code" // a code table
	Caution  Kind = "caution"
	Place    Kind = "place"
)

// Kinds lists the kinds.
func Kinds() []Kind {
	return []Kind{Material, Coating, System, Recipe, Starter, Rule, Code, Caution, Place}
}

// ref points to an entry of the base.
type ref struct {
	kind Kind
	id   string
	of   any // the entry itself, of package kb
}

// key names an entry among all: "material osb".
func (r ref) key() string { return string(r.kind) + " " + r.id }

// material gives the material or coating, or nil.
func (r ref) material() *kb.Material {
	m, _ := r.of.(*kb.Material)
	return m
}

// refs lists everything that can be found, ordered by kind and id.
func refs(b *kb.Base) []ref {
	var all []ref
	for _, coats := range []bool{false, true} {
		for _, m := range b.Materials {
			if (m.Form == kb.Coat) == coats {
				all = append(all, ref{materialKind(m), m.ID, m})
			}
		}
	}
	for _, s := range b.Systems {
		all = append(all, ref{System, s.ID, s})
	}
	for _, r := range b.Recipes {
		all = append(all, ref{Recipe, r.ID, r})
	}
	for _, s := range b.Starters {
		all = append(all, ref{Starter, s.ID, s})
	}
	for _, r := range b.Rules {
		all = append(all, ref{Rule, r.ID, r})
	}
	for _, t := range b.Tables {
		all = append(all, ref{Code, t.ID, t})
	}
	for _, c := range b.Cautions {
		all = append(all, ref{Caution, c.ID, c})
	}
	for _, p := range b.Places {
		all = append(all, ref{Place, p.ID, p})
	}
	return all
}

func materialKind(m *kb.Material) Kind {
	if m.Form == kb.Coat {
		return Coating
	}
	return Material
}

// entry is what is searched of one entry of the base.
type entry struct {
	title string
	names []string
	roles []string // duties, vocabulary, family, properties in words
	text  string   // the summary, or what it says
	more  string   // what else is known of it
	never string   // what it must not be used for, after a "not"
}

// wholeNames lists the names by which an entry is known. What a swap puts in is
// none of them: the material of that name comes first.
func (e entry) wholeNames(r ref) []string {
	if r.kind == Recipe {
		return []string{e.title, r.id}
	}
	return append([]string{e.title, r.id}, e.names...)
}

// entryOf puts what is searched of an entry together.
func entryOf(b *kb.Base, r ref) entry {
	switch of := r.of.(type) {
	case *kb.Material:
		return materialEntry(b, of)
	case *kb.System:
		return systemEntry(b, of)
	case *kb.Recipe:
		return recipeEntry(b, of)
	case *kb.Starter:
		return entry{title: of.Title, names: []string{of.Title, spaced(of.ID)}, roles: []string{"starter"}, text: of.About, more: lines(of.Confirm...)}
	case *kb.Rule:
		return entry{title: of.Title, names: []string{of.Title, spaced(of.ID)}, text: of.Say, more: lines(of.Why, of.Settle)}
	case *kb.Table:
		return entry{title: of.Title, names: []string{of.Title, spaced(of.ID), of.Section}, roles: []string{"code", of.Subject}, text: of.Otherwise.Say, more: of.Otherwise.Why}
	case *kb.Caution:
		return entry{title: of.Title, names: []string{of.Title, spaced(of.ID)}, roles: []string{"caution"}, text: of.Say, more: of.Ask}
	case *kb.Place:
		return entry{title: of.Name + ", " + of.Region, names: []string{of.Name + ", " + of.Region, of.Name}, roles: []string{of.Region + " region"}}
	}
	return entry{}
}

func lines(parts ...string) string { return strings.Join(parts, "\n") }

// spaced writes an id as words.
func spaced(id string) string { return strings.ReplaceAll(id, "-", " ") }

func materialEntry(b *kb.Base, m *kb.Material) entry {
	e := entry{title: m.Name, names: append([]string{m.Name}, m.Also...), text: m.Summary}
	e.names = append(e.names, spaced(m.ID))
	e.roles = append(e.roles, spaced(m.Family), m.Available)
	for _, t := range m.Terms {
		e.roles = append(e.roles, spaced(t))
	}
	for _, o := range m.Duties {
		e.roles = append(e.roles, spaced(o.Duty), spaced(o.As))
		if d := b.Duty(o.Duty); d != nil {
			e.roles = append(e.roles, d.Title)
		}
	}
	e.roles = append(e.roles, traits(m)...)
	e.more = lines(m.Drying, m.Care, m.Composition.Adhesive, m.Composition.Treatment, m.Composition.Formaldehyde)
	if m.Coating != nil {
		e.more = lines(e.more, m.Coating.Binder, m.Coating.Renewal, spaced(strings.Join(m.Coating.On, ", ")))
		for _, term := range m.Coating.Not {
			e.never = lines(e.never, "not on "+spaced(term))
		}
	}
	return e
}

func systemEntry(b *kb.Base, s *kb.System) entry {
	e := entry{title: s.Name, names: []string{s.Name, spaced(s.ID)}}
	for _, id := range append([]string{s.Substrate}, s.Coats...) {
		if m := b.Material(id); m != nil {
			e.roles = append(e.roles, m.Name)
		}
	}
	return e
}

// recipeEntry is found by what it puts in; what it takes out is in its title,
// but is not its name.
func recipeEntry(b *kb.Base, r *kb.Recipe) entry {
	puts, _, _ := strings.Cut(r.Title, " instead of ")
	e := entry{title: r.Title, names: []string{puts}, roles: []string{"swap", r.Part}, text: r.Why, more: lines(spaced(r.ID), r.Title, r.Specify, r.Remove, r.Build)}
	for _, l := range r.With {
		if m := b.Material(l.Material); m != nil {
			e.roles = append(e.roles, m.Name)
		}
	}
	for _, d := range r.Gains {
		e.roles = append(e.roles, spaced(d))
	}
	return e
}

// What builders call open and tight, in perms by the dry cup at the usual
// thickness: above 10 a layer is in no retarder class, the classes themselves
// are those of IRC R702.7 (recalled).
const (
	openPerms     = 10.0
	classIPerms   = 0.1
	classIIPerms  = 1.0
	classIIIPerms = 10.0
)

// traits puts into words what only the numbers and the composition say.
func traits(m *kb.Material) []string {
	var all []string
	if glue(m) == Fails {
		all = append(all, "no glue")
	}
	w, ok := m.Working("permeance", kb.DryCup, 0)
	if !ok {
		return all
	}
	perms, err := quantity.ToUnit(w.SI.Best, "perm", quantity.Permeance)
	switch {
	case err != nil: // not reached: perm is a unit of permeance
	case perms > openPerms:
		all = append(all, "vapor open")
	case perms <= classIPerms:
		all = append(all, "class I vapor retarder", "vapor tight")
	case perms <= classIIPerms:
		all = append(all, "class II vapor retarder")
	case perms <= classIIIPerms:
		all = append(all, "class III vapor retarder")
	}
	return all
}
