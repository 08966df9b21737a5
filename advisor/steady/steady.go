// Package steady owns steady heat and vapor flow through an assembly: film and
// air-space resistances, the U-factor, temperature and vapor profiles, the
// monthly balance of condensation and evaporation, the drying capacity of a
// wet plane, surface temperatures, and insulation that keeps cold ducts and
// pipes dry.
//
// It is pure: no files, no clock, no knowledge base. All quantities are SI:
// temperatures in °C, pressures in Pa, thermal resistances in m²·K/W, vapor
// permeances in kg/(s·m²·Pa), vapor resistances in s·m²·Pa/kg, vapor flows in
// kg/(s·m²), water in kg/m², lengths in m. Assemblies run from the inside to
// the outside and a flow outward is positive.
//
// The moisture methods read an [Input], a flat description made once, and work
// in a [Workspace], which keeps its memory from call to call: after the first
// call nothing is allocated. They see diffusion only, with the air movement of
// a ventilated gap; no leakage of room air, no rain, no sun, no storage.
//
// Input that is not a number, negative or out of range is answered with an
// error that names it; no result is NaN.
package steady

import (
	"fmt"
	"math"
)

const secondsPerDay = 86400.0

// within returns an error that names the quantity unless low ≤ x ≤ high.
func within(name string, x, low, high float64) error {
	if x >= low && x <= high {
		return nil
	}
	return fmt.Errorf("%s is %g; allowed is %g to %g", name, x, low, high)
}

// positive returns an error that names the quantity unless x is finite and
// above zero.
func positive(name string, x float64) error {
	if x > 0 && !math.IsInf(x, 1) {
		return nil
	}
	return fmt.Errorf("%s is %g; it must be above 0 and finite", name, x)
}

// firstError returns the first error that is not nil.
func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
