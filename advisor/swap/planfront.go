package swap

import (
	"cmp"
	"slices"
)

// member is a combination on a front.
type member struct {
	index  int   // in the order of the enumeration
	chosen []int // options
	marks  Marks
}

// front holds combinations of which none beats another. Of those with the same
// marks it holds the first.
type front struct{ members []member }

// beaten says whether a member beats the marks. What beats one is often what
// beats the next, so it moves up.
func (f *front) beaten(m *Marks) bool {
	for i := range f.members {
		if f.members[i].marks.beats(m) {
			f.members[i], f.members[i/2] = f.members[i/2], f.members[i]
			return true
		}
	}
	return false
}

// has says whether an earlier combination has the same marks.
func (f *front) has(m *Marks, index int) bool {
	return slices.ContainsFunc(f.members, func(x member) bool { return x.marks == *m && x.index < index })
}

// add takes a combination in and drops those that it beats or replaces.
func (f *front) add(x member) {
	if f.beaten(&x.marks) || f.has(&x.marks, x.index) {
		return
	}
	f.members = slices.DeleteFunc(f.members, func(o member) bool { return o.marks == x.marks || x.marks.beats(&o.marks) })
	f.members = append(f.members, x)
}

// sorted gives the members in the order of the enumeration.
func (f *front) sorted() []member {
	slices.SortFunc(f.members, func(a, b member) int { return cmp.Compare(a.index, b.index) })
	return f.members
}
