package climate

import (
	"io"
	"strings"
)

// plainTime is the heading of the time column of a plain file.
const plainTime = "time"

// plainColumns are the columns that a plain file may have, in every unit allowed.
func plainColumns() []column {
	return []column{
		{"temperature (C)", qTemperature, 1, 0, -90, 60},
		{"temperature (K)", qTemperature, 1, -273.15, -90, 60},
		{"relative humidity (%)", qRelativeHumidity, 0.01, 0, 0, 1},
		{"relative humidity (1)", qRelativeHumidity, 1, 0, 0, 1},
		{"dew point (C)", qDewPoint, 1, 0, -90, 60},
		{"dew point (K)", qDewPoint, 1, -273.15, -90, 60},
		{"vapor pressure (Pa)", qVaporPressure, 1, 0, 0, 12000},
		{"vapor pressure (hPa)", qVaporPressure, 100, 0, 0, 12000},
		{"global (W/m2)", qGlobal, 1, 0, -20, 1600},
		{"diffuse (W/m2)", qDiffuse, 1, 0, -20, 1600},
		{"beam (W/m2)", qBeam, 1, 0, -20, 1600},
		{"wind speed (m/s)", qWindSpeed, 1, 0, 0, 100},
		{"wind direction (deg)", qWindDirection, 1, 0, 0, 360},
		{"rain (mm)", qRain, 1, 0, 0, 400},
	}
}

// ReadCSV reads an hourly year measured at the site from a CSV file, plain or gzip,
// of up to 16 MiB of text. Its first line names the columns with their units:
//
//	time, temperature (C or K), global (W/m2), wind speed (m/s), and one of
//	relative humidity (% or 1), dew point (C or K), vapor pressure (Pa or hPa);
//	where known diffuse (W/m2), beam (W/m2), wind direction (deg), rain (mm)
//
// Any other column is an error. A time is MM-DD HH:00 in the standard time of the
// site, HH from 01 to 24, and ends its hour; a year before it (YYYY-) is not looked
// at. Humidity refers to liquid water. Rows follow the calendar without 29 February;
// a row left out or a blank cell is a gap. Gaps are filled by stated rules and
// listed in the year. Irradiance down to −20 W/m² counts as none. Any fault of the file is a [ReadError].
func ReadCSV(r io.Reader, site Site) (*Year, error) {
	l, err := newLines(r)
	if err != nil {
		return nil, err
	}
	if err := l.nextOrMissing("line with the column headings"); err != nil {
		return nil, err
	}
	columns, err := plainHeadings(l)
	if err != nil {
		return nil, err
	}
	s, err := readPlainRows(l, columns)
	if err != nil {
		return nil, err
	}
	y, err := s.year(site)
	if err != nil {
		return nil, err
	}
	y.Notes = []string{"hourly year measured at the site"}
	return y, nil
}

// plainHeadings returns the column of each field; that of the time is nil.
func plainHeadings(l *lines) ([]*column, error) {
	allowed := plainColumns()
	columns := make([]*column, len(l.record))
	var seen [quantities]bool
	timeSeen := false
	for field, heading := range l.record {
		heading = strings.TrimSpace(strings.TrimPrefix(heading, "\ufeff"))
		if heading == plainTime {
			if timeSeen {
				return nil, l.fault(field, heading, "column stands twice")
			}
			timeSeen = true
			continue
		}
		c := findColumn(allowed, heading)
		if c == nil {
			return nil, l.fault(field, shorten(heading), "not a known column; known are %s, %s",
				plainTime, strings.Join(headings(allowed), ", "))
		}
		if seen[c.quantity] {
			return nil, l.fault(field, heading, "%s stands twice", c.quantity)
		}
		seen[c.quantity] = true
		columns[field] = c
	}
	if !timeSeen {
		return nil, l.faultLine("no column %q", plainTime)
	}
	return columns, missingColumn(l, seen)
}

// missingColumn returns an error when a quantity that a year needs has no column.
func missingColumn(l *lines, seen [quantities]bool) error {
	for _, q := range []quantity{qTemperature, qGlobal, qWindSpeed} {
		if !seen[q] {
			return l.faultLine("no column of %s", q)
		}
	}
	humidities := 0
	for _, q := range []quantity{qRelativeHumidity, qDewPoint, qVaporPressure} {
		if seen[q] {
			humidities++
		}
	}
	if humidities != 1 {
		return l.faultLine("%d columns of humidity; needed is one of relative humidity, dew point, vapor pressure",
			humidities)
	}
	return nil
}

func findColumn(columns []column, heading string) *column {
	for i := range columns {
		if columns[i].heading == heading {
			return &columns[i]
		}
	}
	return nil
}

func headings(columns []column) []string {
	names := make([]string, len(columns))
	for i := range columns {
		names[i] = columns[i].heading
	}
	return names
}

// readPlainRows reads the hours.
func readPlainRows(l *lines, columns []*column) (*series, error) {
	hour := func() (int, error) {
		if len(l.record) != len(columns) {
			return 0, l.faultLine("%d fields, the headings have %d", len(l.record), len(columns))
		}
		return plainHour(l, columns)
	}
	return readRows(l, hour, func(s *series, i int) error {
		for field, c := range columns {
			if c == nil || strings.TrimSpace(l.record[field]) == "" {
				continue
			}
			if err := s.store(l, field, c, i); err != nil {
				return err
			}
		}
		return nil
	})
}

// plainHour returns the hour of the year of the present record.
func plainHour(l *lines, columns []*column) (int, error) {
	field := 0
	for columns[field] != nil {
		field++
	}
	text := strings.TrimSpace(l.record[field])
	date, clock, _ := strings.Cut(text, " ")
	if len(date) == len("2026-01-31") && date[4] == '-' && wholeNumber(date[:2]) >= 0 && wholeNumber(date[2:4]) >= 0 {
		date = date[5:]
	}
	month, day, _ := strings.Cut(date, "-")
	hour, minutes, _ := strings.Cut(clock, ":")
	i, ok := hourOfYear(wholeNumber(month), wholeNumber(day), wholeNumber(hour))
	if !ok || minutes != "00" {
		return 0, l.fault(field, plainTime, "%q is not MM-DD HH:00 from 01-01 01:00 to 12-31 24:00 without 02-29",
			shorten(text))
	}
	return i, nil
}
