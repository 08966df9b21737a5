package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/house"
	"relath/kb"
	"relath/kb/quantity"
)

// HouseAnalysis makes the page of a house: the whole first, then its
// assemblies.
func (m Maker) HouseAnalysis(h *assembly.Resolved, whole *house.Result, list []Analysis) *Document {
	p := m.page(h.House.House, m.whereHouse(h))
	p.house(whole)
	p.toMeasure(list)
	for _, a := range list {
		p.begin(max(2, len(list)), a.Result.Assembly)
		p.analysis(a)
	}
	return p.finish()
}

// HouseWhole makes the page of a house without its assemblies.
func (m Maker) HouseWhole(h *assembly.Resolved, whole *house.Result) *Document {
	p := m.page(h.House.House, m.whereHouse(h))
	p.house(whole)
	return p.finish()
}

// whereHouse says place, code and year of a house on one line.
func (m Maker) whereHouse(h *assembly.Resolved) string {
	if len(h.Assemblies) > 0 {
		return strings.TrimSuffix(m.where(h.Assemblies[0]), " · "+string(h.Assemblies[0].State))
	}
	if h.Place != nil {
		return h.Place.Name + ", " + h.Place.Region
	}
	return ""
}

// house writes the whole house.
func (p *page) house(r *house.Result) {
	p.heading(1, "The whole house")
	p.deeper = 1
	p.para(lead, say(p.houseInShort(r)))
	for _, w := range r.Warnings {
		p.para(warning, say(capital(stop(w))))
	}
	p.standings(r.Order)
	p.houseQuestions(r.Questions)
	p.holdingsOf("Adhesive", "Glue", r.Glue, quantity.Mass, "")
	p.holdingsOf("Mold food toward cavities", "Faces", r.CavityFood, quantity.Area, foodNote)
	p.holdingsOf("Mold food toward rooms", "Faces", r.RoomFood, quantity.Area, foodNote+" A coated face counts by its coat, and a garage as a room.")
	p.regulated(r.Regulated)
	p.rooms(r)
	p.corners(r.Corners)
	p.coldSurfaces(r.Cold, r.Weather)
	p.movements(r)
	p.houseCautions(r.Cautions)
	p.houseAssumptions(r.Assumptions)
	p.deeper = 0
}

// houseInShort is the house in a few sentences.
func (p *page) houseInShort(r *house.Result) string {
	var parts []string
	if len(r.Order) > 1 && weight(r.Order[0]) > 0 {
		parts = append(parts, fmt.Sprintf("Begin with the %s.", r.Order[0].Assembly))
	}
	if r.Glue.Sum.Known && len(r.Glue.Items) > 0 {
		most := byAmount(r.Glue)[0]
		parts = append(parts, fmt.Sprintf("What is described holds %s of adhesive, the most of it in: %s.",
			p.value(r.Glue.Sum.Range, quantity.Mass), lower(holder(most.Where))))
	}
	if len(r.Questions) > 0 {
		parts = append(parts, capital(number(len(r.Questions)))+" code "+plural(len(r.Questions), "question is", "questions are")+" open.")
	}
	wet := 0
	for i := range r.Cold {
		if r.Cold[i].Hours.Known && r.Cold[i].Hours.Range.Best > 0 {
			wet++
		}
	}
	if wet > 0 {
		parts = append(parts, fmt.Sprintf("%s of %s %s at some time of the year.",
			capital(number(wet)), count(len(r.Cold), "cold surface"), plural(wet, "sweats", "sweat")))
	}
	if len(parts) == 0 {
		return "Nothing stands out in the house as a whole."
	}
	return strings.Join(parts, " ")
}

// weight counts what was found about an assembly.
func weight(s house.Standing) int {
	n := 0
	for _, c := range s.Counts {
		if c.Level != "info" {
			n += c.Count
		}
	}
	return n
}

// standings lists the assemblies, the worst first.
func (p *page) standings(list []house.Standing) {
	if len(list) < 2 {
		return
	}
	var rows [][]Text
	for i, s := range list {
		var sure, open []string
		for _, c := range s.Counts {
			if c.Count == 0 {
				continue
			}
			text := fmt.Sprintf("%d %s", c.Count, levelWords(c.Level))
			switch c.Verdict {
			case kb.No:
				sure = append(sure, text)
			case kb.Depends:
				open = append(open, text+", depends")
			default:
				open = append(open, text+", not known")
			}
		}
		rows = append(rows, []Text{say(fmt.Sprint(i + 1)), say(capital(s.Assembly)), say(orNone(sure)), say(orNone(open))})
	}
	p.heading(1, "Worst first")
	p.table(Table{Heads: []string{"", "Assembly", "Surely", "Turns on something"}, Rows: rows})
}

func orNone(words []string) string {
	if len(words) == 0 {
		return "nothing"
	}
	return strings.Join(words, "; ")
}

// houseQuestions lists what the code leaves open.
func (p *page) houseQuestions(list []house.Question) {
	if len(list) == 0 {
		return
	}
	p.heading(1, "Open code questions")
	var rows [][]Text
	for _, q := range list {
		f := q.Finding
		rows = append(rows, []Text{say(capital(q.Assembly)), say(f.Title), say(string(f.Verdict)), say(levelWords(f.Level)), say(capital(cmp.Or(f.Settle, f.Say)))})
	}
	p.table(Table{Heads: []string{"Assembly", "Question", "Accepted", "Weight", "What settles it"}, Rows: rows})
}

