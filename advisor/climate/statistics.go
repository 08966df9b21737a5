package climate

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"relath/advisor/moistair"
)

// Spread is the mean of an hourly quantity and three of its percentiles.
type Spread struct {
	Mean, P5, P50, P95 float64
}

// Statistics describe the hours of a month or of a year: what two years of one
// place are compared by.
type Statistics struct {
	Temperature      Spread  // °C
	RelativeHumidity Spread  // a fraction over liquid water
	VaporPressure    Spread  // Pa
	Sun              float64 // mean global irradiance, W/m²
	WindSpeed        float64 // m/s
	Rain, Snow       float64 // sums, kg/m²
	// HumidHours have a relative humidity above 80 %; MoldHours of them are above 5 °C.
	HumidHours, MoldHours int
	// SunnyHours have a global irradiance above 500 W/m².
	SunnyHours int
}

// RelativeHumidity returns that of the air, a fraction over liquid water.
func (h *Hour) RelativeHumidity() float64 {
	return h.VaporPressure / moistair.SaturationPressureOverWater(h.Temperature)
}

// Statistics returns those of the whole year.
func (y *Year) Statistics() Statistics { return describe(y.Hours) }

// MonthStatistics returns those of month m, 0 to 11.
func (y *Year) MonthStatistics(m int) Statistics { return describe(y.month(m)) }

func describe(hours []Hour) Statistics {
	var s Statistics
	n := len(hours)
	temperature, humidity, pressure := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range hours {
		h := &hours[i]
		temperature[i], humidity[i], pressure[i] = h.Temperature, h.RelativeHumidity(), h.VaporPressure
		s.Sun += h.Global / float64(n)
		s.WindSpeed += h.WindSpeed / float64(n)
		s.Rain += h.Rain
		s.Snow += h.Snow
		if humidity[i] > 0.8 {
			s.HumidHours++
			if h.Temperature > 5 {
				s.MoldHours++
			}
		}
		if h.Global > 500 {
			s.SunnyHours++
		}
	}
	s.Temperature, s.RelativeHumidity, s.VaporPressure = spread(temperature), spread(humidity), spread(pressure)
	return s
}

// spread sorts the values.
func spread(values []float64) Spread {
	slices.Sort(values)
	quantile := func(p float64) float64 { return stat.Quantile(p, stat.LinInterp, values, nil) }
	return Spread{Mean: stat.Mean(values, nil), P5: quantile(0.05), P50: quantile(0.5), P95: quantile(0.95)}
}

// Months returns the monthly figures of a year, as [Generate] takes them.
func (y *Year) Months() [12]Month {
	var months [12]Month
	for m := range months {
		months[m] = y.monthFigures(m)
	}
	return months
}

// wetDay is the least precipitation of a day that counts, kg/m².
const wetDay = 0.25

func (y *Year) monthFigures(m int) Month {
	hours := y.month(m)
	s := describe(hours)
	days := len(hours) / 24
	f := Month{
		Temperature: s.Temperature.Mean, RelativeHumidity: s.RelativeHumidity.Mean,
		VaporPressure: s.VaporPressure.Mean, Precipitation: s.Rain + s.Snow,
		WindSpeed: s.WindSpeed, Sun: s.Sun,
	}
	number, temperature, humidity := make([]float64, days), make([]float64, days), make([]float64, days)
	for d := range days {
		day := describeDay(hours[24*d : 24*d+24])
		number[d], temperature[d], humidity[d] = float64(d), day.temperature, day.humidity
		f.TemperatureMax += day.highest / float64(days)
		f.TemperatureMin += day.lowest / float64(days)
		if day.precipitation >= wetDay {
			f.PrecipitationDays++
		}
	}
	start, slope := stat.LinearRegression(number, temperature, nil, false)
	for d := range temperature {
		temperature[d] -= start + slope*number[d]
	}
	f.TemperatureSD, f.HumiditySD = stat.StdDev(temperature, nil), stat.StdDev(humidity, nil)
	return f
}

// dayFigures are those of 24 hours.
type dayFigures struct {
	temperature, highest, lowest, humidity, precipitation float64
}

func describeDay(hours []Hour) dayFigures {
	f := dayFigures{highest: math.Inf(-1), lowest: math.Inf(1)}
	for i := range hours {
		h := &hours[i]
		f.temperature += h.Temperature / 24
		f.humidity += h.RelativeHumidity() / 24
		f.highest, f.lowest = max(f.highest, h.Temperature), min(f.lowest, h.Temperature)
		f.precipitation += h.Rain + h.Snow
	}
	return f
}
