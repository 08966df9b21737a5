package kb

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"pgregory.net/rapid"

	"relath/kb/quantity"
)

// perm in kg/(s m2 Pa): ASTM E96, 5.72135E-11 for 0 °C mercury.
const perm = 5.72135e-11

// boardWith loads a board that has these values and nothing else.
func boardWith(t testing.TB, form, values string) *Material {
	t.Helper()
	entry := "id: x\nname: X\nfamily: board\nsummary: X.\nform: " + form + "\nthickness: {usual: 10 mm}\nvalues:\n" + values
	b := mustLoad(t, small(t, txtar.File{Name: "materials/board/x.yaml", Data: []byte(entry)}))
	return b.Material("x")
}

// row writes a value.
func row(words ...string) string {
	return "  - {" + strings.Join(words, ", ") + ", source: example-handbook, locator: p. 1}\n"
}

func near(got, want float64) bool { return math.Abs(got-want) <= 1e-4*math.Abs(want) }

func wantBest(t *testing.T, m *Material, property, method string, thickness, want float64) Working {
	t.Helper()
	w, ok := m.Working(property, method, thickness)
	if !ok || !near(w.SI.Best, want) {
		t.Errorf("%s %q at %g m: got %v (%v), want best %g", property, method, thickness, w.SI, ok, want)
	}
	return w
}

// The definitions: M = δ/d, δ = δ0/μ, M = δ0/s_d, R = d/λ, m = ρ d.
func TestConversions(t *testing.T) {
	cases := []struct {
		value, property string
		thickness, want float64
		formula         string
	}{
		{"property: permeability, value: 2 ng/(Pa s m)", "permeance", 0.02, 1e-10, "permeability / thickness"},
		{"property: vapor-resistance-factor, value: 50", "permeance", 0.02, 2e-10, "2.0E-10 kg/(s m Pa) / (vapor resistance factor × thickness)"},
		{"property: vapor-resistance-factor, value: 50", "permeability", 0, 4e-12, "2.0E-10 kg/(s m Pa) / vapor resistance factor"},
		{"property: equivalent-air-layer, value: 0.5 m, at: {thickness: 10 mm}", "permeance", 0.02, 2e-10, "2.0E-10 kg/(s m Pa) / equivalent air layer × stated thickness / thickness"},
		{"property: equivalent-air-layer, value: 0.5 m, at: {thickness: 10 mm}", "permeability", 0, 4e-12, "2.0E-10 kg/(s m Pa) × stated thickness / equivalent air layer"},
		{"property: permeance, value: 10 perm, at: {thickness: 10 mm}", "permeance", 0.02, 5 * perm, "permeance × stated thickness / thickness"},
		{"property: permeance, value: 10 perm, at: {thickness: 10 mm}", "permeance", 0.01, 10 * perm, ""},
		{"property: permeance, value: 10 perm", "permeance", 0.02, 10 * perm, ""},
		{"property: permeance, value: 10 perm, at: {thickness: 10 mm}", "permeability", 0, 0.1 * perm, "permeance × stated thickness"},
		{"property: conductivity, value: 0.04 W/mK", "thermal-resistance", 0.1, 2.5, "thickness / conductivity"},
		{"property: thermal-resistance, value: 2 m2K/W, at: {thickness: 80 mm}", "thermal-resistance", 0.04, 1, "thermal resistance × thickness / stated thickness"},
		{"property: thermal-resistance, value: 2 m2K/W, at: {thickness: 80 mm}", "conductivity", 0, 0.04, "stated thickness / thermal resistance"},
		{"property: density, value: 500 kg/m3", "area-density", 0.02, 10, "density × thickness"},
		{"property: area-density, value: 6 kg/m2, at: {thickness: 10 mm}", "area-density", 0.015, 9, "mass per area × thickness / stated thickness"},
	}
	for _, c := range cases {
		m := boardWith(t, "board", row(c.value, "evidence: read"))
		w := wantBest(t, m, c.property, AnyMethod, c.thickness, c.want)
		if w.Formula != c.formula || w.Evidence != Read {
			t.Errorf("%s from %s: formula %q, evidence %q; want %q, read", c.property, c.value, w.Formula, w.Evidence, c.formula)
		}
	}
}

