// Package mold owns the biology of damp surfaces: the mold index of a face, hour
// by hour, with the four sensitivity classes of materials, and the decay of pine
// sapwood.
//
// The index is the Finnish model: Hukka and Viitanen 1999 (Wood Science and
// Technology 33, 475–485) for pine and spruce, Ojanen et al. 2010 and Viitanen et
// al. 2010 (Journal of Building Physics 33, 201–224) for the classes, in the form
// printed by Vereecken and Roels 2012 (Building and Environment 51, 296–310).
// Zero is a clean face, 1 the first growth under the microscope, 3 the first
// growth that the eye sees, 6 a surface covered.
//
// Conventions: steps of one hour and no other, because a longer step averages
// damp and dry spells away or into growth; spruce and kiln-dried surface terms
// zero (W = SQ = 0) for the classes; a decline of a tenth of that of pine unless
// a material has a documented one; at an interface the rate of the more sensitive
// face and the ceiling of the face examined. Departing from the printed form, the
// critical humidity of a class also holds below 20 °C, where the print falls back
// to the curve of pine for all classes; the review calls that too low for the two
// resistant classes, and only for them does it matter.
//
// What the model does not know. It was fitted to wood in humid air at constant
// conditions, without finishes, coatings or dirt, and its decline was not tested
// below 0 °C nor over more than two weeks. Parameters fitted to another material
// (Berger et al. 2018, arXiv 1804.02992) fell outside every class and their
// authors call the formulation unreliable. It does not cover material wetted with
// liquid: soaked gypsum board was seen to carry colonies after two to three days
// at any room humidity (Horner, Morey and Ligman 2004). A low index is therefore
// no promise of a number of days without mold.
//
// ASHRAE Standard 160 is recalled to use the same equations, a limit of 3 everywhere
// and a term W = 1 for some classes. Which ones could not be settled, so its form is
// not offered: W = 1 only makes growth 15 % slower, and the index here, with W = 0,
// errs toward more.
package mold

import "math"

// Limits of the mold index.
const (
	// LimitRoom is the highest index accepted on a face toward a room or where air
	// reaches the room: growth begins, seen only under the microscope.
	LimitRoom = 1.0
	// LimitCavity is the highest index accepted inside an assembly: growth that the
	// eye begins to see.
	LimitCavity = 3.0
)

// State is the mold index of one face in an hourly run. The zero value is a clean
// face. It holds no pointer and advancing it allocates nothing.
type State struct {
	index, peak float64
	dry         int // hours since the last hour that favored growth
}

// Index returns the mold index, 0 to 6.
func (s *State) Index() float64 { return s.index }

// Peak returns the highest index reached so far.
func (s *State) Peak() float64 { return s.peak }

// Advance carries the state over one hour at the surface temperature t in °C and
// the relative humidity rh at the surface, a fraction over liquid water; above 1
// it counts as 1. An hour outside 0 to 50 °C or below the critical humidity
// counts as unfavorable. A NaN makes the index NaN from then on: counting a gap
// as dry would hide growth.
func (s *State) Advance(m *Model, t, rh float64) {
	rh *= 100
	if rh > 100 {
		rh = 100
	}
	switch {
	case math.IsNaN(t) || math.IsNaN(rh):
		s.index += t + rh
		s.peak = s.index
	case m.favors(t, rh):
		s.dry = 0
		s.index += m.growth(s.index, t, rh)
		s.peak = max(s.peak, s.index)
	default:
		s.dry++
		s.index = max(0, s.index-m.decline*pineDecline(s.dry))
	}
}

// pineDecline returns the fall of the index of pine in one hour, when it is the
// n-th hour since growth stopped (Hukka and Viitanen 1999, eq. 13 in Vereecken
// and Roels 2012).
func pineDecline(n int) float64 {
	switch {
	case n <= 6:
		return 0.00133
	case n <= 24:
		return 0
	default:
		return 0.000667
	}
}
