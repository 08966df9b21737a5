package swap

import (
	"math"
	"slices"

	"relath/advisor/analysis"
	"relath/kb/quantity"
)

// The ends of what is searched: vapor permeances of a foil and of nothing at
// all, kg/(s·m²·Pa), and thermal resistance as a multiple of what is planned.
const (
	foil       = 5e-13
	bare       = 3e-8
	leastShare = 0.1
	mostShare  = 4
)

// side is one end of one property of a held layer.
type side struct {
	limit     int
	bound     *Bound
	edge      *Edge
	sign      int // −1 for the low end
	dimension quantity.Dimension
	heat      heatPoint                              // where it shows
	usual     float64                                // end of the range of the base
	last      float64                                // end of what is searched
	at        func(*analysis.Held) []*quantity.Range // what moves
}

// search widens all sides in three rounds, and then those that can go on now
// that the others have moved.
func (l *limiter) search() error {
	sides := l.sides()
	for round := range 3 {
		if round == 0 && l.wide {
			continue
		}
		if _, err := l.stage(sides, func() (bool, error) { return true, l.round(sides, round) }); err != nil {
			return err
		}
	}
	const most = 3
	for range most {
		moved, err := l.stage(sides, func() (bool, error) { return l.again(sides) })
		if !moved || err != nil {
			return err
		}
	}
	return nil
}

// stage does a part of the search by rough runs and confirms its end; where that
// fails it is done anew, confirmed at each step.
func (l *limiter) stage(sides []side, do func() (bool, error)) (bool, error) {
	box, edges := slices.Clone(l.box), make([]Edge, len(sides))
	for i := range sides {
		edges[i] = *sides[i].edge
	}
	l.sure = false
	moved, err := do()
	if !moved || err != nil {
		return moved, err
	}
	fine, err := l.confirmed(l.box)
	if fine || err != nil {
		return moved, err
	}
	l.box, l.sure = box, true
	for i := range sides {
		*sides[i].edge = edges[i]
	}
	return do()
}

// round widens every side that has no limit yet.
func (l *limiter) round(sides []side, round int) error {
	for i := range sides {
		s := &sides[i]
		if s.edge.Set {
			continue
		}
		if err := l.widen(s, s.goal(round)); err != nil {
			return err
		}
	}
	return nil
}

// again widens the sides whose next number passes now that the others have
// moved, and says whether there was one.
func (l *limiter) again(sides []side) (bool, error) {
	moved := false
	for i := range sides {
		s := &sides[i]
		if !s.edge.Set {
			continue
		}
		passes, err := l.passes(l.with(s, s.edge.Past), s.heat)
		if err != nil {
			return false, err
		}
		if !passes {
			continue
		}
		moved = true
		*s.edge = Edge{}
		if err := l.widen(s, s.last); err != nil {
			return false, err
		}
	}
	return moved, nil
}

// goal is how far a side may go in a round.
func (s *side) goal(round int) float64 {
	const farther = 2
	switch {
	case round == 0:
		return s.usual
	case round == 1 && s.sign < 0:
		return max(s.last, s.usual/farther)
	case round == 1:
		return min(s.last, s.usual*farther)
	}
	return s.last
}

// sides lists the ends to be searched: permeances of the tightest layer first,
// then thermal resistances.
func (l *limiter) sides() []side {
	var vapor, heat []side
	for _, i := range l.order() {
		x := &l.limits[i]
		if x.Withheld != "" {
			continue
		}
		dry := func(h *analysis.Held) []*quantity.Range { return []*quantity.Range{&h.Dry} }
		wet := func(h *analysis.Held) []*quantity.Range { return []*quantity.Range{&h.Wet} }
		if !x.Wet.Asked {
			dry = func(h *analysis.Held) []*quantity.Range { return []*quantity.Range{&h.Dry, &h.Wet} }
		}
		vapor = append(vapor, l.pair(side{limit: i, bound: &x.Dry, dimension: quantity.Permeance, at: dry}, foil, bare)...)
		vapor = append(vapor, l.pair(side{limit: i, bound: &x.Wet, dimension: quantity.Permeance, at: wet}, foil, bare)...)
		heat = append(heat, l.pair(side{limit: i, bound: &x.Resistance, dimension: quantity.ThermalResistance, at: func(h *analysis.Held) []*quantity.Range {
			return []*quantity.Range{&h.Resistance}
		}}, leastShare*x.Resistance.Best, mostShare*x.Resistance.Best)...)
	}
	return append(vapor, heat...)
}

// pair gives both ends of a property, none where it has no limit.
func (l *limiter) pair(s side, least, most float64) []side {
	if !s.bound.Asked {
		return nil
	}
	usual := s.at(&l.usual[s.limit])[0]
	low, high := s, s
	low.edge, low.sign, low.usual, low.last = &s.bound.Low, -1, usual.Low*s.bound.Best, least
	high.edge, high.sign, high.usual, high.last = &s.bound.High, 1, usual.High*s.bound.Best, most
	if s.dimension == quantity.ThermalResistance {
		low.heat, high.heat = atLeast, atMost
	}
	return []side{low, high}
}

