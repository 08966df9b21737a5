package analysis

import (
	"strings"

	"relath/advisor/moistair"
	"relath/advisor/steady"
	"relath/kb"
	"relath/kb/quantity"
)

// The facts of heat flow, by their place in a survey.
const (
	uFactor = iota
	temperatureRatio
	surfaceHumidity
	cornerRatio
	cornerHumidity
	heatCount
)

// heatFacts gives their ids in the registry.
func heatFacts() []string {
	return []string{
		"u-factor", "temperature-ratio", "room-surface-humidity", "corner-temperature-ratio", "corner-surface-humidity",
	}
}

// heat states the U-factor and the surface temperatures.
func (m *model) heat(f Facts, layers []LayerFacts) error {
	m.layerHeat(layers)
	ids := heatFacts()
	if lacks := m.coldless(); lacks != "" {
		for _, id := range ids {
			f[id] = Estimate{Missing: lacks}
		}
		m.noDewPoints(layers, lacks)
		return nil
	}
	s, err := m.heatSurvey()
	if err != nil {
		return err
	}
	for i, id := range ids {
		f[id] = s.estimates[i]
	}
	if m.corner == nil {
		f["corner-temperature-ratio"] = Estimate{Missing: "only outer walls meet in a corner"}
		f["corner-surface-humidity"] = f["corner-temperature-ratio"]
	}
	if len(m.sections) == 0 {
		missing := Estimate{Missing: m.noClimate()}
		f["room-surface-humidity"], f["corner-surface-humidity"] = missing, missing
		m.noDewPoints(layers, missing.Missing)
		return nil
	}
	m.dewPoints(layers, s.estimates[surfaceHumidity])
	return nil
}

// coldless says why there is no heat flow to speak of, or "".
func (m *model) coldless() string {
	switch {
	case isHeated(m.of.Between[0]):
		return "both sides have the air of rooms"
	case len(m.heatless) > 0:
		return strings.Join(m.heatless, "; ")
	}
	return ""
}

// layerHeat states the thermal resistance of each layer.
func (m *model) layerHeat(layers []LayerFacts) {
	for i := range layers {
		r := quantity.Range{}
		var inputs []Input
		for _, e := range m.elements {
			if e.part != i {
				continue
			}
			r.Low, r.Best, r.High = r.Low+e.heat.Low, r.Best+e.heat.Best, r.High+e.heat.High
			for _, in := range e.inputs {
				if in.Value != nil && isHeat(in.Property) {
					inputs = append(inputs, in)
				}
			}
		}
		layers[i].Facts["layer-resistance"] = m.rested(measured(r), inputs)
	}
}

// isHeat says whether a property belongs to the heat side of a layer.
func isHeat(property string) bool {
	return property == "thermal-resistance" || property == "conductivity"
}

// heatSurvey makes the estimates of the heat facts. Their range is that over
// the ends of all thermal resistances, with the framing at either end of its
// share, because wood insulates worse than fill and better than air, and of the
// air of the rooms.
func (m *model) heatSurvey() (*survey, error) {
	s := &survey{model: m}
	s.run = func(shift []position) ([]float64, error) {
		p := places{shift: shift}
		values, err := m.heatAt(p)
		return values[:], err
	}
	shift := make([]position, len(m.variables))
	values, err := s.run(shift)
	if err != nil {
		return nil, err
	}
	s.values = values
	for _, v := range values {
		s.estimates = append(s.estimates, measured(quantity.Exact(v)))
	}
	for _, ends := range [][2]position{{tight, tight}, {tight, open}, {open, tight}, {open, open}} {
		m.heatEnds(shift, ends[0], ends[1])
		for _, air := range m.airs() {
			m.airEnds(shift, air)
			values, err := s.run(shift)
			if err != nil {
				return nil, err
			}
			for i, v := range values {
				widen(&s.estimates[i].Range, v, false)
			}
		}
	}
	inputs := m.heatInputs()
	for i := range s.estimates {
		s.estimates[i].Inputs = inputs
	}
	if m.asked != nil {
		return s, nil
	}
	if err := s.drive(func(v *variable) bool { return v.kind != ofVapor }); err != nil {
		return nil, err
	}
	m.groundMark(s.estimates)
	return s, nil
}

