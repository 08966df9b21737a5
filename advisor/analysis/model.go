package analysis

import (
	"relath/advisor/assembly"
	"relath/advisor/steady"
	"relath/kb"
	"relath/kb/quantity"
)

// model is one variant made ready for the methods.
type model struct {
	*room
	base      *kb.Base
	of        *assembly.Assembly
	variant   *assembly.Variant
	variables []variable
	elements  []element        // from the first side inward
	framing   map[int]*framing // of framed parts
	core      int              // part that holds the insulation or the structure
	lacks     []string         // values that keep the moisture methods from running
	heatless  []string         // values that keep the U-factor from being computed
	corner    *roomCorner      // nil where there is none
	ground    *groundBelow     // nil where there is no slab on ground
	rooms     rooms
	sections  []section
	months    [12]steady.Month // of the one section above grade
	ambient   bool             // whether both sides have a climate
	rough     bool             // the first corners alone
	air       position         // of the rooms, for what is compiled by corners
	settled   bool             // every value is one number: there are no corners

	input steady.Input // compiled last

	planes                  []int     // of package steady, from which drying is judged
	slowest                 int       // the one that dries slowest in the best case
	foodPlanes              []int     // of package steady, that touch mold food
	wet                     [12][]int // planes where water lies at the end of a month, of the last evaluation
	temperature, saturation []float64 // at the planes, kept while others are computed
}

// room is what models share that run one after the other.
type room struct {
	workspace *steady.Workspace
	read      *kb.Reader
	asked     *asked // not nil: ranges alone, as far as conditions ask; what moves them is not looked for
}

func newRoom() *room { return &room{workspace: new(steady.Workspace), read: kb.NewReader()} }

// framing is the wood of a framed part.
type framing struct {
	heat     quantity.Range // thermal resistance, m²·K/W
	fill     quantity.Range // share of the area that is not framing
	variable int            // of the heat
	inputs   []Input        // behind the heat
	fillVar  int            // of the share, -1 where it is given
}

// newModel gathers the elements of a variant.
func newModel(base *kb.Base, a *assembly.Assembly, v *assembly.Variant) *model {
	return newRoom().model(base, a, v)
}

// model makes a model that works in the room.
func (r *room) model(base *kb.Base, a *assembly.Assembly, v *assembly.Variant) *model {
	m := &model{room: r, base: base, of: a, variant: v, framing: make(map[int]*framing)}
	for i, p := range v.Layers {
		switch {
		case p.Cavity:
			m.elements = append(m.elements, m.gap(i, p))
		case p.Framed:
			m.framed(i, p)
		default:
			m.elements = append(m.elements, m.solid(i, p))
		}
	}
	m.core = coreOf(m)
	total := 0.0
	for i := range m.elements {
		if e := &m.elements[i]; !e.known {
			m.lacks = append(m.lacks, e.lacks)
		}
		total += m.elements[i].heat.Best
	}
	for i := range m.elements {
		if e := &m.elements[i]; e.heatVar >= 0 && total > 0 {
			m.variables[e.heatVar].share += e.heat.Best / total
		}
	}
	m.corner, m.ground = m.cornerOf(), m.groundOf()
	m.climate()
	m.planes, m.foodPlanes = m.dryingPlanes(), m.foodAt()
	return m
}

func (m *model) solid(i int, p *assembly.Part) element {
	e := element{part: i, fill: -1}
	m.warm(&e, p.Material, p.Depth, p.Name)
	m.cover(&e, p.Name, p.Material, p.Depth, p.Sealed, p.CoatsOut, p.CoatsIn)
	return e
}

// warm gives an element its thermal resistance.
func (m *model) warm(e *element, of *kb.Material, depth float64, layer string) {
	heat, inputs, lacks := heatOf(m.read, of, depth, layer)
	e.heat, e.heatVar = heat, -1
	if lacks != "" {
		m.heatless = append(m.heatless, lacks)
	}
	if len(inputs) > 0 {
		e.heatVar = m.heatVariable(inputs[0], heat, depth)
	}
	e.inputs = append(e.inputs, inputs...)
}

// heatVariable gives the variable of a thermal resistance of a depth in m.
func (m *model) heatVariable(in Input, heat quantity.Range, depth float64) int {
	v := m.variableOf(ofHeat, in, in.Value.Evidence)
	m.reading(v, func(at position) float64 {
		if in.Property == "conductivity" {
			return depth / pick(heat, at)
		}
		return pick(heat, at)
	})
	return v
}

// cover gives an element its vapor side.
func (m *model) cover(e *element, layer string, of *kb.Material, depth float64, sealed bool, faces ...[]*kb.Material) {
	s, g := m.stackOf(layer, of, depth, sealed, faces...)
	e.vapor, e.lacks, e.known = s, g.lacks, g.lacks == ""
	e.inputs, e.cups = append(e.inputs, g.inputs...), g.cups
	e.doubtful = g.doubtful
}

