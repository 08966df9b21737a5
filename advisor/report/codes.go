package report

import (
	"strings"

	"relath/advisor/rule"
	"relath/kb"
)

// codes lists the code tables that apply under a heading of a level, with the row
// that is met or that depends; what a missed one lacks stands with its finding.
func (p *page) codes(level int, list []rule.TableAnswer) {
	var rows [][]Text
	for _, a := range list {
		words, notes, mark := byRows(p, a)
		name := a.Table.Title
		if a.Table.Section != "" {
			name += " (" + a.Table.Section + ")"
		}
		rows = append(rows, []Text{say(name, p.bases(a.Table.Basis)...), say(string(a.Verdict)), marked(words, mark, notes...)})
	}
	if len(rows) == 0 {
		return
	}
	p.heading(level, "What the code tables say")
	p.table(Table{Heads: []string{"Table", "Met", "By what"}, Rows: rows})
}

// byRows words the rows that hold or may hold.
func byRows(p *page, a rule.TableAnswer) (words string, notes []int, mark kb.Evidence) {
	switch {
	case a.Verdict == kb.No:
		return "no way holds; what each lacks stands above", nil, ""
	case len(a.Rows) == 0:
		return "not judged; what is missing stands above", nil, ""
	}
	var parts []string
	for _, r := range a.Rows {
		text := r.Row
		if r.Verdict != kb.Yes {
			text += ": " + lacks(r)
		}
		parts = append(parts, text)
		notes = append(notes, p.basis(r.Basis))
		mark = mark.Weaker(r.Basis.Evidence)
	}
	return strings.Join(parts, "; "), notes, mark
}

// TableAnswerData is what a code table says of an assembly.
type TableAnswerData struct {
	Table   string     `json:"table"`
	Title   string     `json:"title"`
	Section string     `json:"section,omitempty"`
	Verdict kb.Verdict `json:"verdict"`
	Rows    []RowData  `json:"rows,omitempty"`
}

func tableAnswersData(list []rule.TableAnswer) []TableAnswerData {
	var out []TableAnswerData
	for _, a := range list {
		out = append(out, TableAnswerData{Table: a.Table.ID, Title: a.Table.Title, Section: a.Table.Section, Verdict: a.Verdict, Rows: rowsData(a.Rows)})
	}
	return out
}
