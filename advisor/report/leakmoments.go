package report

import (
	"fmt"

	"relath/advisor/analysis"
	"relath/advisor/drawing"
	"relath/kb/quantity"
)

// leakMoments are the days after a wetting at which the section is drawn.
func leakMoments() []int { return []int{1, 30, 90, 180} }

// LeakMoments makes the page that shows a leak drying in the section of its
// assembly: after each wetting, the water that each layer holds beyond the
// undisturbed assembly on a few days of the year that follows.
func (m Maker) LeakMoments(leak *analysis.LeakResult) *Document {
	p := m.page("Drying in the section", "")
	for i := range leak.Cases {
		c := &leak.Cases[i]
		if c.Course == nil {
			continue
		}
		for _, day := range leakMoments() {
			when := fmt.Sprintf("%s after %s", count(day, "day"), leakDate(c.On))
			p.add(Block{Figure: &Figure{
				Caption: capital(when),
				Picture: p.Section(sectionOf(leak), Overlay{Title: when, Layer: func(part int) LayerTag { return p.momentTag(c, part, day) }}),
			}})
		}
	}
	return p.finish()
}

// momentTag says how much water a layer holds beyond the undisturbed assembly on
// a day, shaded by its share of the most that was ever there.
func (p *page) momentTag(c *analysis.LeakCase, part, day int) LayerTag {
	for _, x := range c.Course.Parts {
		if x.Part != part || day >= len(x.With) || c.Peak.Best <= 0 {
			continue
		}
		more := x.With[day] - x.Without[day]
		share := more / c.Peak.Best
		if share < dryShare {
			return LayerTag{}
		}
		tag := LayerTag{Words: p.leakWater(quantity.Exact(more)) + " more"}
		switch {
		case share >= wetShare:
			tag.Shade = drawing.Medium
		case share >= dampShare:
			tag.Shade = drawing.Light
		}
		return tag
	}
	return LayerTag{}
}
