package analysis

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"relath/kb/quantity"
)

// TestDoubtsAreVariants analyzes a wall with two doubts: each combination has
// its own facts, the first settles every doubt by its first choice, and what a
// doubt does not touch stays.
func TestDoubtsAreVariants(t *testing.T) {
	base := loadBase(t)
	r := analyzed(t, base, wallText("des-moines-ia", `
      - {name: siding, material: bevel-cedar-siding, thickness: 1/2 in}
      - {name: wrap, material: {one-of: [nonwoven-house-wrap, none]}}
      - {name: sheathing, material: osb, thickness: 7/16 in}
      - {name: bay, framing: {material: spf-lumber, size: 2x6}, fill: [{material: fiberglass-batt, thickness: 5-1/2 in}]}
      - name: board
        material: gypsum-board
        thickness: 1/2 in
        coats: {in: [{coating: latex-primer}, {coating: latex-paint, count: 2-4}]}
`))
	if len(r.Variants) != 6 || len(r.Assembly.Doubts) != 2 {
		t.Fatalf("%d variants of %d doubts, want 6 of 2", len(r.Variants), len(r.Assembly.Doubts))
	}
	for i, v := range r.Variants {
		layers, coats := 5-i/3, float64(3+i%3)
		if len(v.Layers) != layers {
			t.Errorf("variant %d has %d layers, want %d", i, len(v.Layers), layers)
		}
		if got := v.Layers[len(v.Layers)-1].Facts["coat-count"].Range.Best; got != coats {
			t.Errorf("variant %d has %g coats, want %g", i, got, coats)
		}
		if got, want := v.Facts["u-factor"].Range, r.Variants[0].Facts["u-factor"].Range; got != want {
			t.Errorf("U-factor of variant %d is %v, want %v", i, got, want)
		}
		if got, want := v.Facts["permeance-inward"].Evidence, r.Variants[0].Facts["permeance-inward"].Evidence; got != want {
			t.Errorf("mark of variant %d is %q, want %q", i, got, want)
		}
	}
	for i := range 2 {
		a, b := r.Variants[i].Facts["permeance-inward"].Range, r.Variants[i+1].Facts["permeance-inward"].Range
		if !(b.Best < a.Best) {
			t.Errorf("one coat more leaves %v of %v inward", b, a)
		}
	}
}

// TestMostCombinations holds the number of variants to 64; beyond, only the ends
// of the doubts are taken, and the analysis says so.
func TestMostCombinations(t *testing.T) {
	base := loadBase(t)
	run := func(coats string) *Result {
		return analyzed(t, base, wallText("des-moines-ia", `
      - {name: siding, material: bevel-cedar-siding, thickness: 1/2 in, coats: {out: [{coating: oil-paint, count: `+coats+`}]}}
      - {name: bay, framing: {material: spf-lumber, size: 2x4}, fill: [{material: fiberglass-batt, thickness: 3-1/2 in}]}
      - {name: board, material: gypsum-board, thickness: 1/2 in, coats: {in: [{coating: latex-paint, count: `+coats+`}]}}
`))
	}
	if r := run("1-8"); len(r.Variants) != 64 || r.Assembly.Cornered || len(r.Warnings) != 0 {
		t.Errorf("8 by 8 coats: %d variants, cornered %v, %q", len(r.Variants), r.Assembly.Cornered, r.Warnings)
	}
	r := run("1-9")
	if len(r.Variants) != 4 || !r.Assembly.Cornered {
		t.Errorf("9 by 9 coats: %d variants, cornered %v; want the 4 ends", len(r.Variants), r.Assembly.Cornered)
	}
	if !slices.ContainsFunc(r.Warnings, func(w string) bool { return strings.Contains(w, "only their ends") }) {
		t.Errorf("it does not say so: %q", r.Warnings)
	}
}

