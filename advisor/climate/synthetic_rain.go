package climate

import "math"

// Rain of the synthetic year: hours of rain on a wet day (10 to 90 % of TMY3
// stations: 2.7 to 11.3), and the air temperature in °C below which it snows.
const (
	wetHoursPerWetDay = 5.4
	snowTemperature   = 1.0
)

// precipitation puts the month's wet days where the sky is least clear, the largest
// amount on the darkest day, and each day's amount evenly into one run of hours.
func (s *synthesis) precipitation() {
	start := newRandom(s.place.ID, "rain")
	for m := range 12 {
		month := &s.place.Months[m]
		first, end := monthDays(m)
		wet := min(int(math.Round(month.PrecipitationDays)), end-first)
		if month.Precipitation > 0 {
			wet = max(wet, 1)
		}
		amounts := wetDayAmounts(month.Precipitation, wet)
		for rank, d := range ranking(s.relativeClearness[first:end])[:wet] {
			s.rainOnDay(first+d, amounts[rank], start)
		}
	}
}

// wetDayAmounts shares the month's precipitation among n wet days by the quantiles
// of an exponential distribution, the largest first.
func wetDayAmounts(total float64, n int) []float64 {
	amounts := make([]float64, n)
	sum := 0.0
	for i := range amounts {
		rank := float64(n - i)
		amounts[i] = -math.Log(1 - (rank-0.5)/float64(n))
		sum += amounts[i]
	}
	for i := range amounts {
		amounts[i] *= total / sum
	}
	return amounts
}

// rainOnDay lets the amount in kg/m² fall in one run of hours on day d.
func (s *synthesis) rainOnDay(d int, amount float64, start *random) {
	whole := math.Floor(wetHoursPerWetDay)
	hours := int(whole)
	if start.uniform() < wetHoursPerWetDay-whole {
		hours++
	}
	from := int(start.uniform() * float64(24-hours+1))
	for h := from; h < from+hours; h++ {
		hour := &s.year.Hours[24*d+h]
		if hour.Temperature < snowTemperature {
			hour.Snow += amount / float64(hours)
		} else {
			hour.Rain += amount / float64(hours)
		}
	}
}
