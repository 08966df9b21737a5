package analysis

import (
	"slices"
	"testing"

	"relath/kb"
)

// straw is a wall of straw, whose mold class is assumed and whose suction is that
// of cellulose, behind a render that takes rain.
const straw = `
      - {name: render, material: lime-stucco, thickness: 1 in}
      - {name: bales, material: straw-bale, thickness: 14 in}
      - {name: plaster, material: clay-plaster, thickness: 1 in}
`

// The mold index of a face whose class is assumed ranges over the classes beside
// it, the class and what else moves it are named, strongest first, and a further
// corner leaves out the suction that another kind of material lends.
func TestWhatDecidesHourly(t *testing.T) {
	base := loadBase(t)
	a := resolve(t, base, wallText("columbia-mo", straw)).Assemblies[0]
	r := hourlyOf(t, base, a, Hourly{Years: 1, Deciders: true})
	var corners []string
	for _, run := range r.Hourly.Runs {
		corners = append(corners, run.Corner)
	}
	if !slices.Contains(corners, withoutSuction) {
		t.Errorf("corners %v, none without the suction of stand-ins", corners)
	}
	e := r.Variants[0].Facts["mold-index-cavity"]
	named := make(map[string]bool)
	last := e.Drivers[0]
	for _, d := range e.Drivers {
		named[d.Input.Property] = true
		if d.High-d.Low > last.High-last.Low {
			t.Errorf("%s after %s, which moves it less", d.Input.Property, last.Input.Property)
		}
		if max(d.High-e.Range.Best, e.Range.Best-d.Low) <= decisive*e.Range.Best {
			t.Errorf("%s moves %g only to %g or %g", d.Input.Property, e.Range.Best, d.Low, d.High)
		}
		if d.Input.Property == moldClass && (d.Low < e.Range.Low || d.High > e.Range.High) {
			t.Errorf("the class moves it to %g and %g, beyond its range %+v", d.Low, d.High, e.Range)
		}
		last = d
	}
	if !named[moldClass] || !named["permeance"] || !named["default"] {
		t.Errorf("decided by %v, not by class, permeance and rain", named)
	}
}

// A class that a source gives has no neighbors in the range; an assumed one that
// is more sensitive by a step never gives a lower index, one more resistant never
// a higher one.
func TestAssumedClassesWiden(t *testing.T) {
	base := loadBase(t)
	for _, layers := range []string{straw, openWall} {
		a := resolve(t, base, wallText("columbia-mo", layers)).Assemblies[0]
		h := newHourlyModel(newModel(base, a, a.Variants[0]))
		v := &hourlyVariant{of: &Variant{Of: a.Variants[0]}}
		l, _, err := loadsOf(base, a, Hourly{})
		if err != nil {
			t.Fatal(err)
		}
		if err := v.prepare(base, a, l, Hourly{Years: 1, bestOnly: true}); err != nil {
			t.Fatal(err)
		}
		if err := runJobs(t.Context(), v.jobs(), nil); err != nil {
			t.Fatal(err)
		}
		for i, s := range v.runs[0].summary.spots {
			spot := h.spots()[i]
			if s.mild > s.index || s.harsh < s.index {
				t.Errorf("%s: index %g, milder %g, harsher %g", a.Variants[0].Layers[spot.part].Name, s.index, s.mild, s.harsh)
			}
			if spot.unsure == nil {
				if s.mild != s.harsh && spot.model != nil && spot.food {
					t.Errorf("%s: a class from a source has a range", a.Variants[0].Layers[spot.part].Name)
				}
				continue
			}
			if m := base.Material(spot.unsure.Material); m == nil || m.Mold.Basis.Evidence != kb.Assumed {
				t.Errorf("%s is no material whose class is assumed", spot.unsure.Material)
			}
		}
	}
}
