package analysis

import (
	"fmt"

	"relath/kb/quantity"
)

// describeGround states what the description says of ground, footing and the
// edge of a slab. A slab stands on grade unless it says how deep it lies.
func (m *model) describeGround(f Facts) {
	a := m.of
	f["below-grade"] = Estimate{Missing: "how deep it stands below grade is not given"}
	if a.BelowGrade > 0 || a.Kind == "slab" {
		f["below-grade"] = measured(quantity.Exact(a.BelowGrade))
	}
	f["footing-break"] = Estimate{Missing: "it is not described"}
	if d := a.Described.Footing; d != "" {
		f["footing-break"] = flag(d == "yes")
	}
	f["edge-insulation"] = Estimate{Missing: "it is not described"}
	f["edge-depth"] = f["edge-insulation"]
	if e := a.Edge; e != nil {
		f["edge-insulation"], f["edge-depth"] = measured(quantity.Exact(e.Resistance)), measured(quantity.Exact(e.Depth))
	}
}

// describeSpace states what the description says of the attic, the crawl space
// or the rafter gap on the first side.
func (m *model) describeSpace(f Facts) {
	a, s := m.of, &m.of.Space
	switch {
	case !s.VentsSet:
		f["vent-share"] = Estimate{Missing: "the net free area of the vents is not given"}
	case s.Vents > 0 && a.Area <= 0:
		f["vent-share"] = Estimate{Missing: fmt.Sprintf("the area of %s is not given", a.Name)}
	case s.Vents > 0:
		f["vent-share"] = measured(quantity.Exact(s.Vents / a.Area))
	default:
		f["vent-share"] = measured(quantity.Exact(0))
	}
	f["high-vents"] = Estimate{Missing: "it is not described"}
	if s.HighSet {
		f["high-vents"] = measured(quantity.Exact(s.High))
	}
	f["crawl-ground"] = given(string(s.Ground), "it is not described")
	f["crawl-air"] = given(string(s.Air), "it is not described")
}