// TestThinFill leaves the open part of the bay on the first side: an air space
// and the fill, whose resistances by hand are 0.1831 m²·K/W (ISO 6946 form, 38
// mm, horizontal flow, recalled) and that of 3-1/2 in of the same batt alone.
func TestThinFill(t *testing.T) {
	base := loadBase(t)
	wall := func(size string) *Result {
		return analyzed(t, base, wallText("des-moines-ia", `
      - {name: siding, material: bevel-cedar-siding, thickness: 1/2 in}
      - {name: bay, framing: {material: spf-lumber, `+size+`}, fill: [{material: mineral-wool-batt, thickness: 3-1/2 in}]}
      - {name: board, material: gypsum-board, thickness: 1/2 in}
`))
	}
	thin, full := wall("size: 2x4, fraction: 25 %"), wall("depth: 5 in, fraction: 25 %")
	fill := layerOf(t, thin, "bay").Facts["layer-resistance"].Range.Best
	near(t, "resistance of the bay", layerOf(t, full, "bay").Facts["layer-resistance"].Range.Best, fill+0.1831, 3e-4)
	in := full.Variants[0].Detail.Input
	if len(in.Layers) != 4 {
		t.Fatalf("%d slabs, want board, fill, air and siding", len(in.Layers))
	}
	near(t, "fill, next to the board", in.Layers[1].R, fill, 1e-9)
	near(t, "air, next to the siding", in.Layers[2].R, 0.1831, 3e-4)
	if f := full.Variants[0].Facts; f["bay-full"].Flag || f["bay-empty"].Flag || !thin.Variants[0].Facts["bay-full"].Flag {
		t.Error("the bay is taken as full or empty")
	}
}

// TestDryOldWall is a false alarm to guard against: a dry wall of before 1930
// with paint on both faces computes no water behind its outside paint, in any
// variant and at any corner.
func TestDryOldWall(t *testing.T) {
	base := loadBase(t)
	text, err := os.ReadFile("../../testdata/houses/hickory-hill.yaml")
	if err != nil {
		t.Fatal(err)
	}
	r := analyzed(t, base, string(text))
	for i, v := range r.Variants {
		if e := v.Facts["peak-condensate"]; !e.Known || e.Range.High != 0 {
			t.Errorf("variant %d: peak condensate %v", i, e.Range)
		}
		if e := v.Facts["dries-in-year"]; !e.Flag || e.Mixed {
			t.Errorf("variant %d does not dry", i)
		}
	}
	if coats := layerOf(t, r, "siding").Facts["coat-count"].Range.Best; coats < 8 {
		t.Errorf("the siding has %g coats only", coats)
	}
}

// TestSamples draws 1000 samples of the vapor values of every shipped assembly,
// one material being one variable: at most 1 % may fall outside of the range
// that is shown.
func TestSamples(t *testing.T) {
	base := loadBase(t)
	const samples = 1000
	for _, a := range shipped(t, base) {
		r, err := Run(context.Background(), base, a)
		if err != nil {
			t.Fatal(err)
		}
		m := newModel(base, a, a.Variants[0])
		if m.blocked() != "" {
			t.Fatalf("%s: %s", a.Name, m.blocked())
		}
		if err := m.findSlowest(m.compile(bestCase)); err != nil {
			t.Fatal(err)
		}
		var outside [moistureCount]int
		random := rand.New(rand.NewPCG(1, 2))
		for range samples {
			o, err := m.evaluate(m.compileShifted(drawn(m, random)), nil, true)
			if err != nil {
				t.Fatal(err)
			}
			for i, id := range moistureFacts() {
				shown := r.Variants[0].Facts[id]
				rounding := 1e-9 * max(math.Abs(shown.Range.Low), math.Abs(shown.Range.High))
				if shown.Known && (o[i] < shown.Range.Low-rounding || o[i] > shown.Range.High+rounding) {
					outside[i]++
				}
			}
		}
		for i, id := range moistureFacts() {
			if outside[i] > samples/100 {
				t.Errorf("%s, %s: %d of %d samples of %s lie outside of %v", a.House.House.House, a.Name, outside[i], samples, id, r.Variants[0].Facts[id].Range)
			}
		}
	}
}

