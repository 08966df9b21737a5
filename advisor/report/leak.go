package report

import (
	"fmt"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// Leak makes the page of leaks into assemblies of one house.
func (m Maker) Leak(list []*analysis.LeakResult) *Document {
	p := m.housePage(len(list), func(i int) *assembly.Assembly { return list[i].Assembly })
	if len(list) == 1 {
		p.doc.Title = "A leak into the " + title(list[0].Assembly)
	}
	if len(list) > 1 {
		names := make([]string, len(list))
		for i, r := range list {
			names[i] = capital(r.Assembly.Name)
		}
		p.leakComparison(names, list)
	}
	for _, r := range list {
		p.begin(len(list), r.Assembly)
		p.leak(r)
	}
	return p.finish()
}

// LeakPage makes the page of a leak into one assembly, without its name.
func (m Maker) LeakPage(r *analysis.LeakResult) *Document {
	p := m.page("A leak into the "+title(r.Assembly), m.where(r.Assembly))
	p.leak(r)
	return p.finish()
}

// LeakBeside makes the page that sets the same leak in several assemblies side
// by side, by the names that they are given.
func (m Maker) LeakBeside(names []string, list []*analysis.LeakResult) *Document {
	p := m.page("The same leak side by side", "")
	p.leakComparison(names, list)
	return p.finish()
}

// leakComparison sets walls side by side, one table for each wetting.
func (p *page) leakComparison(names []string, list []*analysis.LeakResult) {
	cases := 0
	for _, r := range list {
		cases = max(cases, len(r.Cases))
	}
	for i := range cases {
		t := Table{
			Caption: "The same leak in each", Mark: string(kb.Assumed),
			Notes: tidy([]int{p.model("hourly-leak"), p.model("hourly-mold")}), Heads: []string{"What"},
		}
		rows := p.comparedRows()
		for _, row := range rows {
			t.Rows = append(t.Rows, []Text{say(row.words)})
		}
		for n, r := range list {
			t.Heads = append(t.Heads, names[n])
			for k, row := range rows {
				words := "no answer"
				if r.Missing == "" {
					t.Caption = "The same leak in each, " + caseName(&r.Cases[i])
					words = row.of(&r.Cases[i])
				}
				t.Rows[k] = append(t.Rows[k], say(words))
			}
		}
		p.table(t)
	}
}

// comparedRow is one line of the comparison.
type comparedRow struct {
	words string
	of    func(*analysis.LeakCase) string
}

func (p *page) comparedRows() []comparedRow {
	area := func(of func(*analysis.LeakCase) quantity.Range) func(*analysis.LeakCase) string {
		return func(c *analysis.LeakCase) string { return p.leakWater(of(c)) }
	}
	index := func(of func(analysis.LeakSpot) (quantity.Range, bool)) func(*analysis.LeakCase) string {
		return func(c *analysis.LeakCase) string { return worstIndex(c, of) }
	}
	return []comparedRow{
		{"Taken up", area(func(c *analysis.LeakCase) quantity.Range { return c.Kept })},
		{"Wood below 20 %", func(c *analysis.LeakCase) string { return spanWords(c.Wood) }},
		{"Every layer near the undisturbed wall", func(c *analysis.LeakCase) string { return spanWords(c.Dry) }},
		{"Left after a year", area(func(c *analysis.LeakCase) quantity.Range { return c.Residual })},
		{"Mold index, undisturbed", index(func(s analysis.LeakSpot) (quantity.Range, bool) { return s.Without, true })},
		{"Mold index with the leak, at wetted faces", index(func(s analysis.LeakSpot) (quantity.Range, bool) { return s.With, s.Wetted })},
		{"Mold index with the leak, at other faces", index(func(s analysis.LeakSpot) (quantity.Range, bool) { return s.With, !s.Wetted })},
		{"Left to the outside", area(func(c *analysis.LeakCase) quantity.Range { return c.Outside })},
		{"Left to the room", area(func(c *analysis.LeakCase) quantity.Range { return c.Inside })},
		{"Ran off", area(func(c *analysis.LeakCase) quantity.Range { return c.Drained })},
	}
}

// worstIndex writes the highest mold index over some faces.
func worstIndex(c *analysis.LeakCase, of func(analysis.LeakSpot) (quantity.Range, bool)) string {
	var most quantity.Range
	found := false
	for _, s := range c.Spots {
		if x, counts := of(s); counts {
			most = quantity.Range{Low: max(most.Low, x.Low), Best: max(most.Best, x.Best), High: max(most.High, x.High)}
			found = true
		}
	}
	if !found {
		return "no such face"
	}
	return indexWords(most)
}

// leakWater writes an amount of water; less than 10 mg/m² is none.
func (p *page) leakWater(r quantity.Range) string {
	const none = 1e-5 // kg/m²
	round := func(v float64) float64 {
		if v > -none && v < none {
			return 0
		}
		return v
	}
	return p.value(quantity.Range{Low: round(r.Low), Best: round(r.Best), High: round(r.High)}, quantity.AreaDensity)
}

// leak writes one leak.
func (p *page) leak(r *analysis.LeakResult) {
	if r.Missing != "" {
		p.para(lead, say("The hourly model has no answer: "+r.Missing+"."))
		p.waterFirst()
		return
	}
	p.para(lead, p.leakInShort(r))
	p.waterFirst()
	for _, w := range r.Warnings {
		p.para(warning, say(capital(w)+"."))
	}
	p.heading(1, "How long it takes")
	p.leakTimes(r)
	p.leakChoices(r)
	p.heading(1, "Where the water went")
	p.leakPaths(r)
	p.heading(1, "Mold index with and without the leak")
	p.leakIndex(r)
	p.heading(1, "Water and wood moisture of the layers")
	p.leakSections(r)
	p.leakLayers(r)
	for i := range r.Cases {
		p.leakCharts(r, &r.Cases[i])
	}
	p.heading(1, "What stands behind it")
	p.hourlyNotes(&r.Hourly, r.Corners)
	p.hourlyAssumptions(r.Assumptions)
}

// waterFirst is what is said of anything wetted with liquid.
func (p *page) waterFirst() {
	words := "Stop the source first, then dry within 24 to 48 hours; wet paper-faced board and cellulose usually go out."
	var notes []int
	if c := p.Base.Caution("wet-within-48-hours"); c != nil {
		words, notes = strings.TrimSpace(c.Say), p.bases(c.Basis)
	}
	words += " A low index is no promise of any number of days without mold."
	p.para(caution, say(words, append(notes, p.model("hourly-mold"))...))
	p.para(warning, say("A leak is a spot and this is one dimension: water that spreads sideways dries sooner, and a place that reads dry may only have passed its water on.", p.model("hourly-leak")))
}

// leakInShort is the answer in a few sentences.
func (p *page) leakInShort(r *analysis.LeakResult) Text {
	var parts []string
	if r.Share > 0 {
		parts = append(parts, fmt.Sprintf("%s of the rain on the wall goes onto %s for a year.",
			quantity.Format(r.Share, quantity.Ratio, p.Units), p.leakPlace(r)))
	} else {
		parts = append(parts, fmt.Sprintf("%s is poured onto %s over %g h.",
			p.both(r.Amount, quantity.AreaDensity), p.leakPlace(r), r.Over))
	}
	for i := range r.Cases {
		parts = append(parts, p.caseInShort(&r.Cases[i]))
	}
	return marked(strings.Join(parts, " "), kb.Assumed)
}

// leakPlace names the place that is wetted.
func (p *page) leakPlace(r *analysis.LeakResult) string {
	name := r.Variant.Layers[r.Wetted].Name
	switch r.Face {
	case analysis.LeakOuter:
		return "the outer face of the " + name
	case analysis.LeakInner:
		return "the inner face of the " + name
	}
	return "the whole depth of the " + name
}

// caseInShort says what came of one wetting.
func (p *page) caseInShort(c *analysis.LeakCase) string {
	if c.Season == "rain" {
		return fmt.Sprintf("At most %s is in the wall beyond what it holds undisturbed, and %s at the end of the year.",
			p.leakWater(c.Peak), p.leakWater(c.Residual))
	}
	text := fmt.Sprintf("On %s it takes up %s;", leakDate(c.On), p.value(c.Kept, quantity.AreaDensity))
	if c.Wood.Applies {
		text += fmt.Sprintf(" wood is below 20 %%: %s;", spanWords(c.Wood))
	}
	return text + fmt.Sprintf(" every layer is near the undisturbed wall: %s.", spanWords(c.Dry))
}

// leakDate writes a day as 15 January.
func leakDate(d analysis.LeakDay) string {
	names := []string{
		"January", "February", "March", "April", "May", "June", "July", "August",
		"September", "October", "November", "December",
	}
	return fmt.Sprintf("%d %s", d.Day, names[d.Month-1])
}

// spanWords writes a time that may not come within the year.
func spanWords(s analysis.Span) string {
	days := daysShown
	switch {
	case !s.Applies:
		return "nothing to wait for"
	case !s.Ever:
		return "not within a year"
	case !s.Best:
		return fmt.Sprintf("not within a year with the best values, after %s days at the best corner", days(s.Time.Low))
	case !s.Within:
		return fmt.Sprintf("after %s days (%s to more than a year)", days(s.Time.Best), days(s.Time.Low))
	case days(s.Time.Low) == days(s.Time.High):
		return fmt.Sprintf("after %s days", days(s.Time.Best))
	}
	return fmt.Sprintf("after %s days (%s to %s)", days(s.Time.Best), days(s.Time.Low), days(s.Time.High))
}

// daysShown writes a time as days.
func daysShown(seconds float64) string {
	const day = 86400.0
	if n := seconds / day; n < 10 {
		return fmt.Sprintf("%.1f", n)
	}
	return fmt.Sprintf("%.0f", seconds/day)
}

// caseName heads the column of a case.
func caseName(c *analysis.LeakCase) string {
	if c.Season == "rain" {
		return "rain of a year"
	}
	return leakDate(c.On)
}

// leakTimes writes amounts and times.
func (p *page) leakTimes(r *analysis.LeakResult) {
	t := Table{
		Caption: "Times count from the beginning of the wetting and must hold for 7 days",
		Mark:    string(kb.Assumed), Notes: tidy([]int{p.model("hourly-leak")}), Heads: []string{"What"},
	}
	row := func(words string, value func(*analysis.LeakCase) string) {
		cells := []Text{say(words)}
		for i := range r.Cases {
			cells = append(cells, say(value(&r.Cases[i])))
		}
		t.Rows = append(t.Rows, cells)
	}
	for i := range r.Cases {
		t.Heads = append(t.Heads, capital(caseName(&r.Cases[i])))
	}
	amount := func(of func(*analysis.LeakCase) quantity.Range) func(*analysis.LeakCase) string {
		return func(c *analysis.LeakCase) string { return p.leakWater(of(c)) }
	}
	row("Water offered", amount(func(c *analysis.LeakCase) quantity.Range { return c.Supplied }))
	row("Water taken up", amount(func(c *analysis.LeakCase) quantity.Range { return c.Kept }))
	row("Wood below 20 % moisture", func(c *analysis.LeakCase) string { return spanWords(c.Wood) })
	row("Every layer within 5 % of the water taken up of the undisturbed wall", func(c *analysis.LeakCase) string { return spanWords(c.Dry) })
	row("Most water beyond the undisturbed wall", amount(func(c *analysis.LeakCase) quantity.Range { return c.Peak }))
	row("Left after a year", amount(func(c *analysis.LeakCase) quantity.Range { return c.Residual }))
	p.table(t)
}

// leakPaths writes where the water went within a year.
func (p *page) leakPaths(r *analysis.LeakResult) {
	t := Table{
		Caption: "Within a year after the wetting; negative where the wet wall took in less from that side",
		Heads:   []string{"Where to"}, Mark: string(kb.Assumed),
	}
	for i := range r.Cases {
		t.Heads = append(t.Heads, capital(caseName(&r.Cases[i])))
	}
	for _, path := range []struct {
		words string
		of    func(*analysis.LeakCase) quantity.Range
	}{
		{"To the outside, as vapor", func(c *analysis.LeakCase) quantity.Range { return c.Outside }},
		{"To the room, as vapor", func(c *analysis.LeakCase) quantity.Range { return c.Inside }},
		{"Still in the layers", func(c *analysis.LeakCase) quantity.Range { return c.Stored }},
		{"Run off as liquid, beyond free saturation", func(c *analysis.LeakCase) quantity.Range { return c.Drained }},
	} {
		row := []Text{say(path.words)}
		for i := range r.Cases {
			row = append(row, say(p.leakWater(path.of(&r.Cases[i]))))
		}
		t.Rows = append(t.Rows, row)
	}
	p.table(t)
}

// faceWords names a face of a part.
func faceWords(v *assembly.Variant, part, side int) string {
	name := v.Layers[part].Name
	if side < 0 {
		return name + ", outer face"
	}
	return name + ", inner face"
}

// leakIndex writes the mold index of the examined faces.
func (p *page) leakIndex(r *analysis.LeakResult) {
	if len(r.Cases) == 0 || len(r.Cases[0].Spots) == 0 {
		p.para(plain, say("No face in this assembly is food for mold or touches any."))
		return
	}
	t := Table{
		Caption: "Highest index in the year after the wetting, of a face that was clean when the run began; 1 is seen under the microscope, 3 with the eye",
		Mark:    string(kb.Assumed), Notes: tidy([]int{p.model("hourly-mold")}),
		Heads: []string{"Face", "Limit", "Without"},
	}
	for i := range r.Cases {
		t.Heads = append(t.Heads, capital(caseName(&r.Cases[i])))
	}
	wetted := p.note("warning", "This face was wetted with liquid, which the mold index does not cover.")
	for k, s := range r.Cases[0].Spots {
		face := say(capital(faceWords(r.Variant, s.Part, s.Side)))
		if s.Wetted {
			face = say(face.Words, wetted)
		}
		row := []Text{face, say(fmt.Sprintf("%g", s.Limit)), say(indexWords(s.Without))}
		for i := range r.Cases {
			row = append(row, say(indexWords(r.Cases[i].Spots[k].With)))
		}
		t.Rows = append(t.Rows, row)
	}
	p.table(t)
}

// indexWords writes a mold index to a tenth.
func indexWords(r quantity.Range) string {
	one := func(v float64) string { return fmt.Sprintf("%.1f", v) }
	if one(r.Low) == one(r.High) {
		return one(r.Best)
	}
	return fmt.Sprintf("%s (%s to %s)", one(r.Best), one(r.Low), one(r.High))
}

// leakLayers writes the water of the layers.
func (p *page) leakLayers(r *analysis.LeakResult) {
	t := Table{Mark: string(kb.Assumed), Heads: []string{"Layer"}}
	for i := range r.Cases {
		name := capital(caseName(&r.Cases[i]))
		t.Heads = append(t.Heads, name+": most added", name+": highest wood moisture")
	}
	for part, l := range r.Variant.Layers {
		if !r.Cases[0].Parts[part].Storage {
			continue
		}
		row := []Text{say(capital(l.Name))}
		for i := range r.Cases {
			x := r.Cases[i].Parts[part]
			moisture := "not of wood"
			if x.Wood {
				moisture = p.value(x.Moisture, quantity.Ratio)
			}
			row = append(row, say(p.leakWater(x.Peak)), say(moisture))
		}
		t.Rows = append(t.Rows, row)
	}
	p.table(t)
}
