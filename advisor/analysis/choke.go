package analysis

import "relath/advisor/steady"

// shares are the parts of the vapor resistance that each layer holds on the
// two drying paths of the bay.
type shares struct {
	outward, inward []float64
}

// sharesOf gives the shares on the way of vapor from the wet outer face of the
// bay to the first side, and from its wet inner face to the second, as means
// over the days of the year. Layers in front of a gap that exchanges air count
// by the pressure that falls over them.
func (m *model) sharesOf(in *steady.Input) (shares, error) {
	n, parts := len(m.elements), len(m.variant.Layers)
	s := shares{outward: make([]float64, parts), inward: make([]float64, parts)}
	first, last := m.pathEnds()
	for _, way := range []struct {
		side  steady.Side
		plane int
		into  []float64
	}{{steady.Outward, n - first, s.outward}, {steady.Inward, n - last, s.inward}} {
		if way.plane == 0 || way.plane == n {
			continue // the bay is the outermost layer of that side
		}
		if err := m.addShares(in, way.side, way.plane, way.into); err != nil {
			return s, err
		}
	}
	return s, nil
}

// addShares sums the shares of a path by part, weighted by days. The film of
// the air is left out.
func (m *model) addShares(in *steady.Input, side steady.Side, plane int, into []float64) error {
	n, days := len(m.elements), 0.0
	for i := range in.Months {
		days += in.Months[i].Days
	}
	return m.workspace.DryingPaths(in, plane, side, func(month int, path steady.Path) {
		for layer, share := range path.Shares {
			into[m.elements[n-1-layer].part] += share * in.Months[month].Days / days
		}
	})
}

// noShares states that the shares are not known.
func (m *model) noShares(layers []LayerFacts, lacks string) {
	missing := Estimate{Missing: lacks}
	for i := range layers {
		for _, id := range []string{"share-outward", "share-inward", "choke"} {
			layers[i].Facts[id] = missing
		}
	}
}

// stateShares states the share of each layer and which layer chokes each path
// of more than one layer.
func (m *model) stateShares(layers []LayerFacts, corners []atCorner, estimates []Estimate) {
	for i := range layers {
		layers[i].Facts["choke"] = word("neither")
	}
	for _, way := range []struct {
		fact, word string
		like       Estimate
		of         func(*shares) []float64
	}{
		{"share-outward", "outward", estimates[permeanceOutward], func(s *shares) []float64 { return s.outward }},
		{"share-inward", "inward", estimates[permeanceInward], func(s *shares) []float64 { return s.inward }},
	} {
		most, at, on := 0.0, 0, 0
		for i := range layers {
			e := measured(over(corners, func(c *atCorner) float64 { return way.of(&c.shares)[i] }))
			e.Evidence = way.like.Evidence
			layers[i].Facts[way.fact] = e
			if e.Range.Best > 0 {
				on++
			}
			if e.Range.Best > most {
				most, at = e.Range.Best, i
			}
		}
		if on > 1 {
			e := word(way.word)
			e.Evidence = way.like.Evidence
			layers[at].Facts["choke"] = e
		}
	}
}

// ways gives the vapor resistance from every plane between elements to both
// sides at 50 % humidity, from the first side inward.
func (m *model) ways() []Way {
	n := len(m.elements)
	list := make([]Way, n-1)
	for i, end := range []position{best, tight, open} {
		in := m.compile(everywhere(end))
		outward := 0.0
		for k := range n - 1 {
			l := &in.Layers[n-1-k]
			if l.Vent > 0 && outward > 0 {
				outward = 1 / (1/outward + l.Vent)
			}
			outward += 1 / max(l.Permeance.At(middle), minPermeance)
			widen(&list[k].Outward, outward, i == 0)
		}
		inward := 0.0
		for k := n - 2; k >= 0; k-- {
			inward += 1 / max(in.Layers[n-2-k].Permeance.At(middle), minPermeance)
			widen(&list[k].Inward, inward, i == 0)
		}
	}
	for k := range list {
		list[k].Outer, list[k].Inner = m.elements[k].part, m.elements[k+1].part
	}
	return list
}
