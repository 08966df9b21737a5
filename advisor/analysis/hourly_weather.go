package analysis

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"relath/advisor/climate"
	"relath/kb"
	"relath/kb/quantity"
)

// Shift makes a year worse than typical, which typical years never are.
type Shift string

// The shifts.
const (
	Typical Shift = ""
	Wetter  Shift = "wetter"
	Colder  Shift = "colder"
)

// Weather is an hourly year that was read from a file.
type Weather struct {
	year *climate.Year
	Name string // of the station
}

// maxHead bounds the first line by which a layout is told.
const maxHead = 4096

// ReadWeather reads a measured hourly year, plain or gzip, in the TMY3 layout or
// as CSV with named columns at a place of the base (see package climate). A file
// whose first line has a column named time is CSV.
func ReadWeather(r io.Reader, at *kb.Place) (*Weather, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	if named(data) {
		if at == nil {
			return nil, errors.New("weather with named columns needs the place of the house")
		}
		site := climate.Site{
			Name: at.Name, Latitude: at.Latitude, Longitude: at.Longitude, Elevation: elevationOf(at),
			Zone: standardZone(at.Longitude),
		}
		year, err := climate.ReadCSV(bytes.NewReader(data), site)
		return &Weather{year: year, Name: at.Name}, err
	}
	year, err := climate.ReadTMY3(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	return &Weather{year: year, Name: year.Site.Name}, nil
}

// named says whether the first line of plain text names a column of times.
func named(data []byte) bool {
	line, err := bufio.NewReader(bytes.NewReader(data[:min(len(data), maxHead)])).ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return false
	}
	for _, field := range strings.Split(strings.TrimPrefix(line, "\ufeff"), ",") {
		if strings.TrimSpace(field) == "time" {
			return true
		}
	}
	return false
}

// standardZone is the full hour nearest to mean solar time.
func standardZone(longitude float64) float64 {
	const degreesPerHour = 15.0
	return float64(int(longitude/degreesPerHour+100.5) - 100)
}

func elevationOf(p *kb.Place) float64 {
	v, err := quantity.Parse(p.Elevation.Value, quantity.Length)
	if err != nil {
		return 0
	}
	return v
}

// climateOf turns a place of the base into what the synthetic year is made from.
func climateOf(p *kb.Place) climate.Place {
	out := climate.Place{ID: p.ID, Latitude: p.Latitude, Longitude: p.Longitude, Elevation: elevationOf(p)}
	const kgPerMeter = 1000.0 // of rain
	fields := []struct {
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
	}
	for _, f := range fields {
		values := Series(p, f.quantity)
		for i := range min(len(values), len(out.Months)) {
			*f.into(&out.Months[i]) = values[i] * f.factor
		}
	}
	return out
}

// YearAt gives the hourly year at a place and its name in words: the measured one
// with the rain of the place, or the synthetic one, shifted. It is an error when
// the place has no synthetic year and none was measured, and when there is no
// such shift.
func YearAt(p *kb.Place, measured *Weather, shift Shift) (*climate.Year, string, error) {
	year, err := yearOf(p, measured, shift)
	if err != nil {
		return nil, "", err
	}
	name := yearName(year, p, measured == nil)
	if shift != Typical {
		name += ", made " + string(shift)
	}
	return year, name, nil
}

// yearName says in words which year it is.
func yearName(y *climate.Year, at *kb.Place, synthetic bool) string {
	if synthetic {
		return fmt.Sprintf("synthetic year of %s, %s", at.Name, at.Region)
	}
	return "measured year of " + y.Site.Name
}

// yearOf gives the hourly year of a run: the measured one with the rain of the
// place, or the synthetic one, shifted.
func yearOf(p *kb.Place, measured *Weather, shift Shift) (*climate.Year, error) {
	place := climateOf(p)
	year, err := climate.Generate(&place)
	switch {
	case err != nil && measured == nil:
		return nil, fmt.Errorf("place %s: %w", p.ID, err)
	case measured != nil:
		synthetic := year
		year = measured.year
		if err == nil {
			year = year.ScaleRain(rainOf(synthetic))
		}
	}
	switch shift {
	case Typical:
		return year, nil
	case Wetter:
		return year.Wetter(), nil
	case Colder:
		return year.Colder(), nil
	}
	return nil, askError("year %q: allowed are %s, %s or none", shift, Wetter, Colder)
}

// rainOf sums the rain of the months.
func rainOf(y *climate.Year) [12]float64 {
	var sums [12]float64
	for m := range sums {
		sums[m] = y.MonthStatistics(m).Rain
	}
	return sums
}

// biasNote says what the synthetic year does to a wall, as a test measures it.
const biasNote = "in a framed wall without a retarder at Des Moines and Chicago a synthetic year gave sheathing moisture within 3 % " +
	"and a mold index within 0.1 of the measured year whose months it was made from, and within 6 % and a quarter when made from the long-term months"

// notes are what must be printed with any result of the loads.
func (l *loads) notes() []string {
	notes := slices.Clone(l.year.Notes)
	if l.synthetic {
		notes = append(notes, biasNote)
	}
	for _, gap := range l.year.Gaps {
		notes = append(notes, gap.String())
	}
	return notes
}
