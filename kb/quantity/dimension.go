package quantity

import "math"

// Dimension says what a quantity measures. It decides which units are allowed and within which limits.
type Dimension string

// The dimensions, each with the SI unit of its values.
const (
	Length                     Dimension = "length"                        // m
	Area                       Dimension = "area"                          // m2
	Volume                     Dimension = "volume"                        // m3
	Mass                       Dimension = "mass"                          // kg
	Duration                   Dimension = "duration"                      // s
	Velocity                   Dimension = "velocity"                      // m/s
	Angle                      Dimension = "angle"                         // rad
	Slope                      Dimension = "slope"                         // rise over run
	Temperature                Dimension = "temperature"                   // °C
	TemperatureDifference      Dimension = "temperature-difference"        // K
	DegreeTime                 Dimension = "degree-time"                   // K s
	Pressure                   Dimension = "pressure"                      // Pa
	Force                      Dimension = "force"                         // N
	Energy                     Dimension = "energy"                        // J
	Power                      Dimension = "power"                         // W
	HeatFlux                   Dimension = "heat-flux"                     // W/m2
	SpecificEnthalpy           Dimension = "specific-enthalpy"             // J/kg
	Airflow                    Dimension = "airflow"                       // m3/s
	AirPermeance               Dimension = "air-permeance"                 // m3/(s m2), at the test pressure of the source
	AirChange                  Dimension = "air-change"                    // 1/s
	AirTightness               Dimension = "air-tightness"                 // 1/s at a pressure difference of 50 Pa
	AirLeakage                 Dimension = "air-leakage"                   // m3/s at a pressure difference of 50 Pa
	Permeance                  Dimension = "permeance"                     // kg/(s m2 Pa)
	Permeability               Dimension = "permeability"                  // kg/(s m Pa)
	VaporResistance            Dimension = "vapor-resistance"              // s m2 Pa/kg
	VaporResistanceFactor      Dimension = "vapor-resistance-factor"       // 1
	EquivalentAirLayer         Dimension = "equivalent-air-layer"          // m
	VaporFlow                  Dimension = "vapor-flow"                    // kg/(s m2)
	ThermalResistance          Dimension = "thermal-resistance"            // m2 K/W
	ThermalResistancePerLength Dimension = "thermal-resistance-per-length" // m K/W
	Conductivity               Dimension = "conductivity"                  // W/(m K)
	UFactor                    Dimension = "u-factor"                      // W/(m2 K)
	Density                    Dimension = "density"                       // kg/m3
	AreaDensity                Dimension = "area-density"                  // kg/m2
	SpecificHeat               Dimension = "specific-heat"                 // J/(kg K)
	MoistureDensity            Dimension = "moisture-density"              // kg/m3
	AbsorptionCoefficient      Dimension = "absorption-coefficient"        // kg/(m2 s0.5)
	LiquidDiffusivity          Dimension = "liquid-diffusivity"            // m2/s
	BufferValue                Dimension = "buffer-value"                  // kg/m2 per unit of relative humidity
	ShrinkageCoefficient       Dimension = "shrinkage-coefficient"         // 1 per unit of moisture content
	Coverage                   Dimension = "coverage"                      // m2/m3
	Ratio                      Dimension = "ratio"                         // fraction, written with a unit
	Emittance                  Dimension = "emittance"                     // 0 to 1
	Number                     Dimension = "number"                        // plain number
	Count                      Dimension = "count"                         // plain whole number
)

// dimension is the definition of one Dimension.
type dimension struct {
	name     Dimension
	of       vector
	si       string    // unit of the values
	low, top float64   // limits in SI
	plain    bool      // a number without a unit is allowed
	percent  bool      // "%" is allowed for a dimensionless value
	show     [2]string // units of InchPound and SI; an empty one is chosen by size or form
	examples string    // how it is written
}

// absoluteZero in °C, exact by definition of the Celsius scale.
const absoluteZero = -273.15

