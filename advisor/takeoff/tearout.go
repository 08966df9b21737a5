package takeoff

import (
	"slices"
	"strings"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// tearOut begins the ids of what is taken out; a price book prices them like
// other items.
const tearOut = "tear-out-"

// tearOuts lists what can be taken out, by what comes off together.
func tearOuts() []Item {
	return []Item{
		{tearOut + "cladding", "tear-out of cladding or roofing", demolition},
		{tearOut + "fill", "tear-out of insulation", demolition},
		{tearOut + "floor", "tear-out of flooring", demolition},
		{tearOut + "lining", "tear-out of boards inside", demolition},
		{tearOut + "plaster", "tear-out of plaster", demolition},
		{tearOut + "sheathing", "tear-out of sheathing", demolition},
		{tearOut + "sheet", "tear-out of a sheet", demolition},
	}
}

// takenOut adds a line for each layer and fill that stood before the plan and
// does not stand after it: the net area, without waste. What else comes off to
// reach them, and goes back, is not counted.
func (t *taker) takenOut(s *section) {
	if s.before == nil || t.job.All {
		return
	}
	structure := outerOf(s.of, structureOf(s.before))
	for i, b := range s.before.Layers {
		if b.State != "existing" || b.Cavity {
			continue
		}
		after := s.remains(b)
		switch {
		case b.Framed:
			t.takenFills(s, b, after)
		case after == nil:
			t.takeOut(s, b, tearOut+kindOfTearOut(b.Material, i, structure), b.Material.Name, quantity.Exact(s.area))
		}
	}
}

// takenFills adds a line for each fill of a framed part that is not there after
// the plan.
func (t *taker) takenFills(s *section, b, after *assembly.Part) {
	for _, f := range b.Fills {
		if f.Material != nil && (after == nil || !hasFill(after, f)) {
			t.takeOut(s, b, tearOut+"fill", f.Material.Name, quantity.Exact(s.area*(1-b.Fraction)))
		}
	}
}

func (t *taker) takeOut(s *section, b *assembly.Part, id, name string, net quantity.Range) {
	of := item(id)
	l := Line{Where: Where{Assembly: s.of.Name, Layer: b.Name}, Item: id, Name: of.Name, Supplier: of.Supplier, Of: -1, Stage: TearOut, How: []string{name}}
	if s.area <= 0 {
		l.Missing = "the area of " + s.of.Name + " is not given"
	} else {
		l.How = append(l.How, s.areaWords())
		l.measure(Area, net)
	}
	t.add(l)
}

// remains gives the part after the plan that stood as this one, nil for none.
func (s *section) remains(b *assembly.Part) *assembly.Part {
	for _, p := range s.variant.Layers {
		if !p.Cavity && p.Name == b.Name && s.stood(p) == b {
			return p
		}
	}
	return nil
}

// kindOfTearOut sorts a layer by how it comes off.
func kindOfTearOut(m *kb.Material, i, structure int) string {
	switch {
	case m.Form == kb.Sheet && !hasTerm(m, "cladding", "roofing", "flooring"):
		return "sheet"
	case hasTerm(m, "flooring", "carpet"):
		return "floor"
	case i < structure && (i == 0 || hasTerm(m, "cladding", "roofing", "brick-veneer")):
		return "cladding"
	case i < structure:
		return "sheathing"
	case m.Form == kb.Plaster:
		return "plaster"
	case m.Form == kb.Fill:
		return "fill"
	}
	return "lining"
}

// IsTearOut says whether a line is work of taking out.
func (l *Line) IsTearOut() bool { return strings.HasPrefix(l.Item, tearOut) }

// PricesTearOut says whether a price book has any price of taking out. One that
// has none leaves it out of every total alike.
func (b *PriceBook) PricesTearOut(base *kb.Base) bool {
	return slices.ContainsFunc(tearOuts(), func(i Item) bool { return len(b.find(base, i.ID)) > 0 })
}

// braces adds let-in braces where framing takes up bracing that it did not do
// before: one at each end of the wall and others between, in pieces for a wall of
// the usual height. The bracing table and the engineer may ask for more.
func (t *taker) braces(s *section, p, old *assembly.Part) {
	const brace = "brace"
	if !slices.Contains(p.Performs, brace) || old != nil && slices.Contains(old.Performs, brace) || s.of.Kind != "wall" {
		return
	}
	of := item(letIn)
	l := Line{Where: Where{Assembly: s.of.Name, Layer: p.Name}, Item: letIn, Name: of.Name, Supplier: of.Supplier, Of: -1, Stage: Structure}
	if s.of.Area <= 0 {
		l.Missing = "the area of " + s.of.Name + " is not given"
		t.add(l)
		return
	}
	height, apart, length := t.assumed(&l, "room-height"), t.assumed(&l, "takeoff-brace-spacing"), t.assumed(&l, "takeoff-brace-length")
	wall := s.of.Area / height.Best
	count := func(spacing float64) float64 { return float64(max(2, Whole(wall/spacing)+1)) }
	n := quantity.Range{Low: count(apart.High), Best: count(apart.Best), High: count(apart.Low)}
	l.measure(Pieces, n)
	l.measure(Length, times(n, length))
	l.How = []string{
		"a wall " + show(wall, quantity.Length) + " long at " + show(height.Best, quantity.Length) + " of height",
		"one at each end and at most " + show(apart.Best, quantity.Length) + " apart",
	}
	t.warn("let-in braces of " + s.of.Name + ": how many the wall needs goes by wind, story and the bracing table; the official or an engineer says so")
	t.add(l)
}

const letIn = "let-in-braces"
