package analysis

import (
	"slices"

	"relath/advisor/assembly"
	"relath/advisor/transient"
	"relath/kb"
	"relath/kb/quantity"
)

// leaky says whether room air can reach the bay: a framed wall or roof toward a
// room of which no layer surely stops air.
func (h *hourlyModel) leaky() bool {
	kinds := []assembly.Kind{"wall", "roof", "ceiling", "attic-floor"}
	if !slices.Contains(kinds, h.of.Kind) || !isRoom(h.of.Between[1]) || !h.variant.Layers[h.core].Framed {
		return false
	}
	return slices.ContainsFunc(Covers(h.base, h.of, h.variant), func(c Cover) bool {
		return c.Duty == "stop-air" && c.Verdict != kb.Yes
	})
}

// airPath is the room air that meets the cold side of the bay, kg/(s·m²): the high
// end of an assumed share of the natural air change of the house, which is a test
// result at 50 Pa by the rule of thumb or that of its tightness, for 1 m³ of house
// to 1 m² of envelope.
func (h *hourlyModel) airPath(l *loads) float64 {
	const perArea = 1.0 // m³ of house to each m² of envelope
	rate := 0.0
	if test, err := quantity.Parse(h.of.House.House.Air.Tightness.Value, quantity.AirTightness); err == nil {
		rate = test / max(l.assumed(h.base, "air-change-divisor"), 1)
	} else {
		rate = l.assumed(h.base, "natural-air-change-"+h.of.House.Tightness)
	}
	share := l.assumed(h.base, "air-path-share")
	if a := h.base.Assumption("air-path-share"); a != nil {
		share = a.SI.High
	}
	return rate * perArea * share * transient.AirDensity
}

// airPaths is the air of a corner, which leaves with what it brings to the outer
// face of the bay.
func (h *hourlyModel) airPaths(c hourlyCorner) []transient.AirPath {
	if c.air == 0 {
		return nil
	}
	return []transient.AirPath{{
		At: h.positionOf(h.core, -1), From: transient.Inside, Flow: transient.Constant(c.air),
	}}
}
