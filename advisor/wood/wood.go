// Package wood holds what is particular to solid wood: its equilibrium with the
// humidity of the air, the moisture contents that matter, shrinkage and seasonal
// movement, and density, conductivity and heat capacity by moisture content.
//
// Moisture content is kg of water per kg of dry wood, relative humidity a
// fraction, temperature °C, everything else SI. Specific gravity is the dry mass
// over the mass of water that fills the volume at the stated moisture content;
// basic specific gravity takes the green volume. Shrinkage is the fraction of
// the green dimension lost from green to dry.
//
// The formulas are those of the Wood Handbook of the US Forest Products
// Laboratory, FPL-GTR-282 (2021), as reported by copies of it.
//
// Outside the range that a function states, and for NaN, the result is NaN.
// Nothing panics.
package wood

import "math"

// Moisture contents that matter, kg of water per kg of dry wood.
const (
	// PaintLimit is the highest surface moisture content for painting, and that in
	// equilibrium with the 80 % relative humidity from which mold grows (Swedish
	// Wood guidance).
	PaintLimit = 0.16
	// SafeLimit keeps a margin to decay (Wood Handbook ch. 14, recalled).
	SafeLimit = 0.20
	// DecayLimit is where decay of sound wood may begin (reviews of the US Forest
	// Products Laboratory, recalled).
	DecayLimit = 0.28
	// FiberSaturation is the usual moisture content at which the cell walls are
	// full and wood has stopped swelling; 0.26 to 0.30 by species (Wood Handbook
	// ch. 4, recalled).
	FiberSaturation = 0.30
	// FiberSaturationCedar is that of western redcedar, northern white cedar and
	// redwood (recalled; their printed coefficients of movement agree for the two
	// cedars).
	FiberSaturationCedar = 0.22
)

// cellWallGravity is the specific gravity of the wood substance.
const cellWallGravity = 1.54

// MaximumContent returns the moisture content of wood whose voids are full of
// water, from the basic specific gravity (Wood Handbook FPL-GTR-282, eq. 4-3). It
// is NaN unless 0 < basic ≤ 1.54.
func MaximumContent(basic float64) float64 {
	if !(basic > 0 && basic <= cellWallGravity) {
		return math.NaN()
	}
	return (cellWallGravity - basic) / (cellWallGravity * basic)
}

// SinkingContent returns the moisture content from which wood sinks in water,
// from the basic specific gravity (Wood Handbook FPL-GTR-282, eq. 4-4). It is NaN
// unless 0 < basic ≤ 1.
func SinkingContent(basic float64) float64 {
	if !(basic > 0 && basic <= 1) {
		return math.NaN()
	}
	return (1 - basic) / basic
}

// SpecificGravity returns the specific gravity at the moisture content, from the
// basic specific gravity and the volumetric shrinkage: basic/(1 − S) with the
// part S of the shrinkage that has happened, (1 − content/0.30) of it (Wood
// Handbook FPL-GTR-282, eq. 4-13). From fiber saturation it stays at basic. It is
// NaN unless basic > 0, 0 ≤ shrinkage < 1 and content ≥ 0.
func SpecificGravity(basic, shrinkage, content float64) float64 {
	if !(basic > 0 && shrinkage >= 0 && shrinkage < 1 && content >= 0) {
		return math.NaN()
	}
	return basic / (1 - shrinkage*shrunk(content, FiberSaturation))
}

// shrunk returns the share of the shrinkage that has happened at a moisture
// content: none from fiber saturation, all of it when dry.
func shrunk(content, fiberSaturation float64) float64 {
	return 1 - min(content/fiberSaturation, 1)
}

// VolumetricShrinkage estimates the volumetric shrinkage of a species from its
// basic specific gravity, where it was not measured: 0.265·basic (Wood Handbook
// FPL-GTR-282, eq. 4-12). It is NaN unless 0 < basic ≤ 1.54.
func VolumetricShrinkage(basic float64) float64 {
	if !(basic > 0 && basic <= cellWallGravity) {
		return math.NaN()
	}
	return 0.265 * basic
}

// Density returns the density in kg/m³ of wood with its water, from the specific
// gravity at that moisture content (Wood Handbook FPL-GTR-282, eq. 4-14). It is
// NaN unless gravity > 0 and content ≥ 0.
func Density(gravity, content float64) float64 {
	if !(gravity > 0 && content >= 0) {
		return math.NaN()
	}
	return 1000 * gravity * (1 + content)
}
