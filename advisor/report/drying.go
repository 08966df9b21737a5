package report

import (
	"fmt"
	"math"
	"strconv"

	"relath/advisor/analysis"
	"relath/kb/quantity"
)

// drying writes how much water could leave from each layer to both sides by
// season, as two-sided bars on a logarithmic scale.
func (p *page) drying(r *analysis.Result) {
	v := r.Variants[0]
	var groups []BarGroup
	for _, s := range v.Detail.Layers {
		if s.Known {
			groups = append(groups, BarGroup{Name: capital(v.Layers[s.Part].Part.Name), Rows: p.dryingRows(s)})
		}
	}
	if len(groups) == 0 {
		if e := v.Facts["drying-capacity"]; !e.Known {
			p.para(warning, say("How much water could leave is not known: "+e.Missing+".", p.model("steady-drying")))
		}
		return
	}
	p.dryingBars("How much water could leave a soaked layer", toward(r.Assembly.Between[0]), toward(r.Assembly.Between[1]), groups)
	first := v.Detail.Layers[0]
	for _, text := range append(seasonWords(first), p.perSheet()) {
		p.para(quiet, say(text, p.model("steady-drying")))
	}
	p.list(p.landings(v)...)
}

// dryingBars adds groups of bars of flows on one scale.
func (p *page) dryingBars(title, left, right string, groups []BarGroup) {
	_, unit := quantity.Display(0, quantity.VaporFlow, p.Units)
	b := Bars{Caption: title, Left: left, Right: right, Unit: unit, From: 0.01, To: scaleEnd(groups), Groups: groups}
	b.Key = fmt.Sprintf("Mean flow in %s that reaches the air of the side. Each bar is on a log scale that begins at %g and ends at %g: every step is ten times the one before. "+
		"Full up to the low end of the range, lighter up to the best value, lightest up to the high end. A value below zero is water that the air of that side brings in.", unit, b.From, b.To)
	p.add(Block{Bars: &b})
}

// perSheet puts the unit of the bars into what leaves a sheet of 4 by 8 ft in
// a month.
func (p *page) perSheet() string {
	const density, fluidOunces = 1000, 128 // kg/m³, in a gallon
	sheet, err := quantity.Parse("32 ft2", quantity.Area)
	if err != nil {
		return ""
	}
	month, err := quantity.Parse("1 month", quantity.Duration)
	if err != nil {
		return ""
	}
	one, unit := quantity.Display(1, quantity.VaporFlow, p.Units)
	water := sheet * month / one // kg
	gallons, err := quantity.ToUnit(water/density, "gal", quantity.Volume)
	if err != nil {
		return ""
	}
	return fmt.Sprintf("For a feel: 1 %s is about %.1f fluid ounces (%.0f g) a month from a 4 by 8 ft sheet.", unit, gallons*fluidOunces, 1000*water)
}

// seasonWords says which seasons do not occur.
func seasonWords(s analysis.Soaked) []string {
	var words []string
	if !s.Outward.HeatingKnown {
		words = append(words, "No month here has a mean outdoor temperature below 50 °F: there is no heating season.")
	}
	if !s.Outward.CoolingKnown {
		words = append(words, "No month here has a mean outdoor temperature above 65 °F: there is no cooling season.")
	}
	return words
}

// dryingRows gives the rows of one layer.
func (p *page) dryingRows(s analysis.Soaked) []BarRow {
	row := func(label string, out, in quantity.Range) BarRow {
		return BarRow{Label: label, Left: p.bar(out), Right: p.bar(in)}
	}
	var rows []BarRow
	if s.Outward.HeatingKnown {
		rows = append(rows, row("heating", s.Outward.Heating, s.Inward.Heating))
	}
	if s.Outward.CoolingKnown {
		rows = append(rows, row("cooling", s.Outward.Cooling, s.Inward.Cooling))
	}
	return append(rows, row("year", s.Outward.Year, s.Inward.Year))
}

// bar makes a bar of a flow; a negative flow is water that the air of the side
// brings.
func (p *page) bar(r quantity.Range) Bar {
	show := func(v float64) float64 {
		x, _ := quantity.Display(v, quantity.VaporFlow, p.Units)
		return x
	}
	b := Bar{Low: show(r.Low), Best: show(r.Best), High: show(r.High)}
	b.Shown, b.None = compact(b.Low, b.Best, b.High), b.High <= 0
	return b
}

// compact writes a range with two significant digits and at most two decimals,
// since the scale begins at a hundredth. A range of a tenth of its value or less
// is written as that value.
func compact(low, best, high float64) string {
	text := func(v float64) string {
		if math.Abs(v) < 0.005 {
			return "0"
		}
		decimals := 1 - int(math.Floor(math.Log10(math.Abs(v))))
		if decimals < 0 {
			step := math.Pow(10, float64(-decimals))
			v = math.Round(v/step) * step
		}
		return strconv.FormatFloat(v, 'f', min(max(decimals, 0), 2), 64)
	}
	a, b, c := text(low), text(best), text(high)
	if high-low <= 0.1*math.Abs(best) || a == b && b == c {
		return b
	}
	return fmt.Sprintf("%s (%s to %s)", b, a, c)
}

// scaleEnd gives the power of ten at which the scale ends.
func scaleEnd(groups []BarGroup) float64 {
	most := 1.0
	for _, g := range groups {
		for _, r := range g.Rows {
			most = max(most, r.Left.High, r.Right.High)
		}
	}
	return math.Pow(10, math.Ceil(math.Log10(most)-1e-9))
}

// landings says where water that leaves a layer condenses again on its way.
func (p *page) landings(v *analysis.Variant) []Text {
	var items []Text
	for _, way := range []struct {
		word  string
		lands func(analysis.Soaked) int
	}{
		{"outward", func(s analysis.Soaked) int { return s.LandsOutward }},
		{"inward", func(s analysis.Soaked) int { return s.LandsInward }},
	} {
		from := make(map[int][]string)
		for _, s := range v.Detail.Layers {
			if at := way.lands(s); s.Known && at >= 0 && at < len(v.Layers) && at != s.Part {
				from[at] = append(from[at], v.Layers[s.Part].Part.Name)
			}
		}
		for at, l := range v.Layers {
			if names := from[at]; len(names) > 0 {
				items = append(items, say(fmt.Sprintf("Part of what leaves %s %s condenses again at %s.", join(names, "or"), way.word, l.Part.Name)))
			}
		}
	}
	return items
}
