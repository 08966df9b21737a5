package steady

import (
	"fmt"
	"math"
)

// ColdSurface is a duct or a pipe colder than the air around it.
type ColdSurface struct {
	Air      float64 // of the surroundings, °C
	DewPoint float64 // of the surroundings, °C
	Inside   float64 // of what flows inside, °C
	Film     float64 // coefficient of the outer surface, W/(m²·K)
}

// Validate returns an error that names the first quantity that is not a number
// or out of range. The dew point must be below the air temperature: saturated
// air wets any colder surface.
func (c ColdSurface) Validate() error {
	err := firstError(
		within("air temperature", c.Air, MinTemperature, MaxTemperature),
		within("dew point", c.DewPoint, MinTemperature, MaxTemperature),
		within("inside temperature", c.Inside, MinTemperature, MaxTemperature),
		within("film coefficient", c.Film, 0.1, 1000),
	)
	if err == nil && c.DewPoint >= c.Air {
		err = fmt.Errorf("dew point %g °C is not below the air temperature %g °C", c.DewPoint, c.Air)
	}
	return err
}

// Resistance returns the least thermal resistance in m²·K/W of flat insulation
// that keeps its outer surface at the dew point: (t_d − t_c)/(h·(t_a − t_d)), 0
// where the inside is above the dew point.
func (c ColdSurface) Resistance() (float64, error) {
	if err := c.Validate(); err != nil {
		return 0, err
	}
	return max(0, (c.DewPoint-c.Inside)/(c.Film*(c.Air-c.DewPoint))), nil
}

// FlatThickness returns the least thickness in m of flat insulation of a
// conductivity in W/(m·K): k times [ColdSurface.Resistance] (ASHRAE
// Handbook—Fundamentals 2021, ch. 23, Table 4).
func (c ColdSurface) FlatThickness(conductivity float64) (float64, error) {
	r, err := c.Resistance()
	if err := firstError(err, within("conductivity", conductivity, 1e-4, 500)); err != nil {
		return 0, err
	}
	return conductivity * r, nil
}

// PipeThickness returns the least thickness in m of insulation around a pipe or
// round duct of the outer radius in m: r2·ln(r2/r1) = k·R (form of ISO 12241,
// recalled). It is never above [ColdSurface.FlatThickness].
func (c ColdSurface) PipeThickness(conductivity, radius float64) (float64, error) {
	flat, err := c.FlatThickness(conductivity)
	if err := firstError(err, within("radius", radius, 1e-4, 100)); err != nil {
		return 0, err
	}
	// With x = t/r1: (1 + x)·ln(1 + x) = flat/r1. The left side is convex and at
	// least x, so Newton's method from x = flat/r1 falls to the root from above.
	target := flat / radius
	x := target
	for range 100 {
		step := ((1+x)*math.Log1p(x) - target) / (1 + math.Log1p(x))
		x -= step
		if math.Abs(step) <= 1e-14*(1+x) {
			break
		}
	}
	return min(flat, max(0, x*radius)), nil
}

// Duct is a run of duct for its temperature drop.
type Duct struct {
	Flux      float64 // heat flow through the duct wall, W/m²
	Perimeter float64 // m
	Length    float64 // m
	Velocity  float64 // m/s
	Area      float64 // cross-section, m²
	Density   float64 // of the air, kg/m³
	Heat      float64 // specific heat of the air, J/(kg·K)
}

// TemperatureDrop returns the change of the air temperature along the duct in
// K: q·P·L/(V·c_p·ρ·A), with the sign of the flux (ASHRAE
// Handbook—Fundamentals 2021, ch. 23, Examples 1 and 2). It holds where the
// change is small against the difference to the surroundings.
func (d Duct) TemperatureDrop() (float64, error) {
	err := firstError(
		within("heat flow through the duct wall", d.Flux, -1e4, 1e4),
		within("duct perimeter", d.Perimeter, 1e-3, 1e3),
		within("duct length", d.Length, 0, 1e4),
		within("air velocity", d.Velocity, 1e-3, 100),
		within("duct area", d.Area, 1e-6, 1e4),
		within("air density", d.Density, 0.1, 10),
		within("specific heat of air", d.Heat, 100, 1e4),
	)
	if err != nil {
		return 0, err
	}
	return d.Flux * d.Perimeter * d.Length / (d.Velocity * d.Heat * d.Density * d.Area), nil
}
