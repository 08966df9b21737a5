package report

import (
	"fmt"
	"slices"

	"relath/advisor/analysis"
	"relath/kb/quantity"
)

// dryingBeside draws, for each assembly, what its slowest layer could give off to
// both sides by season.
func (p *page) dryingBeside(list []Beside) {
	var groups []BarGroup
	for _, a := range list {
		v := a.Result.Variants[0]
		if s := slowest(v); s != nil {
			groups = append(groups, BarGroup{Name: fmt.Sprintf("%s, slowest at %s", a.Name, v.Layers[s.Part].Part.Name), Rows: p.dryingRows(*s)})
		}
	}
	if len(groups) == 0 {
		return
	}
	of := list[0].Result.Assembly.Between
	left, right := toward(of[0]), toward(of[1])
	if slices.ContainsFunc(list, func(a Beside) bool { return a.Result.Assembly.Between != of }) {
		left, right = "toward the first side", "toward the second side"
	}
	p.heading(1, "How each could dry")
	p.dryingBars("How much water could leave the slowest layer when it is soaked", left, right, groups)
	p.para(quiet, say(p.perSheet(), p.model("steady-drying")))
}

// slowest is the layer that gives off the least to both sides over the year, nil
// where that is not known.
func slowest(v *analysis.Variant) *analysis.Soaked {
	var least *analysis.Soaked
	both := func(s *analysis.Soaked) float64 { return s.Outward.Year.Best + s.Inward.Year.Best }
	for i := range v.Detail.Layers {
		if s := &v.Detail.Layers[i]; s.Known && (least == nil || both(s) < both(least)) {
			least = s
		}
	}
	return least
}

// waterBeside draws the water at the wettest plane of each assembly over the
// months, where any of them collects some.
func (p *page) waterBeside(list []Beside) {
	_, unit := quantity.Display(0, quantity.AreaDensity, p.Units)
	c := Curve{Caption: "Water at the wettest plane at the end of each month, best values", XLabel: "month", YLabel: unit, X: monthNames()}
	wet := false
	for _, a := range list {
		d := a.Result.Variants[0].Detail
		plane, most := wettest(d)
		if len(d.Months) == 0 || plane < 0 && !across(a.Result, "peak-condensate").Known {
			continue
		}
		wet = wet || most > 0
		l := Line{Label: a.Name}
		for i, month := range d.Months {
			water := 0.0
			if plane >= 0 {
				water = month.Water[plane]
			}
			x, _ := quantity.Display(water, quantity.AreaDensity, p.Units)
			l.Points = append(l.Points, Point{X: float64(i + 1), Low: x, Best: x, High: x, Shown: p.bare(quantity.Exact(water), quantity.AreaDensity)})
		}
		c.Lines = append(c.Lines, l)
	}
	if wet {
		p.heading(1, "Where water collects in winter")
		p.chart(c)
	}
}

// wettest is the plane that holds the most water in any month, -1 for none.
func wettest(d analysis.Detail) (plane int, most float64) {
	plane = -1
	for _, month := range d.Months {
		for k, w := range month.Water {
			if w > most {
				plane, most = k, w
			}
		}
	}
	return plane, most
}

// moldBeside draws the mold index of the worst face of each assembly that was run
// hour by hour.
func (p *page) moldBeside(list []Beside) {
	chart := Curve{
		Caption: "Mold index of the worst face of each over the last year, best values of the first choice of each doubt",
		XLabel:  "days after 1 October", YLabel: "mold index", Every: labelEvery,
	}
	for _, a := range list {
		if a.Result.Hourly == nil || a.Result.Hourly.Detail == nil || len(a.Result.Hourly.Detail.Spots) == 0 {
			continue
		}
		worst := slices.MaxFunc(a.Result.Hourly.Detail.Spots, func(x, y analysis.SpotCourse) int {
			return -compareDown(slices.Max(x.Index), slices.Max(y.Index))
		})
		name := fmt.Sprintf("%s, %s", a.Name, faceWords(a.Result.Variants[0].Of, worst.Part, worst.Side))
		chart.Lines = append(chart.Lines, yearly(name, worst.Index, func(v float64) (float64, string) { return v, fmt.Sprintf("%.1f", v) }))
		chart.X = dayNames(len(worst.Index))
		limit := Limit{worst.Limit, fmt.Sprintf("limit %g", worst.Limit)}
		if !slices.Contains(chart.Limits, limit) {
			chart.Limits = append(chart.Limits, limit)
		}
	}
	if len(chart.Lines) > 0 {
		p.heading(1, "Mold hour by hour")
		p.chart(chart)
	}
}
