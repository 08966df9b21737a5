package sorption

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// The coordinate of all tables is x = −ln(s + s_0) with s = −ln φ, the suction
// over ρ_w·R_v·T at the reference temperature. It is even in log suction, which
// resolves the humidities above 95 % where most of the water is, and s_0 ends it
// at saturation.
const (
	// SuctionOffset is s_0. It belongs to a suction of 14 kPa.
	SuctionOffset = 1e-4
	// MinCoordinate is the lowest coordinate of a table; its humidity is 4E−15.
	MinCoordinate = -3.5
	// MaxCoordinate is the coordinate of saturation, −ln s_0, the end of a table.
	MaxCoordinate = 9.210340371976182

	intervals = 208
	perUnit   = intervals / (MaxCoordinate - MinCoordinate)
)

// Coordinate returns the coordinate of a relative humidity at
// [ReferenceTemperature], held between the ends of a table.
func Coordinate(humidity float64) float64 {
	if humidity >= 1 {
		return MaxCoordinate
	}
	return max(MinCoordinate, -math.Log(SuctionOffset-math.Log(humidity)))
}

// HumidityAt returns the relative humidity at [ReferenceTemperature] that belongs
// to a coordinate, the inverse of [Coordinate].
func HumidityAt(x float64) float64 {
	return math.Exp(min(0, SuctionOffset-math.Exp(-x)))
}

// Values are the functions of a material at one coordinate with their slopes by
// the coordinate.
type Values struct {
	Content, ContentSlope           float64 // moisture content, kg/m³
	Permeability, PermeabilitySlope float64 // kg/(m·s·Pa)
	Liquid, LiquidSlope             float64 // flux potential ∫D dw, kg/(m·s)
}

// Table holds the functions of a material as cubics over equal intervals of the
// coordinate, with continuous slopes; moisture content and liquid flux potential
// never fall.
type Table struct {
	// Functions are the analytic forms that were tabulated.
	Functions Functions

	cubics [intervals]cubics
}

// cubics are the coefficients of one interval.
type cubics struct{ content, permeability, liquid [4]float64 }

// Tabulate returns the table of the functions, or an error when a function is
// not finite or moisture content falls.
func (f Functions) Tabulate() (*Table, error) {
	if f.Content == nil || f.Permeability == nil {
		return nil, errors.New("moisture content and vapor permeability are needed")
	}
	if err := errors.Join(
		positive("density", f.Density), positive("specific heat", f.SpecificHeat),
		positive("conductivity", f.DryConductivity), notNegative("conductivity slope", f.ConductivitySlope),
		positive("free saturation", f.FreeSaturation), notNegative("redistribution", f.Redistribution),
	); err != nil {
		return nil, err
	}
	x := knots()
	content := sample(x, f.Content)
	permeability := sample(x, f.Permeability)
	liquid := f.liquid(x, content)
	if w := f.Content(1); math.Abs(w-f.FreeSaturation) > 1e-6*f.FreeSaturation {
		return nil, fmt.Errorf("moisture content %g kg/m³ at humidity 1 is not free saturation %g", w, f.FreeSaturation)
	}
	for i := range x {
		if err := f.checkKnot(HumidityAt(x[i]), content.y, permeability.y[i], liquid.y[i], i); err != nil {
			return nil, err
		}
	}
	t := &Table{Functions: f}
	for i := range t.cubics {
		t.cubics[i] = cubics{content.cubic(i), permeability.cubic(i), liquid.cubic(i)}
	}
	return t, nil
}

func (f Functions) checkKnot(phi float64, content []float64, permeability, liquid float64, i int) error {
	w := content[i]
	switch {
	case !(w >= 0) || math.IsInf(w, 1):
		return fmt.Errorf("moisture content %g kg/m³ at humidity %g", w, phi)
	case i > 0 && w < content[i-1]:
		return fmt.Errorf("moisture content falls below humidity %g", phi)
	case !(permeability > 0) || math.IsInf(permeability, 1):
		return fmt.Errorf("vapor permeability %g kg/(m·s·Pa) at humidity %g", permeability, phi)
	case !(liquid >= 0) || math.IsInf(liquid, 1):
		return fmt.Errorf("liquid diffusivity below humidity %g is negative or not a number", phi)
	}
	return nil
}