// dimensions holds the definitions. The limits only keep slips of the pen and overflow out: each is well beyond
// what a house contains.
var dimensions = []dimension{
	{Length, vector{length: 2}, "m", 0, 1e6, false, false, [2]string{"", ""}, "3/4 in, 5-1/2 in, 19 mm, 6 mil or 2 ft 6 in"},
	{Area, vector{length: 4}, "m2", 0, 1e8, false, false, [2]string{"ft²", "m²"}, "310 ft2 or 28.8 m2"},
	{Volume, vector{length: 6}, "m3", 0, 1e9, false, false, [2]string{"ft³", "m³"}, "12 ft3, 0.3 m3, 5 gal or 18 L"},
	{Mass, vector{mass: 2}, "kg", 0, 1e9, false, false, [2]string{"lb", "kg"}, "12 lb, 3 oz or 5 kg"},
	{Duration, vector{time: 2}, "s", 0, 1e11, false, false, [2]string{"", ""}, "24 h, 7 days or 30 min"},
	{Velocity, vector{length: 2, time: -2}, "m/s", 0, 1e4, false, false, [2]string{"mph", "m/s"}, "15 mph or 6.7 m/s"},
	{Angle, vector{angle: 2}, "rad", -100, 100, false, false, [2]string{"°", "°"}, "30 deg or 0.5 rad"},
	{Slope, vector{}, "1", 0, 100, false, true, [2]string{"", ""}, "6/12, 1/4 in/ft, 26.6 deg or 2 %"},
	{Temperature, vector{temperature: 2}, "°C", absoluteZero, 5000, false, false, [2]string{"°F", "°C"}, "68 F, 20 C or 293.15 K"},
	{TemperatureDifference, vector{temperature: 2}, "K", -5000, 5000, false, false, [2]string{"°F", "K"}, "9 F or 5 K"},
	{DegreeTime, vector{temperature: 2, time: 2}, "K s", 0, 1e12, false, false, [2]string{"°F·day", "K·day"}, "6500 F day or 3600 K day"},
	{Pressure, vector{mass: 2, length: -2, time: -4}, "Pa", -1e12, 1e12, false, false, [2]string{"inHg", "Pa"}, "1200 Pa, 0.3 inHg, 15 psi or 0.2 inH2O"},
	{Force, vector{mass: 2, length: 2, time: -4}, "N", 0, 1e10, false, false, [2]string{"lbf", "N"}, "120 lbf or 530 N"},
	{Energy, vector{mass: 2, length: 4, time: -4}, "J", -1e18, 1e18, false, false, [2]string{"Btu", "kWh"}, "1000 Btu, 3 kWh or 5 MJ"},
	{Power, vector{mass: 2, length: 4, time: -6}, "W", -1e12, 1e12, false, false, [2]string{"Btu/h", "W"}, "1000 Btu/h or 300 W"},
	{HeatFlux, vector{mass: 2, time: -6}, "W/m2", -1e9, 1e9, false, false, [2]string{"Btu/(h·ft²)", "W/m²"}, "10 Btu/(h ft2), 30 W/m2 or 4 kWh/(m2 day)"},
	{SpecificEnthalpy, vector{length: 4, time: -4}, "J/kg", -1e12, 1e12, false, false, [2]string{"Btu/lb", "kJ/kg"}, "28 Btu/lb or 65 kJ/kg"},
	{Airflow, vector{length: 6, time: -2}, "m3/s", 0, 1e6, false, false, [2]string{"cfm", "L/s"}, "50 cfm or 24 L/s"},
	{AirPermeance, vector{length: 2, time: -2}, "m3/(s m2)", 0, 1e3, false, false, [2]string{"cfm/ft²", "L/(s·m²)"}, "0.004 cfm/ft2 or 0.02 L/(s m2)"},
	{AirChange, vector{time: -2}, "1/s", 0, 1e3, false, false, [2]string{"/h", "/h"}, "10 /h or 0.5 ACH"},
	{AirTightness, vector{time: -2, at50: 2}, "1/s at 50 Pa", 0, 1, false, false, [2]string{"ACH50", "ACH50"}, "7 ACH50"},
	{AirLeakage, vector{length: 6, time: -2, at50: 2}, "m3/s at 50 Pa", 0, 1e6, false, false, [2]string{"cfm50", "L/s50"}, "1500 cfm50"},
	{Permeance, vector{length: -2, time: 2}, "kg/(s m2 Pa)", 0, 1e3, false, false, [2]string{"perm", "ng/(Pa·s·m²)"}, "0.7 perm, 40 ng/(Pa s m2) or 0.5 metric perm"},
	{Permeability, vector{time: 2}, "kg/(s m Pa)", 0, 1e3, false, false, [2]string{"perm-in", "ng/(Pa·s·m)"}, "1.9 perm-in, 2.8 ng/(Pa s m) or 2.8e-12 kg/(s m Pa)"},
	{VaporResistance, vector{length: 2, time: -2}, "s m2 Pa/kg", 0, 1e20, false, false, [2]string{"1/perm", "GPa·s·m²/kg"}, "1.4 /perm or 25 GPa s m2/kg"},
	{VaporResistanceFactor, vector{}, "1", 0, 1e9, true, false, [2]string{"", ""}, "50"},
	{EquivalentAirLayer, vector{length: 2}, "m", 0, 1e9, false, false, [2]string{"ft", "m"}, "2.5 m"},
	{VaporFlow, vector{mass: 2, length: -4, time: -2}, "kg/(s m2)", -1e3, 1e3, false, false, [2]string{"lb/(100\u00a0ft²·month)", "g/(m²·day)"}, "5 g/(m2 day), 7 gr/(ft2 day) or 3 lb/(100 ft2 month)"},
	{ThermalResistance, vector{mass: -2, time: 6, temperature: 2}, "m2 K/W", 0, 1e6, false, false, [2]string{"", "m²·K/W"}, "R-13, 2.3 m2K/W or 13 ft2 F h/Btu"},
	{ThermalResistancePerLength, vector{mass: -2, length: -2, time: 6, temperature: 2}, "m K/W", 0, 1e6, false, false, [2]string{"", "m·K/W"}, "R-3.7/in or 25 m K/W"},
	{Conductivity, vector{mass: 2, length: 2, time: -6, temperature: -2}, "W/(m K)", 0, 1e5, false, false, [2]string{"Btu·in/(h·ft²·°F)", "W/(m·K)"}, "0.13 W/mK or 0.9 Btu in/(h ft2 F)"},
	{UFactor, vector{mass: 2, time: -6, temperature: -2}, "W/(m2 K)", 0, 1e6, false, false, [2]string{"Btu/(h·ft²·°F)", "W/(m²·K)"}, "0.06 Btu/(h ft2 F), U-0.06 or 0.34 W/m2K"},
	{Density, vector{mass: 2, length: -6}, "kg/m3", 0, 1e5, false, false, [2]string{"lb/ft³", "kg/m³"}, "3.2 lb/ft3, 650 kg/m3 or 50 g/L"},
	{AreaDensity, vector{mass: 2, length: -4}, "kg/m2", 0, 1e6, false, false, [2]string{"lb/ft²", "kg/m²"}, "2.2 lb/ft2, 150 g/m2 or 10 kg/m2"},
	{SpecificHeat, vector{length: 4, time: -4, temperature: -2}, "J/(kg K)", 0, 1e6, false, false, [2]string{"Btu/(lb·°F)", "J/(kg·K)"}, "0.39 Btu/(lb F), 1600 J/kgK or 1.6 kJ/(kg K)"},
	{MoistureDensity, vector{mass: 2, length: -6}, "kg/m3", 0, 1e5, false, false, [2]string{"lb/ft³", "kg/m³"}, "80 kg/m3 or 5 lb/ft3"},
	{AbsorptionCoefficient, vector{mass: 2, length: -4, time: -1}, "kg/(m2 s0.5)", 0, 1e3, false, false, [2]string{"kg/(m²·s^0.5)", "kg/(m²·s^0.5)"}, "0.05 kg/(m2 s0.5) or 3 kg/(m2 h0.5)"},
	{LiquidDiffusivity, vector{length: 4, time: -2}, "m2/s", 0, 1e3, false, false, [2]string{"m²/s", "m²/s"}, "1e-9 m2/s"},
	{BufferValue, vector{mass: 2, length: -4, percent: -2}, "kg/m2", 0, 1e3, false, false, [2]string{"g/(m²·%)", "g/(m²·%)"}, "1.1 g/(m2 %)"},
	{ShrinkageCoefficient, vector{percent: -2}, "1", 0, 10, false, false, [2]string{"/%", "/%"}, "0.00263 /%"},
	{Coverage, vector{length: -2}, "m2/m3", 0, 1e9, false, false, [2]string{"ft²/gal", "m²/L"}, "400 ft2/gal or 10 m2/L"},
	{Ratio, vector{}, "1", 0, 1e4, false, true, [2]string{"%", "%"}, "35 %, 0.12 kg/kg or 50 ppm"},
	{Emittance, vector{}, "1", 0, 1, true, true, [2]string{"", ""}, "0.9 or 90 %"},
	{Number, vector{}, "1", -1e12, 1e12, true, false, [2]string{"", ""}, "0.5"},
	{Count, vector{}, "1", 0, 1e6, true, false, [2]string{"", ""}, "3"},
}

