package honesty_test

import (
	"slices"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
	"relath/kb/strict"
)

// edited resolves the house of an assembly with its description changed; it is
// false when the program refuses it.
func edited(t *testing.T, base *kb.Base, a *assembly.Assembly, change func(*assembly.Described)) (*assembly.Assembly, bool) {
	t.Helper()
	text, err := assembly.Write(a.House.House)
	if err != nil {
		t.Fatal(err)
	}
	house, _, problems := assembly.Parse("house.yaml", text)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	change(&house.Assemblies[a.Index])
	resolved, problems := assembly.Resolve(house, nil, base)
	if len(problems) > 0 {
		return nil, false
	}
	return resolved.Assemblies[a.Index], true
}

// rounding is the relative error of sums of a dozen terms in double precision.
const rounding = 1e-12

// higher says whether a fact is known on both sides and rises in its low, best
// or high value.
func higher(before, after analysis.Estimate) bool {
	up := func(b, a float64) bool { return a > b*(1+rounding) }
	return before.Known && after.Known &&
		(up(before.Range.Low, after.Range.Low) || up(before.Range.Best, after.Range.Best) || up(before.Range.High, after.Range.High))
}

// TestMoreLayersResistMore: a solid layer more on the room side never lets more
// vapor or heat through, wherever it is put.
func TestMoreLayersResistMore(t *testing.T) {
	base := embedded(t)
	g := newGenerator(base, 5)
	count := 0
	for i, a := range generated(t, base, 4, 60) {
		if len(a.Variants) > 1 || a.Kind == "partition" {
			continue
		}
		before := analyze(t, base, a).Variants[0]
		framed := slices.IndexFunc(a.Variants[0].Layers, func(p *assembly.Part) bool { return p.Framed })
		if framed < 0 {
			continue // the core of a wall without framing may move to the new layer
		}
		at := framed + 1 + g.IntN(len(a.Described.Layers)-framed)
		m := g.material(solids())
		thicker, ok := edited(t, base, a, func(d *assembly.Described) {
			d.Layers = slices.Insert(d.Layers, at, assembly.Layer{Name: strict.Text{Value: "one more"}, Material: assembly.Pick(m.ID)})
		})
		if !ok {
			continue
		}
		count++
		after := analyze(t, base, thicker).Variants[0]
		for _, id := range []string{"permeance-inward", "u-factor"} {
			if higher(before.Facts[id], after.Facts[id]) {
				t.Errorf("house %d with %s at %d: %s from %v to %v", i, m.ID, at, id, before.Facts[id].Range, after.Facts[id].Range)
			}
		}
	}
	if count < 20 {
		t.Errorf("only %d assemblies", count)
	}
}

// TestMoreCoatsResistMore: one coat more on any lining never lets more vapor
// through, at the humidity of either cup or between, also where it leads to a
// measured system or away from it.
func TestMoreCoatsResistMore(t *testing.T) {
	base := embedded(t)
	var sequences [][]string
	for _, s := range base.Systems {
		sequences = append(sequences, s.Coats)
	}
	for _, c := range []string{"latex-paint", "alkyd-paint", "limewash"} {
		sequences = append(sequences, []string{"latex-primer", c, c, c, c, c}, []string{c, c, c, c, c, c})
	}
	for _, s := range slices.Clone(sequences) {
		sequences = append(sequences, append(slices.Clone(s), "latex-paint", "oil-paint"))
	}
	for _, m := range base.Materials {
		if !slices.Contains(solids(), m.Form) || m.Thickness.UsualSI == 0 {
			continue
		}
		for _, sequence := range sequences {
			coated(t, base, m, sequence)
		}
	}
}

// tightest is the permeance below which the program takes every layer for
// equally tight, kg/(s·m²·Pa).
const tightest = 1e-15

// coated puts the coats on one by one.
func coated(t *testing.T, base *kb.Base, m *kb.Material, sequence []string) {
	t.Helper()
	part := &assembly.Part{Name: "part", Material: m, Depth: m.Thickness.UsualSI}
	last := analysis.Coat(base, part)
	for i, id := range sequence {
		part.CoatsIn = append(part.CoatsIn, base.Material(id))
		now := analysis.Coat(base, part)
		if last.Missing != "" || now.Missing != "" {
			return
		}
		for _, r := range []struct {
			what     string
			from, to quantity.Range
		}{{"dry cup", last.Dry, now.Dry}, {"50 %", last.Middle, now.Middle}, {"wet cup", last.Wet, now.Wet}} {
			if r.to.Best > max(r.from.Best*(1+rounding), tightest) {
				t.Errorf("%s with %q: the last coat raises the permeance by %s from %v to %v", m.ID, sequence[:i+1], r.what, r.from, r.to)
			}
		}
		last = now
	}
}

// TestGapLetsOutMore: a ventilated gap behind the face never closes the way
// outward by more than the still air in it, 10 mm of it (ISO 13788, recalled),
// which at 1.9E-10 kg/(m s Pa) is 5.3E7 m² s Pa/kg.
func TestGapLetsOutMore(t *testing.T) {
	const stillAir = 0.01 / 1.9e-10
	base := embedded(t)
	count := 0
	for i, a := range generated(t, base, 6, 60) {
		first := a.Variants[0].Layers[0]
		if len(a.Variants) > 1 || first.Cavity || first.Framed || len(a.Described.Layers) < 3 || !a.Described.Layers[1].Cavity.IsZero() {
			continue
		}
		gap, ok := edited(t, base, a, func(d *assembly.Described) {
			d.Layers = slices.Insert(d.Layers, 1, assembly.Layer{Name: strict.Text{Value: "new gap"}, Cavity: strict.Text{Value: "3/4 in"}, Air: "ventilated"})
		})
		if !ok {
			continue
		}
		before, after := analyze(t, base, a).Variants[0].Facts["permeance-outward"], analyze(t, base, gap).Variants[0].Facts["permeance-outward"]
		if !before.Known || !after.Known {
			continue
		}
		count++
		if 1/after.Range.Best > (1/before.Range.Best+stillAir)*(1+rounding) {
			t.Errorf("house %d: the resistance outward goes from %g to %g", i, 1/before.Range.Best, 1/after.Range.Best)
		}
	}
	if count < 8 {
		t.Errorf("only %d assemblies", count)
	}
}
