package assembly_test

import (
	"math"
	"testing"

	"relath/advisor/assembly"
)

// Sizes by hand: 60 ft² is 60 × 0.09290304 = 5.57418 m², 8 ft 2.4384 m, 3 lb
// 1.36078 kg, 6 in 0.1524 m, R-6 is 6 × 0.1761102 = 1.05666 m²·K/W, 55 °F
// 12.7778 °C.
func TestRoomsFinishesAndColdSurfacesResolve(t *testing.T) {
	const file = `
format: 1
house: Invented
place: des-moines-ia
built: 1996
finishes:
  - {room: bath, part: floor, material: oak-floor, area: 60 ft2, size: 3/4 in x 2-1/4 in, cut: quarter, coats: [{coating: tung-oil-finish, count: 2-3}]}
  - {room: bath, part: baseboard, material: solid-wood-trim, length: 30 ft, state: proposed}
rooms:
  - {name: bath, use: bath, area: 60 ft2, moisture: 3 lb}
  - {name: hall, use: hall, area: 60 ft2, height: 9 ft}
cold-surfaces:
  - {name: duct, kind: duct, air: 55 F, around: attic, insulation: R-6, diameter: 6 in}
  - {name: tank, kind: tank, around: room}
`
	base := loadBase(t)
	h, problems := read(base, "house.yaml", []byte(file))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-4*want {
			t.Errorf("%s: got %g, want %g", what, got, want)
		}
	}
	near("area of the bath", h.Rooms[0].Area, 5.57418)
	near("height by default", h.Rooms[0].Height, 2.4384)
	near("moisture", h.Rooms[0].Moisture, 1.36078)
	near("height as given", h.Rooms[1].Height, 2.7432)
	near("insulation", h.Cold[0].Insulation, 1.05666)
	near("diameter", h.Cold[0].Diameter, 0.1524)
	near("inside", h.Cold[0].Inside, 12.7778)
	if !h.Cold[0].InsideSet || h.Cold[1].InsideSet {
		t.Error("whether a temperature is given is lost")
	}
	if n := len(h.Finishes[0].Coats); n != 2 {
		t.Errorf("%d coats of oil, want 2: the first choice of a doubt", n)
	}
	if h.Finishes[0].State != "existing" || h.Finishes[1].State != "proposed" {
		t.Errorf("states %q and %q; a built house stands unless a finish says otherwise", h.Finishes[0].State, h.Finishes[1].State)
	}
	text, err := assembly.Write(h.House)
	if err != nil {
		t.Fatal(err)
	}
	again, problems := read(base, "again.yaml", text)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if again.Rooms[0].Moisture != h.Rooms[0].Moisture || again.House.Finishes[0].Cut != "quarter" {
		t.Error("what is written does not read back the same")
	}
}

// Finishes of one part in one room are told apart by the first thing that all of
// them have and none shares: size, length, area, number, material, else their
// place. One alone has the name of its part.
func TestFinishesHaveNamesOfTheirOwn(t *testing.T) {
	const file = `
format: 1
house: Invented
place: des-moines-ia
finishes:
  - {room: hall, part: baseboard, material: solid-wood-trim, length: 30 ft, size: 3/4 in x 5-1/4 in}
  - {room: hall, part: baseboard, material: solid-wood-trim, length: 30 ft, size: 3/4 in x 3-1/4 in}
  - {room: bath, part: baseboard, material: solid-wood-trim, length: 20 ft}
  - {room: bath, part: baseboard, material: mdf-trim, length: 30 ft}
  - {room: den, part: door, material: solid-wood-panel-door, count: 1}
  - {room: den, part: door, material: hollow-core-door, count: 1}
  - {room: attic, part: door, material: hollow-core-door, count: 2}
  - {room: attic, part: door, material: hollow-core-door, count: 2}
  - {room: attic, part: floor, material: oak-floor, area: 60 ft2}
`
	h, problems := read(loadBase(t), "house.yaml", []byte(file))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	for i, want := range []string{
		"baseboard (3/4 in x 5-1/4 in)", "baseboard (3/4 in x 3-1/4 in)", "baseboard (20 ft)", "baseboard (30 ft)",
		"door (Solid wood panel door)", "door (Hollow-core door)", "door (no. 1)", "door (no. 2)", "floor",
	} {
		if got := h.Finishes[i].Name; got != want {
			t.Errorf("finish %d is called %q, want %q", i+1, got, want)
		}
	}
}
