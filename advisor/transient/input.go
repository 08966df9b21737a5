package transient

import "relath/advisor/sorption"

// Series are hourly values: element k is the value at k hours after the start,
// for amounts the amount in the hour from k to k+1. A series of one element is
// constant; one that is shorter than the run repeats.
type Series []float64

// Constant returns the series of one value.
func Constant(x float64) Series { return Series{x} }

// AtFullHours turns means over the hours, element k for the hour from k to k+1,
// into values at the full hours: the mean of the two hours that meet there. The
// sum of a repeating series stays.
func AtFullHours(means []float64) Series {
	s := make(Series, len(means))
	for k := range means {
		s[k] = (means[(k+len(means)-1)%len(means)] + means[k]) / 2
	}
	return s
}

// Burst returns a series of so many hours that is an amount spread evenly over
// duration hours from start on, and zero otherwise.
func Burst(hours, start, duration int, amount float64) Series {
	s := make(Series, hours)
	for k := start; k < min(start+duration, hours); k++ {
		s[k] = amount / float64(duration)
	}
	return s
}

// at returns element k, repeating.
func (s Series) at(k int) float64 {
	if len(s) == 0 {
		return 0
	}
	return s[k%len(s)]
}

// Input is a construction with its loads.
type Input struct {
	// Layers from the outside to the inside.
	Layers []Layer
	// Outside and Inside are the loads of the two faces.
	Outside, Inside Surface
	// Sources are leaks of liquid water.
	Sources []Source
	// Paths are air leaks.
	Paths []AirPath
	// Hours is the length of the run.
	Hours int
	// Probes are the places whose temperature and humidity are recorded.
	Probes []Position
	// Held keeps hourly values for their hour instead of interpolating them. The
	// jumps at full hours take about twice the time.
	Held bool
	// Saturation returns the saturation pressure in Pa at a temperature in °C
	// from −60 to 120; nil for that of ASHRAE, over ice below 0 °C.
	Saturation func(celsius float64) float64
	// Refine multiplies the cells of all layers; 0 stands for 1.
	Refine int
	// Tolerance is the local error allowed per step, as a share of the water of
	// a layer and, times 20, in K of its mean temperature; 0 stands for
	// [DefaultTolerance].
	Tolerance float64
}

// Layer is one of three: a solid layer with Material and Thickness, an air space
// with Cavity and Thickness, or a sheet or coat with Sheet.
type Layer struct {
	Name      string
	Thickness float64 // m
	Material  *sorption.Table
	Cavity    *Cavity
	Sheet     *Sheet
	// Temperature in °C and Humidity from 0 to 1 are those at the start. A node
	// that two layers share starts with the water that both bring.
	Temperature, Humidity float64
	// Cells of a solid layer; 0 for a number by thickness. Odd numbers are
	// raised to even ones.
	Cells int
}

// Cavity is an air space, well mixed, whose storage is that of its air.
type Cavity struct {
	Resistance      float64 // m²·K/W from face to face, radiation included
	VaporResistance float64 // s·m²·Pa/kg from face to face
	// Exchange is the air change rate per hour with the air of the side From;
	// empty for none.
	Exchange Series
	From     Side
}

// Sheet is a membrane, film or coat.
type Sheet struct {
	// Permeance in kg/(s·m²·Pa) over relative humidity, rising from 0 to 1; one
	// point is a constant. It is interpolated linearly, held at its ends, and
	// taken at the mean humidity of its two sides.
	Permeance []sorption.Point
}

// Surface holds the loads of one face. Empty series are zero, which seals or
// insulates the face when it is a transfer coefficient.
type Surface struct {
	Temperature   Series // of the air, °C
	VaporPressure Series // of the air, Pa
	// HeatTransfer in W/(m²·K) is that of convection and of radiation to
	// surroundings at air temperature; VaporTransfer is in kg/(s·m²·Pa).
	HeatTransfer, VaporTransfer Series
	// Sun is the irradiance on the face in W/m² and Absorptance the share that
	// it absorbs.
	Sun         Series
	Absorptance float64
	// LongWave is the net long-wave gain in W/m² beyond radiation to
	// surroundings at air temperature; negative under a clear sky.
	LongWave Series
	// Rain is the water offered to the face, kg/m² in each hour.
	Rain Series
}

// Side is one of the two sides of a construction.
type Side int

// The sides.
const (
	Outside Side = iota
	Inside
)

// Face is a place within a layer.
type Face int

// The places: the face toward the outside, the face toward the inside, the
// middle, and the whole layer for sources.
const (
	OuterFace Face = iota
	InnerFace
	Middle
	Whole
)

// Position is a place in a layer, given by its index in Input.Layers. Either face
// of a sheet is the node on that side of it, and any place of a cavity its air.
type Position struct {
	Layer int
	Face  Face
}

// Source is liquid water that flows into a solid layer: an amount at a date (see
// [Burst]) or, for instance, a share of the driving rain of each hour.
type Source struct {
	At    Position
	Water Series // kg/m² in each hour
}

// AirPath is air that comes from one side, meets a place and leaves with its
// temperature and vapor pressure.
type AirPath struct {
	At   Position
	From Side
	Flow Series // kg/(s·m²)
}
