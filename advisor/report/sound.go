package report

import (
	"fmt"
	"strings"
)

// BaseSound makes the page of a base without problems.
func (m Maker) BaseSound() *Document {
	p := m.page("The base is sound", "")
	p.para(lead, say("No problem found."))
	p.holdings()
	p.overlaid()
	return p.finish()
}

// holdings counts the entries of the base.
func (p *page) holdings() {
	b := p.Base
	var rows [][]Text
	for _, x := range []struct {
		name string
		n    int
	}{
		{"Materials and coatings", len(b.Materials)},
		{"Measured systems", len(b.Systems)},
		{"Recipes", len(b.Recipes)},
		{"Rules", len(b.Rules)},
		{"Code tables", len(b.Tables)},
		{"Tables to be read", len(b.Lookups)},
		{"Cautions", len(b.Cautions)},
		{"Places", len(b.Places)},
		{"Starters", len(b.Starters)},
		{"Facts", len(b.Facts)},
		{"Sources", len(b.Sources)},
	} {
		rows = append(rows, []Text{say(x.name), say(fmt.Sprint(x.n))})
	}
	p.table(Table{Caption: "What the base holds", Heads: []string{"Entries", "Number"}, Right: []int{1}, Rows: rows})
}

// overlaid lists what a folder laid over the base changed.
func (p *page) overlaid() {
	p.listed = true
	var rows [][]Text
	for _, o := range p.Base.Overlaid {
		word := "added"
		if o.Replaced {
			word = "replaced"
		}
		rows = append(rows, []Text{say(o.Sort), say(o.ID), say(word), say(o.File)})
	}
	p.table(Table{Caption: "What was laid over the base", Heads: []string{"Sort", "Id", "What", "File"}, Rows: rows})
}

// laidOver says at the end of a page that entries of the user's own were in
// force, and which.
func (p *page) laidOver() {
	if p.listed || p.Base == nil || len(p.Base.Overlaid) == 0 {
		return
	}
	const named = 12
	var words []string
	for _, o := range p.Base.Overlaid {
		word := o.Sort + " " + o.ID
		if o.Replaced {
			word += " (replaced)"
		}
		words = append(words, word)
	}
	if more := len(words) - named; more > 0 {
		words = append(words[:named], fmt.Sprintf("%d more", more))
	}
	p.para(quiet, say("Laid over the base from your own folder: "+strings.Join(words, ", ")+"."))
}
