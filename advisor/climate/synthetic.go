package climate

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// Correlations of the day-to-day weather: of each daily series with itself a day
// later, and of daily relative humidity with sky clearness (medians of 122 stations
// and 12 months, derived from the TMY3 data of the US Department of Energy).
const (
	persistenceTemperature = 0.57
	persistenceHumidity    = 0.42
	persistenceSky         = 0.20
	humidityWithSky        = -0.67
)

// synthesis is a synthetic year in the making.
type synthesis struct {
	place *Place
	year  *Year
	suns  []Sun

	// Day-to-day weather: standardized series of temperature, humidity and sky.
	zTemperature, zHumidity, zSky []float64
	// Clearness of each day, and its ratio to the mean of the month.
	clearness, relativeClearness []float64
}

// Generate returns the synthetic hourly year of a place: always the same for the
// same place. Monthly means of temperature and global irradiance and sums of
// precipitation are exact. So is the mean vapor pressure where it is known, with mean
// relative humidity as close as that allows, as a rule within one percentage point; else
// mean relative humidity is. The hours are apparent solar time. Wind follows the
// season, without gusts and without direction, and nothing ties wind to rain. It
// returns the error of [Place.Validate], or one for a month whose vapor pressure its
// temperature cannot hold.
func Generate(p *Place) (*Year, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	s := &synthesis{
		place: p,
		year: &Year{
			Site: Site{
				Name: p.ID, Latitude: p.Latitude, Longitude: p.Longitude,
				Elevation: p.Elevation, SolarTime: true,
			},
			Hours: make([]Hour, HoursPerYear),
			Notes: p.syntheticNotes(),
		},
		zTemperature: newRandom(p.ID, "temperature").persistent(DaysPerYear, persistenceTemperature),
		zHumidity:    newRandom(p.ID, "humidity").persistent(DaysPerYear, persistenceHumidity),
		zSky:         newRandom(p.ID, "sky").persistent(DaysPerYear, persistenceSky),
	}
	for _, z := range [][]float64{s.zTemperature, s.zHumidity, s.zSky} {
		standardize(z)
	}
	s.sun()
	s.temperature()
	if err := s.humidity(); err != nil {
		return nil, err
	}
	s.precipitation()
	s.wind()
	return s.year, nil
}

// syntheticNotes states what is known of the bias of a synthetic year: the measured
// typical years (TMY3) of Fairbanks, Miami, Houston, Phoenix, Chicago, Des Moines,
// Minneapolis and Seattle against the years made from their own monthly means, mean
// of thirty seeds.
func (p *Place) syntheticNotes() []string {
	bias := "against measured typical years of eight US cities it has 91 to 116 % of the hours above 80 % " +
		"relative humidity and 5 °C (68 % in Phoenix), and 91 to 131 % of all hours above 80 % (75 % in Phoenix)"
	if slices.ContainsFunc(p.Months[:], func(m Month) bool { return m.VaporPressure == 0 }) {
		bias = "without monthly vapor pressure it has about 90 % of the hours above 80 % relative humidity and " +
			"5 °C that measured typical years have, about half in deserts: mildly optimistic for mold"
	}
	return []string{
		"the hourly year is synthetic, made from monthly means",
		bias,
		"it holds no extreme season; try the wetter and the colder year too",
	}
}

// column returns one figure of the twelve months.
func (p *Place) column(figure func(*Month) float64) [12]float64 {
	var values [12]float64
	for i := range p.Months {
		values[i] = figure(&p.Months[i])
	}
	return values
}

// temperatureSD returns the standard deviation of daily mean temperature in month
// m, K: the place's own, or a regression on the month's temperature and the
// amplitude of the year (TMY3 data, 124 stations; mean absolute error 0.76 K).
func (p *Place) temperatureSD(m int) float64 {
	month := &p.Months[m]
	if month.TemperatureSD > 0 {
		return month.TemperatureSD
	}
	means := p.column(func(m *Month) float64 { return m.Temperature })
	return max(0.3, 3.17-0.0857*month.Temperature+0.167*stat.StdDev(means[:], nil))
}

