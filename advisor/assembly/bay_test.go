package assembly_test

import (
	"fmt"
	"math"
	"testing"
)

// TestOpenPartOfBay: what a fill leaves open of its bay is air on the first
// side, since fill is held by the lining or lies on it; a full bay has none.
func TestOpenPartOfBay(t *testing.T) {
	const inch = 0.0254
	base := loadBase(t)
	for _, test := range []struct {
		fill string
		want []string
	}{
		{"fill: [{material: fiberglass-batt, thickness: 3-1/2 in}]", []string{"2 air", "3.5 fiberglass-batt"}},
		{"fill: [{material: fiberglass-batt, thickness: 5-1/2 in}]", []string{"5.5 fiberglass-batt"}},
		{"fill: [{material: fiberglass-batt}]", []string{"5.5 fiberglass-batt"}},
		{"fill: [{material: eps-board, thickness: 1 in}, {material: fiberglass-batt, thickness: 2 in}]", []string{"2.5 air", "1 eps-board", "2 fiberglass-batt"}},
		{"color: light", []string{"5.5 air"}},
	} {
		text := "format: 1\nhouse: Bay\nplace: des-moines-ia\nassemblies:\n  - name: wall\n    kind: wall\n    between: [outdoors, room]\n    layers:\n" +
			"      - {name: siding, material: bevel-wood-siding}\n      - {name: bay, framing: {material: spf-lumber, size: 2x6}, " + test.fill + "}\n" +
			"      - {name: board, material: gypsum-board}\n"
		house, problems := read(base, "bay.yaml", []byte(text))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		var got []string
		for _, f := range house.Assemblies[0].Variants[0].Layers[1].Fills {
			name := "air"
			if f.Material != nil {
				name = f.Material.ID
			}
			got = append(got, fmt.Sprintf("%g %s", math.Round(f.Depth/inch*1000)/1000, name))
		}
		if fmt.Sprint(got) != fmt.Sprint(test.want) {
			t.Errorf("%s: %q, want %q", test.fill, got, test.want)
		}
	}
}
