package analysis

import (
	"slices"
	"testing"

	"relath/advisor/assembly"
	"relath/advisor/internal/checks"
	"relath/kb"
	"relath/kb/quantity"
)

// nano is 1 ng/(s·m²·Pa) in SI.
const nano = 1e-12

// board is 1/2 in gypsum board with coats on the room side.
func board(base *kb.Base, coats ...string) *assembly.Part {
	p := &assembly.Part{Name: "board", Material: base.Material("gypsum-board"), Depth: 0.5 * 0.0254}
	for _, id := range coats {
		p.CoatsIn = append(p.CoatsIn, base.Material(id))
	}
	return p
}

func latex(base *kb.Base, count int) *assembly.Part {
	coats := []string{"latex-primer"}
	for range count {
		coats = append(coats, "latex-paint")
	}
	return board(base, coats...)
}

func bestAt(c Coated, rh float64) float64 { return vaporCurve(c.Curve).at(rh).Best }

// TestPaintQuestion reads the painted board at the humidities of ASHRAE
// Handbook—Fundamentals 2021, ch. 26, Table 6, after Kumaran 2002: bare, primed,
// and with primer and two coats of latex paint, in ng/(s·m²·Pa). The bare board
// was 12.5 mm thick and is described as 12.7 mm, so that it resists 1.6 % more.
func TestPaintQuestion(t *testing.T) {
	base := loadBase(t)
	humidities := []float64{0.1, 0.3, 0.5, 0.7, 0.9}
	for _, c := range []struct {
		name string
		part *assembly.Part
		want [5]float64
	}{
		{"bare", board(base), [5]float64{2340, 2720, 3190, 3760, 4470}},
		{"primed", latex(base, 0), [5]float64{680, 1490, 2200, 2890, 3590}},
		{"primer and two coats", latex(base, 2), [5]float64{110, 210, 400, 800, 1650}},
	} {
		got := Coat(base, c.part)
		for i, rh := range humidities {
			near(t, c.name, bestAt(got, rh), c.want[i]*nano, 0.017)
		}
	}
	two := Coat(base, latex(base, 2))
	near(t, "primer and two coats at 10 %, perm", bestAt(two, 0.1)/onePerm, 1.9, 0.02)
	near(t, "primer and two coats at 70 %, perm", bestAt(two, 0.7)/onePerm, 14, 0.02)
	near(t, "bare board at 50 %, perm", Coat(base, board(base)).Middle.Best/onePerm, 55, 0.02)
	if two.System == nil || two.Covered != 3 {
		t.Errorf("the measured system is not used: %+v", two.System)
	}
}

// TestFurtherCoatsActInSeries adds coats beyond the measured system. One coat is
// half the difference of the vapor resistances of the two measured boards:
// at 50 % 2/(1/400 − 1/2200) = 977.8 ng/(s·m²·Pa), computed from the printed
// values; with n further coats 1/(1/400 + n/977.8).
func TestFurtherCoatsActInSeries(t *testing.T) {
	base := loadBase(t)
	for n, want := range map[int]float64{1: 283.9, 3: 179.6} {
		got := Coat(base, latex(base, 2+n))
		near(t, "further coats", got.Middle.Best, want*nano, 0.002)
		if got.Covered != 3 {
			t.Errorf("the system covers %d coats, want 3", got.Covered)
		}
	}
}

// TestCoatsNeverOpen adds coat after coat on either face: no bound of the
// permeance rises at any humidity.
func TestCoatsNeverOpen(t *testing.T) {
	base := loadBase(t)
	for _, id := range []string{"gypsum-board", "gypsum-plaster", "cement-lime-stucco-1-1-6", "insulation-board", "plywood-sheathing", "lime-plaster-on-wood-lath", "bevel-wood-siding"} {
		m := base.Material(id)
		if m == nil {
			t.Fatalf("no material %q", id)
		}
		for _, coating := range base.Materials {
			if coating.Form != kb.Coat {
				continue
			}
			if _, ok := readPermeance(askMaterial(nil, coating, 0)); !ok {
				continue
			}
			p := &assembly.Part{Name: "layer", Material: m, Depth: m.Thickness.UsualSI, CoatsOut: []*kb.Material{base.Material("oil-paint")}}
			before := Coat(base, p)
			for range 4 {
				p.CoatsIn = append(p.CoatsIn, coating)
				after := Coat(base, p)
				for _, at := range before.Curve {
					was, is := at.SI, vaporCurve(after.Curve).at(at.RH)
					const rounding = 1 + 1e-9
					if is.Low > was.Low*rounding || is.Best > was.Best*rounding || is.High > was.High*rounding {
						t.Fatalf("%d coats of %s on %s at %g: %v, one less %v", len(p.CoatsIn), coating.ID, id, at.RH, is, was)
					}
				}
				before = after
			}
		}
	}
}

// TestFacesAddUp puts a measured system on one face and oil paint on the other:
// resistances of both faces count.
func TestFacesAddUp(t *testing.T) {
	base := loadBase(t)
	p := latex(base, 2)
	p.CoatsOut = []*kb.Material{base.Material("oil-paint")}
	oil, ok := readPermeance(askMaterial(nil, p.CoatsOut[0], 0))
	if !ok {
		t.Fatal("oil paint has no permeance")
	}
	z := 1/(400*nano) + 1/oil.curve.at(middle).Best
	near(t, "both faces", Coat(base, p).Middle.Best, 1/z, 0.002)
}