// A sheet has no thickness: nothing is scaled, and only its resistance counts.
func TestSheetsAreNotScaled(t *testing.T) {
	m := boardWith(t, "sheet", row("property: permeance, value: 10 perm, at: {thickness: 10 mm}", "evidence: read"))
	if w := wantBest(t, m, "permeance", AnyMethod, 0.02, 10*perm); w.Formula != "" {
		t.Errorf("formula %q; want none", w.Formula)
	}
	m = boardWith(t, "sheet", row("property: equivalent-air-layer, value: 2 m", "evidence: read"))
	wantBest(t, m, "permeance", AnyMethod, 0, 1e-10)
	m = boardWith(t, "sheet", row("property: permeability, value: 2 ng/(Pa s m)", "evidence: read"))
	if w, ok := m.Working("permeance", AnyMethod, 0.001); ok {
		t.Errorf("got %v from the permeability of a sheet; want nothing", w.SI)
	}
}

// A reciprocal turns the bounds round.
func TestConversionOrdersBounds(t *testing.T) {
	m := boardWith(t, "board", row("property: vapor-resistance-factor, value: 50, range: 25 to 100", "evidence: read"))
	w, _ := m.Working("permeance", AnyMethod, 0.02)
	if !near(w.SI.Low, 1e-10) || !near(w.SI.Best, 2e-10) || !near(w.SI.High, 4e-10) {
		t.Errorf("got %v; want 1e-10, 2e-10, 4e-10", w.SI)
	}
}

func TestPreferred(t *testing.T) {
	cases := []struct {
		name, values, method string
		want                 float64 // perm
	}{
		{"stronger evidence", row("property: permeance, value: 1 perm", "evidence: practice") + row("property: permeance, value: 2 perm", "evidence: recalled"), "", 2},
		{"high doubt last", row("property: permeance, value: 1 perm", "evidence: read, doubt: high") + row("property: permeance, value: 2 perm", "evidence: assumed"), "", 2},
		{"nearest thickness", row("property: permeance, value: 1 perm, at: {thickness: 30 mm}", "evidence: read") + row("property: permeance, value: 2 perm, at: {thickness: 12 mm}", "evidence: read"), "", 2 * 12 / 10.},
		{"nearest density", row("property: density, value: 500 kg/m3", "evidence: read") +
			row("property: permeance, value: 1 perm, at: {thickness: 10 mm, density: 300 kg/m3}", "evidence: read") +
			row("property: permeance, value: 2 perm, at: {thickness: 10 mm, density: 550 kg/m3}", "evidence: read"), "", 2},
		{"the method asked for", row("property: permeance, value: 1 perm, at: {method: unspecified}", "evidence: read") + row("property: permeance, value: 2 perm, at: {method: dry-cup}", "evidence: read"), DryCup, 2},
		{"an unspecified method answers", row("property: permeance, value: 1 perm, at: {method: wet-cup}", "evidence: read") + row("property: permeance, value: 2 perm", "evidence: practice"), DryCup, 2},
		{"choose", row("property: permeance, value: 1 perm", "evidence: read") + "  - {property: permeance, value: 2 perm, source: practice, evidence: practice}\nchoose: [{property: permeance, source: practice, why: w}]\n", "", 2},
		{"choose by locator", row("property: permeance, value: 1 perm", "evidence: read") + "  - {property: permeance, value: 2 perm, source: example-handbook, locator: p. 2, evidence: read}\nchoose: [{property: permeance, source: example-handbook, locator: p. 2, why: w}]\n", "", 2},
		{"a choice for one method leaves the other alone", row("property: permeance, value: 1 perm, at: {method: dry-cup}", "evidence: read") +
			"  - {property: permeance, value: 2 perm, at: {method: dry-cup}, source: practice, evidence: practice}\n" +
			row("property: permeance, value: 3 perm, at: {method: wet-cup}", "evidence: read") +
			"choose: [{property: permeance, method: dry-cup, source: practice, why: w}]\n", WetCup, 3},
		{"stronger evidence of another property", row("property: permeance, value: 1 perm", "evidence: practice") + row("property: permeability, value: 1.1442700 ng/(Pa s m)", "evidence: read"), "", 2},
		{"withdrawn values do not count", row("property: permeance, value: 1 perm, withdrawn: misread", "evidence: read") + row("property: permeance, value: 2 perm", "evidence: assumed"), "", 2},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			wantBest(t, boardWith(t, "board", c.values), "permeance", c.method, 0, c.want*perm)
		})
	}
}

