package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/swap"
	"relath/kb"
	"relath/kb/quantity"
)

// Days between the points of a chart over a year, and between its labels.
const (
	chartStep  = 3
	labelEvery = 10 // points
)

// yearly makes a line of daily values; only what is tabulated is worded.
func yearly(label string, days []float64, shown func(float64) (float64, string)) Line {
	l := Line{Label: label}
	for d := 0; d < len(days); d += chartStep {
		x, words := shown(days[d])
		if d%(chartStep*labelEvery) != 0 {
			words = ""
		}
		l.Points = append(l.Points, Point{X: float64(d), Low: x, Best: x, High: x, Shown: words})
	}
	return l
}

// dayNames labels the points of a chart over so many days.
func dayNames(days int) []string {
	names := make([]string, (days+chartStep-1)/chartStep)
	for i := 0; i < len(names); i += labelEvery {
		names[i] = fmt.Sprint(i * chartStep)
	}
	return names
}

// leakCharts draws the year after a wetting: the water of the wetted layer, wood
// moisture and the mold index, with and without the leak.
func (p *page) leakCharts(r *analysis.LeakResult, c *analysis.LeakCase) {
	if c.Course == nil {
		return
	}
	since := "days after " + leakDate(c.On)
	p.waterChart(r, c, since)
	p.woodChart(r, c, since)
	p.indexChart(r, c, since)
}

// waterChart draws the water that each layer holds more than undisturbed.
func (p *page) waterChart(r *analysis.LeakResult, c *analysis.LeakCase, since string) {
	_, unit := quantity.Display(c.Peak.Best, quantity.AreaDensity, p.Units)
	chart := Curve{
		Caption: fmt.Sprintf("Water beyond the undisturbed wall, %s, best values", caseName(c)),
		XLabel:  since, YLabel: unit, Every: labelEvery,
	}
	for _, x := range c.Course.Parts {
		const worth = 0.02
		if x.With == nil || r.Cases[0].Parts[x.Part].Peak.Best < worth*c.Peak.Best {
			continue
		}
		more := make([]float64, len(x.With))
		for d := range more {
			more[d] = max(0, x.With[d]-x.Without[d])
		}
		chart.Lines = append(chart.Lines, yearly(r.Variant.Layers[x.Part].Name, more, func(v float64) (float64, string) {
			shown, _ := quantity.Display(v, quantity.AreaDensity, p.Units)
			return shown, p.bare(quantity.Exact(v), quantity.AreaDensity)
		}))
		chart.X = dayNames(len(more))
	}
	p.chart(chart)
}

// woodChart draws the moisture of the wettest place of the wooden layers.
func (p *page) woodChart(r *analysis.LeakResult, c *analysis.LeakCase, since string) {
	chart := Curve{
		Caption: fmt.Sprintf("Wood moisture at the wettest of both faces and the middle, %s, best values", caseName(c)),
		XLabel:  since, YLabel: "% by mass", Every: labelEvery,
		Limits: []Limit{{20, "limit 20 %"}},
	}
	percent := func(v float64) (float64, string) { return 100 * v, fmt.Sprintf("%.0f", 100*v) }
	for _, x := range c.Course.Parts {
		if x.WoodWith == nil {
			continue
		}
		name := r.Variant.Layers[x.Part].Name
		chart.Lines = append(chart.Lines, yearly(name+", with the leak", x.WoodWith, percent), yearly(name+", undisturbed", x.WoodWithout, percent))
		chart.X = dayNames(len(x.WoodWith))
	}
	p.chart(chart)
}

// mostLines is how many faces a chart of the mold index shows.
const mostLines = 3