// TestJoints computes M = M_joint + (1 − share)/(1/M_board + Σ 1/M_coat) by hand:
// boards of 100 with two coats of 50, joints of 7 over 4 % of the face, in
// ng/(s·m²·Pa): 7 + 0.96/(0.01 + 0.04) = 26.2. Tight are little joint, much
// of the face joint, and tight boards.
func TestJoints(t *testing.T) {
	of := func(low, best, high float64, times float64) film {
		r := quantity.Range{Low: low * nano, Best: best * nano, High: high * nano}
		return film{times: times, at: []quantity.Range{r, r, r}}
	}
	s := stack{
		rh: []float64{0.5}, body: of(80, 100, 120, 1), faces: []coating{{coats: []film{of(40, 50, 60, 2)}}},
		joints: &joints{
			permeance: quantity.Range{Low: 5 * nano, Best: 7 * nano, High: 9 * nano},
			boards:    quantity.Range{Low: 0.94, Best: 0.96, High: 0.98},
		},
	}
	got := s.at(0.5)
	near(t, "best", got.Best, 26.2*nano, 1e-12)
	near(t, "tight", got.Low, (5+0.94/(1.0/80+2.0/40))*nano, 1e-12)
	near(t, "open", got.High, (9+0.98/(1.0/120+2.0/60))*nano, 1e-12)
}

// TestVentedGap gives the permeance of the outdoor air that moves through a gap
// of 20 mm (TenWolde and Carll 1992).
func TestVentedGap(t *testing.T) {
	base := loadBase(t)
	r := analyzed(t, base, wallText("des-moines-ia", `
      - {name: siding, material: bevel-cedar-siding, thickness: 1/2 in}
      - {name: gap, cavity: 20 mm, air: vented}
      - {name: board, material: gypsum-board, thickness: 1/2 in}
`))
	in := r.Variants[0].Detail.Input
	vented := base.Assumption("air-change-vented").SI.Best * 3600 // per hour
	f := checks.Open(t, "steady-vented-gap.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "permeance_ng", in.Layers[1].Vent/nano*row.Float("changes_per_hour")/vented)
		row.Float("airflow_kg_s_m2")
		row.Float("r_m2k_w")
	}
	if in.Layers[0].Vent != 0 || in.Layers[2].Vent != 0 {
		t.Error("another layer is vented")
	}
}

// TestClassLimits reads the classes at their limits: up to 0.1, 1 and 10 perms
// (IRC R202 and R702.7).
func TestClassLimits(t *testing.T) {
	for _, c := range []struct {
		perms float64
		want  string
	}{{0, "I"}, {0.1, "I"}, {0.1011, "II"}, {1, "II"}, {1.011, "III"}, {10, "III"}, {10.11, "none"}, {50, "none"}} {
		if got := classOf(c.perms * onePerm); got != c.want {
			t.Errorf("class of %g perms is %s, want %s", c.perms, got, c.want)
		}
	}
	for _, c := range []struct {
		low, high float64
		want      []string
	}{{0.5, 0.9, []string{"II"}}, {0.05, 1, []string{"I", "II"}}, {0.05, 20, []string{"I", "II", "III", "none"}}} {
		e := classWords(quantity.Range{Low: c.low * onePerm, Best: c.low * onePerm, High: c.high * onePerm})
		if !slices.Equal(e.Words, c.want) || e.Mixed != (len(c.want) > 1) {
			t.Errorf("classes of %g to %g perms are %q, mixed %v; want %q", c.low, c.high, e.Words, e.Mixed, c.want)
		}
	}
}

// TestClassOfASide takes the tightest layer of each side: a kraft facing in the
// bay counts toward the room and not toward the weather, the siding in front of
// a gap that breathes not at all.
func TestClassOfASide(t *testing.T) {
	base := loadBase(t)
	wall := func(fill, inside string) Facts {
		return analyzed(t, base, wallText("des-moines-ia", `
      - {name: siding, material: vinyl-siding}
      - {name: gap, cavity: 3/8 in, air: drained}
      - {name: wrap, material: nonwoven-house-wrap}
      - {name: bay, framing: {material: spf-lumber, size: 2x4}, fill: [{material: `+fill+`, thickness: 3-1/2 in}]}
`+inside+`
      - {name: board, material: gypsum-board, thickness: 1/2 in}
`)).Variants[0].Facts
	}
	kraft := wall("kraft-faced-batt", "")
	if got := kraft["retarder-class-outside"].Words; !slices.Equal(got, []string{"none"}) {
		t.Errorf("class outside of a kraft-faced batt is %q", got)
	}
	if got := kraft["retarder-class-inside"].Words; slices.Contains(got, "none") {
		t.Errorf("class inside with a kraft-faced batt is %q", got)
	}
	if e := kraft["permeance-inward"]; e.Range.High > 10*onePerm {
		t.Errorf("the facing does not count on the way inward: %v", e.Range)
	}
	if got := wall("mineral-wool-batt", "")["retarder-class-inside"].Words; !slices.Equal(got, []string{"none"}) {
		t.Errorf("class of a bare board is %q", got)
	}
	poly := wall("mineral-wool-batt", "      - {name: poly, material: polyethylene-6mil}")
	if got := poly["retarder-class-inside"].Words; !slices.Equal(got, []string{"I"}) {
		t.Errorf("class of polyethylene is %q", got)
	}
	if e := poly["retarder-responsive"]; e.Flag || e.Mixed {
		t.Error("polyethylene is taken as responsive")
	}
	variable := wall("mineral-wool-batt", "      - {name: membrane, material: variable-retarder-polyamide}")
	if e := variable["retarder-responsive"]; !e.Flag && !e.Mixed {
		t.Error("a variable retarder is not taken as responsive")
	}
}