func knots() []float64 {
	x := make([]float64, intervals+1)
	for i := range x {
		x[i] = MinCoordinate + float64(i)*(MaxCoordinate-MinCoordinate)/intervals
	}
	return x
}

// sample returns the interpolant over the knots of a function of relative
// humidity, its slopes taken from the function and limited.
func sample(x []float64, function func(humidity float64) float64) monotone {
	at := func(x float64) float64 { return function(HumidityAt(x)) }
	// A 64th of an interval, about 0.001: central differences err by 1E−7.
	step := (x[1] - x[0]) / 64
	m := monotone{x, make([]float64, len(x)), make([]float64, len(x))}
	for i := range x {
		m.y[i] = at(x[i])
		low, high := max(x[0], x[i]-step), min(x[len(x)-1], x[i]+step)
		m.slope[i] = (at(high) - at(low)) / (high - low)
	}
	limitSlopes(m.x, m.y, m.slope)
	return m
}

// liquid returns the interpolant of ∫D dw from dry. Its difference between two
// places of a material over their distance is the liquid flow, exact for a steep
// front too, where a mean of diffusivities is not.
func (f Functions) liquid(x []float64, content monotone) monotone {
	m := monotone{x, make([]float64, len(x)), make([]float64, len(x))}
	if f.Diffusivity == nil {
		return m
	}
	m.slope[0] = f.Diffusivity(content.y[0]) * content.slope[0]
	for i := 1; i < len(x); i++ {
		m.y[i] = m.y[i-1]
		if content.y[i] > content.y[i-1] {
			m.y[i] += quad.Fixed(f.Diffusivity, content.y[i-1], content.y[i], 5, nil, 0)
		}
		m.slope[i] = f.Diffusivity(content.y[i]) * content.slope[i]
	}
	limitSlopes(m.x, m.y, m.slope)
	return m
}

func (m monotone) cubic(i int) [4]float64 {
	return hermite(m.x[i+1]-m.x[i], m.y[i], m.y[i+1], m.slope[i], m.slope[i+1])
}

// At fills v with the values at a coordinate. Above the coordinate of saturation
// they stay those of saturation with slopes of 0, below the first likewise.
func (t *Table) At(x float64, v *Values) {
	u := (x - MinCoordinate) * perUnit
	if !(u > 0 && u < intervals) {
		t.end(u, v)
		return
	}
	i := int(u)
	u -= float64(i)
	c := &t.cubics[i]
	v.Content, v.ContentSlope = evaluate(&c.content, u)
	v.Permeability, v.PermeabilitySlope = evaluate(&c.permeability, u)
	v.Liquid, v.LiquidSlope = evaluate(&c.liquid, u)
}

// evaluate returns value and slope of a cubic at t of an interval.
func evaluate(c *[4]float64, t float64) (value, slope float64) {
	return c[0] + t*(c[1]+t*(c[2]+t*c[3])), (c[1] + t*(2*c[2]+3*t*c[3])) * perUnit
}

// end fills v with the values at the end of the table that u lies beyond.
func (t *Table) end(u float64, v *Values) {
	c, at := &t.cubics[0], 0.0
	if u > 0 {
		c, at = &t.cubics[intervals-1], 1
	}
	*v = Values{}
	v.Content, _ = evaluate(&c.content, at)
	v.Permeability, _ = evaluate(&c.permeability, at)
	v.Liquid, _ = evaluate(&c.liquid, at)
}

// Knot is one row of a printed table.
type Knot struct {
	Humidity, Content, Permeability, Diffusivity, Conductivity float64
}

// Knots returns the tabulated functions at every knot, dry first, for people and
// other programs. Units are those of [Functions].
func (t *Table) Knots() []Knot {
	x := knots()
	rows := make([]Knot, len(x))
	var v Values
	for i := range x {
		t.At(x[i], &v)
		rows[i] = Knot{HumidityAt(x[i]), v.Content, v.Permeability, 0, t.Functions.Conductivity(v.Content)}
		if t.Functions.Diffusivity != nil {
			rows[i].Diffusivity = t.Functions.Diffusivity(v.Content)
		}
	}
	return rows
}
