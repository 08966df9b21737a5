package house

import (
	"math"
	"strings"
	"testing"

	"relath/advisor/analysis"
	"relath/kb/quantity"

	"pgregory.net/rapid"
)

// floorHouse is an invented house with one floor and the air of its rooms.
func floorHouse(indoor, floor string) string {
	return "format: 1\nhouse: Invented\nplace: des-moines-ia\nindoor:\n" + indoor + "\nfinishes:\n  - " + floor + "\n"
}

const dryWinter = "  heating: {temperature: 70 F, humidity: 30 %}\n  cooling: {temperature: 70 F, humidity: 50 %}"

// Rooms of 70 °F at 30 % in winter and 50 % in summer bring wood to 6.2 and 9.2 %
// (Wood Handbook FPL-GTR-282, Table 4-2, read; printed to 0.1 %). A flat-sawn red
// oak strip of 3-1/4 in, 82.55 mm, moves 82.55 × 0.00369 × (9.2 − 6.2) = 0.914 mm
// (coefficient of Table 13-5), half of it a gap when it is laid at the middle,
// 7.7 %. A yearly gap of 1/16 in, 1.5875 mm, is reached by boards of 1.5875/(0.00369
// × 3.0) = 143.4 mm.
func TestMovementOfAnOakFloor(t *testing.T) {
	base := loadBase(t)
	r := run(t, base, floorHouse(dryWinter, "{room: living room, part: floor, material: oak-floor, area: 240 ft2, size: 3/4 in x 3-1/4 in, cut: flat}"))
	m := r.Finishes[0].Movement
	if m == nil {
		t.Fatal("an oak floor does not move")
	}
	// The equation and the printed table agree within 0.06 % moisture content.
	const printed = 0.0006
	for what, pair := range map[string][2]float64{
		"winter": {m.Low.Range.Best, 0.062}, "summer": {m.High.Range.Best, 0.092}, "target": {m.Target.Range.Best, 0.077},
	} {
		if math.Abs(pair[0]-pair[1]) > printed {
			t.Errorf("moisture content, %s: %.4f, printed %.4f", what, pair[0], pair[1])
		}
	}
	// The two printed contents are each good to 0.06 of the difference of 3.0.
	const spread = 0.04
	near(t, "movement over the year", m.Total.Range.Best, 0.914e-3, spread)
	near(t, "gap", m.Gap.Range.Best, 0.457e-3, spread)
	near(t, "swell", m.Swell.Range.Best, 0.457e-3, spread)
	near(t, "widest board", m.WidestBoard.Range.Best, 143.4e-3, spread)
	if m.Driest != 0 || m.Dampest < 5 || m.Dampest > 7 {
		t.Errorf("driest in month %d, dampest in month %d", m.Driest+1, m.Dampest+1)
	}
	if !m.WithinValidity {
		t.Error("6.2 to 9.2 % lies within 6 to 14 %")
	}
}

// The trade says 5 to 7 % in winter and 9 to 12 % in summer in the Midwest, and
// 0.03 to 0.05 in for this strip (rules of thumb, practice).
func TestMovementAgainstTheTrade(t *testing.T) {
	base := loadBase(t)
	const usual = "  heating: {temperature: 68 F, humidity: 30 %}\n  cooling: {temperature: 75 F, humidity: 55 %}"
	m := run(t, base, floorHouse(usual, "{room: hall, part: floor, material: oak-floor, area: 90 ft2, size: 3/4 in x 3-1/4 in, cut: flat}")).Finishes[0].Movement
	if low, high := m.Low.Range.Best, m.High.Range.Best; low < 0.05 || low > 0.07 || high < 0.09 || high > 0.12 {
		t.Errorf("%.1f to %.1f %% moisture", 100*low, 100*high)
	}
	const inch = 0.0254
	if total := m.Total.Range.Best / inch; total < 0.03 || total > 0.05 {
		t.Errorf("a strip moves %.3f in", total)
	}
}

