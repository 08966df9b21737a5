package house

import (
	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// regulatedTerm marks composite wood under the formaldehyde rule (40 CFR 770).
const regulatedTerm = "composite-wood-regulated"

// Regulated is the composite wood under the formaldehyde rule in a house.
type Regulated struct {
	Area   analysis.Estimate // m² of layers and finishes that are areas
	Pieces int               // doors, boxes and other pieces that are counted
	Length float64           // m of trim
	Items  []Piece
}

// Piece is one layer or finish of regulated composite wood.
type Piece struct {
	Where    Where
	Material *kb.Material
	Area     analysis.Estimate // m², of layers and finishes that are areas
	Pieces   int
	Length   float64 // m
	Emission string  // in words of the base
	Perhaps  bool    // only in some of the ways it may be built
}

// regulated lists the composite wood of layers and finishes.
func (s *Study) regulated(results []*analysis.Result) Regulated {
	var out Regulated
	for _, r := range results {
		eachLayer(r, func(_ int, ways []found) {
			if p, ok := regulatedLayer(r, ways); ok {
				out.Items = append(out.Items, p)
			}
		})
	}
	for i := range s.house.Finishes {
		if p, ok := regulatedFinish(&s.house.Finishes[i]); ok {
			out.Items = append(out.Items, p)
		}
	}
	var areas []Holding
	for _, p := range out.Items {
		if p.Area.Known || p.Area.Missing != "" {
			areas = append(areas, Holding{Amount: p.Area})
		}
		out.Pieces += p.Pieces
		out.Length += p.Length
	}
	out.Area = sum(areas)
	return out
}

// regulatedLayer says whether a layer is, or may be, regulated wood.
func regulatedLayer(r *analysis.Result, ways []found) (Piece, bool) {
	share := func(w found) (float64, *kb.Material) {
		for _, p := range materials(w.facts.Part) {
			if hasTerm(p.material, regulatedTerm) {
				return p.share, p.material
			}
		}
		return 0, nil
	}
	p := Piece{Where: Where{Assembly: r.Assembly.Name, Layer: ways[0].facts.Part.Name}}
	held := 0
	for _, w := range ways {
		if _, m := share(w); m != nil {
			held++
			if p.Material == nil {
				p.Material, p.Emission = m, m.Composition.Formaldehyde
			}
		}
	}
	if held == 0 {
		return p, false
	}
	p.Perhaps = held < len(r.Variants)
	area := netArea(r.Assembly)
	if area <= 0 {
		p.Area = missing("the area of %s is not given", r.Assembly.Name)
		return p, true
	}
	p.Area = analysis.Estimate{Known: true, Range: overWays(r, ways, func(w found) quantity.Range {
		v, _ := share(w)
		return quantity.Exact(v * area)
	})}
	return p, true
}

// regulatedFinish says whether a finish is, or may be, regulated wood.
func regulatedFinish(f *assembly.ResolvedFinish) (Piece, bool) {
	p := Piece{Where: Where{Room: f.Finish.Room.Value, Part: f.Name}}
	held := 0
	for _, m := range f.Materials {
		if !hasTerm(m, regulatedTerm) {
			continue
		}
		held++
		if p.Material == nil {
			p.Material, p.Emission = m, m.Composition.Formaldehyde
		}
	}
	if held == 0 {
		return p, false
	}
	p.Perhaps = held < len(f.Finish.Material.OneOf)
	switch {
	case f.Finish.Count > 0:
		p.Pieces = f.Finish.Count
	case f.Length > 0:
		p.Length = f.Length
	case f.Area > 0:
		p.Area = exact(f.Area)
	default:
		p.Area = missing("how much of %s, %s there is is not given", p.Where.Room, p.Where.Part)
	}
	return p, true
}
