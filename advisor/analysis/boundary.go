package analysis

import (
	"relath/advisor/assembly"
	"relath/advisor/climate"
	"relath/advisor/moistair"
	"relath/advisor/steady"
	"relath/kb"
	"relath/kb/quantity"
)

// dwelling is the humidity class of ISO 13788 for houses without cooling in
// the warm season.
const dwelling = climate.HumidityClass(2)

// daysOf gives the days of each month of a common year.
func daysOf() [12]float64 {
	return [12]float64{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
}

// Series gives a monthly quantity of a place in SI, or nothing where the place
// lacks it.
func Series(p *kb.Place, name string) []float64 {
	for _, s := range p.Months {
		if s.Quantity == name {
			return s.SI
		}
	}
	return nil
}

// RoomRule is the air of the rooms as the description sets it.
func RoomRule(h *assembly.Resolved) climate.Indoor {
	rule := climate.Indoor{
		Class:   dwelling,
		Heating: climate.Setting{Temperature: h.Heating.Temperature, RelativeHumidity: h.Heating.Humidity},
	}
	if c := h.Cooling; c != nil {
		rule.Cooling = &climate.Setting{Temperature: c.Temperature, RelativeHumidity: c.Humidity}
	}
	return rule
}

// rooms is the air of the rooms; what the description leaves out and what was
// read on site are variables.
type rooms struct {
	heating, cooling airOf
}

// airOf is the air of rooms in a season.
type airOf struct {
	temperature, humidity       quantity.Range // °C, 0..1
	temperatureVar, humidityVar int            // -1 where it is described
}

// roomAir reads the air of a season.
func (m *model) roomAir(season string, state *assembly.RoomState) airOf {
	air := airOf{
		temperature: quantity.Exact(state.Temperature), temperatureVar: -1,
		humidity: quantity.Exact(state.Humidity), humidityVar: -1,
	}
	for _, d := range m.of.House.Defaults {
		a := m.base.Assumption(d.From)
		switch {
		case a == nil:
		case d.From == season+"-temperature":
			air.temperature, air.temperatureVar = a.SI, m.roomVariable(a, "temperature", a.SI)
		case d.From == season+"-humidity":
			air.humidity, air.humidityVar = a.SI, m.roomVariable(a, "humidity", a.SI)
		}
	}
	if a := m.base.Assumption("reading-hygrometer"); a != nil && state.Read {
		air.humidity, air.humidityVar = state.Readings, m.roomVariable(a, season+"-humidity", state.Readings)
	}
	return air
}

// roomVariable gives the variable of a temperature or humidity of the rooms.
func (m *model) roomVariable(a *kb.Assumption, property string, over quantity.Range) int {
	v := m.variableOf(ofRooms, Input{Material: a.ID, Property: property}, a.Evidence)
	m.reading(v, func(at position) float64 { return pick(over, at) })
	return v
}

// at gives the air with its variables at their places.
func (a *airOf) at(p places) climate.Setting {
	if p.shift == nil {
		return climate.Setting{Temperature: pick(a.temperature, p.air), RelativeHumidity: pick(a.humidity, p.air)}
	}
	return climate.Setting{
		Temperature:      pick(a.temperature, p.ofHeat(a.temperatureVar)),
		RelativeHumidity: pick(a.humidity, p.ofHeat(a.humidityVar)),
	}
}

// airs lists where the air of the rooms is put for the ranges: at its best
// values, and at both ends where some of it is not known exactly.
func (m *model) airs() []position {
	for i := range m.variables {
		if m.variables[i].kind == ofRooms && !m.rough && !m.settled {
			return []position{best, tight, open}
		}
	}
	return []position{best}
}

// section is a part of an assembly with one boundary on its first side: the
// whole of it above grade, or a depth below.
type section struct {
	name   string  // empty for the whole assembly
	depth  float64 // m below grade, 0 above
	ground bool
	months [12]steady.Month // with the rooms at their best values
}

// climate fills in the rooms, the sections and their months. Attics and crawl spaces stand
// at the weather: outdoor temperature and vapor pressure; a garage likewise, a
// default of ours. Ground is saturated at its undisturbed temperature. There is
// no climate for partitions, nor where neither side is heated.
func (m *model) climate() {
	m.rooms.heating = m.roomAir("heating", &m.of.House.Heating)
	if c := m.of.House.Cooling; c != nil {
		m.rooms.cooling = m.roomAir("cooling", c)
	}
	m.boundaries()
}

// boundaries makes the sections from the weather of the place and the rooms at
// their best values.
func (m *model) boundaries() {
	m.sections = nil
	p := m.of.House.Place
	if p == nil || isHeated(m.of.Between[0]) || !isHeated(m.of.Between[1]) {
		return
	}
	temperature, vapor := Series(p, "temperature"), Series(p, "vapor-pressure")
	if len(temperature) != 12 || len(vapor) != 12 {
		return
	}
	weather := m.monthsOf(temperature, vapor, places{})
	if m.of.Between[0] == "ground" {
		m.below(temperature, weather)
		return
	}
	m.sections = []section{{months: weather}}
	m.months, m.ambient = weather, true
}

// monthsOf makes the months of weather with the room air that goes with it.
func (m *model) monthsOf(temperature, vapor []float64, p places) [12]steady.Month {
	rule := RoomRule(m.of.House)
	rule.Heating = m.rooms.heating.at(p)
	if rule.Cooling != nil {
		*rule.Cooling = m.rooms.cooling.at(p)
	}
	var months [12]steady.Month
	for i, days := range daysOf() {
		indoor := rule.At(temperature[i], vapor[i])
		months[i] = steady.Month{
			Days: days, OutdoorT: temperature[i], OutdoorP: vapor[i],
			IndoorT: indoor.Temperature, IndoorP: indoor.VaporPressure,
		}
	}
	return months
}

// monthsAt gives the months above grade with the rooms at their places.
func (m *model) monthsAt(p places) [12]steady.Month {
	if !m.ambient || !m.airMoves(p) {
		return m.months
	}
	place := m.of.House.Place
	return m.monthsOf(Series(place, "temperature"), Series(place, "vapor-pressure"), p)
}

// airMoves says whether the air of the rooms is elsewhere than at its best values.
func (m *model) airMoves(p places) bool {
	if p.shift == nil {
		return p.air != best
	}
	for _, air := range []*airOf{&m.rooms.heating, &m.rooms.cooling} {
		if p.ofHeat(air.temperatureVar) != best || p.ofHeat(air.humidityVar) != best {
			return true
		}
	}
	return false
}

// below makes the sections against ground: a basement wall above grade, at
// mid-depth and at its bottom, a slab at the depth assumed for the ground under
// a house, counted from the slab.
func (m *model) below(temperature []float64, weather [12]steady.Month) {
	diffusivity := m.base.Assumption("ground-diffusivity")
	if diffusivity == nil {
		return
	}
	var site climate.Place
	for i, t := range temperature {
		site.Months[i].Temperature = t
	}
	ground := site.Ground(diffusivity.SI.Best)
	at := func(name string, depth float64) {
		m.sections = append(m.sections, section{name: name, depth: depth, ground: true, months: groundMonths(weather, ground, depth)})
	}
	switch {
	case m.of.Kind == "basement-wall" && m.of.BelowGrade > 0:
		m.sections = append(m.sections, section{name: "above grade", months: weather})
		at("mid-depth", m.of.BelowGrade/2)
		at("bottom", m.of.BelowGrade)
	case m.of.Kind == "slab":
		if depth := m.base.Assumption("slab-depth"); depth != nil {
			at("under the slab", m.of.BelowGrade+depth.SI.Best)
		}
	}
}

// groundMonths puts saturated ground at a depth in m on the first side.
func groundMonths(weather [12]steady.Month, g climate.Ground, depth float64) [12]steady.Month {
	const day = 86400
	months := weather
	start := 0.0
	for i := range months {
		t := g.Temperature(depth, (start+months[i].Days/2)*day)
		start += months[i].Days
		months[i].OutdoorT, months[i].OutdoorP = t, moistair.SaturationPressure(t)
	}
	return months
}

// isHeated says whether a side has the air of rooms.
func isHeated(s assembly.Side) bool { return s == "room" || s == "wet-room" }

// noClimate says why there are no months to compute with.
func (m *model) noClimate() string {
	first := m.of.Between[0]
	switch {
	case m.of.House.Place == nil:
		return "the place is not given"
	case isHeated(first):
		return "there is no outdoor climate on the first side"
	case !isHeated(m.of.Between[1]):
		return "neither side is heated"
	case first == "ground" && m.of.Kind == "basement-wall" && m.of.BelowGrade == 0:
		return "how deep the wall stands below grade is not given"
	case first == "ground":
		return "the temperature of the ground is not known"
	}
	return "the place has no monthly temperature and vapor pressure"
}
