// Package sorption owns the moisture functions of a building material: how much
// water it holds at a relative humidity, how water vapor and liquid water move
// in it, and how water changes its conductivity and heat capacity.
//
// Base data ([Data], plain SI) become analytic forms ([Functions]); these become
// a monotone table ([Table]) of values and slopes over one coordinate, which is
// what a solver evaluates. The package knows no material by name, reads no files
// and solves nothing.
//
// Conventions where the literature leaves a choice:
//
//   - A moisture content belongs to a suction, not to a relative humidity: an
//     isotherm is read at [ReferenceTemperature] and the Kelvin relation gives
//     the humidity at other temperatures (as in EN 15026, annex A). Wood then
//     holds a little less water at the same humidity when it is warm, which is
//     the direction of the measured tables.
//   - Beyond the last measured humidity an isotherm follows the two-point form
//     of Künzel through that point and free saturation. More than free
//     saturation is not held.
//   - A dry and a wet cup become the exponential of relative humidity whose
//     means over 0 to 50 % and 50 to 100 % are the two cup values. A measured
//     curve, if there is one, is interpolated linearly and held at its ends, as
//     in the steady methods.
//   - Vapor permeability does not depend on temperature.
//   - Liquid diffusivity is that of suction; redistribution without a water
//     supply is a tenth of it.
package sorption

import (
	"errors"
	"fmt"
	"math"
)

// Constants of water and of the pore humidity.
const (
	// ReferenceTemperature is the temperature in °C at which isotherms are read.
	ReferenceTemperature = 20.0
	// WaterDensity is the density of liquid water in kg/m³.
	WaterDensity = 1000.0
	// WaterHeatCapacity is the specific heat capacity of liquid water in
	// J/(kg·K).
	WaterHeatCapacity = 4187.0
	// GasConstant is the gas constant of water vapor in J/(kg·K).
	GasConstant = 461.5
	// RedistributionShare is the diffusivity of redistribution as a share of
	// that of suction (Künzel 1995, recalled).
	RedistributionShare = 0.1

	zeroCelsius = 273.15
)

// Point is a value at a relative humidity from 0 to 1.
type Point struct{ Humidity, Value float64 }

// Data are the base data of a material.
type Data struct {
	Density      float64 // dry bulk density, kg/m³
	SpecificHeat float64 // of the dry material, J/(kg·K)
	Conductivity float64 // of the dry material, W/(m·K)
	// ConductivitySupplement is the rise of conductivity in percent per percent
	// of moisture content by mass; 0 for none.
	ConductivitySupplement float64
	// Isotherm is how much water the material holds.
	Isotherm Isotherm
	// Absorption is the water absorption coefficient in kg/(m²·s^0.5); 0 for a
	// material in which liquid does not move.
	Absorption float64
	Vapor      Vapor
}

// Isotherm holds one of three forms, and free saturation with each of them.
type Isotherm struct {
	ByMass   []Point // kg of water per kg of dry material, humidity rising
	ByVolume []Point // kg of water per m³, humidity rising
	W80      float64 // kg/m³ at 80 % relative humidity, for the two-point form
	// FreeSaturation is the moisture content at 100 % relative humidity in
	// kg/m³. It may be left out when the table ends with a point at humidity 1.
	FreeSaturation float64
}

// Vapor holds the vapor permeability in kg/(m·s·Pa): a measured curve, or cup
// values of which one may be left out. The curve wins.
type Vapor struct {
	Curve  []Point
	DryCup float64 // between 0 and 50 % relative humidity
	WetCup float64 // between 50 and 100 % relative humidity
}

// Functions are the analytic forms of a material. They can be filled from base
// data by [New] or by hand for a material that is defined by formulas.
type Functions struct {
	Density      float64 // kg/m³
	SpecificHeat float64 // J/(kg·K)
	// DryConductivity in W/(m·K) and its rise by moisture content in
	// W/(m·K) per kg/m³.
	DryConductivity, ConductivitySlope float64
	// FreeSaturation is the moisture content at 100 % relative humidity, kg/m³.
	FreeSaturation float64
	// Content is the moisture content in kg/m³ at a relative humidity from 0 to
	// 1 at [ReferenceTemperature]; it never falls.
	Content func(humidity float64) float64
	// Permeability is the vapor permeability in kg/(m·s·Pa) at a relative
	// humidity from 0 to 1 at [ReferenceTemperature].
	Permeability func(humidity float64) float64
	// Diffusivity is the liquid diffusivity in m²/s at a moisture content in
	// kg/m³; nil if liquid does not move.
	Diffusivity func(content float64) float64
	// Redistribution is the share of Diffusivity that holds while no liquid is
	// supplied, from 0 to 1.
	Redistribution float64
}