// define gives the definition of a dimension.
func (d Dimension) define() (dimension, bool) {
	for _, def := range dimensions {
		if def.name == d {
			return def, true
		}
	}
	return dimension{}, false
}

// Dimensions lists every dimension in a fixed order.
func Dimensions() []Dimension {
	all := make([]Dimension, len(dimensions))
	for i, def := range dimensions {
		all[i] = def.name
	}
	return all
}

// Allowed lists the names of all dimensions, for readers of files in which a dimension is named.
func (Dimension) Allowed() []string {
	all := make([]string, len(dimensions))
	for i, def := range dimensions {
		all[i] = string(def.name)
	}
	return all
}

// Unit names the SI unit in which values of the dimension are kept, and "" for an unknown dimension.
func (d Dimension) Unit() string {
	def, _ := d.define()
	return def.si
}

// check applies the limits of the dimension to a value in SI.
func (d dimension) check(v float64) (problem string) {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return "the value is not a finite number"
	case v < d.low && d.low == 0:
		return "a negative value is not allowed for " + d.phrase()
	case v < d.low && d.name == Temperature:
		return "the temperature is below absolute zero"
	case v < d.low:
		return "the value is too far below zero for " + d.phrase()
	case v > d.top:
		return "the value is too large for " + d.phrase()
	case d.name == Count && v != math.Trunc(v):
		return "a whole number is needed"
	}
	return ""
}