// Quarter-sawn oak moves by the radial coefficient, 0.00158 against 0.00369; a cut
// that is not known spans both and leans to flat.
func TestTheCutDecides(t *testing.T) {
	base := loadBase(t)
	total := func(cut string) (Movement, float64) {
		m := run(t, base, floorHouse(dryWinter, "{room: hall, part: floor, material: oak-floor, area: 90 ft2, size: 3/4 in x 3-1/4 in"+cut+"}")).Finishes[0].Movement
		return *m, m.Total.Range.Best
	}
	_, flat := total(", cut: flat")
	_, quarter := total(", cut: quarter")
	unknown, best := total("")
	near(t, "quarter against flat", quarter/flat, 0.00158/0.00369, 1e-9)
	near(t, "unknown cut", best, flat, 1e-9)
	near(t, "least of an unknown cut", unknown.Total.Range.Low, quarter, 1e-9)
	if text := strings.Join(unknown.Warnings, " "); !strings.Contains(text, "flat-sawn") {
		t.Errorf("nothing says which cut was taken: %q", text)
	}
}

// Whatever the air, gap and swell add up to the movement where the wood is laid
// within its range, nothing is below zero, and damper summers swell more.
func TestMovementProperties(t *testing.T) {
	base := loadBase(t)
	rapid.Check(t, func(rt *rapid.T) {
		winter := rapid.IntRange(15, 45).Draw(rt, "winter")
		summer := rapid.IntRange(46, 75).Draw(rt, "summer")
		indoor := "  heating: {temperature: 70 F, humidity: " + quantity.Format(float64(winter)/100, quantity.Ratio, quantity.SI) +
			"}\n  cooling: {temperature: 74 F, humidity: " + quantity.Format(float64(summer)/100, quantity.Ratio, quantity.SI) + "}"
		s := New(base, resolved(t, base, floorHouse(indoor, "{room: hall, part: floor, material: maple-floor, area: 90 ft2, size: 3/4 in x 2-1/4 in, cut: flat}")), analysis.Hourly{})
		f := &s.house.Finishes[0]
		m := s.Finish(f, f.Materials[0]).Movement
		sum := m.Gap.Range.Best + m.Swell.Range.Best
		if math.Abs(sum-m.Total.Range.Best) > 1e-9 {
			rt.Fatalf("gap %g and swell %g are not the movement %g", m.Gap.Range.Best, m.Swell.Range.Best, m.Total.Range.Best)
		}
		for what, r := range map[string]quantity.Range{"gap": m.Gap.Range, "swell": m.Swell.Range, "movement": m.Total.Range} {
			if r.Low < 0 || r.Low > r.Best || r.Best > r.High {
				rt.Fatalf("%s %+v", what, r)
			}
		}
	})
}

// A humidity that is left to a default gives a range; a warm house without
// humidity control says when the coefficients do not hold.
func TestMovementSaysWhatItRestsOn(t *testing.T) {
	base := loadBase(t)
	const floor = "{room: hall, part: floor, material: oak-floor, area: 90 ft2, size: 3/4 in x 10 in}"
	open := run(t, base, floorHouse("  heating: {temperature: 70 F}", floor)).Finishes[0].Movement
	if open.Low.Range.IsExact() || open.Low.Evidence != "assumed" {
		t.Errorf("humidity by default: %+v, %s", open.Low.Range, open.Low.Evidence)
	}
	dry := run(t, base, floorHouse("  heating: {temperature: 70 F, humidity: 12 %}\n  cooling: {temperature: 74 F, humidity: 50 %}", floor)).Finishes[0].Movement
	text := strings.Join(dry.Warnings, " ")
	for _, says := range []string{"6 to 14 %", "gaps wider than"} {
		if !strings.Contains(text, says) {
			t.Errorf("%q does not say %q", text, says)
		}
	}
	if m := run(t, base, floorHouse(dryWinter, "{room: hall, part: floor, material: laminate-floor, area: 90 ft2}")).Finishes[0].Movement; m != nil {
		t.Error("laminate is no solid wood")
	}
}

