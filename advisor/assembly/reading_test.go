package assembly_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"relath/advisor/assembly"
)

// wallRead is a wall with doubts and with readings.
func wallRead(readings, indoor string) string {
	return `format: 1
house: Example
place: des-moines-ia
built: 1996
indoor:
  heating: {temperature: 68 F, humidity: 35 %}
` + indoor + `assemblies:
  - name: wall
    kind: wall
    between: [outdoors, room]
    layers:
      - {name: siding, material: bevel-wood-siding}
      - {name: wrap, material: {one-of: [nonwoven-house-wrap, asphalt-felt-15, none]}}
      - {name: sheathing, material: osb, thickness: 7/16 in}
      - {name: bay, framing: {material: spf-lumber, size: 2x6}, fill: [{material: {one-of: [fiberglass-batt, mineral-wool-batt]}}]}
      - name: board
        material: gypsum-board
        thickness: 1/2 in
        coats: {in: [{coating: latex-primer, count: 0-1}, {coating: {one-of: [latex-paint, oil-paint]}, count: 2-4}]}
` + readings
}

func resolved(t *testing.T, text string) *assembly.Resolved {
	t.Helper()
	r, problems := read(loadBase(t), "wall.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return r
}

// TestReadingsNarrow: a reading leaves the variants that agree with it, counted
// by hand: 3 wraps, 2 fills, 2 paints, and 2 by 3 numbers of coats.
func TestReadingsNarrow(t *testing.T) {
	tests := []struct {
		name     string
		readings []string
		variants int
		doubts   []string // what is left open
	}{
		{"none", nil, 64, []string{"wrap", "bay", "board", "board", "board"}}, // 72 combinations, of which the ends are taken
		{"material", []string{"layer: wrap, is: none"}, 24, []string{"bay", "board", "board", "board"}},
		{"material and fill", []string{"layer: wrap, is: asphalt-felt-15", "layer: bay, is: mineral-wool-batt"}, 12, []string{"board", "board", "board"}},
		{"all but coats", []string{"layer: wrap, is: none", "layer: bay, is: fiberglass-batt", "layer: board, coating: oil-paint"}, 6, []string{"board", "board"}},
		{"least coats", []string{"layer: board, coats: 2"}, 12, []string{"wrap", "bay", "board"}},
		{"most coats", []string{"layer: board, coats: 5", "layer: wrap, is: none", "layer: bay, is: fiberglass-batt"}, 2, []string{"board"}},
		// Three coats are a primer and two, or three without a primer.
		{"coats two ways", []string{"layer: board, coats: 3", "layer: wrap, is: none", "layer: bay, is: fiberglass-batt", "layer: board, coating: latex-paint"}, 2, []string{"board", "board"}},
	}
	for _, test := range tests {
		text := ""
		if len(test.readings) > 0 {
			text = "    readings:\n"
		}
		for _, r := range test.readings {
			text += fmt.Sprintf("      - {%s, date: 2026-01-14}\n", r)
		}
		a := resolved(t, wallRead(text, "")).Assemblies[0]
		var doubts []string
		for _, d := range a.Doubts {
			doubts = append(doubts, d.Layer)
		}
		if test.name == "none" {
			if len(a.Variants) > assembly.MaxVariants || !a.Cornered {
				t.Errorf("%s: %d variants", test.name, len(a.Variants))
			}
			continue
		}
		if len(a.Variants) != test.variants || !slices.Equal(doubts, test.doubts) || a.Cornered || len(a.Taken) != len(test.readings) {
			t.Errorf("%s: %d variants, doubts of %v, %d readings; want %d, %v", test.name, len(a.Variants), doubts, len(a.Taken), test.variants, test.doubts)
		}
		for _, v := range a.Variants {
			board := v.Layers[len(v.Layers)-1]
			for _, r := range test.readings {
				if n, ok := strings.CutPrefix(r, "layer: board, coats: "); ok && fmt.Sprint(len(board.CoatsIn)) != n {
					t.Errorf("%s: a variant with %d coats", test.name, len(board.CoatsIn))
				}
			}
		}
	}
}

// TestReadingsLeaveTheDescription: the description that was read stays as it
// was written, and what readings settled can be written and read again.
func TestReadingsLeaveTheDescription(t *testing.T) {
	text := wallRead("    readings:\n      - {layer: board, coats: 5, date: 2026-01-14}\n      - {layer: sheathing, wood-moisture: 14 %, date: 2026-02-01}\n", "")
	house, doc, problems := assembly.Parse("wall.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	before, err := assembly.Write(house)
	if err != nil {
		t.Fatal(err)
	}
	r, problems := assembly.Resolve(house, doc, loadBase(t))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	after, err := assembly.Write(house)
	if err != nil || string(after) != string(before) {
		t.Errorf("the description changed: %v\n%s", err, after)
	}
	settled, err := assembly.Write(r.House)
	if err != nil {
		t.Fatal(err)
	}
	again := resolved(t, string(settled)).Assemblies[0]
	if len(again.Variants) != len(r.Assemblies[0].Variants) || len(again.Taken) != 1 || again.Taken[0].Moisture != 0.14 {
		t.Errorf("read again: %d variants, readings %v\n%s", len(again.Variants), again.Taken, settled)
	}
}

// TestAirReadings: the means of the readings of the heating season go before
// what is described, with the error of the hygrometer; other months do not. The
// heating months of Des Moines are those with a mean below 50 °F.
func TestAirReadings(t *testing.T) {
	r := resolved(t, wallRead("", `  readings:
    - {humidity: 41 %, temperature: 20 C, date: 2026-01}
    - {humidity: 37 %, temperature: 22 C, date: 2026-02-03}
    - {humidity: 60 %, temperature: 28 C, date: 2026-07-03}
`))
	const meter = 0.03 // the assumption
	h := r.Heating
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }
	if !near(h.Humidity, 0.39) || !near(h.Temperature, 21) || !h.Read || !near(h.Readings.Low, 0.37-meter) || !near(h.Readings.High, 0.41+meter) {
		t.Errorf("heating %+v", h)
	}
	if r.Air[0].Season != "heating" || r.Air[2].Season != "" {
		t.Errorf("seasons %+v", r.Air)
	}
	plain := resolved(t, wallRead("", "")).Heating
	if plain.Read || !near(plain.Humidity, 0.35) {
		t.Errorf("without readings %+v", plain)
	}
}