// drawn puts every vapor variable somewhere in its range.
func drawn(m *model, random *rand.Rand) []position {
	shift := make([]position, len(m.variables))
	for v := range shift {
		if m.variables[v].kind == ofVapor {
			shift[v] = position(2*random.Float64() - 1)
		}
	}
	return shift
}

// TestPick takes values along a range: its ends, its best value, and by ratio
// between.
func TestPick(t *testing.T) {
	r := quantity.Range{Low: 1, Best: 4, High: 64}
	for _, c := range []struct {
		at   position
		want float64
	}{{tight, 1}, {best, 4}, {open, 64}, {-0.5, 2}, {0.5, 16}, {nudgedLow, 1}, {nudgedHigh, 64}} {
		if got := pick(r, c.at); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("value at %g is %g, want %g", c.at, got, c.want)
		}
	}
	exact := quantity.Exact(10)
	if lo, hi := pick(exact, nudgedLow), pick(exact, nudgedHigh); lo != 9 || math.Abs(hi-11) > 1e-12 {
		t.Errorf("a value without a range is moved to %g and %g, want a tenth", lo, hi)
	}
	if got := pick(quantity.Range{Low: 0, Best: 2, High: 4}, -0.5); got != 1 {
		t.Errorf("halfway to nothing is %g, want 1", got)
	}
}

// TestCoatsMoveTogether holds five coats of one paint, on two layers, to be one
// variable.
func TestCoatsMoveTogether(t *testing.T) {
	base := loadBase(t)
	a := resolve(t, base, wallText("des-moines-ia", `
      - {name: siding, material: bevel-cedar-siding, thickness: 1/2 in, coats: {out: [{coating: oil-paint, count: 5}]}}
      - {name: bay, framing: {material: spf-lumber, size: 2x4}, fill: [{material: fiberglass-batt, thickness: 3-1/2 in}]}
      - {name: plaster, material: lime-plaster, thickness: 3/4 in, coats: {in: [{coating: oil-paint, count: 2}]}}
`)).Assemblies[0]
	m := newModel(base, a, a.Variants[0])
	var paint []variable
	for _, v := range m.variables {
		if v.input.Material == "oil-paint" {
			paint = append(paint, v)
		}
	}
	if len(paint) != 1 || paint[0].input.Layer != "siding and plaster" {
		t.Errorf("oil paint is %d variables: %+v", len(paint), paint)
	}
	r := analyzed(t, base, wallText("des-moines-ia", `
      - {name: siding, material: bevel-cedar-siding, thickness: 1/2 in}
      - {name: bay, framing: {material: spf-lumber, size: 2x4}, fill: [{material: fiberglass-batt, thickness: 3-1/2 in}]}
      - {name: plaster, material: lime-plaster, thickness: 3/4 in, coats: {in: [{coating: oil-paint, count: 6}]}}
`))
	drivers := r.Variants[0].Facts["permeance-inward"].Drivers
	if len(drivers) == 0 || drivers[0].Input.Material != "oil-paint" {
		t.Errorf("what moves the way inward most is %+v, want the paint", drivers)
	}
}

// BenchmarkAnalyze analyzes a house of three variants, as a whole.
func BenchmarkAnalyze(b *testing.B) {
	base := loadBase(b)
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "houses", "alder-court.yaml"))
	if err != nil {
		b.Fatal(err)
	}
	list := resolve(b, base, string(text)).Assemblies
	b.ReportAllocs()
	for b.Loop() {
		for _, a := range list {
			if _, err := Run(context.Background(), base, a); err != nil {
				b.Fatal(err)
			}
		}
	}
}
