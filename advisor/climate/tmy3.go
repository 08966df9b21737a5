package climate

import (
	"io"
	"strconv"
	"strings"
)

// tmy3Missing is the mark of a missing value in a TMY3 file.
const tmy3Missing = "-9900"

// tmy3Columns are the columns taken from a TMY3 file. The rain depth is headed in
// mm, but sums over a year show tenths of it.
func tmy3Columns() []column {
	return []column{
		{"Dry-bulb (C)", qTemperature, 1, 0, -90, 60},
		{"RHum (%)", qRelativeHumidity, 0.01, 0, 0, 1},
		{"Dew-point (C)", qDewPoint, 1, 0, -90, 60},
		{"GHI (W/m^2)", qGlobal, 1, 0, 0, 1600},
		{"DHI (W/m^2)", qDiffuse, 1, 0, 0, 1600},
		{"DNI (W/m^2)", qBeam, 1, 0, 0, 1600},
		{"Wspd (m/s)", qWindSpeed, 1, 0, 0, 100},
		{"Wdir (degrees)", qWindDirection, 1, 0, 0, 360},
		{"Lprecip depth (mm)", qRain, 0.1, 0, 0, 400},
	}
}

// Date and time columns of a TMY3 file.
const (
	tmy3Date = "Date (MM/DD/YYYY)"
	tmy3Time = "Time (HH:MM)"
)

// ReadTMY3 reads an hourly year in the layout of the public TMY3 files (Wilcox and
// Marion, Users Manual for TMY3 Data Sets, NREL/TP-581-43156), plain or gzip, of up
// to 16 MiB of text. Vapor pressure comes from relative humidity over liquid water,
// where that is missing from the dew point. Gaps are filled by stated rules and
// listed in the year. Any fault of the file is a [ReadError].
func ReadTMY3(r io.Reader) (*Year, error) {
	l, err := newLines(r)
	if err != nil {
		return nil, err
	}
	if err := l.nextOrMissing("line with the station"); err != nil {
		return nil, err
	}
	site, err := tmy3Site(l)
	if err != nil {
		return nil, err
	}
	if err := l.nextOrMissing("line with the column headings"); err != nil {
		return nil, err
	}
	fields, err := tmy3Fields(l)
	if err != nil {
		return nil, err
	}
	s, err := readTMY3Rows(l, fields)
	if err != nil {
		return nil, err
	}
	y, err := s.year(site)
	if err != nil {
		return nil, err
	}
	y.Notes = []string{
		"measured typical year in the TMY3 layout: its months come from different years",
		"rain is liquid only, read as tenths of the headed unit, and far from complete: scale it to the place",
	}
	return y, nil
}

// tmy3Site reads the first line: id, name, state, zone, latitude, longitude,
// elevation.
func tmy3Site(l *lines) (Site, error) {
	const fields = 7
	if len(l.record) < fields {
		return Site{}, l.faultLine("station has %d fields; needed are id, name, state, zone, latitude, "+
			"longitude, elevation", len(l.record))
	}
	site := Site{Name: strings.TrimSpace(shorten(l.record[1]))}
	for _, f := range []struct {
		field     int
		name      string
		low, high float64
		into      *float64
	}{
		{3, "zone", -12, 14, &site.Zone},
		{4, "latitude", -90, 90, &site.Latitude},
		{5, "longitude", -180, 180, &site.Longitude},
		{6, "elevation", -500, 9000, &site.Elevation},
	} {
		value, err := l.number(f.field, f.name)
		if err != nil {
			return Site{}, err
		}
		if !(value >= f.low && value <= f.high) {
			return Site{}, l.fault(f.field, f.name, "%g is out of range; possible is %g to %g", value, f.low, f.high)
		}
		*f.into = value
	}
	return site, nil
}

// tmy3Layout says in which field a TMY3 file has what.
type tmy3Layout struct {
	date, time int
	columns    []column
	field      []int // of each column
	longest    int   // highest field needed
}

// tmy3Fields finds the columns by their headings.
func tmy3Fields(l *lines) (*tmy3Layout, error) {
	position := map[string]int{}
	for i, heading := range l.record {
		position[strings.TrimSpace(heading)] = i
	}
	layout := &tmy3Layout{columns: tmy3Columns()}
	find := func(heading string) (int, error) {
		i, ok := position[heading]
		if !ok {
			return 0, l.faultLine("no column %q", heading)
		}
		layout.longest = max(layout.longest, i)
		return i, nil
	}
	var err error
	if layout.date, err = find(tmy3Date); err != nil {
		return nil, err
	}
	if layout.time, err = find(tmy3Time); err != nil {
		return nil, err
	}
	for _, c := range layout.columns {
		i, err := find(c.heading)
		if err != nil {
			return nil, err
		}
		layout.field = append(layout.field, i)
	}
	return layout, nil
}

// readTMY3Rows reads the hours.
func readTMY3Rows(l *lines, layout *tmy3Layout) (*series, error) {
	hour := func() (int, error) {
		if len(l.record) <= layout.longest {
			return 0, l.faultLine("%d fields, the headings need %d", len(l.record), layout.longest+1)
		}
		return layout.hour(l)
	}
	return readRows(l, hour, func(s *series, i int) error {
		for k := range layout.columns {
			if strings.TrimSpace(l.record[layout.field[k]]) == tmy3Missing {
				continue
			}
			if err := s.store(l, layout.field[k], &layout.columns[k], i); err != nil {
				return err
			}
		}
		return nil
	})
}

// hour returns the hour of the year of the present record.
func (layout *tmy3Layout) hour(l *lines) (int, error) {
	date := strings.TrimSpace(l.record[layout.date])
	clock := strings.TrimSpace(l.record[layout.time])
	month, rest, _ := strings.Cut(date, "/")
	day, _, hasYear := strings.Cut(rest, "/")
	if !hasYear {
		return 0, l.fault(layout.date, tmy3Date, "%q is not a date MM/DD/YYYY", shorten(date))
	}
	hour, minutes, _ := strings.Cut(clock, ":")
	if minutes != "00" && minutes != "00:00" {
		return 0, l.fault(layout.time, tmy3Time, "%q is not a full hour 01:00 to 24:00", shorten(clock))
	}
	i, ok := hourOfYear(wholeNumber(month), wholeNumber(day), wholeNumber(hour))
	if !ok {
		return 0, l.fault(layout.date, tmy3Date, "%q %q is not an hour of a year of 365 days",
			shorten(date), shorten(clock))
	}
	return i, nil
}

// wholeNumber reads up to two digits; anything else is -1, which no calendar has.
func wholeNumber(text string) int {
	n, err := strconv.ParseUint(text, 10, 8)
	if err != nil || len(text) > 2 {
		return -1
	}
	return int(n)
}
