package house

import (
	"fmt"

	"relath/advisor/assembly"
	"relath/advisor/climate"
	"relath/advisor/moistair"
	"relath/kb"
	"relath/kb/quantity"
)

// month is the air of a month outdoors and in the rooms.
type month struct {
	outdoorT, outdoorP float64 // °C, Pa
	indoorT, indoorP   float64
}

// humidity is the relative humidity of the room air, 0 to 1.
func (m month) humidity() float64 {
	return min(1, m.indoorP/moistair.SaturationPressureOverWater(m.indoorT))
}

// dwelling is the humidity class of ISO 13788 for houses without cooling in
// the warm season.
const dwelling = climate.HumidityClass(2)

// coolingAbove is the outdoor mean above which a house is cooled, °C (65 °F).
const coolingAbove = 18.0 + 1.0/3

// indoorRule is the air of the rooms as the description sets it.
func indoorRule(h *assembly.Resolved) climate.Indoor {
	rule := climate.Indoor{
		Class:   dwelling,
		Heating: climate.Setting{Temperature: h.Heating.Temperature, RelativeHumidity: h.Heating.Humidity},
	}
	if c := h.Cooling; c != nil {
		rule.Cooling = &climate.Setting{Temperature: c.Temperature, RelativeHumidity: c.Humidity}
	}
	return rule
}

// monthly gives the months of the place with the room air of a rule; none where
// the place lacks them.
func (s *Study) monthly(rule climate.Indoor) []month {
	p := s.house.Place
	if p == nil {
		return nil
	}
	temperature, vapor := series(p, "temperature"), series(p, "vapor-pressure")
	if len(temperature) != 12 || len(vapor) != 12 {
		return nil
	}
	months := make([]month, 12)
	for i := range months {
		air := rule.At(temperature[i], vapor[i])
		months[i] = month{temperature[i], vapor[i], air.Temperature, air.VaporPressure}
	}
	return months
}

// series gives a monthly quantity of a place.
func series(p *kb.Place, name string) []float64 {
	for _, one := range p.Months {
		if one.Quantity == name {
			return one.SI
		}
	}
	return nil
}

// hourly gives the hourly year of the house, made once.
func (s *Study) hourly() (*climate.Year, error) {
	if s.year != nil {
		return s.year, nil
	}
	p := s.house.Place
	if p == nil {
		return nil, fmt.Errorf("house %q has no place and so no weather", s.house.House.House)
	}
	place := placeOf(p)
	year, err := climate.Generate(&place)
	if err != nil {
		return nil, fmt.Errorf("place %s: %w", p.ID, err)
	}
	s.year = year
	return year, nil
}

// placeOf turns a place of the base into what the synthetic year is made from.
func placeOf(p *kb.Place) climate.Place {
	elevation, err := quantity.Parse(p.Elevation.Value, quantity.Length)
	if err != nil {
		elevation = 0
	}
	out := climate.Place{ID: p.ID, Latitude: p.Latitude, Longitude: p.Longitude, Elevation: elevation}
	const kgPerMeter = 1000.0 // of rain
	for _, f := range []struct {
		quantity string
		factor   float64
		into     func(*climate.Month) *float64
	}{
		{"temperature", 1, func(m *climate.Month) *float64 { return &m.Temperature }},
		{"daily-maximum", 1, func(m *climate.Month) *float64 { return &m.TemperatureMax }},
		{"daily-minimum", 1, func(m *climate.Month) *float64 { return &m.TemperatureMin }},
		{"humidity", 1, func(m *climate.Month) *float64 { return &m.RelativeHumidity }},
		{"vapor-pressure", 1, func(m *climate.Month) *float64 { return &m.VaporPressure }},
		{"precipitation", kgPerMeter, func(m *climate.Month) *float64 { return &m.Precipitation }},
		{"precipitation-days", 1, func(m *climate.Month) *float64 { return &m.PrecipitationDays }},
		{"wind", 1, func(m *climate.Month) *float64 { return &m.WindSpeed }},
		{"sun", 1, func(m *climate.Month) *float64 { return &m.Sun }},
		{"temperature-spread", 1, func(m *climate.Month) *float64 { return &m.TemperatureSD }},
		{"humidity-spread", 1, func(m *climate.Month) *float64 { return &m.HumiditySD }},
	} {
		values := series(p, f.quantity)
		for i := range min(len(values), len(out.Months)) {
			*f.into(&out.Months[i]) = values[i] * f.factor
		}
	}
	return out
}
