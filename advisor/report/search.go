package report

import (
	"fmt"
	"strings"

	"relath/kb"
	"relath/kb/quantity"
)

// Found is what a search brought, in the words of this package.
type Found struct {
	Asked    string // as asked
	Total    int    // hits before the limit
	Hits     []FoundEntry
	Failed   int            // left out: a filter, duty or adhesive does not hold
	NoData   []FoundMissing // left out: the base lacks what is asked about
	Readings []string       // what was read for what, what was ignored
}

// FoundEntry is one hit.
type FoundEntry struct {
	Kind     string         `json:"kind"`
	ID       string         `json:"id"`
	Name     string         `json:"name"`
	Summary  string         `json:"summary"`
	Checks   []FoundCheck   `json:"checks,omitempty"`
	Adhesive *FoundAdhesive `json:"adhesive,omitempty"`
	Duties   []FoundDuty    `json:"duties,omitempty"`
	Because  []string       `json:"because,omitempty"`
}

// FoundAdhesive says how a hit meets what was asked of its adhesive.
type FoundAdhesive struct {
	Words    string      `json:"words"` // of the base: none, or its type
	Asked    string      `json:"asked"` // none, some, or words
	Outcome  string      `json:"outcome"`
	Basis    kb.Basis    `json:"-"`
	Evidence kb.Evidence `json:"evidence,omitempty"`
}

// FoundCheck is a value of a hit that was asked about.
type FoundCheck struct {
	Property string      `json:"property"`
	Asked    string      `json:"asked,omitempty"` // the filter as written; empty where it only sorts
	Outcome  string      `json:"outcome,omitempty"`
	Working  kb.Working  `json:"-"`
	Number   *NumberData `json:"number,omitempty"`
	Evidence kb.Evidence `json:"evidence,omitempty"`
}

// FoundDuty is a duty of a hit that was asked about, and on which terms.
type FoundDuty struct {
	Duty  string `json:"duty"`
	Terms string `json:"terms,omitempty"`
}

// FoundMissing counts what is left out because the base lacks a value.
type FoundMissing struct {
	Of  string   `json:"of"`
	IDs []string `json:"ids"`
}

// Search makes the page of a search.
func (m Maker) Search(f Found) *Document {
	p := m.page("Search", f.Asked)
	text := fmt.Sprintf("%s found", capital(orNo(f.Total, "entry", "entries")))
	if n := len(f.Hits); n < f.Total {
		text += fmt.Sprintf(", the first %d are shown", n)
	}
	p.para(lead, say(text+"."))
	for _, r := range f.Readings {
		p.para(warning, say(r))
	}
	p.hits(f.Hits)
	p.leftOut(f)
	return p.finish()
}

func orNo(n int, one, many string) string {
	if n == 0 {
		return "no " + one
	}
	return fmt.Sprintf("%d %s", n, plural(n, one, many))
}

// hits writes what was found: a table with the values where values were asked
// about, else with what each is.
func (p *page) hits(list []FoundEntry) {
	if len(list) == 0 {
		return
	}
	t := Table{Heads: []string{"Id", "Name"}}
	valued := len(list[0].Checks) > 0 || len(list[0].Duties) > 0 || list[0].Adhesive != nil
	if valued {
		t.Heads = append(t.Heads, "What was asked about")
	} else {
		t.Heads = append(t.Heads, "What it is")
	}
	for _, h := range list {
		name := h.Name
		if h.Kind != "material" {
			name += " (" + h.Kind + ")"
		}
		cell := say(h.Summary)
		if valued {
			cell = p.checked(h)
		}
		t.Rows = append(t.Rows, []Text{say(h.ID), say(name), cell})
	}
	p.table(t)
}

// checked words the values and duties of a hit.
func (p *page) checked(h FoundEntry) Text {
	var parts []string
	var notes []int
	var mark kb.Evidence
	for _, c := range h.Checks {
		prop := p.Base.Property(c.Property)
		if prop == nil {
			continue
		}
		text := prop.Title + " " + p.value(c.Working.SI, prop.Dimension)
		if c.Outcome != "" {
			text += ", " + c.Outcome + " " + c.Asked
		}
		parts, mark = append(parts, text), mark.Weaker(c.Working.Evidence)
		if c.Working.Value != nil {
			notes = append(notes, p.basis(c.Working.Value.Basis))
		}
	}
	if g := h.Adhesive; g != nil {
		parts, mark = append(parts, g.text()), mark.Weaker(g.Evidence)
		notes = append(notes, p.basis(g.Basis))
	}
	for _, d := range h.Duties {
		text := "takes the duty: " + lower(p.dutyTitle(d.Duty))
		if d.Terms != "" {
			text += " (" + d.Terms + ")"
		}
		parts = append(parts, text)
	}
	return marked(capital(strings.Join(parts, "; ")), orRead(mark), notes...)
}

// text says whether the adhesive is what was asked for, and what it is.
func (g *FoundAdhesive) text() string {
	text := g.Outcome + " with adhesive"
	if g.Asked == "none" {
		text = g.Outcome + " without adhesive"
	}
	if g.Words != g.Asked {
		text += " (" + g.Words + ")"
	}
	return text
}

// leftOut says what was left out and why.
func (p *page) leftOut(f Found) {
	var items []Text
	if f.Failed > 0 {
		items = append(items, say(fmt.Sprintf("%s left out because what was asked does not hold.", capital(orNo(f.Failed, "material was", "materials were")))))
	}
	for _, m := range f.NoData {
		items = append(items, say(fmt.Sprintf("%s left out because the base does not know the %s: %s.",
			capital(orNo(len(m.IDs), "material was", "materials were")), p.propertyTitle(m.Of), strings.Join(m.IDs, ", "))))
	}
	p.list(items...)
}

// NewFoundCheck makes a check of a working value, with its number in SI.
func NewFoundCheck(base *kb.Base, property, asked, outcome string, w kb.Working) FoundCheck {
	var dim quantity.Dimension
	if prop := base.Property(property); prop != nil {
		dim = prop.Dimension
	}
	n := number3(w.SI, dim)
	return FoundCheck{Property: property, Asked: asked, Outcome: outcome, Working: w, Number: &n, Evidence: w.Evidence}
}

// FoundData is a search for those who script.
type FoundData struct {
	Total    int            `json:"total"`
	Hits     []FoundEntry   `json:"hits"`
	Failed   int            `json:"failed"`
	NoData   []FoundMissing `json:"no-data"`
	Readings []string       `json:"readings"`
}

// SearchData gives what a search brought.
func SearchData(f Found) FoundData {
	return FoundData{Total: f.Total, Hits: f.Hits, Failed: f.Failed, NoData: f.NoData, Readings: f.Readings}
}
