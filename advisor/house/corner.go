package house

import (
	"fmt"

	"relath/advisor/analysis"
	"relath/advisor/moistair"
	"relath/advisor/steady"
	"relath/kb/quantity"
)

// Corner is the room corner where two outer walls of one kind meet.
type Corner struct {
	Assembly    string
	Wall        analysis.Estimate // temperature ratio of the plain surface, at the framing
	Ratio       analysis.Estimate // temperature ratio in the corner
	Month       int               // the heated month of the highest humidity, 0 for January
	Temperature analysis.Estimate // °C in that month
	Humidity    analysis.Estimate // relative humidity at the surface in that month, at most 1
	Warnings    []string
}

// corners gives the corner of every outer wall. A corner takes heat up on a
// smaller face than it loses it, so that its inside film counts by a factor:
// ratio = R/(k·R_si + R) with the rest R of the wall and the mold surface
// resistance R_si (see [steady.SurfaceRatio]). The factor is that of homogeneous
// walls; edges with a ceiling and corners full of studs are colder.
func (s *Study) corners(results []*analysis.Result) []Corner {
	var list []Corner
	for _, r := range results {
		a := r.Assembly
		if a.Kind != "wall" || a.Between[0] != "outdoors" || len(r.Variants) == 0 || len(s.months) == 0 {
			continue
		}
		wall := r.Variants[0].Facts["temperature-ratio"]
		for _, v := range r.Variants[1:] {
			if f := v.Facts["temperature-ratio"]; f.Known && wall.Known {
				wall.Range = wall.Range.Union(f.Range)
			}
		}
		c := Corner{Assembly: a.Name, Wall: wall}
		if !wall.Known {
			c.Ratio, c.Temperature, c.Humidity = wall, wall, wall
		} else {
			s.corner(&c)
		}
		list = append(list, c)
	}
	return list
}

// corner fills in the corner of a wall of a known temperature ratio.
func (s *Study) corner(c *Corner) {
	t := &trace{mark: c.Wall.Evidence}
	k := s.take(t, "corner-factor")
	at := func(f, k float64) float64 {
		const open = 1e-9
		rest := f * steady.MoldFilm / max(1-f, open)
		ratio, err := steady.SurfaceRatio(k*steady.MoldFilm, min(rest, steady.MaxResistance))
		if err != nil {
			return f
		}
		return ratio
	}
	w := c.Wall.Range
	ratio := sorted(at(w.Low, k.High), at(w.Best, k.Best), at(w.High, k.Low))
	c.Ratio = t.estimate(ratio)
	humidity := func(m month, f float64) (temperature, rh float64) {
		temperature = m.outdoorT + f*(m.indoorT-m.outdoorT)
		return temperature, m.indoorP / moistair.SaturationPressureOverWater(temperature)
	}
	most := -1.0
	for i, m := range s.months {
		if m.outdoorT >= steady.CoolingAbove {
			continue
		}
		if _, rh := humidity(m, ratio.Best); rh > most {
			most, c.Month = rh, i
		}
	}
	if most < 0 {
		c.Temperature = missing("no month is cold enough to heat")
		c.Humidity = c.Temperature
		return
	}
	m := s.months[c.Month]
	var temperature, rh [3]float64
	for i, f := range []float64{ratio.Low, ratio.Best, ratio.High} {
		temperature[i], rh[i] = humidity(m, f)
		rh[i] = min(1, rh[i])
	}
	c.Temperature = t.estimate(sorted(temperature[0], temperature[1], temperature[2]))
	c.Humidity = t.estimate(quantity.Range{Low: rh[2], Best: rh[1], High: rh[0]})
	if rh[1] > steady.MoldLimitRH {
		c.Warnings = append(c.Warnings, fmt.Sprintf("in the corners of %s the monthly mean humidity is above 80 %%, from which mold is to be expected: keep furniture off, or lower the humidity", c.Assembly))
	}
}