// A gap stays a gap: the opposite cup, another method and another property
// answer nothing.
func TestGaps(t *testing.T) {
	m := boardWith(t, "board", row("property: permeance, value: 1 perm, at: {method: wet-cup}", "evidence: read"))
	for _, q := range [][2]string{{"permeance", DryCup}, {"permeance", AsCurve}, {"conductivity", ""}, {"permeability", ""}, {"permeance", "service"}} {
		if w, ok := m.Working(q[0], q[1], 0.01); ok {
			t.Errorf("%s %q: got %v; want nothing", q[0], q[1], w.SI)
		}
	}
}

// Only equal evidence and the same conditions widen the range; the rest is
// printed beside it.
func TestWidening(t *testing.T) {
	at := "at: {method: dry-cup, thickness: 10 mm}"
	m := boardWith(t, "board",
		row("property: permeance, value: 5 perm, range: 4 to 6 perm", at, "evidence: read")+
			row("property: permeance, value: 8 perm, range: 7 to 9 perm", at, "evidence: read")+
			row("property: permeance, value: 3 perm", "at: {method: dry-cup, thickness: 10.1 mm}", "evidence: read")+
			row("property: permeance, value: 1 perm", at, "evidence: recalled")+
			row("property: permeance, value: 2 perm", at, "evidence: read, doubt: high")+
			row("property: permeance, value: 20 perm", "at: {method: dry-cup, thickness: 10 mm, state: aged}", "evidence: read")+
			row("property: permeance, value: 30 perm", "at: {method: dry-cup, thickness: 20 mm}", "evidence: read")+
			row("property: permeance, value: 90 perm", "at: {method: wet-cup, thickness: 10 mm}", "evidence: read"))
	w, _ := m.Working("permeance", DryCup, 0.01)
	if !near(w.SI.Low, 3*perm) || !near(w.SI.Best, 5*perm) || !near(w.SI.High, 9*perm) {
		t.Errorf("got %v; want 5 perm from 3 to 9", w.SI)
	}
	if len(w.Widened) != 2 || len(w.Beside) != 4 {
		t.Errorf("%d widen, %d beside; want 2 and 4 (the wet cup answers another question)", len(w.Widened), len(w.Beside))
	}
}

// Board curve of ASHRAE Handbook—Fundamentals 2021, ch. 26, Table 6, oriented
// strand board 660 kg/m³: 0.00644 0.178 0.485 1.39 3.86 ng/(Pa s m) at 10 30 50 70
// 90 %. Its mean from 0 to 50 % through straight lines is, by hand,
// (0.00644·10 + 0.09222·20 + 0.3315·20)/50 = 0.170776; at 11 mm 0.27 perm.
func TestCupOfCurve(t *testing.T) {
	m := boardWith(t, "board", "  - {property: permeability, curve: {rh: 10 30 50 70 90 %, values: 0.00644 0.178 0.485 1.39 3.86 ng/(Pa s m)}, source: example-handbook, evidence: read}\n")
	w := wantBest(t, m, "permeability", DryCup, 0, 0.170776e-12)
	if w.Formula != "mean of the curve from 0 to 50 % relative humidity" || w.Curve != nil {
		t.Errorf("formula %q, curve %v", w.Formula, w.Curve)
	}
	w, _ = m.Working("permeance", DryCup, 0.011)
	if got := w.SI.Best / perm; math.Abs(got-0.27) > 0.005 {
		t.Errorf("dry cup at 11 mm: %.3f perm; want 0.27 to its printed digits", got)
	}
	// (0.9375·20 + 2.625·20 + 3.86·10)/50 = 2.197
	wantBest(t, m, "permeability", WetCup, 0, 2.197e-12)

	w, ok := m.Working("permeance", AsCurve, 0.011)
	if !ok || len(w.Curve) != 5 {
		t.Fatalf("curve %v, %v; want five points", w.Curve, ok)
	}
	for rh, want := range map[float64]float64{0: 0.00644, 0.1: 0.00644, 0.2: 0.09222, 0.5: 0.485, 0.8: 2.625, 0.9: 3.86, 1: 3.86} {
		if got := w.At(rh).Best; !near(got, want*1e-12/0.011) {
			t.Errorf("at %g: %g; want %g", rh, got, want*1e-12/0.011)
		}
	}
}

