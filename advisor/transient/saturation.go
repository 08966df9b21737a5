package transient

import (
	"fmt"
	"math"
)

const (
	lowestCelsius  = -60
	highestCelsius = 120
)

// saturation holds the saturation pressure as one cubic per kelvin, each through
// four values, so that a bend at 0 °C falls between two of them. Its error is below
// 1E−6 of the pressure, between 0 and 1 °C below 1E−4 because the formula of ASHRAE
// bends at the triple point.
type saturation struct {
	cubics [highestCelsius - lowestCelsius][4]float64
}

func newSaturation(pressure func(celsius float64) float64) (*saturation, error) {
	s := new(saturation)
	for i := range s.cubics {
		var y [4]float64
		for k := range y {
			t := lowestCelsius + float64(i) + float64(k)/3
			y[k] = pressure(t)
			if !(y[k] > 0) || math.IsInf(y[k], 1) {
				return nil, fmt.Errorf("saturation pressure %g Pa at %g °C", y[k], t)
			}
		}
		s.cubics[i] = throughThirds(y)
	}
	return s, nil
}

// throughThirds returns the coefficients of the cubic with the values y at 0, 1/3,
// 2/3 and 1.
func throughThirds(y [4]float64) [4]float64 {
	return [4]float64{
		y[0],
		(-11*y[0] + 18*y[1] - 9*y[2] + 2*y[3]) / 2,
		9 * (2*y[0] - 5*y[1] + 4*y[2] - y[3]) / 2,
		9 * (-y[0] + 3*y[1] - 3*y[2] + y[3]) / 2,
	}
}

// at returns the saturation pressure in Pa and its slope in Pa/K. Outside of the
// table it continues with the value of its end.
func (s *saturation) at(celsius float64) (pressure, slope float64) {
	u := celsius - lowestCelsius
	u = max(0, min(u, highestCelsius-lowestCelsius-1e-9))
	i := int(u)
	u -= float64(i)
	c := &s.cubics[i]
	return c[0] + u*(c[1]+u*(c[2]+u*c[3])), c[1] + u*(2*c[2]+3*u*c[3])
}
