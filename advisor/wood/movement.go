package wood

import "math"

// The coefficients of movement hold between these moisture contents (Wood
// Handbook FPL-GTR-282, ch. 13).
const (
	MovementLowest  = 0.06
	MovementHighest = 0.14
)

// Movement returns the change of width in m of a board whose moisture content
// goes from one value to another; negative when it shrinks (Wood Handbook
// FPL-GTR-282, ch. 13). Width is that at the first content, in m. Coefficient is
// relative change per kg/kg, which is 100 times the printed change per percent:
// the tangential one for flat-sawn boards, the radial one for quarter-sawn. It is
// meant for the contents that [InMovementRange] accepts; outside them use
// [MovementFromShrinkage].
func Movement(width, coefficient, from, to float64) float64 {
	return width * coefficient * (to - from)
}

// InMovementRange reports whether the coefficients of movement hold from one
// moisture content to the other: both within 6 to 14 %.
func InMovementRange(from, to float64) bool {
	return min(from, to) >= MovementLowest && max(from, to) <= MovementHighest
}

// MovementFromShrinkage returns the change of width in m of a board whose
// moisture content goes from one value to another, from the radial or tangential
// shrinkage of the species, with shrinkage linear below fiber saturation and none
// above it (Wood Handbook ch. 13, recalled; it follows from the linear law). It
// holds for any contents. It is NaN unless 0 ≤ shrinkage < 1, fiberSaturation > 0
// and the contents are ≥ 0.
func MovementFromShrinkage(width, shrinkage, fiberSaturation, from, to float64) float64 {
	if !(shrinkage >= 0 && shrinkage < 1 && fiberSaturation > 0 && from >= 0 && to >= 0) {
		return math.NaN()
	}
	before := 1 - shrinkage*shrunk(from, fiberSaturation)
	after := 1 - shrinkage*shrunk(to, fiberSaturation)
	return width * (after/before - 1)
}

// Coefficient returns the coefficient of movement per kg/kg of a species from its
// radial or tangential shrinkage: 1/(FS/S − FS + 0.10), the slope of linear
// shrinkage relative to the width at 10 %. It reproduces the coefficients printed
// in the Wood Handbook within 1E−5 per percent. It is NaN unless
// 0 < shrinkage < 1 and fiberSaturation > 0.10.
func Coefficient(shrinkage, fiberSaturation float64) float64 {
	const middle = 0.10
	if !(shrinkage > 0 && shrinkage < 1 && fiberSaturation > middle) {
		return math.NaN()
	}
	return 1 / (fiberSaturation/shrinkage - fiberSaturation + middle)
}

// Season is how a board moves over a year, in m, each 0 or more.
type Season struct {
	// Gap is what it loses from the width at which it was laid when driest: the gap
	// that opens beside it.
	Gap float64
	// Swell is what it gains when wettest: the room it needs.
	Swell float64
	// Total is the movement between the driest and the wettest state.
	Total float64
	// InRange is whether the coefficient holds for all three moisture contents.
	InRange bool
}

// SeasonalMovement returns the movement of a board of that width in m and
// coefficient, see [Movement], laid at one moisture content and going down to low
// and up to high over the year. Laid below low it only swells, laid above high it
// only shrinks. All is NaN for low > high.
func SeasonalMovement(width, coefficient, laid, low, high float64) Season {
	if !(low <= high) {
		return Season{Gap: math.NaN(), Swell: math.NaN(), Total: math.NaN()}
	}
	return Season{
		Gap:     max(0, -Movement(width, coefficient, laid, low)),
		Swell:   max(0, Movement(width, coefficient, laid, high)),
		Total:   Movement(width, coefficient, low, high),
		InRange: InMovementRange(low, high) && InMovementRange(laid, laid),
	}
}
