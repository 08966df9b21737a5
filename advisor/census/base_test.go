package census_test

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/sorption"
	"relath/kb"
	"relath/kb/quantity"
)

// These tests hold the whole base to physics that no data may break.

func loaded(t testing.TB) *kb.Base {
	t.Helper()
	b, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// slack allows for the last digits of sums of floats. A layer that passes nothing
// counts as closed in a sum.
const (
	slack  = 1 + 1e-9
	closed = 1e-15 // kg/(s·m²·Pa)
)

// nowhereAbove reports a low, best or high value of one range that is above that
// of the other.
func nowhereAbove(t *testing.T, what string, r, bound quantity.Range) {
	t.Helper()
	above := func(x, bound float64) bool { return x > slack*max(bound, closed) }
	if above(r.Low, bound.Low) || above(r.Best, bound.Best) || above(r.High, bound.High) {
		t.Errorf("%s: %v is above %v", what, r, bound)
	}
}

// atHumidities compares two layers with coats at every humidity.
func atHumidities(t *testing.T, what string, more, less analysis.Coated) {
	t.Helper()
	for rh := 0.05; rh < 1; rh += 0.1 {
		at := func(c analysis.Coated) quantity.Range { return kb.Working{Curve: c.Curve}.At(rh) }
		nowhereAbove(t, fmt.Sprintf("%s, permeance at %.0f %%", what, 100*rh), at(more), at(less))
	}
}

// bare is a layer of a material without coats.
func bare(m *kb.Material) assembly.Part {
	return assembly.Part{Name: "layer", Material: m, Depth: m.Thickness.UsualSI}
}

// A coat in series never lowers the vapor resistance, on any layer, under any
// other coat, on either face: not where a measured system takes over either.
func TestCoatsNeverOpen(t *testing.T) {
	b := loaded(t)
	var coats []*kb.Material
	for _, m := range b.Materials {
		if m.Form == kb.Coat {
			coats = append(coats, m)
		}
	}
	for _, m := range b.Materials {
		if m.Form == kb.Coat || m.Form == kb.Unit || m.Form == kb.Joint || m.Form == kb.Framing {
			continue
		}
		p := bare(m)
		without := analysis.Coat(b, &p)
		if without.Missing != "" {
			t.Errorf("%s: %s", m.ID, without.Missing)
			continue
		}
		for _, coat := range coats {
			p.CoatsIn, p.CoatsOut = []*kb.Material{coat}, nil
			one := analysis.Coat(b, &p)
			atHumidities(t, coat.ID+" on "+m.ID, one, without)
			p.CoatsIn = []*kb.Material{coat, coat}
			atHumidities(t, "two coats of "+coat.ID+" on "+m.ID, analysis.Coat(b, &p), one)
		}
	}
	for _, s := range b.Systems {
		checkSystem(t, b, s, coats)
	}
}

// checkSystem builds a measured system coat by coat and goes on with every other
// coat.
func checkSystem(t *testing.T, b *kb.Base, s *kb.System, coats []*kb.Material) {
	p := bare(b.Material(s.Substrate))
	p.Depth = max(p.Depth, s.ThicknessSI)
	last := analysis.Coat(b, &p)
	for i := range s.Coats {
		p.CoatsIn = append(p.CoatsIn, b.Material(s.Coats[i]))
		next := analysis.Coat(b, &p)
		atHumidities(t, fmt.Sprintf("coat %d of %s", i+1, s.ID), next, last)
		last = next
	}
	whole := slices.Clone(p.CoatsIn)
	for _, coat := range coats {
		p.CoatsIn = append(slices.Clone(whole), coat)
		atHumidities(t, coat.ID+" on "+s.ID, analysis.Coat(b, &p), last)
	}
}

// wall is a framed wall with more layers behind its siding or before its board.
func wall(outside, inside string) string {
	return `format: 1
house: Example
place: des-moines-ia
air: {tightness: typical}
indoor: {heating: {temperature: 68 F, humidity: 35 %}}
assemblies:
  - name: wall
    kind: wall
    between: [outdoors, room]
    layers:
      - {name: siding, material: bevel-wood-siding}
` + outside + `      - {name: sheathing, material: plywood-sheathing, thickness: 1/2 in}
      - {name: bay, framing: {material: spf-lumber, size: 2x4, spacing: 16 in}, fill: [{material: fiberglass-batt, thickness: 3-1/2 in}]}
` + inside + `      - {name: board, material: gypsum-board, thickness: 1/2 in}
`
}

// facts analyzes the wall of a description.
func facts(t *testing.T, b *kb.Base, text string) analysis.Facts {
	t.Helper()
	house, doc, problems := assembly.Parse("house.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	resolved, problems := assembly.Resolve(house, doc, b)
	if len(problems) > 0 {
		t.Fatalf("%v\n%s", problems, text)
	}
	r, err := analysis.Run(context.Background(), b, resolved.Assemblies[0])
	if err != nil {
		t.Fatal(err)
	}
	return r.Variants[0].Facts
}

// A solid layer in series lowers neither the vapor resistance inward nor the
// thermal resistance of a wall. That every solid layer computes is the other
// half of the test.
func TestLayersNeverOpen(t *testing.T) {
	b := loaded(t)
	plain := facts(t, b, wall("", ""))
	for _, m := range b.Materials {
		switch m.Form {
		case kb.Coat, kb.Unit, kb.Joint, kb.Framing:
			continue
		}
		more := facts(t, b, wall("", "      - {name: layer, material: "+m.ID+"}\n"))
		for _, id := range []string{"permeance-inward", "u-factor"} {
			if e := more[id]; !e.Known {
				t.Errorf("%s inside: %s is not known: %s", m.ID, id, e.Missing)
				continue
			}
			nowhereAbove(t, m.ID+" inside, "+id, more[id].Range, plain[id].Range)
		}
	}
}

// A gap that breathes never raises the vapor resistance outward, and a livelier
// one lowers it.
func TestGapsNeverClose(t *testing.T) {
	b := loaded(t)
	last := facts(t, b, wall("", ""))["permeance-outward"].Range
	for _, air := range []string{"drained", "vented", "ventilated"} {
		next := facts(t, b, wall("      - {name: gap, cavity: 3/4 in, air: "+air+"}\n", ""))["permeance-outward"].Range
		// A gap is 0.01 m of still air of its own, which its air outweighs.
		if next.Best < last.Best || next.High < last.High {
			t.Errorf("%s gap: permeance outward %v is below %v", air, next, last)
		}
		last = next
	}
}

// Permeance never falls with rising humidity, nor does what a material holds.
func TestCurvesRise(t *testing.T) {
	b := loaded(t)
	check := func(id, property string, w kb.Working, ok bool) {
		for i := 1; ok && i < len(w.Curve); i++ {
			if low, high := w.Curve[i-1], w.Curve[i]; high.SI.Best < low.SI.Best {
				t.Errorf("%s: %s falls from %g at %g to %g at %g", id, property, low.SI.Best, low.RH, high.SI.Best, high.RH)
			}
		}
	}
	for _, m := range b.Materials {
		for _, property := range []string{"permeance", "permeability", "sorption", "sorption-desorption"} {
			w, ok := m.Working(property, kb.AsCurve, 0)
			check(m.ID, property, w, ok)
		}
	}
	for _, s := range b.Systems {
		w, ok := s.Working("permeance", kb.AsCurve)
		check(s.ID, "permeance", w, ok)
	}
}

// Every material that the hourly model takes has functions without a wiggle:
// water content and liquid flux rise with humidity, and where the vapor data
// rise the permeability between them does. The others name what they lack.
func TestHourlyFunctionsRise(t *testing.T) {
	b := loaded(t)
	for _, m := range b.Materials {
		s := analysis.Simulate(b, m)
		if s.Table == nil {
			if s.Lacks == "" {
				t.Errorf("%s: no table and no reason", m.ID)
			}
			continue
		}
		if m.StandsIn == "" && slices.ContainsFunc(s.Assumed, func(words string) bool { return words == "" }) {
			t.Errorf("%s: an assumption without words", m.ID)
		}
		checkTable(t, m.ID, s.Table)
	}
}

// checkTable samples a table between its knots.
func checkTable(t *testing.T, id string, table *sorption.Table) {
	const steps = 2000
	var last, now sorption.Values
	width := (sorption.MaxCoordinate - sorption.MinCoordinate) / steps
	table.At(sorption.MinCoordinate, &last)
	for i := 1; i <= steps; i++ {
		x := sorption.MinCoordinate + float64(i)*width
		table.At(x, &now)
		rh := 100 * sorption.HumidityAt(x)
		falls := func(name string, a, b float64) {
			if b < a-1e-9*max(a, b) {
				t.Errorf("%s: %s falls at %.3g %% humidity, from %g to %g", id, name, rh, a, b)
			}
		}
		falls("water content", last.Content, now.Content)
		falls("liquid flux", last.Liquid, now.Liquid)
		falls("permeability", last.Permeability, now.Permeability)
		last = now
	}
}
