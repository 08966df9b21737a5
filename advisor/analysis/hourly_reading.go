package analysis

import (
	"relath/advisor/climate"
	"relath/advisor/transient"
)

// woodMonths is the moisture content by mass of a wooden part, mean of each month
// from January: at its outer face, its middle and its inner face.
type woodMonths [12][3]float64

// woodMonths takes the means of the year that begins at an hour, which is as far
// into the calendar year as the run. Coats count as the face below them; of
// several bodies the last is taken.
func (run *hourlyRun) woodMonths(r *transient.Result, part, from int) *woodMonths {
	var out woodMonths
	for _, c := range run.cores {
		if c.part != part {
			continue
		}
		first := 0 // hour of the calendar year
		for month, days := range daysOf() {
			const day = 24
			hours := int(days) * day
			begin := from + (first-startHour+climate.HoursPerYear)%climate.HoursPerYear
			for place := range out[month] {
				course, sum := &r.Probes[c.probe+place], 0.0
				for k := begin; k < begin+hours; k++ {
					sum += run.of.contentAt(part, course.Temperature[k], course.Humidity[k])
				}
				out[month][place] = sum / float64(hours)
			}
			first += hours
		}
	}
	return &out
}

// stateReading holds the reading of a part that the monthly method was held
// against to the mean of that month hour by hour, over both faces, the middle and
// all corners; the best value is that of the middle in the best case. The hourly
// model has storage, sun and rain, so it sees what the month alone does not.
func (v *hourlyVariant) stateReading(part int) {
	f := v.of.Layers[part].Facts
	computed := Estimate{Fact: "wood-moisture-month", Missing: "no reading of a moisture meter is given"}
	answer := word("none")
	read := f["wood-moisture-read"]
	for _, t := range v.model.readingsOn(part) {
		if !read.Known || t.Moisture != read.Range.Best {
			continue
		}
		computed.Missing = "the hourly model does not follow the wood of the framing"
		if v.runs[0].summary.parts[part].months != nil {
			computed = v.estimate("wood-moisture-month", func(s *hourlySummary) float64 { return s.parts[part].months[t.Month][1] })
			for _, run := range v.runs {
				for _, u := range run.summary.parts[part].months[t.Month] {
					widen(&computed.Range, u, false)
				}
			}
		}
		answer = word(against(read.Range, computed))
		break
	}
	answer.Fact = "wood-reading-hourly"
	f["wood-moisture-month"], f["wood-reading-hourly"] = computed, answer
}
