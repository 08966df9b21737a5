package analysis

import (
	"relath/advisor/steady"
	"relath/kb/quantity"
)

// search widens the range of the one fact that no corner brackets: the highest
// humidity at a food face may be that of any face in any month, and does not
// rise or fall with a layer as a whole. From the corner at either end each vapor
// variable in turn is put to the ends and the best value of its range, and stays
// where that moves the fact furthest.
func (s *survey) search(ends []corner, corners []atCorner) error {
	e := &s.estimates[planeHumidity]
	const spread = 1e-3
	if e.Range.High-e.Range.Low < spread {
		return nil
	}
	for _, sign := range []float64{-1, 1} {
		if s.asked.settled(endOf(e.Range, sign), sign) {
			continue
		}
		at := 0
		for i := range ends {
			if sign*(corners[i].outcome[planeHumidity]-corners[at].outcome[planeHumidity]) > 0 {
				at = i
			}
		}
		found, err := s.climb(s.shiftOf(ends[at]), sign)
		if err != nil {
			return err
		}
		widen(&e.Range, found, false)
	}
	return nil
}

// endOf is the end of a range on a side.
func endOf(r quantity.Range, sign float64) float64 {
	if sign < 0 {
		return r.Low
	}
	return r.High
}

// climb moves one variable at a time as far as it raises the humidity, with the
// sign −1 as far as it lowers it, and gives the humidity reached.
func (s *survey) climb(shift []position, sign float64) (float64, error) {
	h, err := s.foodHumidity(s.compileShifted(shift))
	if err != nil {
		return 0, err
	}
	most := sign * h
	for v := range s.variables {
		if s.variables[v].kind != ofVapor {
			continue
		}
		if s.asked.settled(sign*most, sign) {
			break
		}
		stay := shift[v]
		now := s.compileShifted(shift).Clone()
		for _, end := range []position{tight, best, open} {
			shift[v] = end
			in := s.compileShifted(shift)
			if in.Equal(now) {
				continue
			}
			h, err := s.foodHumidity(in)
			if err != nil {
				return 0, err
			}
			if sign*h > most {
				most, stay = sign*h, end
			}
		}
		shift[v] = stay
	}
	return sign * most, nil
}

// shiftOf gives the positions of a corner by variable: that of the first element
// which uses it.
func (m *model) shiftOf(at corner) []position {
	shift := make([]position, len(m.variables))
	seen := make([]bool, len(m.variables))
	for i := range m.elements {
		for _, v := range m.elements[i].vaporVariables() {
			if !seen[v] {
				shift[v], seen[v] = at(i), true
			}
		}
	}
	return shift
}

// foodHumidity gives the highest humidity at a food face.
func (m *model) foodHumidity(in *steady.Input) (float64, error) {
	var o outcome
	year, err := m.workspace.Year(in)
	if err != nil {
		return 0, err
	}
	m.readYear(year, in, &o, nil)
	err = m.readFood(in, &o)
	return o[planeHumidity], err
}
