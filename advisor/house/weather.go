package house

import (
	"fmt"

	"relath/advisor/analysis"
	"relath/advisor/climate"
	"relath/advisor/moistair"
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

// monthly gives the months of the place with the room air of a rule; none where
// the place lacks them.
func (s *Study) monthly(rule climate.Indoor) []month {
	p := s.house.Place
	if p == nil {
		return nil
	}
	temperature, vapor := analysis.Series(p, "temperature"), analysis.Series(p, "vapor-pressure")
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

// hourly gives the hourly year of the house, made once.
func (s *Study) hourly() (*climate.Year, error) {
	if s.year != nil {
		return s.year, nil
	}
	p := s.house.Place
	if p == nil {
		return nil, fmt.Errorf("house %q has no place and so no weather", s.house.House.House)
	}
	var err error
	s.year, s.weather, err = analysis.YearAt(p, s.under.Weather, s.under.Shift)
	return s.year, err
}
