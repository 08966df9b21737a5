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
	mild    *mold.Model        // by the class next more resistant where a class is assumed, else model
	harsh   *mold.Model        // by the class next more sensitive where a class is assumed, else model
	unsure  *Input             // the assumed class, nil for none
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
	own := h.ratingOf(part, side)
	other := own
	if beside := part + side; beside >= 0 && beside <= last && !h.variant.Layers[beside].Cavity {
		if c := h.ratingOf(beside, -side); c.class != "" {
			other = c
		}
	}
	s.food = !s.weather && (sensitive(own.class) || sensitive(other.class))
	s.rate(own, other)
	return s
}

// rate finds the models of the mold index at a face of a class that touches
// another.
func (s *spot) rate(own, other rating) {
	examined, err := mold.ParseClass(string(own.class))
	if err != nil {
		return
	}
	neighbor, err := mold.ParseClass(string(other.class))
	if err != nil {
		neighbor, other = examined, own
	}
	s.model = mold.ForInterface(examined, neighbor)
	s.mild = mold.ForInterface(own.shifted(examined, 1), other.shifted(neighbor, 1))
	s.harsh = mold.ForInterface(own.shifted(examined, -1), other.shifted(neighbor, -1))
	switch {
	case neighbor < examined && other.assumed:
		s.unsure = &other.input
	case own.assumed:
		s.unsure = &own.input
	case other.assumed:
		s.unsure = &other.input
	}
}

// rating is the mold class of a face and whether it is only assumed.
type rating struct {
	class   kb.MoldClass
	assumed bool
	input   Input
}

// shifted is the class so many steps toward resistance where it is assumed.
func (r rating) shifted(c mold.Class, steps mold.Class) mold.Class {
	if !r.assumed {
		return c
	}
	return max(mold.VerySensitive, min(mold.Resistant, c+steps))
}

// moldClass is the property by which a mold class stands among inputs.
const moldClass = "mold-class"

// ratingOf is the mold class of a face of a part with its coats; of a framed part
// that of the fill which lies there. An air space in a bay has none.
func (h *hourlyModel) ratingOf(part, side int) rating {
	p := h.variant.Layers[part]
	of, coats := p.Material, p.CoatsOut
	if side > 0 {
		coats = p.CoatsIn
	}
	if p.Framed {
		of, coats = fillAt(p, side), nil
	}
	if of == nil {
		return rating{}
	}
	owner := faceOwner(of, coats)
	return rating{
		class:   faceClass(of, coats, side < 0),
		assumed: owner.Mold.Basis.Evidence == kb.Assumed,
		input:   Input{Layer: p.Name, Material: owner.ID, Property: moldClass},
	}
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
