package swap

import (
	"math"
	"testing"

	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// TestFinishGlue works the glue of a baseboard by hand: 62 ft of 9/16 in by
// 5-1/4 in is 18.8976 m × 0.0142875 m × 0.13335 m = 0.0360050 m³; times the
// density and the adhesive share of the material.
func TestFinishGlue(t *testing.T) {
	const file = `
format: 1
house: Invented
place: des-moines-ia
built: 1994
finishes:
  - {room: kitchen, part: baseboard, material: mdf-trim, length: 62 ft, size: 9/16 in x 5-1/4 in}
`
	base, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	house, doc, problems := assembly.Parse("house.yaml", []byte(file))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	resolved, problems := assembly.Resolve(house, doc, base)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	advice := Finishes(rule.Tester{Base: base, System: quantity.InchPound}, resolved)
	if len(advice) != 1 || len(advice[0].Proposals) == 0 {
		t.Fatalf("fiberboard trim has no alternative: %+v", advice)
	}
	density, _ := base.Material("mdf-trim").Density()
	share, _ := base.Material("mdf-trim").Working("adhesive-share", kb.AnyMethod, 0)
	const volume = 0.0360050
	if want, got := volume*density.Best*share.SI.Best, advice[0].Glue.Mass.Best; math.Abs(got-want) > 1e-4*want {
		t.Errorf("glue of the baseboard: got %.4f kg, want %.4f kg", got, want)
	}
	for _, p := range advice[0].Proposals {
		if !p.Glue.Known || p.Glue.Mass.High >= advice[0].Glue.Mass.Low {
			t.Errorf("%s: the glue is not less: %+v", p.Title, p.Glue)
		}
		if len(p.Cautions) == 0 {
			t.Errorf("%s has no caution; solid wood moves", p.Title)
		}
	}
}
