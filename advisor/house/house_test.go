package house

import (
	"context"
	"math"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/internal/houses"
	"relath/kb"
)

// invented is an invented house that uses every part of the package.
const invented = `
format: 1
house: Invented
place: des-moines-ia
built: 1996
air: {tightness: 5 ACH50}
indoor:
  heating: {temperature: 68 F, humidity: 35 %}
  cooling: {temperature: 74 F, humidity: 50 %, supply-air: 55 F}
assemblies:
  - name: north wall
    kind: wall
    between: [outdoors, room]
    area: 310 ft2
    openings: 42 ft2
    layers:
      - {name: siding, material: vinyl-siding}
      - {name: gap, cavity: 3/8 in, air: drained}
      - {name: wrap, material: {one-of: [nonwoven-house-wrap, none]}}
      - {name: sheathing, material: {one-of: [osb, plywood-sheathing]}, thickness: 7/16 in}
      - name: bay
        framing: {material: spf-lumber, size: 2x6, spacing: 16 in, fraction: 25 %}
        fill: [{material: fiberglass-batt, thickness: 5-1/2 in}]
      - {name: poly, material: polyethylene-6mil}
      - name: board
        material: gypsum-board
        thickness: 1/2 in
        coats: {in: [{coating: latex-primer}, {coating: latex-paint, count: 2}]}
  - name: kitchen partition
    kind: partition
    between: [room, room]
    area: 100 ft2
    layers:
      - {name: left board, material: gypsum-board, thickness: 1/2 in}
      - name: bay
        framing: {material: spf-lumber, size: 2x4, spacing: 16 in, fraction: 25 %}
      - {name: right board, material: gypsum-board, thickness: 1/2 in}
finishes:
  - {room: living room, part: baseboard, material: mdf-trim, length: 62 ft, size: 9/16 in x 5-1/4 in}
  - {room: living room, part: floor, material: oak-floor, area: 240 ft2, size: 3/4 in x 3-1/4 in, cut: flat}
  - {room: bedroom, part: door, material: hollow-core-door, count: 3}
  - {room: kitchen, part: cabinet, material: particleboard-cabinet, count: 12}
rooms:
  - {name: living room, use: living, area: 240 ft2}
  - {name: bedroom, use: bedroom, area: 140 ft2}
  - {name: second bedroom, use: bedroom, area: 120 ft2}
  - {name: third bedroom, use: bedroom, area: 120 ft2}
  - {name: kitchen, use: kitchen, area: 160 ft2}
  - {name: bath, use: bath, area: 60 ft2, moisture: 2 lb}
cold-surfaces:
  - {name: duct in the attic, kind: duct, air: 55 F, around: attic, insulation: R-6, diameter: 8 in}
  - {name: bare boot, kind: boot, around: room}
  - {name: water pipe in the crawl space, kind: pipe, air: 50 F, around: crawl, diameter: 7/8 in}
  - {name: slab edge, kind: slab-edge, around: room}
`

func loadBase(t testing.TB) *kb.Base {
	t.Helper()
	return houses.Base(t)
}

func resolved(t testing.TB, base *kb.Base, file string) *assembly.Resolved {
	t.Helper()
	return houses.Read(t, base, file)
}

// analyzed analyzes every assembly.
func analyzed(t testing.TB, base *kb.Base, h *assembly.Resolved) []*analysis.Result {
	t.Helper()
	var list []*analysis.Result
	for _, a := range h.Assemblies {
		r, err := analysis.Run(context.Background(), base, a)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, r)
	}
	return list
}

// run studies a house file.
func run(t testing.TB, base *kb.Base, file string, said ...Said) *Result {
	t.Helper()
	h := resolved(t, base, file)
	r, err := New(base, h, analysis.Hourly{}).Run(context.Background(), analyzed(t, base, h), said)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// near compares within a relative tolerance.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: got %.6g, want %.6g", what, got, want)
	}
}
