package takeoff

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// section is an assembly of which quantities are taken, in its first variant.
type section struct {
	of        *assembly.Assembly
	variant   *assembly.Variant
	fresh     []string          // ids of materials that recipes put in new
	before    *assembly.Variant // of the assembly of that name before the plan, nil for none
	area      float64           // net, m²; 0 when the description gives none
	spacing   float64           // of the framing, m; 0 without
	structure int               // the part that stands first: outside of it lies what is fixed to it from outside
}

// assembly takes the quantities of one assembly.
func (t *taker) assembly(a *assembly.Assembly) {
	if len(a.Variants) == 0 {
		return
	}
	s := &section{of: a, variant: a.Variants[0], area: a.Area - a.Openings, fresh: bringsNew(t.job.Recipes[a.Name])}
	if t.job.Before != nil {
		for _, b := range t.job.Before.Assemblies {
			if b.Name == a.Name && len(b.Variants) > 0 {
				s.before = b.Variants[0]
			}
		}
	}
	for i, settled := range s.variant.Settled {
		d := a.Doubts[i]
		t.warn(fmt.Sprintf("%s: %s is in doubt and taken as %s", a.Name, d.Where, settled.Choice))
	}
	s.structure = structureOf(s.variant)
	for _, p := range s.variant.Layers {
		if p.Framed && s.spacing == 0 {
			s.spacing = p.Spacing
		}
	}
	t.takenOut(s)
	for i, p := range s.variant.Layers {
		t.part(s, i, p)
	}
}

// structureOf is the first framed part, else the thickest masonry, else the last
// part.
func structureOf(v *assembly.Variant) int {
	at, depth := len(v.Layers)-1, 0.0
	for i, p := range v.Layers {
		if p.Framed {
			return i
		}
		if p.Material != nil && p.Material.Form == kb.Masonry && p.Depth > depth {
			at, depth = i, p.Depth
		}
	}
	return at
}

// part takes what is new of one part: itself, its fills, its coats.
func (t *taker) part(s *section, i int, p *assembly.Part) {
	if p.State != "proposed" && !t.job.All {
		return
	}
	if p.Cavity {
		t.furring(s, i, p)
		return
	}
	old := s.stood(p)
	if t.job.All {
		old = nil
	}
	switch {
	case p.Framed:
		t.framed(s, i, p, old)
	case old == nil:
		t.solid(s, i, p)
	}
	out, in := []*kb.Material(nil), []*kb.Material(nil)
	if old != nil {
		out, in = old.CoatsOut, old.CoatsIn
	}
	t.coats(s, i, p, added(out, p.CoatsOut), "out")
	t.coats(s, i, p, added(in, p.CoatsIn), "in")
}

// bringsNew lists the materials that recipes put in new, whatever stood there:
// a board that comes off with the layer behind it is bought again. What a recipe
// takes over in the thickness it has is hung again.
func bringsNew(recipes []*kb.Recipe) []string {
	var list []string
	for _, r := range recipes {
		for i := range r.With {
			if n := &r.With[i]; n.Material != "" && n.Keep == "" && n.Thickness.Value != "same" {
				list = append(list, n.Material)
			}
		}
	}
	return list
}

// stood gives the part of the assembly before the plan that stands and stays as
// this one, nil for none: of the same name, material and thickness.
func (s *section) stood(p *assembly.Part) *assembly.Part {
	if s.before == nil || !p.Framed && slices.Contains(s.fresh, p.Material.ID) {
		return nil
	}
	for _, b := range s.before.Layers {
		if b.Name != p.Name || b.State != "existing" || b.Cavity || b.Framed != p.Framed {
			continue
		}
		const slack = 1e-4
		if b.Material.ID == p.Material.ID && b.Depth-p.Depth < slack && p.Depth-b.Depth < slack {
			return b
		}
	}
	return nil
}

// added gives the coats that come on top of those that stood, or all of them
// where those were taken off.
func added(before, after []*kb.Material) []*kb.Material {
	if len(before) > len(after) {
		return after
	}
	for i, m := range before {
		if after[i].ID != m.ID {
			return after
		}
	}
	return after[len(before):]
}

// line begins a line for a part.
func (t *taker) line(s *section, p *assembly.Part, m *kb.Material, stage Stage) Line {
	l := Line{
		Where: Where{Assembly: s.of.Name, Layer: p.Name}, Item: m.ID, Name: m.Name, Material: m,
		Supplier: supplierOf(m), Of: -1, Stage: stage,
	}
	if s.area <= 0 {
		l.Missing = fmt.Sprintf("the area of %s is not given", s.of.Name)
		return l
	}
	l.How = append(l.How, s.areaWords())
	return l
}

