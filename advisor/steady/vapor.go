package steady

import (
	"fmt"
	"math"
)

// Three ways to say how much a layer resists vapor, for a vapor permeability of
// still air in kg/(m·s·Pa): its permeance W, the vapor diffusion equivalent air
// layer s_d = air/W in m, and for a material the resistance factor
// μ = air/permeability, so that s_d = μ·d. The permeability of still air is a
// convention: with 2.0E−10, 1.95E−10 and 1.75E−10 one perm is an s_d of 3.50,
// 3.41 and 3.06 m, so the one a number was made with must be used to undo it.

// EquivalentAirLayer returns s_d in m of a layer of a permeance in
// kg/(s·m²·Pa); +Inf for 0.
func EquivalentAirLayer(permeance, air float64) (float64, error) {
	err := firstError(within("permeance", permeance, 0, MaxPermeance), within("permeability of still air", air, 1e-11, 1e-8))
	if err != nil {
		return 0, err
	}
	if permeance == 0 {
		return math.Inf(1), nil
	}
	return air / permeance, nil
}

// PermeanceOfAirLayer returns the permeance in kg/(s·m²·Pa) of a layer of s_d in
// m.
func PermeanceOfAirLayer(sd, air float64) (float64, error) {
	err := firstError(within("equivalent air layer", sd, 1e-6, 1e6), within("permeability of still air", air, 1e-11, 1e-8))
	if err != nil {
		return 0, err
	}
	return air / sd, nil
}

// ResistanceFactor returns μ of a material of a vapor permeability in
// kg/(m·s·Pa).
func ResistanceFactor(permeability, air float64) (float64, error) {
	err := firstError(within("vapor permeability", permeability, 1e-20, 1e-8), within("permeability of still air", air, 1e-11, 1e-8))
	if err != nil {
		return 0, err
	}
	return air / permeability, nil
}

// OutsideFilmAirLayer returns s_d in m of the outer film at a wind speed in m/s:
// 1/(67 + 90·v) (draft of EN 15026).
func OutsideFilmAirLayer(wind float64) (float64, error) {
	if err := within("wind speed", wind, 0, 100); err != nil {
		return 0, err
	}
	return 1 / (67 + 90*wind), nil
}

// InsideFilmAirLayer returns s_d in m of the inner film by the direction of heat
// flow (draft of EN 15026). Slant flow takes the value of horizontal flow.
func InsideFilmAirLayer(flow HeatFlow) (float64, error) {
	switch flow {
	case Horizontal, SlantUp, SlantDown:
		return 0.008, nil
	case Up:
		return 0.004, nil
	case Down:
		return 0.03, nil
	}
	return 0, fmt.Errorf("no inside film for heat flow %d", flow)
}