// indexChart draws the faces with the highest mold index.
func (p *page) indexChart(r *analysis.LeakResult, c *analysis.LeakCase, since string) {
	chart := Curve{
		Caption: fmt.Sprintf("Mold index of the worst faces, %s, best values; it does not cover faces wetted with liquid", caseName(c)),
		XLabel:  since, YLabel: "mold index", Every: labelEvery,
	}
	spots := slices.Clone(c.Course.Spots)
	slices.SortStableFunc(spots, func(a, b analysis.LeakSpotCourse) int {
		return compareDown(slices.Max(a.With), slices.Max(b.With))
	})
	tenths := func(v float64) (float64, string) { return v, fmt.Sprintf("%.1f", v) }
	for i, s := range spots {
		if i == mostLines || slices.Max(s.With) < 0.1 {
			break
		}
		name := faceWords(r.Variant, s.Part, s.Side)
		chart.Lines = append(chart.Lines, yearly(name+", with the leak", s.With, tenths), yearly(name+", undisturbed", s.Without, tenths))
		chart.X = dayNames(len(s.With))
		limit := Limit{s.Limit, fmt.Sprintf("limit %g", s.Limit)}
		if !slices.Contains(chart.Limits, limit) {
			chart.Limits = append(chart.Limits, limit)
		}
	}
	p.chart(chart)
}

func compareDown(a, b float64) int {
	switch {
	case a > b:
		return -1
	case a < b:
		return 1
	}
	return 0
}

// chart adds a curve that has lines.
func (p *page) chart(c Curve) {
	if len(c.Lines) > 0 {
		p.add(Block{Curve: &c})
	}
}

// hourlyNotes says which weather, how many runs and how well they closed.
func (p *page) hourlyNotes(h *analysis.HourlyResult, corners []string) {
	var items []Text
	if h.Weather != "" {
		items = append(items, say("Weather: "+h.Weather+"."))
	}
	for _, n := range h.Notes {
		items = append(items, say(capital(strings.TrimSuffix(n, "."))+"."))
	}
	if len(corners) > 0 {
		items = append(items, say("Ranges run over these corners: "+strings.Join(corners, "; ")+"."))
	}
	mass, heat := 0.0, 0.0
	for _, run := range h.Runs {
		mass, heat = max(mass, run.MassBalance), max(heat, run.HeatBalance)
	}
	if len(h.Runs) > 0 {
		items = append(items, say(fmt.Sprintf("%s; the books close to %.0e of the water and %.0e of the heat that flowed.",
			count(len(h.Runs), "undisturbed run"), mass, heat)))
	}
	p.list(items...)
}

// hourlyAssumptions lists what was assumed for hourly runs.
func (p *page) hourlyAssumptions(list []analysis.Assumption) {
	if len(list) == 0 {
		return
	}
	p.heading(2, "Assumed for the hours")
	var items []Text
	for _, a := range list {
		items = append(items, marked(capital(a.Text)+".", a.Basis.Evidence, p.basis(a.Basis)))
	}
	p.list(items...)
}

// hourly writes what the hourly model says of an assembly, layer by layer.
func (p *page) hourly(r *analysis.Result) {
	if r.Hourly == nil {
		return
	}
	p.heading(1, "Hour by hour")
	p.hourlyLayers(r, "Water of the layers and mold index, last year of the run",
		[]factColumn{{"Highest moisture", "moisture-highest"}, {"Mean moisture", "moisture-mean"}, {"Hours above 80 % and 41 °F", "damp-hours"}, {"Highest mold index", "mold-index"}})
	p.hourlyLayers(r, "Wood moisture at the wettest of both faces and the middle, last year of the run",
		[]factColumn{{"Highest", "wood-moisture-highest"}, {"Hours above 16 %", "wood-hours-above-16"}, {"above 20 %", "wood-hours-above-20"}, {"above 28 %", "wood-hours-above-28"}})
	p.hourlyChart(r)
	p.hourlyNotes(r.Hourly, cornersOf(r.Hourly))
}

// factColumn is a fact with a short head.
type factColumn struct{ head, fact string }

