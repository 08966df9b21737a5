// Package climate owns the air outside and what follows from it: the monthly data
// of a place, the synthetic hourly year made from them, the reading of measured
// hourly years, the loads on a surface of any orientation (sun, long-wave exchange
// with the sky, wind-driven rain), the ground, and the air indoors as a function of
// the air outside.
//
// Units are SI: °C, Pa, W/m², m/s, kg/m² (of rain: mm), angles of a surface in
// degrees. Relative humidity is a fraction over liquid water at every temperature,
// as weather services report it; the vapor pressure is what other packages should
// use.
//
// A year has 365 days. Hour i of a year ends at clock i mod 24 + 1 of day i/24 + 1:
// temperature, humidity and wind are readings at its end, sun and rain belong to
// the hour before that moment.
package climate

import "fmt"

// Lengths of the calendar; there is no leap day.
const (
	DaysPerYear  = 365
	HoursPerYear = 24 * DaysPerYear
)

// Month holds the long-term figures of one month of a place.
type Month struct {
	// Temperature, and the means of daily highest and lowest, °C.
	Temperature, TemperatureMax, TemperatureMin float64
	// RelativeHumidity is the 24-hour mean, a fraction over liquid water.
	RelativeHumidity float64
	// VaporPressure is the mean in Pa. Zero is unknown: the year then keeps the mean
	// relative humidity instead.
	VaporPressure float64
	// Precipitation is the sum of the month in kg/m², rain and melted snow.
	Precipitation float64
	// PrecipitationDays counts the days with at least 0.25 kg/m².
	PrecipitationDays float64
	// WindSpeed is the mean at about 10 m in open country, m/s.
	WindSpeed float64
	// Sun is the mean over day and night of the global irradiance on the horizontal,
	// W/m².
	Sun float64
	// TemperatureSD and HumiditySD are the standard deviations of daily means within
	// the month, in K without the linear trend, and as a fraction of relative
	// humidity. Zero is unknown: a general value is used.
	TemperatureSD, HumiditySD float64
}

// Place is a site with its monthly climate.
type Place struct {
	// ID seeds the synthetic weather, so that a place always has the same year.
	ID string
	// Latitude and Longitude in degrees, north and east positive.
	Latitude, Longitude float64
	// Elevation above sea level, m.
	Elevation float64
	Months    [12]Month
}

// Validate returns an error that names the month and the field when a value is not
// a number or outside what any place on Earth has, or when the place lacks a year of
// sun or wind.
func (p *Place) Validate() error {
	if !(p.Latitude >= -90 && p.Latitude <= 90) {
		return fmt.Errorf("latitude %g is outside -90 to 90 degrees", p.Latitude)
	}
	if !(p.Longitude >= -180 && p.Longitude <= 180) {
		return fmt.Errorf("longitude %g is outside -180 to 180 degrees", p.Longitude)
	}
	for i := range p.Months {
		if err := p.Months[i].validate(); err != nil {
			return fmt.Errorf("month %d: %w", i+1, err)
		}
	}
	if p.column(func(m *Month) float64 { return m.Sun }) == [12]float64{} {
		return fmt.Errorf("irradiance is zero in every month")
	}
	if p.column(func(m *Month) float64 { return m.WindSpeed }) == [12]float64{} {
		return fmt.Errorf("wind speed is zero in every month")
	}
	return nil
}

func (m *Month) validate() error {
	fields := []struct {
		name             string
		value, low, high float64
	}{
		{"mean temperature in °C", m.Temperature, -60, 50},
		{"mean daily highest temperature in °C", m.TemperatureMax, m.Temperature, 60},
		{"mean daily lowest temperature in °C", m.TemperatureMin, -70, m.Temperature},
		{"relative humidity as a fraction", m.RelativeHumidity, 0.01, 1},
		{"vapor pressure in Pa", m.VaporPressure, 0, 8000},
		{"precipitation in kg/m²", m.Precipitation, 0, 3000},
		{"days with precipitation", m.PrecipitationDays, 0, 31},
		{"wind speed in m/s", m.WindSpeed, 0, 40},
		{"mean irradiance in W/m²", m.Sun, 0, 500},
		{"standard deviation of daily temperature in K", m.TemperatureSD, 0, 20},
		{"standard deviation of daily relative humidity", m.HumiditySD, 0, 0.5},
	}
	for _, f := range fields {
		if !(f.value >= f.low && f.value <= f.high) {
			return fmt.Errorf("%s is %g, allowed is %g to %g", f.name, f.value, f.low, f.high)
		}
	}
	return nil
}

// Site is where a year was measured or made.
type Site struct {
	Name string
	// Latitude and Longitude in degrees, north and east positive.
	Latitude, Longitude float64
	// Elevation above sea level, m.
	Elevation float64
	// Zone is the standard time of the hours, in hours ahead of UTC.
	Zone float64
	// SolarTime is set when the hours are apparent solar time; Zone then has no
	// meaning.
	SolarTime bool
}

// Hour is the weather of one hour.
type Hour struct {
	Temperature   float64 // °C
	VaporPressure float64 // Pa
	// Global and Diffuse irradiance on the horizontal, and Beam irradiance on a
	// surface facing the sun, means of the hour in W/m².
	Global, Diffuse, Beam float64
	WindSpeed             float64 // m/s
	// WindDirection is where the wind comes from, degrees clockwise from north; NaN
	// is unknown.
	WindDirection float64
	Rain          float64 // liquid, kg/m² in the hour
	Snow          float64 // melted, kg/m² in the hour
}

// Year is the hourly weather of one year.
type Year struct {
	Site Site
	// Hours are HoursPerYear long.
	Hours []Hour
	// Notes say how the year was made and what bias is known, one sentence each, to
	// be printed with any result.
	Notes []string
	// Gaps lists what a measured year lacked and how it was filled.
	Gaps []Gap
}

// monthLengths are the days of the months.
func monthLengths() [12]int {
	return [12]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
}

// monthDays returns the first day of month m, 0 to 11, and the first day after it,
// days counted from 0.
func monthDays(m int) (first, end int) {
	for i, days := range monthLengths() {
		first, end = end, end+days
		if i == m {
			break
		}
	}
	return first, end
}

// MonthOf returns the month, 0 to 11, of hour i of a year.
func MonthOf(i int) int {
	day := i / 24
	for m, days := range monthLengths() {
		if day < days {
			return m
		}
		day -= days
	}
	return 11
}
