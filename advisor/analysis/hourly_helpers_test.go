package analysis

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"relath/advisor/assembly"
	"relath/advisor/internal/houses"
	"relath/kb"
)

func loadBase(t testing.TB) *kb.Base {
	t.Helper()
	return houses.Base(t)
}

func resolve(t testing.TB, base *kb.Base, text string) *assembly.Resolved {
	t.Helper()
	return houses.Read(t, base, text)
}

// shipped reads all shipped houses.
func shipped(t testing.TB, base *kb.Base) []*assembly.Assembly {
	t.Helper()
	files, err := filepath.Glob("../../testdata/houses/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no houses: %v", err)
	}
	var list []*assembly.Assembly
	for _, name := range files {
		if strings.HasSuffix(name, ".expect.yaml") {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, resolve(t, base, string(text)).Assemblies...)
	}
	return list
}

// wallText is an invented house with one wall of the given layers.
func wallText(place, layers string) string {
	return `format: 1
house: Test wall
place: ` + place + `
indoor:
  heating: {temperature: 70 F, humidity: 40 %}
  cooling: {temperature: 75 F, humidity: 50 %}
assemblies:
  - name: north wall
    kind: wall
    between: [outdoors, room]
    faces: north
    state: existing
    layers:
` + layers
}

// openWall is a framed wall without a retarder: in winter room air wets its
// sheathing by diffusion.
const openWall = `
      - {name: siding, material: bevel-cedar-siding, thickness: 1/2 in, color: medium}
      - {name: gap, cavity: 3/4 in, air: vented}
      - {name: wrap, material: nonwoven-house-wrap}
      - {name: sheathing, material: osb, thickness: 7/16 in}
      - name: bay
        framing: {material: spf-lumber, size: 2x6, spacing: 16 in}
        fill: [{material: fiberglass-batt, thickness: 5-1/2 in}]
      - name: board
        material: gypsum-board
        thickness: 1/2 in
        coats: {in: [{coating: latex-primer}, {coating: latex-paint, count: 2}]}
`

// hourlyOf runs an assembly.
func hourlyOf(t testing.TB, base *kb.Base, a *assembly.Assembly, o Hourly) *Result {
	t.Helper()
	r, err := Run(context.Background(), base, a)
	if err != nil {
		t.Fatal(err)
	}
	if err := AddHourly(context.Background(), base, o, r); err != nil {
		t.Fatal(err)
	}
	return r
}
