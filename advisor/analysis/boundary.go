package analysis

import (
	"relath/advisor/climate"
	"relath/advisor/steady"
	"relath/kb"
)

// dwelling is the humidity class of ISO 13788 for houses without cooling in
// the warm season.
const dwelling = climate.HumidityClass(2)

// daysOf gives the days of each month of a common year.
func daysOf() [12]float64 {
	return [12]float64{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
}

// seriesOf gives a monthly quantity of a place.
func seriesOf(p *kb.Place, name string) []float64 {
	for _, s := range p.Months {
		if s.Quantity == name {
			return s.SI
		}
	}
	return nil
}

// climate fills in the months. Attics and crawl spaces stand at the weather:
// outdoor temperature and vapor pressure; a garage likewise, a default of ours.
// There is none for partitions and below grade, where monthly verdicts are
// unknown.
func (m *model) climate() {
	p := m.of.House.Place
	first := m.of.Between[0]
	if p == nil || first == "ground" || first == "room" || first == "wet-room" {
		return
	}
	temperature, vapor := seriesOf(p, "temperature"), seriesOf(p, "vapor-pressure")
	if len(temperature) != 12 || len(vapor) != 12 {
		return
	}
	rule := climate.Indoor{Class: dwelling, Heating: climate.Setting{Temperature: m.of.House.Heating.Temperature, RelativeHumidity: m.of.House.Heating.Humidity}}
	if c := m.of.House.Cooling; c != nil {
		rule.Cooling = &climate.Setting{Temperature: c.Temperature, RelativeHumidity: c.Humidity}
	}
	days := daysOf()
	for i := range m.months {
		indoor := rule.At(temperature[i], vapor[i])
		m.months[i] = steady.Month{
			Days: days[i], OutdoorT: temperature[i], OutdoorP: vapor[i],
			IndoorT: indoor.Temperature, IndoorP: indoor.VaporPressure,
		}
	}
	m.ambient = true
}
