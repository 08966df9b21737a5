package climate

import (
	"math"

	"gonum.org/v1/gonum/stat"
)

// course returns daily values that run smoothly through the year and have the given
// monthly means: straight lines between nodes in mid-month, the nodes moved until
// each month's average is exact.
func course(means [12]float64) []float64 {
	// The error falls by at least 0.4 a pass, so that rounding is all that remains.
	const passes, step = 60, 0.8
	nodes := means
	days := make([]float64, DaysPerYear)
	for range passes {
		interpolate(nodes, days)
		for m := range nodes {
			first, end := monthDays(m)
			nodes[m] += step * (means[m] - stat.Mean(days[first:end], nil))
		}
	}
	interpolate(nodes, days)
	return days
}

// interpolate fills the days, each taken at its noon, with straight lines between
// the nodes, around the turn of the year too.
func interpolate(nodes [12]float64, days []float64) {
	for m := range nodes {
		next := (m + 1) % 12
		from, to := midMonth(m), midMonth(next)
		if next == 0 {
			to += DaysPerYear
		}
		for d := int(math.Ceil(from - 0.5)); float64(d)+0.5 < to; d++ {
			share := (float64(d) + 0.5 - from) / (to - from)
			days[d%DaysPerYear] = nodes[m] + share*(nodes[next]-nodes[m])
		}
	}
}

// midMonth returns the middle of a month in days from the start of the year.
func midMonth(m int) float64 {
	first, end := monthDays(m)
	return float64(first+end) / 2
}

// standardize gives each month of a daily series zero mean and unit standard
// deviation.
func standardize(days []float64) {
	for m := range 12 {
		first, end := monthDays(m)
		month := days[first:end]
		mean, sd := stat.MeanStdDev(month, nil)
		for i := range month {
			month[i] = (month[i] - mean) / sd
		}
	}
}
