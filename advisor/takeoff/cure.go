package takeoff

import (
	"fmt"
	"slices"
	"strings"

	"relath/kb"
)

// binder names what a plaster hardens by, by its terms.
func binder(m *kb.Material) string {
	for _, b := range []struct{ term, name string }{
		{"clay-plaster", "clay"}, {"clay", "clay"}, {"cement-plaster", "cement"}, {"gypsum-plaster", "gypsum"}, {"lime-plaster", "lime"}, {"lime", "lime"},
	} {
		if hasTerm(m, b.term) {
			return b.name
		}
	}
	return "gypsum"
}

// CoatsOf is the number of coats in which a plaster of a thickness in m is
// built up: three from 5/8 in, two from 3/8 in (plaster trade), clay in coats of
// 10 mm each.
func CoatsOf(m *kb.Material, depth float64) int {
	const fiveEighths, threeEighths, clayCoat, slack = 0.015875, 0.009525, 0.010, 1e-6
	switch {
	case binder(m) == "clay":
		return max(1, int(depth/clayCoat+1-slack))
	case depth >= fiveEighths-slack:
		return 3
	case depth >= threeEighths-slack:
		return 2
	}
	return 1
}

// depthOf is the thickness of a plaster by its volume and area, m.
func depthOf(l *Line) float64 {
	volume, ok := l.Measure(Volume)
	area, also := l.Measure(Area)
	if !ok || !also || area.Net.Best == 0 {
		return 0
	}
	return volume.Net.Best / area.Net.Best
}

// plaster lays out plaster by what it hardens by: coat by coat, with the days
// that each must stand.
func (p *planner) plaster(s Stage, lines []int) {
	for _, name := range []string{"cement", "gypsum", "lime", "clay"} {
		var some []int
		coats := 0
		for _, i := range lines {
			l := &p.of.Lines[i]
			if binder(l.Material) == name {
				some = append(some, i)
				coats = max(coats, CoatsOf(l.Material, depthOf(l)))
			}
		}
		if len(some) == 0 {
			continue
		}
		for coat := 1; coat <= coats; coat++ {
			what := p.names(some)
			if coats > 1 {
				what = fmt.Sprintf("%s, coat %d of %d", what, coat, coats)
			}
			p.work(s, what, some)
			if coat < coats {
				p.wait(s, "cure-between-"+name+"-coats", "the coat hardens")
			}
		}
		p.wait(s, "cure-"+name+"-before-paint", "plaster cures before it is painted and before wood comes in")
	}
}

// wait adds days of curing.
func (p *planner) wait(s Stage, id, what string) {
	length, basis := p.days(id)
	if length.High > 0 {
		p.step(Step{Stage: s, Sort: Cure, What: what, Length: length, Basis: basis})
	}
}

// coats lays out coats of paint: all first coats, then all second ones.
func (p *planner) coats(s Stage, lines []int) {
	most := 0
	for _, i := range lines {
		most = max(most, p.of.Lines[i].Coats)
	}
	for coat := 1; coat <= most; coat++ {
		var some []int
		for _, i := range lines {
			if p.of.Lines[i].Coats >= coat {
				some = append(some, i)
			}
		}
		what := p.names(some)
		if most > 1 {
			what = fmt.Sprintf("%s, coat %d", what, coat)
		}
		p.work(s, what, some)
		if coat < most || s == FinishCoats {
			p.dry(s, some, coat == most)
		}
	}
}

// dry adds the drying of coats: the slowest of them counts.
func (p *planner) dry(s Stage, lines []int, last bool) {
	id := "dry-other-paint"
	for _, i := range lines {
		m := p.of.Lines[i].Material
		switch {
		case hasTerm(m, "oil-paint") || m.Coating != nil && strings.Contains(m.Coating.Binder, "oil"):
			id = "dry-oil"
		case hasTerm(m, "limewash") && id != "dry-oil":
			id = "dry-limewash"
		}
	}
	what := "the coat dries"
	if last && s == FinishCoats {
		id, what = "dry-wood-finish", "the last coat dries before it is walked on or used"
	}
	p.wait(s, id, what)
}

// acclimatize lets solid wood lie in the heated room before it is laid.
func (p *planner) acclimatize(s Stage, lines []int) {
	solid := slices.ContainsFunc(lines, func(i int) bool { return hasTerm(p.of.Lines[i].Material, "solid-wood") })
	if solid {
		p.wait(s, "acclimatize", "solid wood lies in the heated room, bundles open")
	}
}

// frost warns of plaster with lime, clay or cement outside that cures in months
// in which it may freeze at the place.
func (p *planner) frost(place *kb.Place) {
	if p.out.Start.IsZero() || place == nil {
		return
	}
	var lowest []float64
	for _, s := range place.Months {
		if s.Quantity == "daily-minimum" {
			lowest = s.SI
		}
	}
	const months, coldest = 12, 5.0 // °C: no lime or clay work below, trade rule
	if len(lowest) != months {
		return
	}
	for _, s := range p.out.Steps {
		if s.Sort == Hold || !p.isPlasterOutside(s) {
			continue
		}
		for day := s.Begin.Low; day <= s.End.High; day++ {
			if m := p.out.Date(day).Month(); lowest[m-1] < coldest {
				p.out.Warnings = append(p.out.Warnings, fmt.Sprintf("%s may fall into %s, whose nights are below 41 °F at %s: plaster outside must not freeze before it has hardened; begin earlier or wait for spring", s.What, m, place.Name))
				break
			}
		}
	}
}

// isPlasterOutside says whether a step works on plaster that faces the weather.
func (p *planner) isPlasterOutside(s Step) bool {
	if s.Stage != Cladding && s.Stage != OutsidePainting {
		return false
	}
	for i := range p.of.Lines {
		l := &p.of.Lines[i]
		if l.Stage == s.Stage && l.Material != nil && (l.Material.Form == kb.Plaster || hasTerm(l.Material, "limewash", "mineral-paint")) && slices.Contains(s.Where, l.Where) {
			return true
		}
	}
	return false
}
