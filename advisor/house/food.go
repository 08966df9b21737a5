package house

import (
	"slices"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// food sums the faces of the two sensitive classes of the mold index model that
// look into a bay or a gap, and those that look into a room, m². A face toward
// a framed bay counts where there is no framing; a fill that is food counts as
// one face. A coat takes over the class of the face it covers. Framing itself
// is not counted.
func (s *Study) food(results []*analysis.Result) (cavity, room Holdings) {
	var toCavity, toRoom []Holding
	for _, r := range results {
		area := netArea(r.Assembly)
		add := func(list *[]Holding, ways []found, shares quantity.Range) {
			if shares.High == 0 {
				return
			}
			part := ways[0].facts.Part
			h := Holding{Where: Where{Assembly: r.Assembly.Name, Layer: part.Name}, Material: leading(part), Area: area}
			t := &trace{}
			for _, p := range materials(part) {
				t.mark = t.mark.Weaker(p.material.Mold.Basis.Evidence)
			}
			h.Amount = t.estimate(shares.Scale(area))
			if area <= 0 {
				h.Amount = missing("the area of %s is not given", r.Assembly.Name)
			}
			*list = append(*list, h)
		}
		eachLayer(r, func(_ int, ways []found) {
			shares := func(toRoom bool) quantity.Range {
				return overWays(r, ways, func(w found) quantity.Range {
					c, m := foodShares(r.Assembly, r.Variants[w.variant].Of, w.part, r.Variants[w.variant].Layers[w.part].Facts)
					if toRoom {
						c = m
					}
					return quantity.Exact(c)
				})
			}
			add(&toCavity, ways, shares(false))
			add(&toRoom, ways, shares(true))
		})
	}
	return holdings(toCavity), holdings(append(toRoom, s.finishFood()...))
}

// finishFood lists the faces of finishes toward rooms that are mold food.
func (s *Study) finishFood() []Holding {
	var items []Holding
	for i := range s.house.Finishes {
		f := &s.house.Finishes[i]
		if len(f.Materials) == 0 || !sensitive(faceClass(f.Materials[0], f.Coats, false)) {
			continue
		}
		studied := s.Finish(f, f.Materials[0])
		h := Holding{Where: studied.Where(), Material: studied.Material, Area: studied.Area}
		h.Amount = analysis.Estimate{Known: true, Range: quantity.Exact(studied.Area), Evidence: studied.Material.Mold.Basis.Evidence}
		if studied.Area == 0 {
			h.Amount = missing("the area of %s, %s is not given", f.Finish.Room.Value, f.Name)
		}
		items = append(items, h)
	}
	return items
}

// foodShares counts the food faces of a part toward bays and gaps and toward
// rooms, each as a share of the net area. Its facts say of which class they are.
func foodShares(a *assembly.Assembly, v *assembly.Variant, i int, facts analysis.Facts) (cavity, room float64) {
	p := v.Layers[i]
	if p.Cavity {
		return 0, 0
	}
	if p.Framed {
		for _, f := range p.Fills {
			if f.Material != nil && (sensitive(f.Material.Mold.Face) || sensitive(f.Material.Mold.Back)) {
				cavity += 1 - p.Fraction
			}
		}
		return cavity, 0
	}
	outer, inner := foodFace(facts["mold-class-outer"]), foodFace(facts["mold-class-inner"])
	last := len(v.Layers) - 1
	if outer && i > 0 {
		cavity += openShare(v.Layers[i-1])
	}
	if inner && i < last {
		cavity += openShare(v.Layers[i+1])
	}
	if inner && i == last && isRoom(a.Between[1]) {
		room++
	}
	if outer && i == 0 && isRoom(a.Between[0]) {
		room++
	}
	return cavity, room
}

// foodFace says whether the class of a face is one of the two sensitive ones.
func foodFace(class analysis.Estimate) bool {
	return class.Known && slices.ContainsFunc(class.Words, func(w string) bool { return sensitive(kb.MoldClass(w)) })
}

// openShare is the share of a neighbor that is air or fill between framing.
func openShare(p *assembly.Part) float64 {
	switch {
	case p.Cavity:
		return 1
	case p.Framed:
		return 1 - p.Fraction
	}
	return 0
}

func isRoom(s assembly.Side) bool { return s == "room" || s == "wet-room" || s == "garage" }

func sensitive(c kb.MoldClass) bool {
	return slices.Contains([]kb.MoldClass{"sensitive", "very-sensitive"}, c)
}

// faceClass is the mold class of a face with its coats.
func faceClass(m *kb.Material, coats []*kb.Material, back bool) kb.MoldClass {
	if len(coats) > 0 {
		if c := coats[len(coats)-1].Mold.Face; c != "" {
			return c
		}
	}
	if back && m.Mold.Back != "" {
		return m.Mold.Back
	}
	return m.Mold.Face
}
