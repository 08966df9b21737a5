package report

import (
	"slices"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb/quantity"
)

// LayerPage is one layer of an analyzed assembly by itself.
type LayerPage struct {
	Layer int    // index of the described layer
	Name  string // as described
	Made  string // what it is made of, with its doubts
	Coats string
	Gist  []string  // what matters about it, in short sentences
	Dries *Document // how much water could leave it, by season
	Page  *Document // its other numbers, with their sources
}

// LayerPages gives the layers of an analyzed assembly in their order.
func (m Maker) LayerPages(r *analysis.Result) []LayerPage {
	var list []LayerPage
	for _, part := range partsOf(r) {
		l := LayerPage{Layer: part.Layer, Name: part.Name, Made: join(choicesOf(r, part), "or"), Coats: coatRuns(part)}
		l.Gist, l.Dries, l.Page = m.gist(r, part), m.layerDries(r, part), m.layerPage(r, part)
		list = append(list, l)
	}
	return list
}

// InShort is the answer about an analyzed assembly in a few sentences.
func (m Maker) InShort(a Analysis) string { return m.page("", "").inShort(a) }

// Where says place, code and year of an assembly on one line.
func (m Maker) Where(a *assembly.Assembly) string { return m.where(a) }

// Findings makes the part of the page of an assembly that says what stands out.
func (m Maker) Findings(a Analysis) *Document {
	p := m.page("What stands out", "")
	p.warnings(a.Result)
	p.findings(a.Findings)
	p.codes(2, a.Codes)
	return p.finish()
}

// gist says what matters about a layer: whether it chokes a way, what mold finds
// in it, its glue, whether it falls below a dew point.
func (m Maker) gist(r *analysis.Result, part *assembly.Part) []string {
	fact := func(id string) analysis.Estimate { return layerAcross(r, part.Layer, id) }
	var list []string
	if e := fact("permeance"); e.Known && !part.Cavity {
		text := "Lets vapor through: " + quantity.FormatRange(e.Range, quantity.Permeance, m.Units) + " at 50 % humidity"
		if class := fact("retarder-class"); class.Known {
			text += "; code class: " + join(class.Words, "or")
		}
		list = append(list, text+".")
	}
	if e := fact("choke"); e.Known {
		for i, way := range []string{"outward", "inward"} {
			if share := fact("share-" + way); share.Known && slices.Contains(e.Words, way) {
				list = append(list, "The choke layer "+toward(r.Assembly.Between[i])+": "+quantity.FormatRange(share.Range, quantity.Ratio, m.Units)+" of the vapor resistance on that way.")
			}
		}
	}
	if e := fact("food"); e.Known && e.Flag {
		text := "Mold finds food in it"
		if class := fact("mold-class"); class.Known && len(class.Words) > 0 {
			text += ": " + join(class.Words, "or")
		}
		list = append(list, text+".")
	}
	if e := fact("layer-adhesive"); e.Known && e.Range.High > 0 {
		list = append(list, "Holds glue: "+quantity.FormatRange(e.Range, quantity.AreaDensity, m.Units)+".")
	}
	if e := fact("condensate"); e.Known && e.Range.High > 0 {
		list = append(list, "Water collects at its faces within the year: up to "+quantity.Format(e.Range.High, quantity.AreaDensity, m.Units)+".")
	}
	return list
}

// layerFacts lists the facts that the page of a layer shows.
func layerFacts() []string {
	return []string{
		"permeance", "permeance-dry", "retarder-class", "responsive", "layer-resistance", "share-outward", "share-inward",
		"condensate", "below-dew-point-months", "cooled-below-outdoor-dew-point", "food", "mold-class-outer", "mold-class-inner",
		"faces-cavity", "faces-room", "layer-adhesive", "breakdown",
		"moisture-highest", "moisture-mean", "damp-hours", "mold-index", "wood-moisture-highest", "wood-hours-above-20",
	}
}

// layerDries makes the page of how much water could leave a layer.
func (m Maker) layerDries(r *analysis.Result, part *assembly.Part) *Document {
	p := m.page(capital(part.Name), "")
	p.soaked(r, part)
	return p.finish()
}

// layerPage makes the page of what is known about a layer.
func (m Maker) layerPage(r *analysis.Result, part *assembly.Part) *Document {
	p := m.page(capital(part.Name), "")
	var rows [][]Text
	for _, id := range layerFacts() {
		f, e := p.Base.Fact(id), layerAcross(r, part.Layer, id)
		if f == nil || !e.Known && e.Missing == "" {
			continue
		}
		if part.Cavity && (id == "retarder-class" || id == "responsive") {
			continue
		}
		text := p.fact(f, e)
		if e.Known {
			text.Notes = tidy(append(slices.Clone(text.Notes), append(p.inputSources(e.Inputs), p.model(f.Model))...))
		}
		rows = append(rows, []Text{say(capital(f.Title), p.layerNotes(id, r, part)...), text})
	}
	p.table(Table{Caption: "What is known about it", Heads: []string{"What", "Value"}, Rows: rows})
	return p.finish()
}

// layerNotes hangs what was assumed about a layer on the first of its rows.
func (p *page) layerNotes(id string, r *analysis.Result, part *assembly.Part) []int {
	if id != layerFacts()[0] {
		return nil
	}
	return p.layerAssumptions(r, part)
}

// soaked writes how much water could leave a layer to both sides by season.
func (p *page) soaked(r *analysis.Result, part *assembly.Part) {
	v := r.Variants[0]
	at := slices.IndexFunc(v.Detail.Layers, func(s analysis.Soaked) bool { return v.Layers[s.Part].Part.Layer == part.Layer })
	if at < 0 || !v.Detail.Layers[at].Known {
		return
	}
	_, unit := quantity.Display(0, quantity.VaporFlow, p.Units)
	var rows [][]Text
	for _, row := range p.dryingRows(v.Detail.Layers[at]) {
		rows = append(rows, []Text{say(row.Label), say(row.Left.Shown), say(row.Right.Shown)})
	}
	p.table(Table{
		Caption: "Wet here, how much water could leave, in " + unit, Notes: tidy([]int{p.model("steady-drying")}),
		Heads: []string{"Season", capital(toward(r.Assembly.Between[0])), capital(toward(r.Assembly.Between[1]))}, Right: []int{1, 2}, Rows: rows,
	})
}
