// Package quantity owns units: what a builder or an engineer writes ("5-1/2 in", "0.7 perm", "R-13", "35 %") becomes
// one number in SI, and a number in SI becomes text again. It is the only place where inch-pound units exist.
//
// A quantity is always read for a [Dimension], so a pressure written where a length belongs is refused with the
// units that are allowed. Values are in the SI unit that [Dimension.Unit] names; a temperature is in °C, a ratio is a
// fraction (35 % is 0.35), a time is in seconds, and an air change rate is per second.
//
//	d, err := quantity.Parse("7/16 in", quantity.Length)      // 0.0111125 m
//	m, err := quantity.Parse("0.7 perm", quantity.Permeance)  // 4.0049e-11 kg/(s m2 Pa)
//	quantity.Format(d, quantity.Length, quantity.InchPound)   // 7/16 in
//
// It imports nothing of the project, knows no material and no property, and holds no state.
package quantity

import "fmt"

// System is the set of units in which values are shown.
type System int

const (
	// InchPound shows inches, perms and degrees Fahrenheit.
	InchPound System = iota
	// SI shows millimeters, nanograms per second and degrees Celsius.
	SI
)

// ParseError says why a text is not a quantity of the wanted dimension.
type ParseError struct {
	Text    string // what was written
	Message string // what is wrong with it
	Hint    string // what is allowed, or what was probably meant
}

// Error gives the text, the message and the hint on one line.
func (e *ParseError) Error() string {
	s := fmt.Sprintf("%q: %s", e.Text, e.Message)
	if e.Hint != "" {
		s += "; " + e.Hint
	}
	return s
}
