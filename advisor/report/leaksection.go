package report

import (
	"fmt"

	"relath/advisor/analysis"
	"relath/advisor/drawing"
)

// Shares of the wettest layer from which on a layer is shaded, and shaded dark.
const (
	dampShare = 0.05
	wetShare  = 0.5
	dryShare  = 0.01 // below it the number says nothing
)

// leakSections shows for each wetting where the water was; the numbers stand in
// the table right below.
func (p *page) leakSections(r *analysis.LeakResult) {
	of := sectionOf(r)
	for i := range r.Cases {
		c := &r.Cases[i]
		p.add(Block{Figure: &Figure{
			Caption: "Most water of each layer beyond the undisturbed wall, " + caseName(c),
			Key:     fmt.Sprintf("Shaded from %g %% of the wettest layer on, darker from %g %% on.", 100*dampShare, 100*wetShare),
			Picture: p.Section(of, Overlay{Title: caseName(c), Layer: func(part int) LayerTag { return p.leakTag(c, part) }}),
		}})
	}
}

// sectionOf gives what the section of a leak needs of an analysis: the layers.
func sectionOf(r *analysis.LeakResult) *analysis.Result {
	of := &analysis.Result{Assembly: r.Assembly, Variants: []*analysis.Variant{{Of: r.Variant}}}
	for _, part := range r.Variant.Layers {
		of.Variants[0].Layers = append(of.Variants[0].Layers, analysis.LayerFacts{Part: part})
	}
	return of
}

// leakTag says how wet a layer became.
func (p *page) leakTag(c *analysis.LeakCase, part int) LayerTag {
	most := 0.0
	for _, x := range c.Parts {
		if x.Storage {
			most = max(most, x.Peak.Best)
		}
	}
	x := c.Parts[part]
	if !x.Storage || most == 0 {
		return LayerTag{}
	}
	tag := LayerTag{Words: "at most " + p.leakWater(x.Peak) + " more"}
	switch share := x.Peak.Best / most; {
	case share < dryShare:
		tag.Words = "hardly more"
	case share >= wetShare:
		tag.Shade = drawing.Medium
	case share >= dampShare:
		tag.Shade = drawing.Light
	}
	return tag
}
