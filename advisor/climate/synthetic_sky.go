package climate

import (
	"math"
	"slices"
)

// sun sets clearness and irradiance of all hours.
func (s *synthesis) sun() {
	s.suns = make([]Sun, HoursPerYear)
	for i := range s.suns {
		s.suns[i] = s.year.Site.Sun(i)
	}
	s.clearness = make([]float64, DaysPerYear)
	s.relativeClearness = make([]float64, DaysPerYear)
	for m := range 12 {
		s.sunOfMonth(m)
	}
}

// darkClearness stands for the clearness of a month without sun: it only spreads
// temperature, humidity and rain over the days.
const darkClearness = 0.4

// sunOfMonth draws the clearness of the days of month m, scales it to the month's
// irradiation and spreads it over the hours.
func (s *synthesis) sunOfMonth(m int) {
	first, end := monthDays(m)
	outside := 0.0
	for d := first; d < end; d++ {
		outside += DailyExtraterrestrial(s.place.Latitude, d+1)
	}
	target := s.place.Months[m].Sun * float64(end-first)
	mean := darkClearness
	if outside > 0 && target > 0 {
		mean = min(0.85, target/outside)
	}
	quantiles := clearnessQuantiles(mean, end-first)
	reached := 0.0
	for rank, d := range ranking(s.zSky[first:end]) {
		s.clearness[first+d] = quantiles[rank]
		s.relativeClearness[first+d] = quantiles[rank] / mean
		reached += quantiles[rank] * DailyExtraterrestrial(s.place.Latitude, first+d+1)
	}
	if reached == 0 {
		return
	}
	for d := first; d < end; d++ {
		s.clearness[d] *= target / reached
		s.sunOfDay(d)
	}
}

// ranking returns the indices of values from the lowest to the highest.
func ranking(values []float64) []int {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case values[a] < values[b]:
			return -1
		case values[a] > values[b]:
			return 1
		}
		return 0
	})
	return order
}

// clearnessQuantiles returns n equally likely values of daily clearness in rising
// order around a monthly mean: the generalized distribution of Liu and Jordan 1960
// in the form of Bendt, Collares-Pereira and Rabl 1981 (recalled), an exponential
// cut off at both ends.
func clearnessQuantiles(mean float64, n int) []float64 {
	const lowest = 0.05
	values := make([]float64, n)
	highest := 0.6313 + 0.267*mean - 11.9*math.Pow(mean-0.75, 8)
	if !(mean > lowest && mean < highest) {
		for i := range values {
			values[i] = mean
		}
		return values
	}
	fill := func(gamma float64) (average float64) {
		for i := range values {
			u := (float64(i) + 0.5) / float64(n)
			values[i] = truncatedExponential(u, gamma, lowest, highest)
			average += values[i] / float64(n)
		}
		return average
	}
	// Beyond this the distribution is a spike at one of its ends.
	const steepest = 200.0
	fill(bisect(-steepest, steepest, fine, func(gamma float64) bool { return fill(gamma) < mean }))
	return values
}

// truncatedExponential returns the quantile u of the density ∝ e^(γx) on low to
// high, written so that no exponential overflows.
func truncatedExponential(u, gamma, low, high float64) float64 {
	span := high - low
	switch x := gamma * span; {
	case math.Abs(x) < 1e-9:
		return low + u*span
	case x > 0:
		return high + math.Log(u+(1-u)*math.Exp(-x))/gamma
	default:
		return low + math.Log(1-u+u*math.Exp(x))/gamma
	}
}

// sunOfDay spreads the day's irradiation over its hours in the proportions of
// Collares-Pereira and Rabl 1979 (Solar Energy 22, 155).
func (s *synthesis) sunOfDay(d int) {
	suns := s.suns[24*d : 24*d+24]
	var share [24]float64
	total := 0.0
	for h := range suns {
		share[h] = hourlyShare(&suns[h])
		total += share[h]
	}
	if total == 0 {
		return
	}
	day := 24 * s.clearness[d] * DailyExtraterrestrial(s.place.Latitude, d+1)
	for h := range suns {
		hour := &s.year.Hours[24*d+h]
		hour.Global = day * share[h] / total
		hour.split(suns[h])
	}
}

// hourlyShare returns the part of the daily irradiation that falls in an hour, up to
// a factor common to the day.
func hourlyShare(sun *Sun) float64 {
	if sun.Lit == 0 {
		return 0
	}
	const sixty = math.Pi / 3
	a := 0.409 + 0.5016*math.Sin(sun.sunset-sixty)
	b := 0.6609 - 0.4767*math.Sin(sun.sunset-sixty)
	cosW := math.Cos(sun.hourAngle)
	return max(0, sun.Lit*(a+b*cosW)*(cosW-math.Cos(sun.sunset)))
}
