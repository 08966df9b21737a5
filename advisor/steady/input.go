package steady

import (
	"fmt"
	"slices"
)

// Limits of an [Input].
const (
	// MaxLayers is the largest number of layers.
	MaxLayers = 500
	// MaxResistance is the largest thermal resistance of a layer or film,
	// m²·K/W.
	MaxResistance = 100.0
	// MaxPermeance is the largest permeance of a layer, kg/(s·m²·Pa). A still
	// air gap of 1 mm has 2E−7.
	MaxPermeance = 1e-3
	// MinPermeance stands for any smaller permeance, zero included,
	// kg/(s·m²·Pa): 1000 Pa drive 0.03 g/m² through it in a year.
	MinPermeance = 1e-15
	// MinFilmVaporResistance and MaxFilmVaporResistance bound the vapor
	// resistance of a film that has one, s·m²·Pa/kg.
	MinFilmVaporResistance = 1e3
	MaxFilmVaporResistance = 1e12
	// MinTemperature and MaxTemperature bound the air temperatures, °C.
	MinTemperature = -90.0
	MaxTemperature = 100.0
	// MaxVaporPressure is the largest vapor pressure, Pa.
	MaxVaporPressure = 101325.0
	// MaxDays is the longest period of a [Month], days.
	MaxDays = 366.0
)

// Point is a permeance in kg/(s·m²·Pa) at a relative humidity from 0 to 1.
type Point struct {
	RH, Permeance float64
}

// Curve is a permeance over rising relative humidity. One point is a constant.
type Curve []Point

// At returns the permeance in kg/(s·m²·Pa) at the relative humidity rh, from
// linear interpolation, held at the first and the last point outside of them.
// The curve must have a point.
func (c Curve) At(rh float64) float64 {
	if rh <= c[0].RH {
		return c[0].Permeance
	}
	for i := 1; i < len(c); i++ {
		if rh <= c[i].RH {
			a, b := c[i-1], c[i]
			return a.Permeance + (b.Permeance-a.Permeance)*(rh-a.RH)/(b.RH-a.RH)
		}
	}
	return c[len(c)-1].Permeance
}

// resistance returns the vapor resistance in s·m²·Pa/kg at the relative
// humidity rh.
func (c Curve) resistance(rh float64) float64 {
	return 1 / max(c.At(rh), MinPermeance)
}

func (c Curve) validate() error {
	if len(c) == 0 {
		return fmt.Errorf("permeance has no point")
	}
	for i, p := range c {
		if err := within("relative humidity of a permeance", p.RH, 0, 1); err != nil {
			return err
		}
		if err := within("permeance", p.Permeance, 0, MaxPermeance); err != nil {
			return err
		}
		if i > 0 && c[i-1].RH >= p.RH {
			return fmt.Errorf("relative humidities of the permeance do not rise: %g is followed by %g", c[i-1].RH, p.RH)
		}
	}
	return nil
}

// Layer is a slab, sheet or coat.
type Layer struct {
	// R is the thermal resistance in m²·K/W; 0 for a sheet or a coat.
	R float64
	// Permeance is that of the whole layer.
	Permeance Curve
	// Vent is the permeance in kg/(s·m²·Pa) of a second path from the outer face
	// of this layer to the outdoor air, past all layers outside of it: the
	// outdoor air that moves through a ventilated gap. See [VentPermeance]. 0
	// means none.
	Vent float64
}

// Film is the air film between a surface and the air before it.
type Film struct {
	// R is the thermal resistance in m²·K/W.
	R float64
	// VaporResistance is in s·m²·Pa/kg. With 0, as in ISO 13788, the surface has
	// the vapor pressure of the air and water is not looked for on it.
	VaporResistance float64
}

// Month is a period of constant conditions: a month's means, or a block of
// days.
type Month struct {
	Days     float64
	IndoorT  float64 // °C
	IndoorP  float64 // vapor pressure, Pa
	OutdoorT float64 // °C
	OutdoorP float64 // vapor pressure, Pa
}

// Validate returns an error that names the first quantity that is not a number
// or out of range.
func (m Month) Validate() error {
	return firstError(
		positive("number of days", m.Days),
		within("number of days", m.Days, 0, MaxDays),
		within("indoor temperature", m.IndoorT, MinTemperature, MaxTemperature),
		within("indoor vapor pressure", m.IndoorP, 0, MaxVaporPressure),
		within("outdoor temperature", m.OutdoorT, MinTemperature, MaxTemperature),
		within("outdoor vapor pressure", m.OutdoorP, 0, MaxVaporPressure),
	)
}

