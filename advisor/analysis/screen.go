package analysis

import (
	"relath/advisor/assembly"
	"relath/advisor/steady"
	"relath/kb"
)

// Section is what one part of an assembly gives to the flat input and to the
// sums over layers, in the best case. Sections put one behind the other stand
// for an assembly that was never described.
type Section struct {
	Part      *assembly.Part
	Lacks     string         // value that keeps the moisture methods from running, or empty
	Heatless  string         // value that keeps the U-factor from being computed, or empty
	layers    []steady.Layer // from the inside
	path      steady.ThermalLayer
	cold      float64 // m²·K/W along the colder path
	glue      float64 // kg/m²
	fillFood  int     // framing and fills in the bay that are mold food
	outerFood bool    // whether the face to the first side is mold food
	innerFood bool
}

// Sections makes the sections of a variant, in the order of its parts.
func Sections(base *kb.Base, a *assembly.Assembly, v *assembly.Variant) []Section {
	m := newModel(base, a, v)
	in := m.compile(bestCase)
	list := make([]Section, len(v.Layers))
	n := len(m.elements)
	for i, p := range v.Layers {
		s := &list[i]
		s.Part = p
		for k := n - 1; k >= 0; k-- {
			if e := &m.elements[k]; e.part == i {
				s.layers = append(s.layers, in.Layers[n-1-k])
				s.path.R += e.heat.Best
				s.Lacks += e.lacks
			}
		}
		s.cold = s.path.R
		if p.Framed {
			s.path.FramingR, s.path.FramingShare = m.framing[i].heat.Best, p.Fraction
			if p.Fraction > 0 {
				s.cold = min(s.cold, s.path.FramingR)
			}
		}
		m.hold(i, s)
	}
	return list
}

// hold fills in what the part of a section holds.
func (m *model) hold(i int, s *Section) {
	p := s.Part
	if !p.Cavity {
		if _, _, lacks := heatOf(m.read, p.Material, p.Depth, p.Name); lacks != "" {
			s.Heatless = lacks
		}
	}
	for _, share := range massesOf(m.read, p) {
		if glue, known := glueOf(share); known {
			s.glue += glue.Best
		}
	}
	for _, fill := range p.Fills {
		if fill.Material == nil {
			continue
		}
		if _, _, lacks := heatOf(m.read, fill.Material, fill.Depth, p.Name); lacks != "" {
			s.Heatless = lacks
		}
	}
	switch {
	case p.Framed:
		food, _ := m.foodFaces(i)
		s.fillFood = int(food)
	case !p.Cavity:
		s.outerFood, s.innerFood = sensitive(m.outerClass(i)), sensitive(m.innerClass(i))
	}
}

// Screen computes the best-case facts of assemblies put together from sections
// of one assembly and of swaps in it, with the flat input that the analysis
// itself compiles. It keeps its memory and must not be used by two goroutines
// at once.
type Screen struct {
	base            *kb.Base
	of              *assembly.Assembly
	ambient         bool
	inside, outside float64 // films of the U-factor
	ground          float64 // thermal resistance of the ground below a slab
	in              steady.Input
	path            steady.Conduction
	sections        []*Section
	lacks           bool
	suspect         int // the plane that dries worst by the upper bound, 0 where that was not asked
	workspace       steady.Workspace
	bounds          boundary
}

// NewScreen makes a screen for an assembly.
func NewScreen(base *kb.Base, a *assembly.Assembly) *Screen {
	m := &model{room: newRoom(), base: base, of: a}
	m.climate()
	s := &Screen{base: base, of: a, ambient: m.ambient}
	s.in = steady.Input{Months: m.months, Saturation: steady.ASHRAE}
	s.in.Inside.R, s.in.Outside.R = filmsISO(a)
	s.inside, s.outside = films(a)
	s.ground = m.groundOf().at(places{})
	return s
}

