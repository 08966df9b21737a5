package transient

import "relath/advisor/sorption"

const sheetIntervals = 50

// sheet is the permeance of one or several sheets in series over the mean
// relative humidity of their two sides, in kg/(s·m²·Pa).
type sheet [sheetIntervals + 1]float64

// minPermeance stands for any smaller permeance, foil and glass included:
// 1000 Pa drive 0.03 g/m² through it in a year.
const minPermeance = 1e-15

// newSheet returns the table of one sheet.
func newSheet(points []sorption.Point) (*sheet, error) {
	raised := make([]sorption.Point, len(points))
	for i, p := range points {
		if p.Value >= 0 {
			p.Value = max(p.Value, minPermeance)
		}
		raised[i] = p
	}
	permeance, err := sorption.Linear(raised)
	if err != nil {
		return nil, err
	}
	s := new(sheet)
	for i := range s {
		s[i] = permeance(float64(i) / sheetIntervals)
	}
	return s, nil
}

// series adds the resistance of another sheet.
func (s *sheet) series(other *sheet) *sheet {
	if s == nil {
		return other
	}
	sum := new(sheet)
	for i := range sum {
		sum[i] = 1 / (1/s[i] + 1/other[i])
	}
	return sum
}

// at returns the permeance and its slope at a relative humidity.
func (s *sheet) at(humidity float64) (permeance, slope float64) {
	u := min(max(humidity, 0), 1) * sheetIntervals
	i := min(int(u), sheetIntervals-1)
	slope = s[i+1] - s[i]
	permeance = s[i] + (u-float64(i))*slope
	return permeance, slope * sheetIntervals
}

// conductance returns the permeance of a vapor resistance and a sheet in series,
// and its slope by the humidity of the sheet; s may be nil.
func (s *sheet) conductance(resistance, humidity float64) (permeance, slope float64) {
	if s == nil {
		return 1 / resistance, 0
	}
	p, dp := s.at(humidity)
	permeance = 1 / (resistance + 1/p)
	return permeance, dp * (permeance / p) * (permeance / p)
}
