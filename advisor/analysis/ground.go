package analysis

import (
	"relath/kb/quantity"
)

// groundBelow is the ground between a slab and the depth whose temperature
// stands for it: an undisturbed temperature at a depth in m goes with the
// resistance of the ground down to there, as the resistance of the ground adds to
// that of the floor in ISO 13370 (recalled).
type groundBelow struct {
	resistance quantity.Range // m²·K/W
	variable   int
}

// groundOf gives the ground below a slab, nil for other assemblies.
func (m *model) groundOf() *groundBelow {
	a := m.base.Assumption("slab-ground")
	if a == nil || m.of.Kind != "slab" || m.of.Between[0] != "ground" {
		return nil
	}
	return &groundBelow{resistance: a.SI, variable: m.variableOf(ofHeat, Input{Material: a.ID, Property: "slab-ground"}, a.Evidence)}
}

// at is the thermal resistance of the ground, m²·K/W: none where there is no slab.
func (g *groundBelow) at(p places) float64 {
	if g == nil {
		return 0
	}
	return pick(g.resistance, p.ofHeat(g.variable))
}