func (m *Month) seconds() float64 { return m.Days * secondsPerDay }

// Input is the flat description of an assembly and its climate. The methods of
// [Workspace] read it and never change it. With n layers there are n+1 planes:
// plane 0 is the inner surface, plane j the inner face of Layers[j], plane n
// the outer surface.
type Input struct {
	Layers          []Layer // from the inside to the outside
	Inside, Outside Film
	Months          [12]Month // January to December
	Saturation      Saturation
	// Unsliced turns off the slices in which the monthly method looks for
	// condensation inside a layer of R above 0.25 m²·K/W, so that it looks
	// between layers only.
	Unsliced bool
}

// Clone returns a copy that shares nothing.
func (in *Input) Clone() *Input {
	c := *in
	c.Layers = slices.Clone(in.Layers)
	for i := range c.Layers {
		c.Layers[i].Permeance = slices.Clone(c.Layers[i].Permeance)
	}
	return &c
}

// Equal reports whether two inputs are the same in every number.
func (in *Input) Equal(other *Input) bool {
	return in.Inside == other.Inside && in.Outside == other.Outside && in.Months == other.Months &&
		in.Saturation == other.Saturation && in.Unsliced == other.Unsliced && slices.EqualFunc(in.Layers, other.Layers, Layer.equal)
}

func (l Layer) equal(other Layer) bool {
	return l.R == other.R && l.Vent == other.Vent && slices.Equal(l.Permeance, other.Permeance)
}

// Validate returns an error that names the first quantity that is not a number
// or out of range.
func (in *Input) Validate() error {
	if err := in.validateLayers(); err != nil {
		return err
	}
	for i := range in.Months {
		if err := in.Months[i].Validate(); err != nil {
			return fmt.Errorf("month %d: %w", i+1, err)
		}
	}
	return nil
}

// validateLayers checks everything but the months.
func (in *Input) validateLayers() error {
	n := len(in.Layers)
	if n == 0 || n > MaxLayers {
		return fmt.Errorf("number of layers is %d; allowed is 1 to %d", n, MaxLayers)
	}
	if int(in.Saturation) >= saturations {
		return fmt.Errorf("unknown saturation formula %d", in.Saturation)
	}
	if err := in.Inside.validate(); err != nil {
		return fmt.Errorf("inside film: %w", err)
	}
	if err := in.Outside.validate(); err != nil {
		return fmt.Errorf("outside film: %w", err)
	}
	total := in.Inside.R + in.Outside.R
	for i := range in.Layers {
		if err := in.Layers[i].validate(i == n-1); err != nil {
			return fmt.Errorf("layer %d: %w", i+1, err)
		}
		total += in.Layers[i].R
	}
	return positive("thermal resistance of layers and films together", total)
}

func (f *Film) validate() error {
	if err := within("thermal resistance", f.R, 0, MaxResistance); err != nil {
		return err
	}
	if f.VaporResistance == 0 {
		return nil
	}
	return within("vapor resistance that is not 0", f.VaporResistance,
		MinFilmVaporResistance, MaxFilmVaporResistance)
}

func (l *Layer) validate(outermost bool) error {
	if err := within("thermal resistance", l.R, 0, MaxResistance); err != nil {
		return err
	}
	if err := l.Permeance.validate(); err != nil {
		return err
	}
	if err := within("vent permeance", l.Vent, 0, MaxPermeance); err != nil {
		return err
	}
	if outermost && l.Vent > 0 {
		return fmt.Errorf("a vent needs a layer outside of it")
	}
	return nil
}

// checkMonth validates the layers and one month.
func (in *Input) checkMonth(m Month) error {
	if err := in.validateLayers(); err != nil {
		return err
	}
	return m.Validate()
}

// checkPlane returns an error unless plane j exists and can hold water.
func (in *Input) checkPlane(j int) error {
	n := len(in.Layers)
	if j < 0 || j > n {
		return fmt.Errorf("plane %d; allowed is 0 to %d", j, n)
	}
	if j == 0 && in.Inside.VaporResistance == 0 || j == n && in.Outside.VaporResistance == 0 {
		return fmt.Errorf("plane %d is a surface without a vapor film and has the vapor pressure of the air", j)
	}
	return nil
}