// foodNote says what counts as mold food.
const foodNote = "Faces of the two sensitive classes of the mold index model, solid wood and paper among them. They feed mold only where they stay damp."

// byAmount lists the shares of an amount, the largest first.
func byAmount(h house.Holdings) []house.Holding {
	list := slices.Clone(h.Items)
	slices.SortStableFunc(list, func(a, b house.Holding) int { return cmp.Compare(b.Amount.Range.Best, a.Amount.Range.Best) })
	return list
}

// holder names where a share of an amount lies.
func holder(w house.Where) string { return placeWords(w.Assembly, w.Layer, w.Room, w.Part) }

// holdingsOf writes a total and where it lies, the largest share first.
func (p *page) holdingsOf(title, head string, h house.Holdings, d quantity.Dimension, note string) {
	if len(h.Items) == 0 {
		return
	}
	p.heading(1, title)
	sum := p.estimated(h.Sum, d)
	sum.Notes = nil // its shares below carry them
	rows := [][]Text{{say("Sum"), say(""), sum}}
	for _, i := range byAmount(h) {
		rows = append(rows, []Text{say(holder(i.Where)), say(i.Material.Name), p.estimated(i.Amount, d)})
	}
	p.table(Table{Heads: []string{"Where", "Material", head}, Rows: rows})
	p.para(quiet, say(note))
	for _, w := range h.Sum.Warnings {
		p.para(quiet, say(capital(stop(w))))
	}
}

// placeWords names a layer of an assembly or a part of a room.
func placeWords(of, layer, room, part string) string {
	if of == "" {
		of, layer = room, part
	}
	if layer == "" {
		return capital(of)
	}
	return capital(of) + ", " + layer
}

// captioned writes a table whose cells share their footnotes: they hang on its
// caption.
func (p *page) captioned(t Table) {
	for _, row := range t.Rows {
		for i := range row {
			t.Notes = append(t.Notes, row[i].Notes...)
			row[i].Notes = nil
		}
	}
	t.Notes = tidy(t.Notes)
	p.table(t)
}

// estimated words an estimate with its mark, or why it is not known.
func (p *page) estimated(e analysis.Estimate, d quantity.Dimension) Text {
	if !e.Known {
		if e.Missing == "" {
			return say("not known")
		}
		return say("not known: " + e.Missing)
	}
	words := p.value(e.Range, d)
	if e.Range.High == 0 && e.Range.Low == 0 && d == quantity.Mass {
		words = "none"
	}
	return marked(words, orRead(e.Evidence), p.inputSources(e.Inputs)...)
}

// regulated writes the composite wood under the formaldehyde rule.
func (p *page) regulated(r house.Regulated) {
	if len(r.Items) == 0 {
		return
	}
	p.heading(1, "Regulated composite wood")
	var sums []string
	if r.Area.Known && r.Area.Range.High > 0 {
		sums = append(sums, p.value(r.Area.Range, quantity.Area)+" of boards")
	}
	if r.Length > 0 {
		sums = append(sums, p.value(quantity.Exact(r.Length), quantity.Length)+" of trim")
	}
	if r.Pieces > 0 {
		sums = append(sums, count(r.Pieces, "piece"))
	}
	if len(sums) > 0 {
		p.para(plain, marked("In all "+join(sums, "and")+".", orRead(r.Area.Evidence)))
	}
	var rows [][]Text
	for _, i := range r.Items {
		amount := p.estimated(i.Area, quantity.Area)
		switch {
		case i.Pieces > 0:
			amount = say(count(i.Pieces, "piece"))
		case i.Length > 0:
			amount = say(p.value(quantity.Exact(i.Length), quantity.Length))
		}
		if i.Perhaps {
			amount.Words += ", in some of the ways it may be built"
		}
		rows = append(rows, []Text{say(holder(i.Where)), say(i.Material.Name), amount, say(i.Emission)})
	}
	p.table(Table{Heads: []string{"Where", "Material", "How much", "Emission class"}, Rows: rows})
}

// houseCautions writes each caution once for the house, with all that calls for
// it.
func (p *page) houseCautions(list []house.Called) {
	if len(list) == 0 {
		return
	}
	p.heading(1, "Cautions in the house")
	for _, c := range list {
		t := p.cautionWords(c.Caution)
		p.first(c.Caution.ID)
		word := "Called for by: "
		if !c.Certain {
			word = "It may apply: "
		}
		t.Words += " (" + word + strings.Join(c.For, "; ") + ".)"
		p.para(caution, t)
	}
}

// houseAssumptions lists the defaults behind the house.
func (p *page) houseAssumptions(list []analysis.Assumption) {
	if len(list) == 0 {
		return
	}
	p.heading(1, "What was assumed for the house")
	var items []Text
	for _, a := range list {
		items = append(items, marked(capital(stop(a.Text)), orRead(a.Basis.Evidence), p.basis(a.Basis)))
	}
	p.list(items...)
}
