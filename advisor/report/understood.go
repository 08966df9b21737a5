package report

import (
	"fmt"
	"strings"

	"relath/advisor/assembly"
	"relath/kb"
)

// Understood makes the page of a description that has no problem: what was
// understood, what is left open, which defaults were taken.
func (m Maker) Understood(h *assembly.Resolved) *Document {
	p := m.page(h.House.House, "")
	place := "no place"
	if h.Place != nil {
		place = h.Place.Name + ", " + h.Place.Region
	}
	p.para(lead, say(fmt.Sprintf("No problem found. %s in %s, zone %s, %s.",
		capital(count(len(h.Assemblies), "assembly")), place, orWord(h.Zone, "not known"), orWord(h.Edition, "adopted code not given"))))
	t := Table{Heads: []string{"Assembly", "Kind", "Between", "State", "Layers", "Combinations"}, Right: []int{4, 5}}
	var open []Text
	for _, a := range h.Assemblies {
		t.Rows = append(t.Rows, []Text{
			say(a.Name), say(kindName(a.Kind)), say(string(a.Between[0]) + " and " + string(a.Between[1])), say(string(a.State)),
			say(fmt.Sprint(len(a.Variants[0].Layers))), say(fmt.Sprint(len(a.Variants))),
		})
		for i := range a.Doubts {
			d := &a.Doubts[i]
			open = append(open, say(capital(a.Name)+", "+d.Where+": "+p.choicesWords(d)+"."))
		}
	}
	p.table(t)
	if len(open) > 0 {
		p.heading(1, "What is left open")
		p.list(open...)
	}
	p.taken(h, h.Assemblies...)
	if len(h.Defaults) > 0 {
		p.heading(1, "What was assumed")
		p.list(p.defaults(h)...)
	}
	if n := len(h.Finishes); n > 0 {
		p.para(plain, say(capital(count(n, "finish"))+" and their materials are known."))
	}
	return p.finish()
}

// defaults words the values that the description left to the program.
func (p *page) defaults(h *assembly.Resolved) []Text {
	var items []Text
	for _, d := range h.Defaults {
		text := capital(strings.ReplaceAll(d.Where, " / ", ", ")) + ": " + d.What + "."
		if a := p.Base.Assumption(d.From); a != nil {
			items = append(items, marked(text, a.Evidence, p.basis(a.Basis)))
			continue
		}
		items = append(items, marked(text, kb.Assumed))
	}
	return items
}

// UnderstoodAssembly is one assembly of a description without problems.
type UnderstoodAssembly struct {
	Name         string   `json:"name"`
	Kind         string   `json:"kind"`
	Between      []string `json:"between"`
	State        string   `json:"state"`
	Layers       []string `json:"layers"`
	Doubts       []string `json:"doubts,omitempty"`
	Combinations int      `json:"combinations"`
}

// UnderstoodData lists what was understood.
func UnderstoodData(h *assembly.Resolved) []UnderstoodAssembly {
	out := make([]UnderstoodAssembly, len(h.Assemblies))
	for i, a := range h.Assemblies {
		u := UnderstoodAssembly{Name: a.Name, Kind: string(a.Kind), Between: sides(a), State: string(a.State), Combinations: len(a.Variants)}
		for k := range a.Described.Layers {
			u.Layers = append(u.Layers, a.Described.Layers[k].Name.Value)
		}
		for _, d := range a.Doubts {
			u.Doubts = append(u.Doubts, d.Where+": "+join(d.Choices, "or"))
		}
		out[i] = u
	}
	return out
}

// Starters makes the list of starters.
func (m Maker) Starters() *Document {
	p := m.page("Starters", "typical assemblies of an era to begin from")
	t := Table{Heads: []string{"Id", "What it is", "Built"}}
	for _, s := range m.Base.Starters {
		t.Rows = append(t.Rows, []Text{say(s.ID), say(s.Title, p.bases(s.Basis)...), say(orWord(eraWords(s.Era), "any time"))})
	}
	p.table(t)
	p.para(plain, say("Begin with one: relath new --starter ID -o house.yaml"))
	return p.finish()
}

// StarterData lists the starters.
func StarterData(base *kb.Base) []map[string]any {
	out := make([]map[string]any, len(base.Starters))
	for i, s := range base.Starters {
		out[i] = map[string]any{"id": s.ID, "title": s.Title, "about": s.About, "confirm": s.Confirm, "from": s.Era.From, "to": s.Era.To}
	}
	return out
}

// StarterFile gives the description file of a starter, with what to confirm on
// site as comments before it.
func StarterFile(s *kb.Starter) string {
	var b strings.Builder
	comment := func(lead, text string) {
		indent := strings.Repeat(" ", len(lead))
		for i, l := range wrap(text, Width-len(lead)-2) {
			if i > 0 {
				lead = indent
			}
			b.WriteString("# " + lead + l + "\n")
		}
	}
	comment("", s.Title+".")
	comment("", s.About)
	if len(s.Confirm) > 0 {
		comment("", "Confirm on site:")
	}
	for _, c := range s.Confirm {
		comment("- ", c)
	}
	b.WriteString(strings.TrimRight(s.House, "\n") + "\n")
	return b.String()
}

// Entries makes the list of all that can be explained.
func (m Maker) Entries() *Document {
	p := m.page("What can be explained", "relath explain ID")
	sort := ""
	var names []string
	flush := func() {
		if len(names) > 0 {
			p.heading(1, capital(sort))
			p.para(plain, say(strings.Join(names, ", ")))
		}
		names = nil
	}
	for _, e := range m.Explained() {
		if e[1] != sort {
			flush()
			sort = e[1]
		}
		names = append(names, e[0])
	}
	flush()
	return p.finish()
}
