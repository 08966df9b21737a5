package report

import (
	"strings"

	"relath/kb"
)

// explainLookup prints a table to be read, each row with its mark.
func (p *page) explainLookup(id string) bool {
	l := p.Base.Lookup(id)
	if l == nil {
		return false
	}
	p.sort("Table to be read", l.Title)
	p.para(lead, say(strings.TrimSpace(l.About), p.bases(l.Basis)...))
	if len(l.Editions) > 0 {
		p.para(quiet, say("Of or compared with "+strings.Join(l.Editions, ", ")+". "+l.Section))
	} else if l.Section != "" {
		p.para(quiet, say(l.Section))
	}
	p.table(lookupTable(l))
	for _, n := range l.Notes {
		p.para(plain, say(n))
	}
	p.namedCautions(l.Cautions)
	return true
}

// lookupTable shows the rows. Marks of their own stand on the last cell of each
// row, in place of their column; else the whole table has one.
func lookupTable(l *kb.Lookup) Table {
	marks := l.Column("evidence")
	t := Table{Caption: l.Title}
	for i, c := range l.Columns {
		if i == marks {
			continue
		}
		head := capital(c.Title)
		if c.Unit != "" {
			head += ", " + c.Unit
		}
		t.Heads = append(t.Heads, head)
	}
	for _, row := range l.Find() {
		var cells []Text
		for i, cell := range row {
			if i != marks {
				cells = append(cells, say(cell))
			}
		}
		if last := &cells[len(cells)-1]; marks >= 0 {
			*last = marked(last.Words, l.Mark(row))
		}
		t.Rows = append(t.Rows, cells)
	}
	if marks < 0 && len(l.Rows) > 0 && l.Mark(nil) != kb.Read {
		t.Mark = string(l.Mark(nil))
	}
	return t
}