// New returns the functions of base data, or an error that says which value is
// impossible.
func New(d Data) (Functions, error) {
	if err := d.validate(); err != nil {
		return Functions{}, err
	}
	content, saturation, err := d.Isotherm.compile(d.Density)
	if err != nil {
		return Functions{}, fmt.Errorf("sorption isotherm: %w", err)
	}
	permeability, err := d.Vapor.compile()
	if err != nil {
		return Functions{}, fmt.Errorf("vapor permeability: %w", err)
	}
	f := Functions{
		Density:           d.Density,
		SpecificHeat:      d.SpecificHeat,
		DryConductivity:   d.Conductivity,
		ConductivitySlope: d.Conductivity * d.ConductivitySupplement / d.Density,
		FreeSaturation:    saturation,
		Content:           content,
		Permeability:      permeability,
		Redistribution:    1,
	}
	if d.Absorption > 0 {
		f.Diffusivity = Diffusivity(d.Absorption, saturation)
		f.Redistribution = RedistributionShare
	}
	return f, nil
}

func (d Data) validate() error {
	return errors.Join(
		positive("density", d.Density),
		positive("specific heat", d.SpecificHeat),
		positive("conductivity", d.Conductivity),
		notNegative("conductivity supplement", d.ConductivitySupplement),
		notNegative("water absorption coefficient", d.Absorption),
	)
}

// Conductivity returns the thermal conductivity in W/(m·K) at a moisture
// content in kg/m³: λ = λ_0·(1 + b·w/ρ) (Künzel 1995, recalled).
func (f Functions) Conductivity(content float64) float64 {
	return f.DryConductivity + f.ConductivitySlope*content
}

// HeatCapacity returns the heat capacity in J/(m³·K) at a moisture content in
// kg/m³: ρ·c + c_w·w (ASHRAE Handbook—Fundamentals 2021, ch. 25, eq. 4).
func (f Functions) HeatCapacity(content float64) float64 {
	return f.Density*f.SpecificHeat + WaterHeatCapacity*content
}

// Humidity returns the relative humidity at which the material holds a moisture
// content in kg/m³, the inverse of Content; it is 1 at and above free saturation
// and 0 at and below a content of 0.
func (f Functions) Humidity(content float64) float64 {
	low, high := 0.0, 1.0
	if content <= 0 {
		return low
	}
	if content >= f.FreeSaturation {
		return high
	}
	for range 60 {
		if middle := (low + high) / 2; f.Content(middle) < content {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}

// Suction returns the suction in Pa that belongs to a relative humidity above 0
// and a temperature in °C by the Kelvin relation, φ = exp(−s/(ρ_w·R_v·T))
// (ASHRAE Handbook—Fundamentals 2021, ch. 25, eq. 23).
func Suction(humidity, celsius float64) float64 {
	return -WaterDensity * GasConstant * (celsius + zeroCelsius) * math.Log(humidity)
}

// HumidityAtSuction returns the relative humidity over a suction in Pa at a
// temperature in °C, the inverse of [Suction].
func HumidityAtSuction(suction, celsius float64) float64 {
	return math.Exp(-suction / (WaterDensity * GasConstant * (celsius + zeroCelsius)))
}

// Diffusivity returns the liquid diffusivity of suction in m²/s as a function of
// moisture content in kg/m³, D = 3.8·(A/w_f)²·1000^(w/w_f − 1) (Künzel 1995,
// recalled), for a water absorption coefficient A in kg/(m²·s^0.5) and a free
// saturation w_f in kg/m³, both above 0.
func Diffusivity(absorption, saturation float64) func(content float64) float64 {
	peak := 3.8 * (absorption / saturation) * (absorption / saturation)
	rate := math.Log(1000) / saturation
	return func(content float64) float64 {
		return peak * math.Exp(rate*(content-saturation))
	}
}

func positive(what string, x float64) error {
	if !(x > 0) || math.IsInf(x, 1) {
		return fmt.Errorf("%s %g is not a positive number", what, x)
	}
	return nil
}

func notNegative(what string, x float64) error {
	if !(x >= 0) || math.IsInf(x, 1) {
		return fmt.Errorf("%s %g is negative or not a number", what, x)
	}
	return nil
}