// areaWords says how the net area came about.
func (s *section) areaWords() string {
	text := show(s.of.Area, quantity.Area)
	if s.of.Openings > 0 {
		text += " less " + show(s.of.Openings, quantity.Area) + " of openings"
	}
	return text
}

// stageOf gives the stage of a part by its place.
func (s *section) stageOf(i int, p *assembly.Part) Stage {
	m, outer := p.Material, outerOf(s.of, s.structure)
	switch {
	case p.Framed || i == s.structure && m.Form != kb.Plaster && m.Form != kb.Sheet && !hasTerm(m, "interior-finish", "cladding", "roofing"):
		return Structure
	case hasTerm(m, "flooring"):
		return Floors
	case i < outer && (i == 0 || hasTerm(m, "cladding", "roofing", "brick-veneer")):
		return Cladding
	case i < outer && m.Form == kb.Sheet:
		return Barrier
	case i < outer:
		return Sheathing
	case m.Form == kb.Sheet:
		return Retarder
	case m.Form == kb.Plaster:
		return Plastering
	}
	return Lining
}

// outerOf gives before which layer the work is done from outside: the structure, or
// none where the first side is a room or a garage, whose layers are linings.
func outerOf(a *assembly.Assembly, structure int) int {
	switch a.Between[0] {
	case "room", "wet-room", "garage":
		return 0
	}
	return structure
}

// solid takes a part of one material.
func (t *taker) solid(s *section, i int, p *assembly.Part) {
	l := t.line(s, p, p.Material, s.stageOf(i, p))
	if l.Missing == "" {
		net := quantity.Exact(s.area)
		t.byForm(&l, s, net, p.Depth)
		l.Glue = t.glue(&l, p.Material, net, p.Depth)
	}
	parent := t.add(l)
	if l.Missing == "" {
		t.beside(s, p, parent)
	}
}

// framed takes framing and fill, as far as they are new.
func (t *taker) framed(s *section, i int, p, old *assembly.Part) {
	if old == nil {
		t.framing(s, i, p)
	}
	t.braces(s, p, old)
	for f, fill := range p.Fills {
		if fill.Material == nil || old != nil && hasFill(old, fill) {
			continue
		}
		l := t.line(s, p, fill.Material, Filling)
		if l.Missing == "" {
			net := quantity.Exact(s.area * (1 - p.Fraction))
			l.How = append(l.How, fmt.Sprintf("less %s of framing", show(p.Fraction, quantity.Ratio)))
			t.fill(&l, s, net, fill.Depth)
			l.Glue = t.glue(&l, fill.Material, net, fill.Depth)
		}
		if len(p.Fills) > 1 {
			l.Name = fmt.Sprintf("%s, fill %d", l.Name, f+1)
		}
		t.add(l)
	}
}

// hasFill says whether a framed part holds a fill of that material and depth.
func hasFill(p *assembly.Part, want assembly.PartFill) bool {
	return slices.ContainsFunc(p.Fills, func(f assembly.PartFill) bool {
		const slack = 1e-4
		return f.Material != nil && f.Material.ID == want.Material.ID && f.Depth-want.Depth < slack && want.Depth-f.Depth < slack
	})
}

// framing takes the lumber of a framed part: the share of the area that is wood
// over the narrow face of the lumber.
func (t *taker) framing(s *section, i int, p *assembly.Part) {
	l := t.line(s, p, p.Material, s.stageOf(i, p))
	if l.Missing == "" {
		face := t.assumed(&l, "takeoff-stud-width")
		area := quantity.Exact(s.area * p.Fraction)
		length := over(area, face)
		l.How = append(l.How, fmt.Sprintf("%s of it framing, %s to the face", show(p.Fraction, quantity.Ratio), show(face.Best, quantity.Length)))
		l.Waste = t.waste(&l, s.of.Name, "takeoff-waste-boards")
		l.measure(Length, length)
		if perFoot := boardFeet(s.of.Described.Layers[p.Layer].Framing); perFoot > 0 {
			const foot = 0.3048
			l.measure(BoardFeet, length.Scale(perFoot/foot))
		}
		l.Glue = t.glue(&l, p.Material, area, p.Depth)
	}
	t.add(l)
}

// boardFeet is the board feet in a foot of nominal lumber, 0 where the size is
// not nominal: thickness times width in inches over 12.
func boardFeet(f *assembly.Framing) float64 {
	if f == nil {
		return 0
	}
	var thick, wide float64
	if n, err := fmt.Sscanf(strings.ReplaceAll(strings.ToLower(f.Size.Value), " ", ""), "%fx%f", &thick, &wide); err != nil || n != 2 {
		return 0
	}
	return thick * wide / 12
}

// show writes a value in the units of the trade.
func show(v float64, d quantity.Dimension) string { return quantity.Format(v, d, quantity.InchPound) }
