package steady

import "fmt"

// HeatFlow is the direction of heat flow through a surface or an air space.
type HeatFlow uint8

// The directions: horizontal through a wall, up and down through a horizontal
// surface, slant through a surface at 45°.
const (
	Horizontal HeatFlow = iota
	Up
	SlantUp
	SlantDown
	Down
	flows = int(iota)
)

// Emittance is the emittance of a surface.
type Emittance uint8

// The emittances that the film table knows.
const (
	Emittance90 Emittance = iota // 0.90, ordinary building materials
	Emittance20                  // 0.20, aluminum-coated paper
	Emittance05                  // 0.05, bright aluminum foil
	emittances  = int(iota)
)

// Film resistances of the outer surface in any position, m²·K/W, at a wind of
// 6.7 m/s in winter and 3.4 m/s in summer (ASHRAE Handbook—Fundamentals 2021,
// ch. 26, Table 10).
const (
	OutsideFilmWinter = 0.030
	OutsideFilmSummer = 0.044
)

// OutsideFilmISO is the outside film resistance of ISO 6946 in m²·K/W (ASHRAE
// Handbook—Fundamentals 2021, ch. 26, Table 11).
const OutsideFilmISO = 0.04

// MoldFilm is the inside film resistance with which ISO 13788 judges mold on
// opaque surfaces, m²·K/W (recalled).
const MoldFilm = 0.25

// Vapor permeances of the films in kg/(s·m²·Pa) (ASHRAE Handbook—Fundamentals
// 2021, ch. 27, Example 8).
const (
	InsideFilmPermeance  = 9200e-12
	OutsideFilmPermeance = 57000e-12
)

// InsideFilm returns the film resistance in m²·K/W of a surface in still air
// (ASHRAE Handbook—Fundamentals 2021, ch. 26, Table 10).
func InsideFilm(flow HeatFlow, emittance Emittance) (float64, error) {
	if int(flow) >= flows || int(emittance) >= emittances {
		return 0, fmt.Errorf("no inside film for heat flow %d and emittance %d", flow, emittance)
	}
	table := [flows][emittances]float64{
		Horizontal: {0.12, 0.24, 0.30},
		Up:         {0.11, 0.19, 0.23},
		SlantUp:    {0.11, 0.20, 0.24},
		SlantDown:  {0.13, 0.29, 0.39},
		Down:       {0.16, 0.48, 0.80},
	}
	return table[flow][emittance], nil
}

// InsideFilmISO returns the inside film resistance of ISO 6946 in m²·K/W, which
// ISO 13788 uses for condensation inside assemblies (ASHRAE
// Handbook—Fundamentals 2021, ch. 26, Table 11). A surface at 45° takes the
// value of a wall, which that table allows for any position.
func InsideFilmISO(flow HeatFlow) (float64, error) {
	switch flow {
	case Horizontal, SlantUp, SlantDown:
		return 0.13, nil
	case Up:
		return 0.10, nil
	case Down:
		return 0.17, nil
	}
	return 0, fmt.Errorf("no inside film for heat flow %d", flow)
}
