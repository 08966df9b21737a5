package analysis

import (
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// materialOf gives the material of an element, nil for air.
func (m *model) materialOf(e element) *kb.Material {
	p := m.variant.Layers[e.part]
	switch {
	case p.Cavity:
		return nil
	case p.Framed:
		return p.Fills[e.fill].Material
	}
	return p.Material
}

// materialsOf lists the materials of a part: the layer, or its fills; the
// framing comes last.
func materialsOf(p *assembly.Part) []*kb.Material {
	if p.Cavity {
		return nil
	}
	if !p.Framed {
		return []*kb.Material{p.Material}
	}
	var list []*kb.Material
	for _, f := range p.Fills {
		if f.Material != nil {
			list = append(list, f.Material)
		}
	}
	return append(list, p.Material)
}

func hasTerm(m *kb.Material, terms ...string) bool {
	return slices.ContainsFunc(m.Terms, func(t string) bool { return slices.Contains(terms, t) })
}

// isCladding says whether a part is the weather face of a wall or a roof.
func isCladding(p *assembly.Part) bool {
	return !p.Cavity && !p.Framed && hasTerm(p.Material, "cladding", "roofing", "brick-veneer")
}

// isMass says whether a part is a wall by itself: a material that says so, or
// masonry of at least a whole brick that is no veneer.
func isMass(p *assembly.Part) bool {
	const wholeBrick = 7.0 * 0.0254 // m
	if p.Cavity || p.Framed {
		return false
	}
	return hasTerm(p.Material, "mass") ||
		p.Material.Form == kb.Masonry && p.Depth >= wholeBrick && !hasTerm(p.Material, "brick-veneer", "adhered-veneer")
}

// isFood says whether a face of a material is of one of the two sensitive
// classes of the mold index model.
func isFood(m *kb.Material) bool { return sensitive(m.Mold.Face) || sensitive(m.Mold.Back) }

func sensitive(c kb.MoldClass) bool { return c == "sensitive" || c == "very-sensitive" }

// isInsulation says whether a material is there to insulate.
func isInsulation(m *kb.Material) bool {
	return m.Form == kb.Fill || hasTerm(m, "air-permeable-insulation", "air-impermeable-insulation",
		"fibrous-insulation", "foam-plastic", "loose-fill", "mineral-wool", "spray-foam", "cavity-fill")
}

// mass is one share of the mass of a part per area.
type mass struct {
	read     *kb.Reader
	material *kb.Material
	amount   quantity.Range // kg/m²
	known    bool
}

// massesOf lists the mass per area of what a part is made of, coats left out.
func massesOf(read *kb.Reader, p *assembly.Part) []mass {
	if p.Cavity {
		return nil
	}
	if !p.Framed {
		return []mass{massOf(read, p.Material, p.Depth, 1)}
	}
	var list []mass
	for _, f := range p.Fills {
		if f.Material != nil {
			list = append(list, massOf(read, f.Material, f.Depth, 1-p.Fraction))
		}
	}
	return append(list, massOf(read, p.Material, p.Depth, p.Fraction))
}

// massOf is density times depth times the share of the area; sheets carry
// their own mass per area.
func massOf(read *kb.Reader, m *kb.Material, depth, share float64) mass {
	if m.Form == kb.Sheet || m.Form == kb.Coat {
		w, ok := read.Working(m, "area-density", kb.AnyMethod, depth)
		return mass{read: read, material: m, amount: w.SI.Scale(share), known: ok}
	}
	density, ok := read.Density(m)
	return mass{read: read, material: m, amount: density.Scale(depth * share), known: ok}
}
