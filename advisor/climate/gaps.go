package climate

import (
	"fmt"
	"math"

	"relath/advisor/moistair"
)

// quantity is one column of measured weather in SI.
type quantity int

const (
	qTemperature quantity = iota
	qRelativeHumidity
	qDewPoint
	qVaporPressure
	qGlobal
	qDiffuse
	qBeam
	qWindSpeed
	qWindDirection
	qRain
	quantities
)

func (q quantity) String() string {
	return [quantities]string{
		"temperature", "relative humidity", "dew point", "vapor pressure", "global irradiance",
		"diffuse irradiance", "beam irradiance", "wind speed", "wind direction", "rain",
	}[q]
}

// longestFill is the longest gap that is bridged, hours.
const longestFill = 6

// Gap is a run of hours for which a measured year lacks a quantity.
type Gap struct {
	Quantity string
	First    int // hour of the year, from 0
	Hours    int
	Rule     string // how it was filled
}

// String says what is missing from when on, and what stands in.
func (g Gap) String() string {
	return fmt.Sprintf("%s missing for %d h from %s: %s", g.Quantity, g.Hours, stamp(g.First), g.Rule)
}

// stamp returns month, day and clock of the end of hour i.
func stamp(i int) string {
	m := MonthOf(i)
	first, _ := monthDays(m)
	return fmt.Sprintf("%02d-%02d %02d:00", m+1, i/24-first+1, i%24+1)
}

// year fills the gaps of the series by the stated rules and makes a year of them:
// temperature, vapor pressure, global irradiance and wind speed may lack up to six
// hours in a row, bridged by a straight line, around the turn of the year too; more
// is an error. Missing diffuse and beam come from global irradiance by correlation.
// A missing wind direction stays unknown. Missing rain counts as none.
func (s *series) year(site Site) (*Year, error) {
	y := &Year{Site: site, Hours: make([]Hour, HoursPerYear)}
	s.setVaporPressure()
	for _, q := range []quantity{qTemperature, qVaporPressure, qGlobal, qWindSpeed} {
		if err := s.bridge(q, y); err != nil {
			return nil, err
		}
	}
	s.list(qDiffuse, y, "split from global irradiance by correlation")
	s.list(qBeam, y, "from the difference of global and diffuse irradiance")
	s.list(qWindDirection, y, "left unknown")
	s.list(qRain, y, "counted as none")
	for i := range y.Hours {
		s.fillHour(&y.Hours[i], y.Site.Sun(i), i)
	}
	return y, nil
}

// fillHour sets hour i of the year.
func (s *series) fillHour(h *Hour, sun Sun, i int) {
	h.Temperature = s.values[qTemperature][i]
	h.VaporPressure = min(s.values[qVaporPressure][i], moistair.SaturationPressureOverWater(h.Temperature))
	h.WindSpeed = s.values[qWindSpeed][i]
	h.WindDirection = s.values[qWindDirection][i]
	if amount := s.values[qRain][i]; amount > 0 {
		h.Rain = amount
	}
	// Instruments read a little below zero at night.
	h.Global = max(0, s.values[qGlobal][i])
	h.Diffuse = max(0, s.values[qDiffuse][i])
	h.Beam = max(0, s.values[qBeam][i])
	switch {
	case math.IsNaN(h.Diffuse):
		h.split(sun)
	case math.IsNaN(h.Beam):
		h.beamFromDifference(sun)
	}
}

// setVaporPressure takes it, where a file does not have it, from relative humidity
// over liquid water, and where that is missing too from the dew point.
func (s *series) setVaporPressure() {
	for i, e := range s.values[qVaporPressure] {
		t, rh, td := s.values[qTemperature][i], s.values[qRelativeHumidity][i], s.values[qDewPoint][i]
		if math.IsNaN(e) {
			e = rh * moistair.SaturationPressureOverWater(t)
		}
		if math.IsNaN(e) {
			e = moistair.SaturationPressureOverWater(td)
		}
		s.values[qVaporPressure][i] = e
	}
}

// gaps returns the runs of missing hours; a run over the turn of the year is one.
func (s *series) gaps(q quantity) []Gap {
	var gaps []Gap
	for i, v := range s.values[q] {
		switch {
		case !math.IsNaN(v):
		case i > 0 && math.IsNaN(s.values[q][i-1]):
			gaps[len(gaps)-1].Hours++
		default:
			gaps = append(gaps, Gap{Quantity: q.String(), First: i, Hours: 1})
		}
	}
	if last := len(gaps) - 1; last > 0 && gaps[0].First == 0 && gaps[last].First+gaps[last].Hours == HoursPerYear {
		gaps[last].Hours += gaps[0].Hours
		gaps = gaps[1:]
	}
	return gaps
}

// list reports the gaps of a quantity in the year, with the rule that serves them.
func (s *series) list(q quantity, y *Year, rule string) {
	for _, gap := range s.gaps(q) {
		gap.Rule = rule
		y.Gaps = append(y.Gaps, gap)
	}
}

// bridge fills the gaps of a quantity by straight lines.
func (s *series) bridge(q quantity, y *Year) error {
	values := s.values[q]
	for _, gap := range s.gaps(q) {
		gap.Rule = "straight line between the hours around it"
		y.Gaps = append(y.Gaps, gap)
		if gap.Hours > longestFill {
			return &ReadError{Problem: fmt.Sprintf("%s missing for %d h from %s; up to %d h are bridged",
				gap.Quantity, gap.Hours, stamp(gap.First), longestFill)}
		}
		before := values[(gap.First-1+HoursPerYear)%HoursPerYear]
		after := values[(gap.First+gap.Hours)%HoursPerYear]
		for k := range gap.Hours {
			share := float64(k+1) / float64(gap.Hours+1)
			values[(gap.First+k)%HoursPerYear] = before + share*(after-before)
		}
	}
	return nil
}