// 3/4 in of oak for 5/16 in of laminate is 7/16 in more, over the 3/8 in by which
// risers may differ; and 0.01905 × 706 − 0.0079375 × 900 = 6.31 kg/m² more with the
// densities of the base.
func TestChangeOfAFloor(t *testing.T) {
	base := loadBase(t)
	s := New(base, resolved(t, base, floorHouse(dryWinter, "{room: hall, part: floor, material: laminate-floor, area: 90 ft2}")), analysis.Hourly{})
	f := &s.house.Finishes[0]
	old, fresh := s.Finish(f, base.Material("laminate-floor")), s.Finish(f, base.Material("oak-floor"))
	c := s.Change(old, fresh)
	near(t, "thickness", c.Thickness, 7.0/16*0.0254, 1e-9)
	oak, _ := base.Material("oak-floor").Density()
	laminate, _ := base.Material("laminate-floor").Density()
	near(t, "weight", c.PerArea.Range.Best, 0.01905*oak.Best-0.0079375*laminate.Best, 1e-9)
	text := strings.Join(c.Notes, " ")
	for _, says := range []string{"7/16 in higher", "more than the 3/8 in"} {
		if !strings.Contains(text, says) {
			t.Errorf("%q does not say %q", text, says)
		}
	}
	back := s.Change(fresh, old)
	near(t, "and back", back.Thickness, -c.Thickness, 1e-12)
	if text := strings.Join(back.Notes, " "); !strings.Contains(text, "lower") {
		t.Errorf("%q does not say that the floor gets lower", text)
	}
}

// Mass is volume times density, glue a share of the mass, whatever the size.
func TestFinishAmounts(t *testing.T) {
	base := loadBase(t)
	s := New(base, resolved(t, base, floorHouse(dryWinter, "{room: hall, part: baseboard, material: mdf-trim, length: 10 m, size: 9/16 in x 5-1/4 in}")), analysis.Hourly{})
	rapid.Check(t, func(rt *rapid.T) {
		f := s.house.Finishes[0]
		f.Length = rapid.Float64Range(0.1, 1000).Draw(rt, "length")
		f.Width = rapid.Float64Range(0.01, 0.5).Draw(rt, "width")
		f.Thickness = rapid.Float64Range(0.005, 0.05).Draw(rt, "thickness")
		x := s.Finish(&f, f.Materials[0])
		density, _ := f.Materials[0].Density()
		want := f.Length * f.Width * f.Thickness * density.Best
		if got := x.Mass.Range.Best; math.Abs(got-want) > 1e-9*want {
			rt.Fatalf("mass %g, want %g", got, want)
		}
		if g := x.Glue.Range; g.Low < 0 || g.High > x.Mass.Range.High || g.Low > g.Best || g.Best > g.High {
			rt.Fatalf("glue %+v in %+v", g, x.Mass.Range)
		}
	})
}

// A floor that is a layer of an assembly moves as one that is a finish does.
func TestFloorLayerMoves(t *testing.T) {
	base := loadBase(t)
	const floor = `
assemblies:
  - name: floor over the crawl space
    kind: floor
    between: [crawl, room]
    area: 240 ft2
    layers:
      - {name: bay, framing: {material: spf-lumber, size: 2x10, spacing: 16 in}}
      - {name: subfloor, material: plywood-subfloor}
      - {name: floor, material: oak-floor}
`
	r := run(t, base, floorHouse(dryWinter, "{room: hall, part: floor, material: oak-floor, area: 90 ft2}")+floor)
	if len(r.Boards) != 1 || r.Boards[0].Where.Layer != "floor" {
		t.Fatalf("boards toward rooms: %+v", r.Boards)
	}
	near(t, "movement for each unit of width", r.Boards[0].Movement.PerWidth.Range.Best, r.Finishes[0].Movement.PerWidth.Range.Best, 1e-12)
}
