package analysis

import (
	"fmt"
	"math"
	"testing"
	"testing/fstest"

	"relath/advisor/assembly"
	"relath/advisor/internal/checks"
	"relath/advisor/moistair"
	"relath/advisor/steady"
	"relath/kb"
	"relath/kb/quantity"
)

// testBase lays materials of the tests over the shipped base: name, form,
// thermal resistance in m²·K/W and permeance in ng/(s·m²·Pa) of the layer as
// described.
func testBase(t testing.TB, materials ...[4]string) *kb.Base {
	t.Helper()
	files := fstest.MapFS{}
	for _, m := range materials {
		text := fmt.Sprintf(`id: %s
name: %[1]s
family: test
summary: A layer of a test.
form: %s
thickness: {usual: 20 mm}
values:
  - {property: thermal-resistance, value: %s m2K/W, source: ashrae-hof-2021, locator: ch. 27, evidence: read}
  - {property: permeance, value: %s ng/(Pa s m2), source: ashrae-hof-2021, locator: ch. 27, evidence: read}
`, m[0], m[1], m[2], m[3])
		files["materials/test/"+m[0]+".yaml"] = &fstest.MapFile{Data: []byte(text)}
	}
	base, err := kb.Load(kb.Embedded(), files)
	if err != nil {
		t.Fatal(err)
	}
	return base
}

// TestHandbookWall describes the wood-frame wall of ASHRAE
// Handbook—Fundamentals 2021, ch. 27, Example 3, as a house and holds its
// U-factor to 0.3627 W/(m²·K), recomputed from the resistances printed there.
func TestHandbookWall(t *testing.T) {
	base := testBase(t,
		[4]string{"example-siding", "board", "0.11", "2000"}, [4]string{"example-foam", "board", "0.70", "100"},
		[4]string{"example-fill", "fill", "2.30", "1700"}, [4]string{"example-stud", "framing", "0.77", "100"},
		[4]string{"example-gypsum", "board", "0.08", "2900"})
	r := analyzed(t, base, wallText("des-moines-ia", `
      - {name: siding, material: example-siding}
      - {name: foam, material: example-foam}
      - {name: bay, framing: {material: example-stud, depth: 90 mm, spacing: 400 mm, fraction: 25 %}, fill: [{material: example-fill}]}
      - {name: gypsum, material: example-gypsum}
`))
	near(t, "U-factor", r.Variants[0].Facts["u-factor"].Range.Best, 0.3627, 0.0001/0.3627)
	// The ratio at the stud with the films of ISO 13788 (recalled): R 0.11 + 0.70 +
	// 0.77 + 0.08 + 0.04 over that and 0.25.
	near(t, "temperature ratio", r.Variants[0].Facts["temperature-ratio"].Range.Best, 1.70/1.95, 1e-12)
}

// TestHandbookInput compiles the wall of ASHRAE Handbook—Fundamentals 2021, ch.
// 27, Example 8, to the flat input, which lists it from the inside.
func TestHandbookInput(t *testing.T) {
	layers := []struct {
		id         string
		r, permits float64
	}{{"example-gypsum", 0.08, 290}, {"example-fiber", 1.90, 1700}, {"example-sheathing", 0.11, 29}, {"example-siding", 0.18, 2010}}
	var materials [][4]string
	text := ""
	for _, l := range layers {
		materials = append(materials, [4]string{l.id, "board", fmt.Sprint(l.r), fmt.Sprint(l.permits)})
		text = fmt.Sprintf("      - {name: %s, material: %[1]s}\n%s", l.id, text)
	}
	base := testBase(t, materials...)
	a := resolve(t, base, wallText("des-moines-ia", text)).Assemblies[0]
	in, err := Compile(base, a, a.Variants[0])
	if err != nil {
		t.Fatal(err)
	}
	if len(in.Layers) != len(layers) || in.Inside.R != 0.13 || in.Outside.R != 0.04 {
		t.Fatalf("%d layers, films %g and %g; want 4, and 0.13 and 0.04 of ISO 6946 (recalled)", len(in.Layers), in.Inside.R, in.Outside.R)
	}
	for i, l := range layers {
		near(t, "resistance of "+l.id, in.Layers[i].R, l.r, 1e-12)
		near(t, "permeance of "+l.id, in.Layers[i].Permeance.At(0.5), l.permits*1e-12, 1e-12)
	}
}

// TestCornersBracket runs the corners of a wall whose vapor resistances are
// known by a factor of two: one-sided corners lie inside of the mixed ones.
func TestCornersBracket(t *testing.T) {
	m := uncertainWall()
	ends, err := m.corners()
	if err != nil {
		t.Fatal(err)
	}
	peak := func(at corner) float64 {
		in := m.compile(at)
		in.Saturation, in.Unsliced = steady.ISO13788, true
		y, err := m.workspace.Year(in)
		if err != nil {
			t.Fatal(err)
		}
		return 1000 * y.PlanePeak
	}
	f := checks.Open(t, "steady-monthly-corners.csv")
	for _, row := range f.Rows() {
		// A resistance doubled is a permeance at the tight end.
		end := func(column string) position { return position(-math.Log2(row.Float(column))) }
		f.Check(t, row, "peak_g_m2", peak(mixed(2, end("outside_factor"), end("inside_factor"))))
	}
	near(t, "peak at the corner that is outside tight, inside open", peak(ends[3]), 2313, 0.5/2313)
	near(t, "peak at the corner that is outside open, inside tight", peak(ends[4]), 381, 0.5/381)
}

// uncertainWall is the reference case with one condensing plane, in its
// synthetic climate, with every vapor resistance but that of the insulation
// known by a factor of two.
func uncertainWall() *model {
	m := &model{of: &assembly.Assembly{Kind: "wall", Between: [2]assembly.Side{"outdoors", "room"}}, ambient: true, room: newRoom()}
	for i, l := range []struct{ r, sd, factor float64 }{{0.10, 0.2, 2}, {0.09, 2.0, 2}, {3.5, 0.14, 1}, {0.06, 0.5, 2}} {
		p := kb.StillAirPermeability / l.sd
		r := reading{curve: constant(quantity.Range{Low: p / l.factor, Best: p, High: p * l.factor})}
		r.dry, r.wet = r.curve.at(middle), r.curve.at(middle)
		e := element{part: i, fill: -1, heat: quantity.Exact(l.r), heatVar: -1, known: true}
		e.vapor.rh = stopsOf([]reading{r})
		e.vapor.body = r.film(e.vapor.rh, i, 1)
		m.elements = append(m.elements, e)
		m.variables = append(m.variables, variable{})
	}
	for i, days := range daysOf() {
		te := math.Round(100*(6-14*math.Cos(2*math.Pi*float64(i)/12))) / 100
		pe := 0.7 * moistair.SaturationPressureISO(te)
		m.months[i] = steady.Month{Days: days, OutdoorT: te, OutdoorP: pe, IndoorT: 20, IndoorP: pe + 540*max(0, min(1, 1-te/20))}
	}
	return m
}
