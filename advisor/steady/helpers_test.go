package steady

import (
	"math"
	"testing"

	"relath/advisor/internal/checks"
	"relath/advisor/moistair"
)

const (
	nanogram = 1e-12        // kg
	perm     = 57.2135e-12  // kg/(s·m²·Pa)
	perDay   = 1000 * 86400 // kg/(s·m²) to g/(m²·day)
)

// constant returns a permeance that does not depend on humidity.
func constant(permeance float64) Curve { return Curve{{RH: 0.5, Permeance: permeance}} }

// airLayer returns a layer of a thermal resistance and a vapor diffusion
// equivalent air layer in m, with the still air of ISO 13788.
func airLayer(r, sd float64) Layer {
	return Layer{R: r, Permeance: constant(moistair.AirPermeabilityISO13788 / sd)}
}

// isoInput returns an unsliced input with the films of ISO 13788 for a wall.
func isoInput(months [12]Month, layers ...Layer) *Input {
	return &Input{
		Layers: layers, Inside: Film{R: 0.13}, Outside: Film{R: 0.04},
		Months: months, Saturation: ISO13788, Unsliced: true,
	}
}

// ashraeInput returns an unsliced input with the films of ASHRAE
// Handbook—Fundamentals 2021, ch. 27, Example 8.
func ashraeInput(layers ...Layer) *Input {
	return &Input{
		Layers:  layers,
		Inside:  Film{R: 0.12, VaporResistance: 1 / InsideFilmPermeance},
		Outside: Film{R: 0.03, VaporResistance: 1 / OutsideFilmPermeance},
		Months:  syntheticClimate(540), Unsliced: true,
	}
}

// steadyMonth returns thirty days of constant air.
func steadyMonth(ti, rhi, te, rhe float64) Month {
	return Month{
		Days:    30,
		IndoorT: ti, IndoorP: rhi * moistair.SaturationPressure(ti),
		OutdoorT: te, OutdoorP: rhe * moistair.SaturationPressure(te),
	}
}

// must returns a function result and fails the test on an error.
func must[T any](t testing.TB) func(T, error) T {
	return func(value T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return value
	}
}

// equal fails the test unless got is within tolerance of want.
func equal(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.12g, not %.12g within %g", what, got, want, tolerance)
	}
}

func heatFlow(t testing.TB, row checks.Row) HeatFlow {
	t.Helper()
	flows := map[string]HeatFlow{
		"horizontal": Horizontal, "up": Up, "slant-up": SlantUp, "slant-down": SlantDown, "down": Down,
	}
	flow, ok := flows[row.Text("flow")]
	if !ok {
		t.Fatalf("row %d: unknown heat flow", row.Line())
	}
	return flow
}