// with gives the box with the side at a value.
func (l *limiter) with(s *side, value float64) []analysis.Held {
	box := slices.Clone(l.box)
	s.put(&box[s.limit], value)
	return box
}

func (s *side) put(h *analysis.Held, value float64) {
	for _, r := range s.at(h) {
		if s.sign < 0 {
			r.Low = value / s.bound.Best
		} else {
			r.High = value / s.bound.Best
		}
	}
}

// widen moves a side to a goal, or to the last number of few digits on the way
// with which all checks pass, which then is its limit.
func (l *limiter) widen(s *side, goal float64) error {
	passes, err := l.passes(l.with(s, goal), s.heat)
	if err != nil {
		return err
	}
	if passes {
		s.put(&l.box[s.limit], goal)
		s.edge.At = goal
		return nil
	}
	*s.edge = Edge{Set: true, At: s.bound.Best, Past: goal, Breaks: slices.Clone(l.broke)}
	const fewest, most = 2, 3
	for digits := fewest; digits <= most; digits++ {
		found, err := l.bisect(s, newScale(s.bound.Best, s.dimension, l.tester.System, digits), goal)
		if err != nil {
			return err
		}
		if found {
			break
		}
	}
	s.put(&l.box[s.limit], s.edge.At)
	return nil
}

// stands gives where a side is now.
func (l *limiter) stands(s *side) float64 {
	r := s.at(&l.box[s.limit])[0]
	if s.sign < 0 {
		return r.Low * s.bound.Best
	}
	return r.High * s.bound.Best
}

// bisect finds the last number of a scale that passes on the way to a goal that
// does not; it is false where none does. What has to be confirmed is first looked
// for by single runs: no number past what they find passes.
func (l *limiter) bisect(s *side, on scale, goal float64) (bool, error) {
	from := l.stands(s)
	start, bad := on.within(from, s.sign), on.within(goal, s.sign)
	if from == s.bound.Best {
		if passes, err := l.passes(l.with(s, on.at(start)), s.heat); !passes || err != nil {
			return false, err
		}
	} else {
		start = on.within(from, -s.sign) // within what passes already
	}
	heat, rough := s.heat, true
	for {
		good, past, err := l.halve(s, on, start, bad, func(box []analysis.Held) (bool, error) { return l.fine(box, heat, rough) })
		if err != nil {
			return false, err
		}
		fine := true
		if l.sure && good != start {
			if fine, err = l.confirmed(l.with(s, on.at(good))); err != nil {
				return false, err
			}
		}
		if fine {
			s.edge.At, s.edge.Past = on.at(good), on.at(past)
			return true, nil
		}
		s.edge.Breaks = slices.Clone(l.broke)
		bad, heat, rough = good, l.point, false
	}
}

// halve moves a number that passes and one that does not toward each other until
// nothing lies between.
func (l *limiter) halve(s *side, on scale, good, bad int, passes func([]analysis.Held) (bool, error)) (int, int, error) {
	for good != bad && good+s.sign != bad {
		middle := good + (bad-good)/2
		fine, err := passes(l.with(s, on.at(middle)))
		if err != nil {
			return 0, 0, err
		}
		if fine {
			good = middle
		} else {
			bad, s.edge.Breaks = middle, slices.Clone(l.broke)
		}
	}
	return good, bad, nil
}

// scale lists the numbers of so many digits in the units of a system, rising.
type scale struct {
	unit  float64 // SI of one unit
	count int     // numbers in a decade
}

// newScale makes the scale of a quantity.
func newScale(best float64, d quantity.Dimension, system quantity.System, digits int) scale {
	shown, _ := quantity.Display(best, d, system)
	return scale{unit: best / shown, count: 9 * int(math.Pow10(digits-1))}
}

// at gives a number of the scale in SI.
func (s scale) at(k int) float64 {
	decade := int(math.Floor(float64(k) / float64(s.count)))
	first := s.count / 9
	mantissa := float64(first + k - decade*s.count)
	return s.unit * mantissa * math.Pow(10, float64(decade)) / float64(first)
}

// index gives the last number of the scale that is not above a value.
func (s scale) index(v float64) int {
	const slack = 1e-9
	x := v / s.unit * (1 + slack)
	decade := int(math.Floor(math.Log10(x)))
	first := s.count / 9
	mantissa := int(math.Floor(x / math.Pow(10, float64(decade)) * float64(first)))
	return decade*s.count + min(max(mantissa, first), 10*first-1) - first
}

// within gives the number next to a value toward a side, the value itself where
// it is one.
func (s scale) within(v float64, sign int) int {
	k := s.index(v)
	const slack = 1e-9
	if sign > 0 && s.at(k) < v*(1-slack) {
		k++
	}
	return k
}
