// Package moistair holds the psychrometrics of moist air: saturation pressure
// and its inverse, the dew point, over ice and over liquid water; humidity
// ratio, enthalpy, specific volume, wet bulb; and the vapor permeability of
// still air.
//
// All quantities are SI: temperatures in °C, pressures in Pa, humidity ratios
// in kg of vapor per kg of dry air, enthalpies in J per kg of dry air.
//
// The default saturation formula is that of the ASHRAE Handbook—Fundamentals
// 2021, ch. 1; the formula of ISO 13788 serves that standard's own method.
//
// Outside the range that a function states, and for NaN, the result is NaN.
// Nothing panics.
package moistair

import "math"

// Constants of water, vapor and air.
const (
	// ZeroCelsius is 0 °C in K.
	ZeroCelsius = 273.15
	// TriplePoint is the temperature in °C at which the saturation pressure
	// passes from ice to liquid water.
	TriplePoint = 0.01
	// StandardPressure is the pressure of the standard atmosphere at sea level
	// in Pa (ASHRAE Handbook—Fundamentals 2021, ch. 1).
	StandardPressure = 101325.0
	// GasConstantWaterVapor is in J/(kg·K).
	GasConstantWaterVapor = 461.5
	// GasConstantDryAir is in J/(kg·K) (ASHRAE Handbook—Fundamentals 2021, ch. 1).
	GasConstantDryAir = 287.042
	// MolarMassRatio is the molar mass of water over that of dry air
	// (ASHRAE Handbook—Fundamentals 2021, ch. 1).
	MolarMassRatio = 0.621945
	// HeatCapacityDryAir is in J/(kg·K), at constant pressure.
	HeatCapacityDryAir = 1006.0
	// HeatCapacityVapor is in J/(kg·K), at constant pressure.
	HeatCapacityVapor = 1860.0
	// HeatCapacityWater is in J/(kg·K), liquid.
	HeatCapacityWater = 4187.0
	// HeatCapacityIce is in J/(kg·K), near 0 °C.
	HeatCapacityIce = 2100.0
	// HeatOfFusion is in J/kg, at 0 °C.
	HeatOfFusion = 3.334e5
)

// LatentHeatVaporization returns the heat of vaporization of liquid water in
// J/kg at t in °C: 2.50E6 − 2.4E3·t. It fits the steam table of the ASHRAE
// Handbook—Fundamentals 2021, ch. 1, within 0.1 % from 0 to 40 °C; any t is
// answered.
func LatentHeatVaporization(t float64) float64 {
	return 2.50e6 - 2.4e3*t
}

// HumidityRatio returns the kg of vapor per kg of dry air at the vapor
// pressure p and the total pressure, both in Pa (ASHRAE
// Handbook—Fundamentals 2021, ch. 1, perfect gas). It is NaN unless
// 0 ≤ p < pressure.
func HumidityRatio(p, pressure float64) float64 {
	if !(p >= 0 && p < pressure) {
		return math.NaN()
	}
	return MolarMassRatio * p / (pressure - p)
}

// VaporPressureFromHumidityRatio returns the vapor pressure in Pa at the
// humidity ratio w and the total pressure in Pa; the inverse of
// [HumidityRatio]. It is NaN unless w ≥ 0 and pressure > 0.
func VaporPressureFromHumidityRatio(w, pressure float64) float64 {
	if !(w >= 0 && pressure > 0) {
		return math.NaN()
	}
	return pressure * w / (MolarMassRatio + w)
}

// VaporConcentration returns the kg of vapor per m³ of air at t in °C and the
// vapor pressure p in Pa, from the perfect gas law. It is NaN at or below
// −273.15 °C.
func VaporConcentration(t, p float64) float64 {
	if !(t > -ZeroCelsius) {
		return math.NaN()
	}
	return p / (GasConstantWaterVapor * (t + ZeroCelsius))
}

// Enthalpy returns the enthalpy of moist air in J per kg of dry air at t in °C
// and the humidity ratio w, zero for dry air at 0 °C: 1.006t + w(2501 + 1.86t)
// in kJ/kg (ASHRAE Handbook—Fundamentals 2021, ch. 1). Any t and w are
// answered.
func Enthalpy(t, w float64) float64 {
	return HeatCapacityDryAir*t + w*(2.501e6+HeatCapacityVapor*t)
}

// SpecificVolume returns the m³ of moist air per kg of dry air at t in °C, the
// humidity ratio w and the total pressure in Pa (ASHRAE
// Handbook—Fundamentals 2021, ch. 1). It is NaN at or below −273.15 °C, and
// unless w ≥ 0 and pressure > 0.
func SpecificVolume(t, w, pressure float64) float64 {
	if !(t > -ZeroCelsius && w >= 0 && pressure > 0) {
		return math.NaN()
	}
	return GasConstantDryAir * (t + ZeroCelsius) * (1 + 1.607858*w) / pressure
}
