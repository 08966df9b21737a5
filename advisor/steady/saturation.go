package steady

import "relath/advisor/moistair"

// Saturation is the formula of saturation pressure at the planes of an
// assembly. Both refer to ice below 0 °C.
type Saturation uint8

// The saturation formulas.
const (
	// ASHRAE is that of the ASHRAE Handbook—Fundamentals 2021, ch. 1, eq. 5 and
	// 6, the default.
	ASHRAE Saturation = iota
	// ISO13788 is that of ISO 13788, for the standard's own cases.
	ISO13788
	saturations = int(iota)
)

// pressure returns the saturation pressure in Pa at t in °C.
func (s Saturation) pressure(t float64) float64 {
	if s == ISO13788 {
		return moistair.SaturationPressureISO(t)
	}
	return moistair.SaturationPressure(t)
}

// dewPoint returns the inverse of pressure.
func (s Saturation) dewPoint(p float64) float64 {
	if s == ISO13788 {
		return moistair.DewPointISO(p)
	}
	return moistair.DewPoint(p)
}

// branch returns the temperature in °C at which the formula passes from ice to
// water and its slope jumps.
func (s Saturation) branch() float64 {
	if s == ISO13788 {
		return 0
	}
	return moistair.TriplePoint
}

// saturationTable holds a formula as one cubic per interval, through four
// points of the formula. It follows the formula within 7E−9 of its value above
// −40 °C and 3E−8 down to MinTemperature, and takes a fraction of its time, of
// which a monthly year would otherwise spend half.
type saturationTable struct {
	low    float64      // temperature at the start of the first interval, °C
	cubics [][4]float64 // of the place in the interval, 0 to 1
}

const tableStep = 0.5 // K

// newSaturationTable tabulates the formula with its branch between two
// intervals.
func newSaturationTable(s Saturation) saturationTable {
	const below, above = 182, 202 // intervals on either side of the branch
	table := saturationTable{low: s.branch() - below*tableStep}
	for i := -below; i < above; i++ {
		t := s.branch() + float64(i)*tableStep
		table.cubics = append(table.cubics, cubic(
			s.pressure(t), s.pressure(t+tableStep/3), s.pressure(t+2*tableStep/3), s.pressure(t+tableStep)))
	}
	return table
}

// cubic returns the coefficients of the cubic through the values at 0, 1/3, 2/3
// and 1.
func cubic(a, b, c, d float64) [4]float64 {
	return [4]float64{
		a,
		(-11*a + 18*b - 9*c + 2*d) / 2,
		9 * (2*a - 5*b + 4*c - d) / 2,
		9 * (-a + 3*b - 3*c + d) / 2,
	}
}

// pressure returns the saturation pressure in Pa at t in °C, which must lie
// between MinTemperature and MaxTemperature.
func (table *saturationTable) pressure(t float64) float64 {
	x := (t - table.low) / tableStep
	i := int(x)
	x -= float64(i)
	c := &table.cubics[i]
	return c[0] + x*(c[1]+x*(c[2]+x*c[3]))
}
