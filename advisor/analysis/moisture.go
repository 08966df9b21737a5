package analysis

import (
	"math"
	"slices"
	"strings"

	"relath/advisor/steady"
	"relath/kb/quantity"
)

// moisture states the facts of the moisture methods over the corners. The first
// variant, without marks to borrow, also gets its drivers and the detail that a
// report draws.
func (m *model) moisture(out *Variant, marks *marks) error {
	if lacks := m.blocked(); lacks != "" {
		m.noMoisture(out, lacks)
		return nil
	}
	ends, err := m.corners()
	if err != nil {
		return err
	}
	ends = m.distinct(ends)
	if !m.settled {
		if err := m.findSlowest(m.compile(bestCase)); err != nil {
			return err
		}
	}
	over, err := m.atCorners(ends)
	if err != nil {
		return err
	}
	s := m.survey(over)
	if !m.rough {
		err = s.search(ends, over)
	}
	if err != nil {
		return err
	}
	switch {
	case m.asked != nil:
	case marks != nil:
		err = s.borrow(marks)
	default:
		out.marks, err = s.decide(over)
	}
	if err != nil {
		return err
	}
	m.state(out, s.estimates, over)
	if marks == nil && m.asked == nil {
		return m.detail(out, ends)
	}
	return nil
}

// noMoisture states why nothing is known of moisture.
func (m *model) noMoisture(out *Variant, lacks string) {
	missing := Estimate{Missing: lacks}
	for _, id := range append(moistureFacts(), "dries-in-year") {
		out.Facts[id] = missing
	}
	for i := range out.Layers {
		out.Layers[i].Facts["condensate"] = missing
	}
	m.noShares(out.Layers, lacks)
}

// blocked says why the moisture methods cannot run, or "".
func (m *model) blocked() string {
	switch {
	case !m.ambient && m.of.Between[0] == "ground" && len(m.sections) > 0:
		return "below grade the monthly method has no verdict"
	case !m.ambient:
		return m.noClimate()
	case len(m.heatless) > 0:
		return strings.Join(m.heatless, "; ")
	case len(m.lacks) > 0:
		return strings.Join(slices.Compact(slices.Clone(m.lacks)), "; ")
	}
	return ""
}

// corners lists the corners of the vapor ranges: best, all tight, all open, and
// the two mixed ones, split at the plane with the largest January humidity,
// which one-sided corners do not bracket; then the mixed ones split at every
// other plane, because water may gather at any of them.
func (m *model) corners() ([]corner, error) {
	if m.settled {
		return []corner{bestCase}, nil
	}
	in := m.compile(bestCase)
	january, err := m.workspace.Profile(in, in.Months[0])
	if err != nil {
		return nil, err
	}
	n := len(m.elements)
	wettest := n / 2
	most := -1.0
	for j := 1; j < n; j++ {
		if rh := january.Pressure[j] / january.Saturation[j]; rh > most {
			wettest, most = n-j, rh
		}
	}
	list := []corner{bestCase, everywhere(tight), everywhere(open), mixed(wettest, tight, open), mixed(wettest, open, tight)}
	for split := 1; split < n && !m.rough; split++ {
		if split != wettest {
			list = append(list, mixed(split, tight, open), mixed(split, open, tight))
		}
	}
	return list, nil
}

// distinct leaves out the corners behind the main ones that are the same as one
// before: a mixed corner that is split beside a layer without a range.
func (m *model) distinct(list []corner) []corner {
	alike := make([][3]byte, len(m.elements))
	for i := range m.elements {
		alike[i] = m.elements[i].alike()
	}
	met := make(map[string]bool)
	key := make([]byte, len(m.elements))
	kept := list[:0]
	for i, at := range list {
		for k := range key {
			key[k] = alike[k][int(at(k))+1]
		}
		if i < mainCorners || !met[string(key)] {
			kept = append(kept, at)
		}
		met[string(key)] = true
	}
	return kept
}

// mixed puts the elements outside of a split at one end and the others at
// another.
func mixed(split int, outside, inside position) corner {
	return func(element int) position {
		if element < split {
			return outside
		}
		return inside
	}
}

// atCorner is what is computed at one corner.
type atCorner struct {
	at      corner
	air     position // of the rooms
	outcome outcome
	parts   []float64 // peak condensate at the faces of each part
	shares  shares
}

// mainCorners is how many corners are looked at with the air of the rooms at its
// ends, too.
const mainCorners = 5

// atCorners runs the methods at every corner, and at the main ones again with the
// air of the rooms at its ends.
func (m *model) atCorners(ends []corner) ([]atCorner, error) {
	defer func() { m.air = best }()
	var list []atCorner
	for _, air := range m.airs() {
		m.air = air
		of := ends
		if air != best {
			of = ends[:min(len(ends), mainCorners)]
		}
		for _, at := range of {
			c, err := m.atCorner(at, list)
			if err != nil {
				return nil, err
			}
			list = append(list, c)
		}
	}
	return list, nil
}