// framed adds the fills of a framed part, one element each, and its framing.
func (m *model) framed(i int, p *assembly.Part) {
	wood, inputs, lacks := heatOf(m.read, p.Material, p.Depth, p.Name)
	if lacks != "" {
		m.heatless = append(m.heatless, lacks)
	}
	f := &framing{heat: wood, fill: quantity.Exact(1 - p.Fraction), variable: -1, inputs: inputs, fillVar: -1}
	if len(inputs) > 0 {
		f.variable = m.heatVariable(inputs[0], wood, p.Depth)
	}
	if a := m.defaulted(p.Name, "fraction"); a != nil {
		f.fill = quantity.Range{Low: 1 - a.SI.High, Best: 1 - p.Fraction, High: 1 - a.SI.Low}
		f.fillVar = m.variableOf(ofHeat, Input{Layer: p.Name, Material: a.ID, Property: "framing-fraction"}, a.Evidence)
		m.reading(f.fillVar, func(at position) float64 { return 1 - pick(f.fill, at) })
	}
	m.framing[i] = f
	for j, fill := range p.Fills {
		e := element{part: i, fill: j}
		if fill.Material == nil {
			m.stillAir(&e, fill.Depth, p.Name)
		} else {
			m.warm(&e, fill.Material, fill.Depth, p.Name)
			m.cover(&e, p.Name, fill.Material, fill.Depth, true)
		}
		m.elements = append(m.elements, e)
	}
}

// defaulted gives the assumption that fills in for a value of a layer that the
// description leaves out, or nil.
func (m *model) defaulted(layer, what string) *kb.Assumption {
	for _, d := range m.of.House.Defaults {
		if d.From != "" && d.Where == m.of.Name+" / "+layer+" / "+what {
			return m.base.Assumption(d.From)
		}
	}
	return nil
}

// stillAir makes an element an air space without exchange.
func (m *model) stillAir(e *element, depth float64, layer string) {
	const id = "closed-gap-air-layer"
	e.heat, e.heatVar = quantity.Exact(airSpace(depth, flowOf(m.of.Kind, m.of.Slope))), -1
	a := m.base.Assumption(id)
	if a == nil || a.SI.Low <= 0 {
		e.lacks = "equivalent air layer of a closed gap"
		return
	}
	in := Input{Layer: layer, Material: id, Property: "equivalent-air-layer"}
	r := reading{curve: constant(quantity.Range{
		Low: kb.StillAirPermeability / a.SI.High, Best: kb.StillAirPermeability / a.SI.Best, High: kb.StillAirPermeability / a.SI.Low,
	})}
	r.dry, r.wet = r.curve.at(middle), r.curve.at(middle)
	e.vapor.rh = stopsOf([]reading{r})
	e.vapor.body = r.film(e.vapor.rh, m.variableOf(ofVapor, in, a.Evidence), 1)
	e.inputs, e.cups, e.known = append(e.inputs, in), []Input{in}, true
}

// The density of the air that moves through a gap [kg/m³].
const gapAir = 1.2

// standardPressure is the total pressure of the air [Pa].
const standardPressure = 101325

// gap makes an element of a cavity. Air that is exchanged with the weather is
// a second path outward, m_a·0.62/P (ASHRAE Handbook—Fundamentals 2021, ch. 27,
// after TenWolde and Carll 1992). A gap without a layer outside of it has
// nothing to pass.
func (m *model) gap(i int, p *assembly.Part) element {
	e := element{part: i, fill: -1}
	m.stillAir(&e, p.Depth, p.Name)
	a := m.base.Assumption("air-change-" + string(p.Air))
	if p.Air == "closed" || a == nil || i == 0 {
		return e
	}
	in := Input{Layer: p.Name, Material: a.ID, Property: "air-change"}
	e.inputs = append(e.inputs, in)
	e.ventVar = m.variableOf(ofVapor, in, a.Evidence)
	m.reading(e.ventVar, func(at position) float64 { return pick(a.SI, at) })
	at := func(rate float64) float64 {
		v, err := steady.VentPermeance(rate*p.Depth*gapAir, standardPressure)
		if err != nil {
			return 0
		}
		return v
	}
	e.vent = quantity.Range{Low: at(a.SI.Low), Best: at(a.SI.Best), High: at(a.SI.High)}
	return e
}

// coreOf picks the part that separates inside from outside: among framed parts,
// else massive ones, else all, the one of the largest resistance.
func coreOf(m *model) int {
	heat := make(map[int]float64)
	for i := range m.elements {
		heat[m.elements[i].part] += m.elements[i].heat.Best
	}
	rank := func(p *assembly.Part) int {
		switch {
		case p.Framed:
			return 2
		case isMass(p):
			return 1
		}
		return 0
	}
	core, highest, most := 0, -1, -1.0
	for i, p := range m.variant.Layers {
		if p.Cavity {
			continue
		}
		if r := rank(p); r > highest || r == highest && heat[i] > most {
			core, highest, most = i, r, heat[i]
		}
	}
	return core
}

// sideOf says on which side of the core a part lies.
func (m *model) sideOf(part int) string {
	switch {
	case part < m.core:
		return "outside"
	case part > m.core:
		return "inside"
	}
	return "bay"
}

// pathEnds gives the elements at which the drying paths of the bay begin: the
// outermost of the core, outside of which all counts outward, and the first that
// counts inward. That is the one behind the core, or a facing or foam in the
// bay: they stand between the room and what is behind them.
func (m *model) pathEnds() (outward, inward int) {
	outward, inward = len(m.elements), -1
	for i := range m.elements {
		if m.elements[i].part == m.core {
			outward, inward = min(outward, i), i+1
		}
	}
	for i := outward; i < inward; i++ {
		if i > 0 && m.fillRetards(&m.elements[i]) {
			return outward, i
		}
	}
	return outward, inward
}