// heatEnds puts the thermal resistances at one end and the shares of framing at
// another.
func (m *model) heatEnds(shift []position, resistances, fills position) {
	for v := range m.variables {
		if m.variables[v].kind == ofHeat {
			shift[v] = resistances
		}
	}
	for _, f := range m.framing {
		if f.fillVar >= 0 {
			shift[f.fillVar] = fills
		}
	}
}

// airEnds puts the air of the rooms at one end.
func (m *model) airEnds(shift []position, air position) {
	for v := range m.variables {
		if m.variables[v].kind == ofRooms {
			shift[v] = air
		}
	}
}

// heatInputs lists the values behind the heat facts.
func (m *model) heatInputs() []Input {
	var list []Input
	for i := range m.elements {
		for _, in := range m.elements[i].inputs {
			if isHeat(in.Property) {
				list = append(list, in)
			}
		}
	}
	for i := range m.variant.Layers {
		if f := m.framing[i]; f != nil {
			list = append(list, f.inputs...)
		}
	}
	for _, v := range m.variables {
		if v.kind == ofRooms || v.kind == ofHeat && v.input.Value == nil {
			list = append(list, v.input)
		}
	}
	return list
}

// groundMark marks surface humidities against ground: its temperature is a
// default of ours.
func (m *model) groundMark(estimates []Estimate) {
	if m.of.Between[0] == "ground" && len(m.sections) > 0 {
		for _, i := range []int{surfaceHumidity} {
			estimates[i].Evidence = estimates[i].Evidence.Weaker(kb.Assumed)
		}
	}
}

// heatAt computes the heat facts with the variables at their places. The
// U-factor is by parallel paths with ASHRAE films (ASHRAE
// Handbook—Fundamentals 2021, ch. 27, Example 3). Surface temperatures take the
// inside film of ISO 13788 for mold and its outside film (recalled). In the
// corner of two outer walls, which takes heat up on a smaller face than it loses
// it on, the inside film counts by a factor.
func (m *model) heatAt(p places) (values [heatCount]float64, err error) {
	inside, outside := films(m.of)
	r, err := m.conduction(p, inside, outside).ParallelPath()
	if err != nil {
		return values, err
	}
	values[uFactor] = 1 / r
	_, outer := filmsISO(m.of)
	rest := m.coldestPath(p) + m.ground.at(p)
	if values[temperatureRatio], err = steady.SurfaceRatio(steady.MoldFilm, rest+outer); err != nil {
		return values, err
	}
	corner := m.corner.film(p)
	if values[cornerRatio], err = steady.SurfaceRatio(corner, rest+outer); err != nil {
		return values, err
	}
	for i := range m.sections {
		months := m.sectionMonths(&m.sections[i], p)
		out := m.outerFilmOf(&m.sections[i])
		values[surfaceHumidity] = max(values[surfaceHumidity], wettest(&months, steady.MoldFilm, rest+out))
		values[cornerHumidity] = max(values[cornerHumidity], wettest(&months, corner, rest+out))
	}
	return values, nil
}

// outerFilmOf is the film on the first side of a section: the part of a basement
// wall above grade has wind before it.
func (m *model) outerFilmOf(s *section) float64 {
	if m.of.Between[0] == "ground" && !s.ground {
		return steady.OutsideFilmISO
	}
	_, outside := filmsISO(m.of)
	return outside
}

// roomCorner is the corner of two outer walls.
type roomCorner struct {
	open     quantity.Range // one over the factor of the inside film
	variable int
}

// cornerOf gives the corner of an outer wall, nil for other assemblies.
func (m *model) cornerOf() *roomCorner {
	a := m.base.Assumption("corner-factor")
	if a == nil || a.SI.Low <= 0 || m.of.Kind != "wall" || m.of.Between[0] != "outdoors" {
		return nil
	}
	c := &roomCorner{
		open:     quantity.Range{Low: 1 / a.SI.High, Best: 1 / a.SI.Best, High: 1 / a.SI.Low},
		variable: m.variableOf(ofHeat, Input{Material: a.ID, Property: "corner-factor"}, a.Evidence),
	}
	m.reading(c.variable, func(at position) float64 { return 1 / pick(c.open, at) })
	return c
}

