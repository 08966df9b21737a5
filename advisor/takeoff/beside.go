package takeoff

import (
	"fmt"
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// Item is something that is ordered and is no material of the base.
type Item struct {
	ID       string
	Name     string
	Supplier string
}

// The ingredients of plaster that is mixed on site.
const (
	limeID = "hydrated-lime"
	sandID = "plaster-sand"
)

// Items lists what is ordered beside materials: ingredients and fasteners.
func Items() []Item {
	return append(tearOuts(), []Item{
		{"furring-strips", "wood furring strips, 1x3", lumberYard},
		{"gypsum-board-screws", "screws for gypsum board", hardware},
		{limeID, "hydrated lime", masonryYard},
		{"lath-nails", "nails for wood lath", hardware},
		{letIn, "let-in braces, 1x4", lumberYard},
		{"nails-8d", "8d nails", hardware},
		{sandID, "sharp graded sand for plaster", masonryYard},
		{"wood-lath-pieces", "wood lath of 4 ft", lumberYard},
	}...)
}

// item gives an entry of [Items].
func item(id string) Item {
	for _, i := range Items() {
		if i.ID == id {
			return i
		}
	}
	return Item{ID: id, Name: id}
}

// child begins a line for something that belongs to another line.
func (t *taker) child(parent int, id string, ingredient bool) Line {
	of := &t.out.Lines[parent]
	i := item(id)
	return Line{Where: of.Where, Item: i.ID, Name: i.Name, Supplier: i.Supplier, Of: parent, Mixed: ingredient, Stage: of.Stage}
}

// beside adds what a layer is mixed of and fixed with.
func (t *taker) beside(s *section, p *assembly.Part, parent int) {
	m := p.Material
	if isSiteMix(m) {
		t.limeAndSand(parent)
	}
	if hasTerm(m, "wood-lath") {
		t.lath(s, parent)
	}
	switch {
	case s.spacing == 0:
	case hasTerm(m, "gypsum-board"):
		t.screws(s, parent)
	case hasTerm(m, "wood-structural-panel"):
		t.panelNails(s, parent)
	case isBoards(m, p.Depth):
		t.boardNails(s, parent)
	}
}

// furring adds the strips that make a gap behind a cladding: one on each stud. A
// shallow gap comes with the cladding itself, one behind masonry with its ties.
func (t *taker) furring(s *section, i int, p *assembly.Part) {
	const shallow = 0.0125 // m, just under 1/2 in
	if p.Depth < shallow || i == 0 || i > s.structure || s.variant.Layers[i-1].Cavity || s.variant.Layers[i-1].Material.Form == kb.Masonry || !t.job.All && s.gapStood(p) {
		return
	}
	strip := item("furring-strips")
	l := Line{Where: Where{Assembly: s.of.Name, Layer: p.Name}, Item: strip.ID, Name: strip.Name, Supplier: strip.Supplier, Of: -1, Stage: Cladding}
	switch {
	case s.area <= 0:
		l.Missing = fmt.Sprintf("the area of %s is not given", s.of.Name)
	case s.spacing == 0:
		l.Missing = "the spacing of the framing is not given"
	default:
		l.Waste = t.assumedWaste(&l, "takeoff-waste-boards")
		l.measure(Length, quantity.Exact(s.area/s.spacing))
		l.How = []string{s.areaWords(), fmt.Sprintf("a strip on each stud, framing at %s", show(s.spacing, quantity.Length))}
	}
	t.add(l)
}

// gapStood says whether the assembly before the plan had this gap.
func (s *section) gapStood(p *assembly.Part) bool {
	const slack = 1e-4
	return s.before != nil && slices.ContainsFunc(s.before.Layers, func(b *assembly.Part) bool {
		return b.Cavity && b.State == "existing" && b.Name == p.Name && b.Depth-p.Depth < slack && p.Depth-b.Depth < slack
	})
}

// limeAndSand adds the lime and the sand of plaster mixed on site: the sand
// takes the whole volume, putty its voids.
func (t *taker) limeAndSand(parent int) {
	volume, ok := t.out.Lines[parent].Measure(Volume)
	if !ok {
		return
	}
	waste := t.out.Lines[parent].Waste
	sand := t.child(parent, sandID, true)
	sand.Waste = waste
	sand.measure(Volume, volume.Net)
	sand.How = []string{"the volume of the plaster"}
	t.add(sand)
	lime := t.child(parent, limeID, true)
	lime.Waste = waste
	mass := times(volume.Net, t.assumed(&lime, "takeoff-lime-share"), t.assumed(&lime, "takeoff-lime-putty"))
	lime.measure(Mass, mass)
	lime.measure(Bags, over(mass, t.assumed(&lime, "takeoff-bag-lime")))
	lime.How = []string{"a third of the volume as putty"}
	t.add(lime)
}

// lath adds wood lath and its nails.
func (t *taker) lath(s *section, parent int) {
	net := quantity.Exact(s.area)
	pieces := t.child(parent, "wood-lath-pieces", false)
	pieces.Waste = t.assumedWaste(&pieces, "takeoff-waste-lath")
	pieces.measure(Pieces, over(net, t.assumed(&pieces, "takeoff-lath")))
	pieces.How = []string{s.areaWords()}
	t.add(pieces)
	nails := t.child(parent, "lath-nails", false)
	nails.Waste = t.assumedWaste(&nails, "takeoff-waste-fasteners")
	nails.measure(Mass, times(net, t.assumed(&nails, "takeoff-lath-nails")))
	nails.How = []string{s.areaWords()}
	t.add(nails)
}

// screws adds the screws of gypsum board: one for each spacing of framing and
// of screws.
func (t *taker) screws(s *section, parent int) {
	l := t.child(parent, "gypsum-board-screws", false)
	l.Waste = t.assumedWaste(&l, "takeoff-waste-fasteners")
	spacing := t.assumed(&l, "takeoff-screw-spacing")
	l.measure(Pieces, over(quantity.Exact(s.area/s.spacing), spacing))
	l.How = []string{s.areaWords(), fmt.Sprintf("framing at %s, screws at %s", show(s.spacing, quantity.Length), show(spacing.Best, quantity.Length))}
	t.add(l)
}

// boardNails adds the nails of boards: so many at each board and bearing.
func (t *taker) boardNails(s *section, parent int) {
	l := t.child(parent, "nails-8d", false)
	l.Waste = t.assumedWaste(&l, "takeoff-waste-fasteners")
	exposed, at := t.assumed(&l, "takeoff-exposed-1x6"), t.assumed(&l, "takeoff-nails-at-bearing")
	t.nails(&l, times(over(quantity.Exact(s.area/s.spacing), exposed), at))
	l.How = []string{s.areaWords(), fmt.Sprintf("%.0f at each board and bearing, framing at %s", at.Best, show(s.spacing, quantity.Length))}
	t.add(l)
}

// panelNails adds the nails of structural panels: along the edges and in the
// field at the framing between them.
func (t *taker) panelNails(s *section, parent int) {
	l := t.child(parent, "nails-8d", false)
	l.Waste = t.assumedWaste(&l, "takeoff-waste-fasteners")
	width, length := t.assumed(&l, "takeoff-board-width").Best, t.assumed(&l, "takeoff-board-length").Best
	edge, field := t.assumed(&l, "takeoff-panel-edge-nails").Best, t.assumed(&l, "takeoff-panel-field-nails").Best
	each := nailsOfPanel(width, length, edge, field, s.spacing)
	t.nails(&l, quantity.Exact(s.area/(width*length)*each))
	l.How = []string{s.areaWords(), fmt.Sprintf("%.0f for each panel, %s at edges and %s in the field", each, show(edge, quantity.Length), show(field, quantity.Length))}
	t.add(l)
}

// nailsOfPanel counts the nails of one panel that stands along the framing: both
// long edges with their corners, the short edges between, and each stud in the
// field.
func nailsOfPanel(width, length, edge, field, spacing float64) float64 {
	steps := func(span, by float64) float64 { return float64(int(span/by + 1e-6)) }
	studs := max(0, steps(width, spacing)-1)
	return 2*(steps(length, edge)+1) + 2*(steps(width, edge)-1) + studs*(steps(length, field)-1)
}

// nails measures a count of nails by mass too.
func (t *taker) nails(l *Line, count quantity.Range) {
	l.measure(Pieces, count)
	l.measure(Mass, times(count, t.assumed(l, "takeoff-nail-8d")))
}
