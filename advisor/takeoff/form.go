package takeoff

import (
	"fmt"
	"strings"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// measure adds a quantity in one kind, with the waste of the line.
func (l *Line) measure(k Kind, net quantity.Range) {
	w := l.Waste.Ratio
	order := times(net, quantity.Range{Low: 1 + w.Low, Best: 1 + w.Best, High: 1 + w.High})
	l.Measures = append(l.Measures, Measure{Kind: k, Net: net, Order: order})
}

// byForm measures a net area of a material by its form.
func (t *taker) byForm(l *Line, s *section, net quantity.Range, depth float64) {
	m := l.Material
	switch m.Form {
	case kb.Sheet:
		id := "takeoff-waste-sheets"
		if hasTerm(m, "cladding", "roofing") {
			id = "takeoff-waste-boards"
		}
		l.Waste = t.waste(l, s.of.Name, id)
		l.measure(Area, net)
	case kb.Plaster:
		t.plaster(l, s, net, depth)
	case kb.Masonry:
		id := "takeoff-waste-masonry"
		if hasTerm(m, "flooring") {
			id = "takeoff-waste-floor"
		}
		l.Waste = t.waste(l, s.of.Name, id)
		l.measure(Area, net)
		t.volume(l, net, depth)
	case kb.Fill:
		t.fill(l, s, net, depth)
	default:
		t.board(l, s, net, depth)
	}
}

// volume adds volume and mass of a layer.
func (t *taker) volume(l *Line, net quantity.Range, depth float64) {
	if depth <= 0 {
		return
	}
	volume := net.Scale(depth)
	l.measure(Volume, volume)
	l.How = append(l.How, "times "+show(depth, quantity.Length))
	if density, ok := l.Material.Working("density", kb.AnyMethod, depth); ok {
		l.Mark = l.Mark.Weaker(density.Evidence)
		l.measure(Mass, times(volume, density.SI))
	}
}

// thinBoard is the thickness up to which a dressed board counts as one inch
// nominal, m; halfInch that from which siding is boards and not shingles.
const (
	thinBoard = 0.0254
	halfInch  = 0.0125
)

// isBoards says whether a material is laid board by board of lumber.
func isBoards(m *kb.Material, depth float64) bool {
	if !hasTerm(m, "solid-wood") || hasTerm(m, "flooring", "roofing", "wood-lath") {
		return false
	}
	return !hasTerm(m, "cladding") || depth >= halfInch
}

// isPanel says whether a material is sold in panels of the usual size.
func isPanel(m *kb.Material) bool {
	return !hasTerm(m, "solid-wood", "flooring", "cladding", "roofing", "carpet")
}

// board measures boards, panels, floors and siding.
func (t *taker) board(l *Line, s *section, net quantity.Range, depth float64) {
	m := l.Material
	name := s.of.Name
	switch {
	case hasTerm(m, "flooring", "carpet"):
		l.Waste = t.waste(l, name, "takeoff-waste-floor")
		l.measure(Area, net)
	case isBoards(m, depth):
		id := "takeoff-waste-boards"
		if hasTerm(m, "diagonal-boards") {
			id = "takeoff-waste-boards-diagonal"
		}
		l.Waste = t.waste(l, name, id)
		l.measure(Area, net)
		t.lumber(l, net, depth)
	case isPanel(m):
		l.Waste = t.waste(l, name, "takeoff-waste-panels")
		l.measure(Area, net)
		panel := times(t.assumed(l, "takeoff-board-width"), t.assumed(l, "takeoff-board-length"))
		l.measure(Panels, over(net, panel))
		l.How = append(l.How, "panels of "+show(panel.Best, quantity.Area))
	default:
		l.Waste = t.waste(l, name, "takeoff-waste-boards")
		l.measure(Area, net)
	}
}

// lumber adds the running length and the board feet of boards, taken as 1x6:
// area over the exposed face, and six inches nominal for each foot of it.
func (t *taker) lumber(l *Line, net quantity.Range, depth float64) {
	exposed := t.assumed(l, "takeoff-exposed-1x6")
	length := over(net, exposed)
	l.measure(Length, length)
	l.How = append(l.How, fmt.Sprintf("as 1x6 with %s exposed", show(exposed.Best, quantity.Length)))
	if depth > 0 && depth <= thinBoard {
		const foot, boardFeetOf1x6 = 0.3048, 0.5
		l.measure(BoardFeet, length.Scale(boardFeetOf1x6/foot))
	}
}

// fill measures insulation by how it comes: loose by volume, mass and bags,
// foam sprayed in place by volume, batts and boards by area.
func (t *taker) fill(l *Line, s *section, net quantity.Range, depth float64) {
	m := l.Material
	l.Waste = t.waste(l, s.of.Name, "takeoff-waste-batts")
	l.measure(Area, net)
	if !hasTerm(m, "loose-fill", "spray-foam") {
		return
	}
	t.volume(l, net, depth)
	if mass, ok := l.Measure(Mass); ok && hasTerm(m, "loose-fill") {
		bag := t.assumed(l, "takeoff-bag-loose-fill")
		l.measure(Bags, over(mass.Net, bag))
		l.How = append(l.How, "bags of "+show(bag.Best, quantity.Mass))
	}
}

// plaster measures plaster by area, volume, mass and bags of dry mix, and the
// water it brings in.
func (t *taker) plaster(l *Line, s *section, net quantity.Range, depth float64) {
	l.Waste = t.waste(l, s.of.Name, "takeoff-waste-plaster")
	l.measure(Area, net)
	t.volume(l, net, depth)
	if mass, ok := l.Measure(Mass); ok && !isSiteMix(l.Material) {
		bag := t.assumed(l, "takeoff-bag-plaster")
		l.measure(Bags, over(mass.Net, bag))
		l.How = append(l.How, "bags of "+show(bag.Best, quantity.Mass)+" of dry mix")
	}
	if volume, ok := l.Measure(Volume); ok {
		l.Water = times(volume.Order, t.assumed(l, "plaster-water"))
	}
}

// isSiteMix says whether a plaster is mixed on site of lime putty and sand.
func isSiteMix(m *kb.Material) bool { return strings.HasPrefix(m.Composition.Mineral, "lime and sand") }

// glue is the adhesive in a net area of a material: mass times adhesive share.
// Waste never enters.
func (t *taker) glue(l *Line, m *kb.Material, net quantity.Range, depth float64) quantity.Range {
	share, ok := m.Working("adhesive-share", kb.AnyMethod, 0)
	if !ok {
		if !strings.HasPrefix(m.Composition.Adhesive, "none") && m.Composition.Adhesive != "" {
			t.warn("the base has no adhesive share for " + m.Name)
		}
		return quantity.Range{}
	}
	if share.SI.High == 0 {
		return quantity.Range{}
	}
	mass, ok := massOf(m, net, depth)
	if !ok {
		t.warn("the base has no density for " + m.Name)
		return quantity.Range{}
	}
	return times(mass, share.SI)
}

// massOf is the mass of a net area: sheets carry their own mass per area.
func massOf(m *kb.Material, net quantity.Range, depth float64) (quantity.Range, bool) {
	if m.Form == kb.Sheet || m.Form == kb.Coat {
		w, ok := m.Working("area-density", kb.AnyMethod, depth)
		return times(net, w.SI), ok
	}
	density, ok := m.Density()
	return times(net.Scale(depth), density), ok
}

// coats takes the coats of one face, one line for each run of a coating.
func (t *taker) coats(s *section, i int, p *assembly.Part, list []*kb.Material, face string) {
	for from := 0; from < len(list); {
		to := from
		for to < len(list) && list[to].ID == list[from].ID {
			to++
		}
		stage := Painting
		if i < s.structure && face == "out" {
			stage = OutsidePainting
		}
		l := t.line(s, p, list[from], stage)
		if l.Missing == "" {
			t.coat(&l, s.of.Name, quantity.Exact(s.area), to-from)
		}
		t.add(l)
		from = to
	}
}

// coat measures coats of paint by their coverage, or of a wallcovering by area.
func (t *taker) coat(l *Line, assemblyName string, net quantity.Range, count int) {
	m := l.Material
	l.Coats = count
	all := net.Scale(float64(count))
	if count > 1 {
		l.How = append(l.How, fmt.Sprintf("%d coats", count))
	}
	if hasTerm(m, "wallcovering") {
		l.Waste = t.waste(l, assemblyName, "takeoff-waste-sheets")
		l.measure(Area, all)
		return
	}
	coverage, ok := m.Working("coverage", kb.AnyMethod, 0)
	if !ok || coverage.SI.Low <= 0 {
		l.Missing = "the base has no coverage for it"
		return
	}
	l.Mark = l.Mark.Weaker(coverage.Evidence)
	l.Waste = t.waste(l, assemblyName, "takeoff-waste-paint")
	l.measure(Volume, over(all, coverage.SI))
	l.measure(Area, all)
	l.How = append(l.How, "at "+quantity.FormatRange(coverage.SI, quantity.Coverage, quantity.InchPound))
}

// waste gives the waste of a line: a value of the material, else that of a
// recipe which puts in nothing but this material, else the assumption for its
// kind.
func (t *taker) waste(l *Line, assemblyName, id string) Factor {
	if w, ok := l.Material.Working("waste", kb.AnyMethod, 0); ok {
		l.Mark = l.Mark.Weaker(w.Evidence)
		return Factor{Ratio: w.SI, From: l.Material.ID, Basis: w.Value.Basis}
	}
	for _, r := range t.job.Recipes[assemblyName] {
		if len(r.With) != 1 || r.With[0].Material != l.Material.ID {
			continue
		}
		for i := range r.Coverage {
			if v := &r.Coverage[i]; v.Property == "waste" {
				l.Mark = l.Mark.Weaker(v.Evidence)
				return Factor{Ratio: v.SI, From: r.ID, Basis: v.Basis}
			}
		}
	}
	return t.assumedWaste(l, id)
}

// assumedWaste gives a waste that only an assumption of the base names.
func (t *taker) assumedWaste(l *Line, id string) Factor {
	ratio := t.assumed(l, id)
	if a := t.base.Assumption(id); a != nil {
		return Factor{Ratio: ratio, From: id, Basis: a.Basis}
	}
	return Factor{From: id}
}