// Two curves of equal evidence and the same conditions span a band, also where
// their humidities differ.
func TestCurvesWiden(t *testing.T) {
	curve := func(values string) string {
		return "  - {property: permeability, curve: {" + values + " ng/(Pa s m)}, source: example-handbook, evidence: read}\n"
	}
	m := boardWith(t, "board", curve("rh: 20 60 %, values: 2 4")+curve("rh: 0 40 100 %, values: 1 5 5"))
	w, _ := m.Working("permeability", AsCurve, 0)
	for _, c := range []struct{ rh, low, best, high float64 }{{0.2, 2, 2, 3}, {0.6, 4, 4, 5}} {
		got := w.At(c.rh)
		if !near(got.Low, c.low*1e-12) || !near(got.Best, c.best*1e-12) || !near(got.High, c.high*1e-12) {
			t.Errorf("at %g: %v; want %g, %g, %g E-12", c.rh, got, c.low, c.best, c.high)
		}
	}
}

// A spread bounds a curve and leaves its best values; what is computed from the
// curve keeps the factors. The mark is that of the weaker of the two.
func TestSpread(t *testing.T) {
	m := boardWith(t, "board", "  - {property: permeability, curve: {rh: 10 50 90 %, values: 2 4 8 ng/(Pa s m), spread: {factor: 0.5 to 3, source: example-handbook, evidence: recalled}}, source: example-handbook, evidence: read}\n")
	w, ok := m.Working("permeance", AsCurve, 0.02)
	if !ok || w.Evidence != Recalled {
		t.Fatalf("got %v, evidence %q; want recalled", ok, w.Evidence)
	}
	for rh, want := range map[float64]float64{0.1: 1e-10, 0.3: 1.5e-10, 0.9: 4e-10} {
		if got := w.At(rh); !near(got.Low, want/2) || !near(got.Best, want) || !near(got.High, 3*want) {
			t.Errorf("at %g: %v; want %g with factors 0.5 and 3", rh, got, want)
		}
	}
	// Mean from 0 to 50 % by hand: (2·10 + 3·40)/50 = 2.8
	dry, _ := m.Working("permeability", DryCup, 0)
	if !near(dry.SI.Low, 1.4e-12) || !near(dry.SI.Best, 2.8e-12) || !near(dry.SI.High, 8.4e-12) {
		t.Errorf("dry cup %v; want 2.8e-12 with factors 0.5 and 3", dry.SI)
	}
	if v := m.Values[0].SI; !near(v.Low, 1e-12) || !near(v.Best, 4e-12) || !near(v.High, 24e-12) {
		t.Errorf("span %v; want 1e-12 to 24e-12 with 4e-12 between", v)
	}
}

func TestSystemWorking(t *testing.T) {
	s := mustLoad(t, small(t)).System("board-two-coats")
	w, ok := s.Working("permeance", AsCurve)
	if !ok || !near(w.At(0.7).Best, 800e-12) || w.Formula != "" {
		t.Errorf("got %v at 70 %% (%v, %q); want 8e-10", w.At(0.7), ok, w.Formula)
	}
	// (110·10 + 160·20 + 305·20)/50 = 208, by hand
	if w, _ := s.Working("permeance", DryCup); !near(w.SI.Best, 208e-12) {
		t.Errorf("dry cup %v; want 2.08e-10", w.SI)
	}
}

// Whatever the values, the working value is one of them with low <= best <=
// high, and the order in the file does not change its bounds when all
// conditions are the same.
func TestWorkingInvariants(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		evidence := rapid.SampledFrom(Read.Allowed())
		n := rapid.IntRange(1, 6).Draw(t, "n")
		values := make([]Value, n)
		for i := range values {
			low := rapid.Float64Range(1, 50).Draw(t, "low")
			high := low + rapid.Float64Range(0, 50).Draw(t, "width")
			values[i] = Value{
				Property: rapid.SampledFrom([]string{"permeance", "permeability", "vapor-resistance-factor"}).Draw(t, "property"),
				Basis:    Basis{Source: fmt.Sprint(i), Evidence: Evidence(evidence.Draw(t, "evidence"))},
				SI:       quantity.Range{Low: low, Best: (low + high) / 2, High: high},
			}
		}
		m := &Material{Form: Board, Thickness: Thickness{UsualSI: 0.01}, Values: values}
		w, ok := m.Working("permeance", AnyMethod, 0)
		if !ok || w.SI.Low > w.SI.Best || w.SI.Best > w.SI.High {
			t.Fatalf("got %v, %v", w.SI, ok)
		}
		if 1+len(w.Widened)+len(w.Beside) != n {
			t.Fatalf("%d values accounted for; want %d", 1+len(w.Widened)+len(w.Beside), n)
		}
		for _, v := range values {
			if v.Evidence.Rank() < w.Evidence.Rank() {
				t.Fatalf("working value is %s although a %s one exists", w.Evidence, v.Evidence)
			}
		}
	})
}
