package climate

import (
	"fmt"
	"slices"

	"relath/advisor/moistair"
)

// Shifts of the wetter and the colder year (assumed): typical years hold no extreme
// season.
const (
	wetterBy = 0.05 // of relative humidity
	colderBy = 2.0  // K
)

// Wetter returns a year with the relative humidity of every hour higher by 5
// percentage points, at most 100 %, and all else equal.
func (y *Year) Wetter() *Year {
	return y.shifted(0, wetterBy, "relative humidity of every hour raised by 5 percentage points")
}

// Colder returns a year colder by 2 K in every hour at equal relative humidity.
// Rain and snow stay as they were.
func (y *Year) Colder() *Year {
	return y.shifted(-colderBy, 0, "temperature of every hour lowered by 2 K at equal relative humidity")
}

func (y *Year) shifted(temperature, humidity float64, note string) *Year {
	changed := &Year{
		Site:  y.Site,
		Hours: slices.Clone(y.Hours),
		Notes: append(slices.Clone(y.Notes), note),
		Gaps:  y.Gaps,
	}
	for i := range changed.Hours {
		h := &changed.Hours[i]
		rh := h.RelativeHumidity()
		h.Temperature += temperature
		h.VaporPressure = max(rh, min(1, rh+humidity)) * moistair.SaturationPressureOverWater(h.Temperature)
	}
	return changed
}

// ScaleRain returns a year whose rain in each month is the given amount in kg/m²,
// spread over the hours with rain in proportion to what they had. A month without
// any rain keeps none, which a note says. Snow is left alone.
func (y *Year) ScaleRain(amounts [12]float64) *Year {
	changed := &Year{Site: y.Site, Hours: slices.Clone(y.Hours), Notes: slices.Clone(y.Notes), Gaps: y.Gaps}
	for m, amount := range amounts {
		hours := changed.month(m)
		recorded := 0.0
		for i := range hours {
			recorded += hours[i].Rain
		}
		if recorded == 0 {
			if amount > 0 {
				changed.Notes = append(changed.Notes,
					fmt.Sprintf("month %d has no hour with rain, so its %.0f kg/m² are missing", m+1, amount))
			}
			continue
		}
		for i := range hours {
			hours[i].Rain *= amount / recorded
		}
	}
	changed.Notes = append(changed.Notes, "rain scaled to the monthly amounts of the place")
	return changed
}
