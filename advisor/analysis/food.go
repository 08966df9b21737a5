package analysis

import (
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// food counts faces of the sensitive classes toward cavities and rooms.
func (m *model) food(f Facts) {
	cavity, room := 0.0, 0.0
	for i := range m.variant.Layers {
		c, r := m.foodFaces(i)
		cavity += c
		room += r
	}
	f["cavity-food"] = measured(quantity.Exact(cavity))
	f["room-food"] = measured(quantity.Exact(room))
}

// foodFaces counts the food faces of a part toward bays and gaps and toward
// rooms: of a framed part each fill once. Framing is not counted: it is in every
// framed assembly.
func (m *model) foodFaces(i int) (cavity, room float64) {
	p := m.variant.Layers[i]
	if p.Cavity {
		return 0, 0
	}
	if p.Framed {
		for _, fill := range p.Fills {
			if fill.Material != nil && isFood(fill.Material) {
				cavity++
			}
		}
		return cavity, 0
	}
	outer, inner := sensitive(m.outerClass(i)), sensitive(m.innerClass(i))
	last := len(m.variant.Layers) - 1
	if outer && i > 0 && isBay(m.variant.Layers[i-1]) {
		cavity++
	}
	if inner && i < last && isBay(m.variant.Layers[i+1]) {
		cavity++
	}
	if inner && i == last && isRoom(m.of.Between[1]) {
		room++
	}
	if outer && i == 0 && isRoom(m.of.Between[0]) {
		room++
	}
	return cavity, room
}

func isBay(p *assembly.Part) bool { return p.Cavity || p.Framed }

func isRoom(s assembly.Side) bool { return s == "room" || s == "wet-room" || s == "garage" }

// outerClass is the mold class of the face of a part toward the first side, with
// its coats; of a framed part the more sensitive of framing and fill.
func (m *model) outerClass(i int) kb.MoldClass {
	p := m.variant.Layers[i]
	if p.Framed {
		return m.framedClass(p, 0)
	}
	return faceClass(p.Material, p.CoatsOut, !m.facesOut(i))
}

// innerClass is the same toward the second side.
func (m *model) innerClass(i int) kb.MoldClass {
	p := m.variant.Layers[i]
	if p.Framed {
		return m.framedClass(p, len(p.Fills)-1)
	}
	return faceClass(p.Material, p.CoatsIn, m.facesOut(i))
}

// framedClass is the mold class at a face of a framed part where a fill lies.
func (m *model) framedClass(p *assembly.Part, fill int) kb.MoldClass {
	class := faceClass(p.Material, nil, false)
	if fill >= 0 && p.Fills[fill].Material != nil {
		mat := p.Fills[fill].Material
		class = moreSensitive(class, moreSensitive(faceClass(mat, nil, false), faceClass(mat, nil, true)))
	}
	return class
}

// facesOut says whether the face of a part looks to the first side and its back
// to the second: outside of the bay a layer faces the weather, inside of it the
// room.
func (m *model) facesOut(i int) bool {
	return i < m.core || i == 0 && len(m.variant.Layers) > 1
}

// faceClass is the mold class of a face or a back with its coats. A coat takes
// over the class of what it covers.
func faceClass(m *kb.Material, coats []*kb.Material, back bool) kb.MoldClass {
	owner := faceOwner(m, coats)
	if owner == m && back && m.Mold.Back != "" {
		return m.Mold.Back
	}
	return owner.Mold.Face
}

// faceOwner is the coat or the material whose class a face has.
func faceOwner(m *kb.Material, coats []*kb.Material) *kb.Material {
	if len(coats) > 0 && coats[len(coats)-1].Mold.Face != "" {
		return coats[len(coats)-1]
	}
	return m
}

// moreSensitive is the more sensitive of two classes; one that is not known
// gives way.
func moreSensitive(a, b kb.MoldClass) kb.MoldClass {
	classes := kb.MoldClass("").Allowed()
	at, bt := slices.Index(classes, string(a)), slices.Index(classes, string(b))
	if at < 0 || bt >= 0 && bt < at {
		return b
	}
	return a
}