// hourlyLayers writes facts of the layers that have some of them.
func (p *page) hourlyLayers(r *analysis.Result, caption string, columns []factColumn) {
	t := Table{Caption: caption, Notes: tidy([]int{p.model("hourly-moisture"), p.model("hourly-mold")}), Heads: []string{"Layer"}}
	for _, c := range columns {
		t.Heads = append(t.Heads, c.head)
	}
	var mark kb.Evidence
	for i := range r.Assembly.Described.Layers {
		row := []Text{say(capital(r.Assembly.Described.Layers[i].Name.Value))}
		known := false
		for _, c := range columns {
			e := layerAcross(r, i, c.fact)
			words := "–"
			if e.Known {
				words, known, mark = p.factWords(p.Base.Fact(c.fact), e), true, mark.Weaker(e.Evidence)
			}
			row = append(row, say(words))
		}
		if known {
			t.Rows = append(t.Rows, row)
		}
	}
	if mark != kb.Read {
		t.Mark = string(mark)
	}
	p.table(t)
}

// cornersOf lists the corners of the runs in order.
func cornersOf(h *analysis.HourlyResult) []string {
	var list []string
	for _, run := range h.Runs {
		list = append(list, run.Corner)
	}
	return unique(list)
}

// hourlyChart draws the mold index of the worst faces over the last year.
func (p *page) hourlyChart(r *analysis.Result) {
	if r.Hourly.Detail == nil {
		return
	}
	chart := Curve{
		Caption: "Mold index of the worst faces over the last year, best values of the first choice of each doubt",
		XLabel:  "days after 1 October", YLabel: "mold index", Every: labelEvery,
	}
	spots := slices.Clone(r.Hourly.Detail.Spots)
	slices.SortStableFunc(spots, func(a, b analysis.SpotCourse) int {
		return compareDown(slices.Max(a.Index), slices.Max(b.Index))
	})
	for i, s := range spots {
		if i == mostLines || slices.Max(s.Index) < 0.1 {
			break
		}
		chart.Lines = append(chart.Lines, yearly(faceWords(r.Variants[0].Of, s.Part, s.Side), s.Index, func(v float64) (float64, string) {
			return v, fmt.Sprintf("%.1f", v)
		}))
		chart.X = dayNames(len(s.Index))
		limit := Limit{s.Limit, fmt.Sprintf("limit %g", s.Limit)}
		if !slices.Contains(chart.Limits, limit) {
			chart.Limits = append(chart.Limits, limit)
		}
	}
	p.chart(chart)
}

// verified says what hourly runs make of a swap.
func (p *page) verified(v *swap.Verified) {
	if v == nil {
		return
	}
	why := strings.Join(v.Because, "; ")
	switch v.Verdict {
	case kb.Yes:
		p.para(plain, say("Hour by hour it holds: neither mold nor wet wood passes a limit that it does not pass today.", p.model("hourly-mold")))
	case kb.Unknown:
		p.para(warning, say("Not verified hour by hour: "+why+"."))
	default:
		p.para(warning, say(capital(why)+" at some corner of the ranges.", p.model("hourly-mold")))
	}
	p.verifiedLeak(v)
}

// verifiedLeak says what a leak would do before and after.
func (p *page) verifiedLeak(v *swap.Verified) {
	if v.Verdict == kb.Unknown {
		return
	}
	if len(v.Leak) == 0 {
		p.para(plain, say("What a leak would do was not run: see relath leak."))
		return
	}
	var words []string
	for i, x := range v.Leak {
		what := "every layer is near the undisturbed wall"
		if x.Wood {
			what = "wood is below 20 %"
		}
		if i == 0 || v.Leak[i-1].Season != x.Season {
			what = "in " + x.Season + " " + what
		}
		words = append(words, fmt.Sprintf("%s %s, today %s", what, bestSpan(x.After), bestSpan(x.Before)))
	}
	p.para(plain, say("After a leak onto the sheathing, by best values, "+strings.Join(words, "; ")+".", p.model("hourly-leak")))
}
