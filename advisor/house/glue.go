package house

import (
	"relath/advisor/analysis"
	"relath/kb"
	"relath/kb/quantity"
)

// glue sums the adhesive in layers and finishes, kg. The binders of paints and
// plasters are not counted as adhesive.
func (s *Study) glue(results []*analysis.Result) Holdings {
	var items []Holding
	for _, r := range results {
		items = append(items, layerGlue(r)...)
	}
	for i := range s.house.Finishes {
		f := &s.house.Finishes[i]
		if len(f.Materials) == 0 {
			continue
		}
		studied := s.Finish(f, f.Materials[0])
		h := Holding{Where: studied.Where(), Material: studied.Material, Area: studied.Area, Amount: studied.Glue}
		for _, m := range f.Materials[1:] {
			if other := s.Finish(f, m).Glue; other.Known && h.Amount.Known {
				h.Amount.Range = h.Amount.Range.Union(other.Range)
				h.Amount.Evidence = h.Amount.Evidence.Weaker(other.Evidence)
			}
		}
		items = append(items, h)
	}
	return holdings(items)
}

// layerGlue gives the adhesive of each layer of an assembly: mass per area
// times the net area, over the ways it may be built.
func layerGlue(r *analysis.Result) []Holding {
	var items []Holding
	area := netArea(r.Assembly)
	eachLayer(r, func(_ int, ways []found) {
		first := ways[0].facts
		h := Holding{Where: Where{Assembly: r.Assembly.Name, Layer: first.Part.Name}, Area: area}
		t := &trace{}
		for _, w := range ways {
			if m := traceGlue(t, w); m != nil && h.Material == nil {
				h.Material = m
			}
		}
		if h.Material == nil {
			h.Material = leading(first.Part)
		}
		perArea := overWays(r, ways, func(w found) quantity.Range { return w.facts.Facts["layer-adhesive"].Range })
		h.Amount = t.estimate(perArea.Scale(area))
		for _, w := range ways {
			for _, text := range w.facts.Facts["layer-adhesive"].Warnings {
				h.Amount.Warnings = appendNew(h.Amount.Warnings, text+" in "+r.Assembly.Name)
			}
		}
		if area <= 0 && perArea.High > 0 {
			h.Amount = missing("the area of %s is not given", r.Assembly.Name)
		}
		items = append(items, h)
	})
	return items
}

// traceGlue notes the values behind the glue of a part and gives the material
// that holds glue, nil for none.
func traceGlue(t *trace, w found) *kb.Material {
	var holds *kb.Material
	for _, p := range materials(w.facts.Part) {
		share, ok := p.material.Working("adhesive-share", kb.AnyMethod, 0)
		if !ok || share.SI.High == 0 {
			continue
		}
		t.value(w.facts.Part.Name, p.material, share)
		if density, ok := p.material.Working("density", kb.AnyMethod, 0); ok {
			t.value(w.facts.Part.Name, p.material, density)
		}
		if holds == nil {
			holds = p.material
		}
	}
	return holds
}