// film is the inside film resistance in the corner, m²·K/W.
func (c *roomCorner) film(p places) float64 {
	if c == nil {
		return steady.MoldFilm
	}
	return steady.MoldFilm / pick(c.open, p.ofHeat(c.variable))
}

// coldestPath is the thermal resistance of the layers on the colder path:
// through the framing where that insulates less than the fill.
func (m *model) coldestPath(p places) float64 {
	rest := 0.0
	for i := range m.variant.Layers {
		part := m.partHeat(i, p)
		if f := m.framing[i]; f != nil {
			if wood, share := f.at(p); share > 0 {
				part = min(part, wood)
			}
		}
		rest += part
	}
	return rest
}

// wettest is the highest monthly humidity at the inner surface, at most 1.
func wettest(months *[12]steady.Month, film, rest float64) float64 {
	most := 0.0
	for _, s := range surfaces(months, film, rest) {
		most = max(most, min(1, s.RH))
	}
	return most
}

// surfaces gives the inner surface in each month.
func surfaces(months *[12]steady.Month, film, rest float64) [12]steady.InnerSurface {
	var list [12]steady.InnerSurface
	ratio, err := steady.SurfaceRatio(film, rest)
	if err != nil {
		return list
	}
	for i, month := range months {
		if s, err := month.InnerSurface(ratio, steady.ASHRAE); err == nil {
			list[i] = s
		}
	}
	return list
}

// sectionMonths gives the months of a section with the rooms at their places.
func (m *model) sectionMonths(s *section, p places) [12]steady.Month {
	months := s.months
	if !m.airMoves(p) {
		return months
	}
	place := m.of.House.Place
	weather := m.monthsOf(Series(place, "temperature"), Series(place, "vapor-pressure"), p)
	for i := range months {
		months[i].IndoorT, months[i].IndoorP = weather[i].IndoorT, weather[i].IndoorP
	}
	return months
}

// noDewPoints states that no profile is known.
func (m *model) noDewPoints(layers []LayerFacts, lacks string) {
	for i := range layers {
		for _, id := range []string{"below-dew-point-months", "cooled-below-outdoor-dew-point"} {
			layers[i].Facts[id] = Estimate{Missing: lacks}
		}
	}
}

// dewPoints finds the months in which the inward face of a layer is below the
// dew point of room air, and its outward face below that of outdoor air while
// the house is cooled, in any section.
func (m *model) dewPoints(layers []LayerFacts, like Estimate) {
	for i := range layers {
		layers[i].Dew = DewMonths{}
	}
	for s := range m.sections {
		for i, month := range m.sections[s].months {
			t := m.temperatures(&m.sections[s], month)
			room, weather := moistair.DewPoint(month.IndoorP), moistair.DewPoint(month.OutdoorP)
			cooled := m.of.House.Cooling != nil && !m.sections[s].ground && month.Cooling()
			for k, e := range m.elements {
				outer, inner := t[k], t[k+1]
				dew := &layers[e.part].Dew
				dew.Room[i] = dew.Room[i] || inner < room
				dew.Outdoor[i] = dew.Outdoor[i] || cooled && outer < weather
			}
		}
	}
	for i := range layers {
		state := func(id string, months [12]bool) {
			e := measured(quantity.Exact(countTrue(months)))
			e.Evidence, e.Inputs = like.Evidence, like.Inputs
			layers[i].Facts[id] = e
		}
		state("below-dew-point-months", layers[i].Dew.Room)
		state("cooled-below-outdoor-dew-point", layers[i].Dew.Outdoor)
	}
}

// temperatures gives the steady temperatures at the planes, from the first side
// inward.
func (m *model) temperatures(s *section, month steady.Month) []float64 {
	inside, _ := filmsISO(m.of)
	outside := m.outerFilmOf(s) + m.ground.at(places{})
	total := inside + outside
	for i := range m.elements {
		total += m.elements[i].heat.Best
	}
	list := make([]float64, 0, len(m.elements)+1)
	r := outside
	for i := range m.elements {
		list = append(list, month.OutdoorT+(month.IndoorT-month.OutdoorT)*r/total)
		r += m.elements[i].heat.Best
	}
	return append(list, month.OutdoorT+(month.IndoorT-month.OutdoorT)*r/total)
}

func countTrue(months [12]bool) float64 {
	n := 0.0
	for _, yes := range months {
		if yes {
			n++
		}
	}
	return n
}
