package kb

import (
	"fmt"
	"slices"

	"relath/kb/quantity"
	"relath/kb/strict"
)

// Lookup is one entry of lookups/: a table of a code, a standard or a guide to
// be read, cell by cell as printed. No rule evaluates it; tables that decide
// something are [Table].
type Lookup struct {
	Pos      strict.Pos      `yaml:",pos"`
	ID       string          `yaml:"id,required"`
	Title    string          `yaml:"title,required"`
	Section  string          `yaml:"section"`
	Subject  string          `yaml:"subject,required"`
	Editions []string        `yaml:"editions"` // that it was compared with; empty where it is no code
	About    string          `yaml:"about,required"`
	Columns  []Column        `yaml:"columns,required"`
	Rows     [][]strict.Text `yaml:"rows,required"` // one cell for each column; an empty cell says nothing
	Notes    []string        `yaml:"notes"`
	Basis    []Basis         `yaml:"basis,required"`
	Cautions []string        `yaml:"cautions"`
}

// Column is one column of a lookup table. Where it has a dimension its cells
// are quantities: numbers in its unit, or written with their own.
type Column struct {
	Pos       strict.Pos         `yaml:",pos"`
	ID        string             `yaml:"column,required"`
	Title     string             `yaml:"title,required"`
	Unit      string             `yaml:"unit"`
	Dimension quantity.Dimension `yaml:"dimension"`
	Words     []string           `yaml:"words"` // what a cell may say instead of a quantity
}

// evidenceColumn is the column that gives the mark of each row; without it the
// marks of the basis hold for every row.
const evidenceColumn = "evidence"

// codeSubjects are what code tables are about.
func codeSubjects() []string {
	return []string{"retarder", "energy", "air-leakage", "roof", "crawl", "slab", "bracing", "subfloor", "fire"}
}

// subjects are what lookup tables are about.
func subjects() []string {
	return append(codeSubjects(), "structure", "ventilation", "drying", "humidity", "plaster", "natural-building", "specification")
}

// Find gives the rows whose first cells are these words, in the order of the
// table. An empty word stands for any cell; without words all rows are given.
func (l *Lookup) Find(words ...string) [][]string {
	var found [][]string
	for _, row := range l.Rows {
		if matches(row, words) {
			found = append(found, cells(row))
		}
	}
	return found
}

func matches(row []strict.Text, words []string) bool {
	if len(words) > len(row) {
		return false
	}
	for i, w := range words {
		if w != "" && w != row[i].Value {
			return false
		}
	}
	return true
}

func cells(row []strict.Text) []string {
	list := make([]string, len(row))
	for i, c := range row {
		list[i] = c.Value
	}
	return list
}

// Column gives the place of a column by its id, or -1.
func (l *Lookup) Column(id string) int {
	return slices.IndexFunc(l.Columns, func(c Column) bool { return c.ID == id })
}

// Mark gives the mark of evidence of a row that Find gave: its own, or the
// weakest of the table's basis.
func (l *Lookup) Mark(row []string) Evidence {
	if i := l.Column(evidenceColumn); i >= 0 && i < len(row) && row[i] != "" {
		return Evidence(row[i])
	}
	mark := Evidence("")
	for _, b := range l.Basis {
		mark = mark.Weaker(b.Evidence)
	}
	return mark
}

// checkLookup holds every row to the columns.
func (l *loader) checkLookup(t *Lookup) {
	l.word(t.Pos, "subject", t.Subject, subjects()...)
	for i := range t.Columns {
		c := &t.Columns[i]
		if t.Column(c.ID) != i {
			l.report(c.Pos, fmt.Sprintf("column %q is given twice", c.ID), "")
		}
		if c.Unit != "" && c.Dimension == "" {
			l.report(c.Pos, fmt.Sprintf("column %q has a unit and no dimension", c.ID), "")
		}
	}
	for _, row := range t.Rows {
		l.checkCells(t, row)
	}
	l.references(t.Pos, "caution", t.Cautions)
	l.bases(t.Pos, t.Basis)
}

func (l *loader) checkCells(t *Lookup, row []strict.Text) {
	if len(row) != len(t.Columns) {
		pos := t.Pos
		if len(row) > 0 {
			pos = row[0].Pos
		}
		l.report(pos, fmt.Sprintf("%d cells for %d columns", len(row), len(t.Columns)), "an empty cell is written \"\"")
		return
	}
	for i, cell := range row {
		c := &t.Columns[i]
		switch {
		case c.ID == evidenceColumn:
			l.word(cell.Pos, evidenceColumn, cell.Value, Evidence("").Allowed()...)
		case c.Dimension != "" && cell.Value != "" && !slices.Contains(c.Words, cell.Value):
			l.span(c.quantity(cell), c.Dimension)
		}
	}
}

// quantity writes a cell with the unit of its column.
func (c *Column) quantity(cell strict.Text) strict.Text {
	if _, err := quantity.ParseRange(cell.Value, quantity.Number); c.Unit == "" || err != nil {
		return cell
	}
	return strict.Text{Value: cell.Value + " " + c.Unit, Pos: cell.Pos}
}
