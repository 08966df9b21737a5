package analysis

import (
	"slices"

	"relath/advisor/assembly"
	"relath/advisor/mold"
	"relath/advisor/transient"
	"relath/kb"
)

// spot is one face of a part that an hourly run watches.
type spot struct {
	part    int
	side    int                // -1 the face toward the first side, 1 toward the second
	at      transient.Position // where it is recorded
	room    bool               // it is the face toward the air of the second side
	weather bool               // it is the face toward the air outdoors
	food    bool               // it is food for mold or touches food
	model   *mold.Model        // nil when its class is not known
	limit   float64            // of the mold index
}

// spots lists both faces of every solid part and sheet, outside first.
func (h *hourlyModel) spots() []spot {
	var list []spot
	for i, p := range h.variant.Layers {
		if p.Cavity {
			continue
		}
		for _, side := range []int{-1, 1} {
			list = append(list, h.spotOf(i, side))
		}
	}
	return list
}

// spotOf describes one face of a part.
func (h *hourlyModel) spotOf(part, side int) spot {
	last := len(h.variant.Layers) - 1
	s := spot{
		part: part, side: side, at: h.positionOf(part, side), limit: mold.LimitCavity,
		weather: part == 0 && side < 0 && h.of.Between[0] == "outdoors",
		room:    part == last && side > 0,
	}
	if s.room {
		s.limit = mold.LimitRoom
	}
	own := h.classOf(part, side)
	other := own
	if beside := part + side; beside >= 0 && beside <= last && !h.variant.Layers[beside].Cavity {
		if c := h.classOf(beside, -side); c != "" {
			other = c
		}
	}
	s.food = !s.weather && (sensitive(own) || sensitive(other))
	examined, err := mold.ParseClass(string(own))
	if err != nil {
		return s
	}
	neighbor, err := mold.ParseClass(string(other))
	if err != nil {
		neighbor = examined
	}
	s.model = mold.ForInterface(examined, neighbor)
	return s
}

// classOf is the mold class of a face of a part with its coats; of a framed part
// that of the fill which lies there. An air space in a bay has none.
func (h *hourlyModel) classOf(part, side int) kb.MoldClass {
	p := h.variant.Layers[part]
	if !p.Framed {
		if side < 0 {
			return faceClass(p.Material, p.CoatsOut, true)
		}
		return faceClass(p.Material, p.CoatsIn, false)
	}
	fill := fillAt(p, side)
	if fill == nil {
		return ""
	}
	return faceClass(fill, nil, side < 0)
}

// fillAt is the fill at a face of a framed part, nil for air.
func fillAt(p *assembly.Part, side int) *kb.Material {
	if len(p.Fills) == 0 {
		return nil
	}
	if side < 0 {
		return p.Fills[0].Material
	}
	return p.Fills[len(p.Fills)-1].Material
}

// positionOf finds the face of a part among the layers of the hourly model: that
// of its coats where it has some.
func (h *hourlyModel) positionOf(part, side int) transient.Position {
	layer := slices.IndexFunc(h.places, func(p place) bool { return p.part == part })
	face := transient.OuterFace
	if side > 0 {
		face = transient.InnerFace
		for i, p := range h.places {
			if p.part == part {
				layer = i
			}
		}
	}
	return transient.Position{Layer: layer, Face: face}
}

// woody says whether the limits of wood moisture hold for a part.
func woody(m *kb.Material) bool {
	return m != nil && hasTerm(m, "solid-wood", "engineered-wood", "wood-structural-panel")
}
