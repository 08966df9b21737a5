package house

import (
	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// found is one way a described layer may be built, with its place.
type found struct {
	variant int
	part    int
	facts   *analysis.LayerFacts
}

// netArea is the area of an assembly without its openings, m²; 0 when the
// description gives none.
func netArea(a *assembly.Assembly) float64 { return a.Area - a.Openings }

// eachLayer calls do for every described layer with the ways it may be built,
// one for each variant that has it.
func eachLayer(r *analysis.Result, do func(layer int, ways []found)) {
	for i := range r.Assembly.Described.Layers {
		var ways []found
		for v, variant := range r.Variants {
			for p := range variant.Layers {
				if variant.Layers[p].Part.Layer == i {
					ways = append(ways, found{variant: v, part: p, facts: &variant.Layers[p]})
				}
			}
		}
		if len(ways) > 0 {
			do(i, ways)
		}
	}
}

// overWays is an amount over the ways a layer may be built: the best is that of
// the first variant, 0 where it has no such layer, and the bounds hold all.
func overWays(r *analysis.Result, ways []found, amount func(found) quantity.Range) quantity.Range {
	var out quantity.Range
	for i, w := range ways {
		a := amount(w)
		switch {
		case i == 0:
			out = a
			if w.variant > 0 {
				out.Low, out.Best = 0, 0
			}
		default:
			out = out.Union(a)
		}
	}
	if len(ways) < len(r.Variants) {
		out.Low = 0
	}
	return out
}

// leading is the material that stands for a part: its own, or the fill of a
// framed one; the framing where there is no fill.
func leading(p *assembly.Part) *kb.Material {
	for _, f := range p.Fills {
		if f.Material != nil {
			return f.Material
		}
	}
	return p.Material
}

// materials lists what a part is made of, with the share of its area.
func materials(p *assembly.Part) []portion {
	switch {
	case p.Cavity:
		return nil
	case !p.Framed:
		return []portion{{p.Material, 1}}
	}
	var list []portion
	for _, f := range p.Fills {
		if f.Material != nil {
			list = append(list, portion{f.Material, 1 - p.Fraction})
		}
	}
	return append(list, portion{p.Material, p.Fraction})
}

type portion struct {
	material *kb.Material
	share    float64
}