// atCorner runs the methods at one corner. What nobody asks for is taken from the
// first one.
func (m *model) atCorner(at corner, before []atCorner) (c atCorner, err error) {
	c.at, c.air, c.parts = at, m.air, make([]float64, len(m.variant.Layers))
	in := m.compile(at)
	drying, shares := len(before) == 0 || m.asked.ofDrying(), len(before) == 0 || m.asked.ofShares()
	if c.outcome, err = m.evaluate(in, c.parts, drying); err != nil {
		return c, err
	}
	if !drying {
		for _, i := range []int{dryingCapacity, dryingOutward, dryingInward} {
			c.outcome[i] = before[0].outcome[i]
		}
	}
	if !shares {
		c.shares = before[0].shares
		return c, nil
	}
	c.shares, err = m.sharesOf(in)
	return c, err
}

// over gives the range of a value over the corners, the first being the best.
func over(list []atCorner, value func(*atCorner) float64) quantity.Range {
	r := quantity.Exact(value(&list[0]))
	for i := range list {
		v := value(&list[i])
		r.Low, r.High = min(r.Low, v), max(r.High, v)
	}
	return r
}

// survey makes the estimates of the moisture facts.
func (m *model) survey(corners []atCorner) *survey {
	s := &survey{model: m, values: slices.Clone(corners[0].outcome[:])}
	inputs := m.inputs()
	for i := range moistureFacts() {
		e := measured(over(corners, func(c *atCorner) float64 { return c.outcome[i] }))
		e.Inputs = inputs
		s.estimates = append(s.estimates, e)
	}
	s.run = func(shift []position) ([]float64, error) {
		o, err := m.evaluate(m.compileShifted(shift), nil, true)
		return o[:], err
	}
	return s
}

// inputs lists the values and assumptions behind all elements, and the room air
// that the description leaves out.
func (m *model) inputs() []Input {
	var list []Input
	for i := range m.elements {
		list = append(list, m.elements[i].inputs...)
	}
	for _, v := range m.variables {
		if v.kind == ofRooms {
			list = append(list, v.input)
		}
	}
	return list
}

// attribute finds the drivers of facts that no single variable moves from the
// best case, though the corners do: at the corner that moves such a fact most,
// each variable in turn is put back to its best value.
func (s *survey) attribute(corners []atCorner) error {
	for fact := range s.estimates {
		e := &s.estimates[fact]
		far, most := 0, max(negligible, decisive*math.Abs(e.Range.Best))
		for i := range corners {
			if moved := math.Abs(corners[i].outcome[fact] - e.Range.Best); moved > most {
				far, most = i, moved
			}
		}
		if far == 0 || len(e.Drivers) > 0 {
			continue
		}
		e.Minor = 0
		for v := range s.variables {
			if s.variables[v].kind == ofHeat || s.variables[v].kind == ofRooms && corners[far].air == best {
				continue
			}
			o, err := s.evaluate(s.compileReleased(&corners[far], v), nil, true)
			if err != nil {
				return err
			}
			at := corners[far].outcome[fact]
			s.note(fact, v, o[fact], at, at)
		}
	}
	s.sort()
	return nil
}

// state writes the moisture facts of a variant.
func (m *model) state(out *Variant, estimates []Estimate, corners []atCorner) {
	estimates[summerCondensate].Warnings = m.seasonWarning()
	for i, id := range moistureFacts() {
		out.Facts[id] = estimates[i]
	}
	if len(m.planes) == 0 {
		single := Estimate{Missing: "a single layer has no plane between layers"}
		for _, i := range []int{dryingCapacity, dryingOutward, dryingInward} {
			out.Facts[moistureFacts()[i]] = single
		}
	}
	if len(m.foodPlanes) == 0 {
		out.Facts["plane-humidity"] = Estimate{Missing: "no face of mold food lies inside"}
	}
	out.Facts["dries-in-year"] = dries(corners, estimates[carryOver])
	peak := estimates[peakCondensate]
	for i := range out.Layers {
		e := measured(over(corners, func(c *atCorner) float64 { return c.parts[i] }))
		e.Evidence, e.Inputs = peak.Evidence, peak.Inputs
		out.Layers[i].Facts["condensate"] = e
	}
	m.stateShares(out.Layers, corners, estimates)
}

// seasonWarning says when no month belongs to the cooling season.
func (m *model) seasonWarning() []string {
	if slices.ContainsFunc(m.months[:], steady.Month.Cooling) {
		return nil
	}
	return []string{"no month here has a mean above 65 F: there is no cooling season"}
}

// dries says whether no water is carried over at any corner.
func dries(corners []atCorner, carried Estimate) Estimate {
	all, none := true, true
	for i := range corners {
		dry := corners[i].outcome[carryOver] <= condensing
		all, none = all && dry, none && !dry
	}
	e := carried
	e.Range, e.Flag, e.Mixed = quantity.Range{}, all, !all && !none
	return e
}