// temperature sets the hourly temperatures: daily means joined from noon to noon,
// plus a daily swing that is wider under a clear sky.
func (s *synthesis) temperature() {
	daily := course(s.place.column(func(m *Month) float64 { return m.Temperature }))
	swing := make([]float64, DaysPerYear)
	for m := range 12 {
		sd := s.place.temperatureSD(m)
		month := &s.place.Months[m]
		width := month.TemperatureMax - month.TemperatureMin
		first, end := monthDays(m)
		for d := first; d < end; d++ {
			daily[d] += sd * s.zTemperature[d]
			// Slope of the daily range on clearness, from the TMY3 data.
			swing[d] = width * max(0.25, 1+0.72*(s.relativeClearness[d]-1))
		}
	}
	nodes := noonsOf(daily)
	shape := dailyShape()
	for i := range s.year.Hours {
		s.year.Hours[i].Temperature = noonToNoon(nodes, i) + swing[i/24]*shape[i%24]
	}
	s.centerTemperature()
}

// centerTemperature shifts each month to its exact mean.
func (s *synthesis) centerTemperature() {
	for m := range 12 {
		hours := s.year.month(m)
		sum := 0.0
		for i := range hours {
			sum += hours[i].Temperature
		}
		shift := s.place.Months[m].Temperature - sum/float64(len(hours))
		for i := range hours {
			hours[i].Temperature += shift
		}
	}
}

// month returns the hours of month m, 0 to 11.
func (y *Year) month(m int) []Hour {
	first, end := monthDays(m)
	return y.Hours[24*first : 24*end]
}

// noonToNoon returns a daily signal at the end of hour i, joined by straight lines
// from noon to noon, around the turn of the year too.
func noonToNoon(daily []float64, i int) float64 {
	position := float64(i+1)/24 - 0.5
	before := math.Floor(position)
	share := position - before
	d := (int(before) + DaysPerYear) % DaysPerYear
	return daily[d] + share*(daily[(d+1)%DaysPerYear]-daily[d])
}

// noonsOf returns the noon values that, joined from noon to noon, have the given
// daily means: straight lines alone would take a fifth off the day-to-day variation.
func noonsOf(daily []float64) []float64 {
	// The error at least halves a pass.
	const passes = 25
	noons, previous := slices.Clone(daily), make([]float64, len(daily))
	for range passes {
		copy(previous, noons)
		for d := range daily {
			mean := 0.0
			for h := range 24 {
				mean += noonToNoon(previous, 24*d+h) / 24
			}
			noons[d] += daily[d] - mean
		}
	}
	return noons
}

// dailyShape returns the course of temperature over the day for clocks 1 to 24,
// scaled to zero mean and unit range (Erbs, Klein and Beckman 1983, ASHRAE Journal
// 25(6); recalled).
func dailyShape() [24]float64 {
	var shape [24]float64
	for h := range shape {
		t := 2 * math.Pi * float64(h) / 24
		shape[h] = 0.4632*math.Cos(t-3.805) + 0.0984*math.Cos(2*t-0.360) +
			0.0168*math.Cos(3*t-0.822) + 0.0138*math.Cos(4*t-3.513)
	}
	mean, low, high := 0.0, shape[0], shape[0]
	for _, v := range shape {
		mean += v / 24
		low, high = min(low, v), max(high, v)
	}
	for h := range shape {
		shape[h] = (shape[h] - mean) / (high - low)
	}
	return shape
}

// wind sets the wind of the season, without direction.
func (s *synthesis) wind() {
	daily := course(s.place.column(func(m *Month) float64 { return m.WindSpeed }))
	for i := range s.year.Hours {
		s.year.Hours[i].WindSpeed = max(0, noonToNoon(daily, i))
		s.year.Hours[i].WindDirection = math.NaN()
	}
}