// Set puts an assembly together from sections, from the first side inward.
func (s *Screen) Set(sections []*Section) {
	s.sections, s.lacks, s.suspect = sections, false, 0
	s.in.Layers, s.path.Layers = s.in.Layers[:0], s.path.Layers[:0]
	s.path.Inside, s.path.Outside = s.inside, s.outside
	for i := len(sections) - 1; i >= 0; i-- {
		s.in.Layers = append(s.in.Layers, sections[i].layers...)
		s.lacks = s.lacks || sections[i].Lacks != "" || sections[i].Heatless != ""
	}
	for _, x := range sections {
		s.path.Layers = append(s.path.Layers, x.path)
	}
	if n := len(s.in.Layers); n > 0 {
		s.in.Layers[n-1].Vent = 0 // outside of the first layer is the weather itself
	}
}

// Sums are the best-case facts that need no moisture method.
type Sums struct {
	U         float64 // W/(m²·K)
	Ratio     float64 // lowest surface temperature ratio
	Glue      float64 // kg/m²
	Food      int     // food faces toward cavities and rooms
	Thickness float64 // m
}

// Sums adds up what the sections hold. It is an error when they have no
// thermal resistance.
func (s *Screen) Sums() (Sums, error) {
	var sums Sums
	rest := s.in.Outside.R + s.ground
	for i, x := range s.sections {
		sums.Glue += x.glue
		sums.Thickness += x.Part.Depth
		sums.Food += x.fillFood + s.faces(i)
		rest += x.cold
	}
	r, err := s.path.ParallelPath()
	if err != nil {
		return sums, err
	}
	sums.U = 1 / r
	sums.Ratio, err = steady.SurfaceRatio(steady.MoldFilm, rest)
	return sums, err
}

// faces counts the food faces of a section toward bays, gaps and rooms.
func (s *Screen) faces(i int) int {
	x, last, n := s.sections[i], len(s.sections)-1, 0
	if x.outerFood && (i > 0 && isBay(s.sections[i-1].Part) || i == 0 && isRoom(s.of.Between[0])) {
		n++
	}
	if x.innerFood && (i < last && isBay(s.sections[i+1].Part) || i == last && isRoom(s.of.Between[1])) {
		n++
	}
	return n
}

// Judged says whether the moisture methods have an answer for the sections.
func (s *Screen) Judged() bool { return s.ambient && !s.lacks && len(s.in.Layers) > 1 }

// Peak gives the largest condensate at any plane, kg/m².
func (s *Screen) Peak() (float64, error) {
	year, err := s.workspace.Year(&s.in)
	if err != nil {
		return 0, err
	}
	return year.PlanePeak, nil
}

// Drying gives the drying capacity at the worst plane, kg/(m²·s). It begins with
// the plane that the upper bound takes for the worst and stops at the first plane
// after which no more is asked for: enough is called with the least so far, which
// is then an upper bound.
func (s *Screen) Drying(enough func(atMost float64) bool) (float64, error) {
	outermost := s.outermost()
	first := min(max(1, s.suspect), outermost)
	least, err := s.dryingAt(first)
	for j := 1; j <= outermost && err == nil; j++ {
		if j == first {
			continue
		}
		if enough(least) {
			return least, nil
		}
		var d float64
		d, err = s.dryingAt(j)
		least = min(least, d)
	}
	return least, err
}

// outermost is the last plane from which drying is judged: what lies outside of
// the innermost gap that exchanges air with the weather is left out.
func (s *Screen) outermost() int {
	for j := range s.in.Layers {
		if s.in.Layers[j].Vent > 0 {
			return max(1, j)
		}
	}
	return max(1, len(s.in.Layers)-1)
}

// dryingAt is the yearly mean that a wet plane gives off to both sides.
func (s *Screen) dryingAt(plane int) (float64, error) {
	both := 0.0
	err := s.workspace.DryingCapacities(&s.in, []int{plane}, func(_ int, a *steady.Arriving) {
		both = yearly(&s.in, &a.Outward) + yearly(&s.in, &a.Inward)
	})
	return both, err
}

// Variant gives the facts that need no moisture method, which is all that
// duties and code tables ask for: those that do are not known.
func (s *Screen) Variant(of *assembly.Variant) (*Variant, error) {
	out, err := newModel(s.base, s.of, of).dry()
	if err != nil {
		return nil, err
	}
	missing := Estimate{Missing: "not computed while screening"}
	for _, id := range append(moistureFacts(), "dries-in-year") {
		out.Facts[id] = missing
	}
	for i := range out.Layers {
		out.Layers[i].Facts["condensate"] = missing
	}
	name(out.Facts)
	return out, nil
}
