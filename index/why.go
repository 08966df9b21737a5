package index

import "sync"

// Field names where a word of the question was found.
type Field string

// The fields.
const (
	Name Field = "name" // one of its names
	Role Field = "role" // a duty, a word of the vocabulary, or a property in words
	Text Field = "text" // the summary, or what it says
	More Field = "more" // how it dries, is cared for, built
)

// Reason is one thing of the question that a hit has.
type Reason struct {
	Asked string // as asked, after mending
	Field Field
	Found string // the name or the role; empty for Text and More
}

// why tells what of the question an entry has, each unit by its best field.
func (a *answer) why(e entry) []Reason {
	names, roles := a.lang.namesOf(e.names), a.lang.namesOf(e.roles)
	text := sync.OnceValue(func() []string { return a.lang.proseTokens(e.text) })
	more := sync.OnceValue(func() []string { return a.lang.proseTokens(e.more) })
	var all []Reason
	for _, u := range a.units {
		if u.pair {
			continue
		}
		r := Reason{Asked: u.text}
		switch name, role := u.firstIn(names), u.firstIn(roles); {
		case name != "":
			r.Field, r.Found = Name, name
		case role != "":
			r.Field, r.Found = Role, role
		case u.in(text()):
			r.Field = Text
		case u.in(more()):
			r.Field = More
		default:
			continue
		}
		all = append(all, r)
	}
	return all
}

// firstIn gives the first of the names that has the unit, or nothing.
func (u unit) firstIn(names []name) string {
	for _, n := range names {
		if u.in(n.tokens) {
			return n.text
		}
	}
	return ""
}
