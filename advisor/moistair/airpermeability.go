package moistair

import "math"

// AirPermeabilityISO13788 is the constant vapor permeability of still air of
// ISO 13788 in kg/(m·s·Pa) (recalled).
const AirPermeabilityISO13788 = 2.0e-10

// AirPermeability returns the vapor permeability of still air in kg/(m·s·Pa)
// at t in °C and the total pressure in Pa: 2.0E−7·T^0.81/P with T in K (DIN
// 52615, used by EN 15026). It is NaN at or below −273.15 °C and unless
// pressure > 0; it is meant for the temperatures of buildings.
func AirPermeability(t, pressure float64) float64 {
	if !(t > -ZeroCelsius && pressure > 0) {
		return math.NaN()
	}
	return 2.0e-7 * math.Pow(t+ZeroCelsius, 0.81) / pressure
}

// AirPermeabilitySchirmer returns the vapor permeability of still air in
// kg/(m·s·Pa) at t in °C and the total pressure in Pa, by Schirmer's equation
// as in ISO 12572 (recalled): 2.306E−5·(p0/P)·(T/273.15)^1.81/(R_v·T) with T in
// K. It is 1.5 % below [AirPermeability]. It is NaN at or below −273.15 °C and
// unless pressure > 0.
func AirPermeabilitySchirmer(t, pressure float64) float64 {
	if !(t > -ZeroCelsius && pressure > 0) {
		return math.NaN()
	}
	k := t + ZeroCelsius
	return 2.306e-5 * (StandardPressure / pressure) * math.Pow(k/ZeroCelsius, 1.81) /
		(GasConstantWaterVapor * k)
}
