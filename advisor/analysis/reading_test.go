package analysis

import (
	"fmt"
	"math"
	"testing"

	"relath/advisor/wood"
)

// TestWoodReading holds the wood moisture that is computed to the equilibrium in
// the air of the printed profile at both faces of the sheathing, and the word to
// the reading with the error of the meter of 2 %.
func TestWoodReading(t *testing.T) {
	text := `format: 1
house: Example
place: des-moines-ia
built: 1996
indoor: {heating: {temperature: 68 F, humidity: 35 %%}}
assemblies:
  - name: wall
    kind: wall
    between: [outdoors, room]
    layers:
      - {name: siding, material: bevel-wood-siding}
      - {name: gap, cavity: 3/4 in, air: vented}
      - {name: felt, material: asphalt-felt-15}
      - {name: sheathing, material: osb, thickness: 7/16 in}
      - {name: bay, framing: {material: spf-lumber, size: 2x6}, fill: [{material: fiberglass-batt}]}
      - {name: membrane, material: variable-retarder-polyamide, sealed: yes}
      - {name: board, material: gypsum-board, thickness: 1/2 in}
    readings: [{layer: sheathing, wood-moisture: %g %%, date: 2026-0%d-14}]
`
	base := loadBase(t)
	for _, month := range []int{1, 7} {
		r := analyzed(t, base, fmt.Sprintf(text, 14.0, month))
		v := r.Variants[0]
		// Counted from the inside: board, membrane, bay and then the sheathing
		// between planes 3 and 4.
		m := v.Detail.Months[month-1]
		at := func(plane int) float64 {
			return wood.EMC(m.Temperature[plane], m.VaporPressure[plane]/overWater(m.Temperature[plane]))
		}
		want := (at(3) + at(4)) / 2
		const close = 5e-4 // the two forms of saturation differ by 1E-3 of the pressure
		e := v.Layers[3].Facts["wood-moisture-computed"]
		if !e.Known || math.Abs(e.Range.Best-want) > close || e.Range.Low > min(at(3), at(4))+close || e.Range.High < max(at(3), at(4))-close {
			t.Errorf("month %d: computed %+v, want %g between %g and %g", month, e.Range, want, at(3), at(4))
		}
		const meter = 0.02
		for reading, word := range map[float64]string{
			100*(e.Range.High+meter) + 0.1: "wetter", 100*(e.Range.High+meter) - 0.1: "as-computed",
			100*(e.Range.Low-meter) + 0.1: "as-computed", 100*(e.Range.Low-meter) - 0.1: "drier",
		} {
			again := analyzed(t, base, fmt.Sprintf(text, reading, month)).Variants[0].Layers
			if got := again[3].Facts["wood-reading"].Words; len(got) != 1 || got[0] != word {
				t.Errorf("month %d, %g %%: %v, want %s", month, reading, got, word)
			}
			if got := again[6].Facts["wood-reading"].Words; got[0] != "none" {
				t.Errorf("the board has a reading: %v", got)
			}
		}
	}
}

// overWater is saturation over liquid water, Pa, by the Magnus form (WMO-No. 8),
// which the formula of the program agrees with to a part in a thousand.
func overWater(celsius float64) float64 { return 611.2 * math.Exp(17.62*celsius/(243.12+celsius)) }
