package analysis

import (
	"cmp"
	"math"
	"slices"
)

// decisive is the share of a fact by which an input must move it to decide its
// mark of evidence.
const decisive = 0.05

// negligible is the least spread of a fact that is worth a driver, in the SI
// unit of the fact; all facts are far above it when they matter. The smallest
// are permeances: a thousandth of a perm is 6E−14 kg/(s·m²·Pa).
const negligible = 1e-15

// survey is a set of facts that one computation gives, with what it was
// computed from.
type survey struct {
	*model
	estimates []Estimate // by the order of the values
	values    []float64  // of the best case
	run       func(shift []position) ([]float64, error)
}

// drive moves one variable at a time to the ends of its range (or by a tenth,
// where it has none) and records what moves each fact.
func (s *survey) drive(moves func(*variable) bool) error {
	shift := make([]position, len(s.variables))
	for v := range s.variables {
		if !moves(&s.variables[v]) {
			continue
		}
		shift[v] = nudgedLow
		low, err := s.run(shift)
		if err != nil {
			return err
		}
		low = slices.Clone(low)
		shift[v] = nudgedHigh
		high, err := s.run(shift)
		if err != nil {
			return err
		}
		shift[v] = best
		for i := range s.estimates {
			s.note(i, v, low[i], high[i], s.values[i])
		}
	}
	s.sort()
	return nil
}

// note records that a variable moves a fact between two values, from a third.
func (s *survey) note(fact, variable int, a, b, from float64) {
	e, v := &s.estimates[fact], &s.variables[variable]
	switch moved := max(math.Abs(a-from), math.Abs(b-from)); {
	case moved > decisive*math.Abs(from) && moved > negligible:
		e.Evidence = e.Evidence.Weaker(v.mark)
		d := Driver{Input: v.input, Low: min(a, b), High: max(a, b), Alone: from == s.values[fact], Falls: a > b}
		if v.reads != nil {
			tightest, openest := v.reads(tight), v.reads(open)
			d.From, d.To = min(tightest, openest), max(tightest, openest)
			d.Falls = d.Falls != (tightest > openest)
		}
		e.Drivers = append(e.Drivers, d)
	case weak(v.mark):
		e.Minor++
	}
}

// sort puts the strongest drivers first.
func (s *survey) sort() {
	for i := range s.estimates {
		slices.SortStableFunc(s.estimates[i].Drivers, func(a, b Driver) int {
			return cmp.Compare(b.High-b.Low, a.High-a.Low)
		})
	}
}

// marks says which variables decide the facts of a variant, for the marks of
// variants that differ from it in a doubt only.
type marks struct {
	known   map[origin]bool
	decides []map[origin]bool // by fact
}

// origin names a variable.
type origin struct{ material, property string }

func (v *variable) origin() origin { return origin{v.input.Material, v.input.Property} }

// decide finds what moves the facts.
func (s *survey) decide(corners []atCorner) (*marks, error) {
	if err := s.drive((*variable).decides); err != nil {
		return nil, err
	}
	if err := s.attribute(corners); err != nil {
		return nil, err
	}
	return s.marks(), nil
}

// marks notes what was found.
func (s *survey) marks() *marks {
	m := &marks{known: make(map[origin]bool)}
	for i := range s.variables {
		m.known[s.variables[i].origin()] = true
	}
	for _, e := range s.estimates {
		decides := make(map[origin]bool)
		for _, d := range e.Drivers {
			decides[origin{d.Input.Material, d.Input.Property}] = true
		}
		m.decides = append(m.decides, decides)
	}
	return m
}

// borrow gives the estimates the marks of those variables that decide in another
// variant, and moves only those that it does not have.
func (s *survey) borrow(from *marks) error {
	for i := range s.estimates {
		e := &s.estimates[i]
		for v := range s.variables {
			switch x := &s.variables[v]; {
			case !from.known[x.origin()]:
			case from.decides[i][x.origin()]:
				e.Evidence = e.Evidence.Weaker(x.mark)
			case weak(x.mark) && x.decides():
				e.Minor++
			}
		}
	}
	return s.drive(func(v *variable) bool { return v.decides() && !from.known[v.origin()] })
}
