package analysis

import (
	"context"
	"testing"

	"relath/advisor/assembly"
)

// TestProbeAtItsBest: with nothing moved a probe gives the best value of every
// fact of every variant, by the whole analysis.
func TestProbeAtItsBest(t *testing.T) {
	base := loadBase(t)
	for _, a := range everyAssembly(t, base) {
		r, err := Run(context.Background(), base, a)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range r.Variants {
			probe, err := NewProbe(base, a, v.Of)
			if err != nil {
				t.Fatal(err)
			}
			for _, in := range v.Facts["drying-capacity"].Inputs {
				moved, ok := probe.Movable(in)
				if !ok {
					continue
				}
				got, err := probe.At(moved, 0)
				if err != nil {
					t.Fatal(err)
				}
				sameBest(t, a, v.Facts, got.Facts)
				for i := range v.Layers {
					sameBest(t, a, v.Layers[i].Facts, got.Layers[i].Facts)
				}
				break
			}
		}
	}
}

func sameBest(t *testing.T, a *assembly.Assembly, want, got Facts) {
	t.Helper()
	for id, e := range want {
		near(t, a.Name+" "+id, got[id].Range.Best, e.Range.Best, 1e-9)
		if got[id].Known != e.Known {
			t.Errorf("%s: %s is known %v, want %v", a.Name, id, got[id].Known, e.Known)
		}
	}
}

// TestProbeAtTheEnds: what a probe gives at the ends of an input is what the
// monthly method gives on the flat input with that variable alone at its end, and
// the driver of a fact says which way it goes.
func TestProbeAtTheEnds(t *testing.T) {
	base := loadBase(t)
	checked := 0
	for _, a := range everyAssembly(t, base) {
		r, err := Run(context.Background(), base, a)
		if err != nil {
			t.Fatal(err)
		}
		v := r.Variants[0]
		probe, err := NewProbe(base, a, v.Of)
		if err != nil {
			t.Fatal(err)
		}
		for fact, id := range moistureFacts() {
			for _, d := range v.Facts[id].Drivers {
				moved, ok := probe.Movable(d.Input)
				if !ok || !d.Alone {
					continue
				}
				var ends [2]float64
				for i, at := range []float64{-1, 1} {
					got, err := probe.At(moved, at)
					if err != nil {
						t.Fatal(err)
					}
					ends[i] = got.Facts[id].Range.Best
					near(t, a.Name+" "+id, ends[i], flatAt(t, probe.ready, moved.variable, position(at))[fact], 1e-9)
				}
				low, high := moved.Reads(-1, false), moved.Reads(1, false)
				if ends[0] != ends[1] && d.Falls != ((ends[0] > ends[1]) != (low > high)) {
					t.Errorf("%s: %s is %v at the readings %g and %g of %s; the driver says it falls: %v", a.Name, id, ends, low, high, d.Input.Property, d.Falls)
				}
				near(t, a.Name+" "+d.Input.Property, d.From, min(low, high), 1e-12)
				near(t, a.Name+" "+d.Input.Property, d.To, max(low, high), 1e-12)
				checked++
			}
		}
	}
	const enough = 100
	if checked < enough {
		t.Errorf("only %d inputs were moved", checked)
	}
}

// flatAt evaluates the flat input with one variable at a place of its range.
func flatAt(t *testing.T, m *model, variable int, at position) outcome {
	t.Helper()
	shift := make([]position, len(m.variables))
	shift[variable] = at
	o, err := m.evaluate(m.compileShifted(shift), nil, true)
	if err != nil {
		t.Fatal(err)
	}
	return o
}
