package report

import (
	"bytes"
	"math"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/kb"
	"relath/kb/quantity"
)

// CompareXLSX gives a comparison as a workbook: the facts as numbers in one unit
// each, with differences that follow them, then the page and its notes.
func (m Maker) CompareXLSX(list []Beside) ([]byte, error) {
	d := m.Compare(list)
	b := workbook{title: d.Title, sheets: append([]sheet{m.compareSheet(d, namesOf(list), list)}, d.sheets()...)}
	var out bytes.Buffer
	err := b.write(&out)
	return out.Bytes(), err
}

// The columns of a comparison: fact, unit, then best, low, high and mark of each
// assembly, then the differences from the first.
const (
	compareFirst = 2
	compareEach  = 4
)

func (m Maker) compareSheet(d *Document, names []string, list []Beside) sheet {
	s := sheet{name: "Comparison", widths: []float64{44, 16}}
	s.line(looked(d.Title, lookTitle))
	s.sentences(d.Sub, lookSoft)
	s.sentences("Best values with their ranges; what the words and footnotes say stands on the sheets Page and Notes.", lookSoft)
	heads := []cell{looked("What", lookHead), looked("Unit", lookHead)}
	for _, n := range names {
		heads = append(heads, looked(n, lookHead), looked("low", lookHead), looked("high", lookHead), looked("mark", lookHead))
		s.widths = append(s.widths, 16, 10, 10, 10)
	}
	for _, n := range names[1:] {
		heads = append(heads, looked(n+" less "+names[0], lookHead))
		s.widths = append(s.widths, 18)
	}
	s.line(heads...)
	s.head = len(s.rows)
	for _, f := range m.Base.Facts {
		if f.Screen == "before-after" && anyKnown(list, f.ID) {
			s.line(m.compareCells(f, list, len(s.rows)+1)...)
		}
	}
	if slices.ContainsFunc(list, func(a Beside) bool { return a.Costs != nil }) {
		s.line(costCells(list, len(s.rows)+1)...)
	}
	return s
}

// costCells gives the row of what is bought: a number where every price is
// known, else the words of the page.
func costCells(list []Beside, row int) []cell {
	cells := []cell{textCell("Cost of what is new"), {}}
	for _, a := range list {
		each := make([]cell, compareEach)
		switch {
		case a.Costs == nil:
		case len(a.Costs.Total().Missing) > 0:
			each[0] = textCell(costWords(a.Costs, a.Costing))
		default:
			cells[1] = textCell(a.Costing.Currency)
			r := a.Costs.Total().Amount
			each[0], each[1], each[2] = moneyCell(r.Best), moneyCell(r.Low), moneyCell(r.High)
		}
		cells = append(cells, each...)
	}
	return append(cells, differences(cells, len(list), row)...)
}

// differences gives the cells that say how much each number differs from the
// first.
func differences(cells []cell, n, row int) []cell {
	var out []cell
	for i := 1; i < n; i++ {
		at := compareFirst + compareEach*i
		if !cells[at].numeric || !cells[compareFirst].numeric {
			out = append(out, cell{})
			continue
		}
		less := cells[at].number - cells[compareFirst].number
		l := lookOf(less)
		if cells[at].look == lookMoney {
			l = lookMoney
		}
		out = append(out, formulaCell(cellName(at, row)+"-"+cellName(compareFirst, row), less, l))
	}
	return out
}

// compareCells gives the row of a fact.
func (m Maker) compareCells(f *kb.Fact, list []Beside, row int) []cell {
	found := make([]analysis.Estimate, len(list))
	largest := 0.0
	for i, a := range list {
		if found[i] = across(a.Result, f.ID); found[i].Known {
			largest = max(largest, math.Abs(found[i].Range.Best))
		}
	}
	cells := []cell{textCell(capital(f.Title)), {}}
	_, unit := quantity.Display(largest, f.Dimension, m.Units)
	if f.Type == "quantity" {
		cells[1] = textCell(unit)
	}
	for _, e := range found {
		cells = append(cells, m.factCells(f, e, unit)...)
	}
	return append(cells, differences(cells, len(list), row)...)
}

// factCells gives best, low, high and mark of a fact; words stand where the best
// value would.
func (m Maker) factCells(f *kb.Fact, e analysis.Estimate, unit string) []cell {
	cells := make([]cell, compareEach)
	if mark := orRead(e.Evidence); e.Known && mark != kb.Read {
		cells[3] = textCell(string(mark))
	}
	if !e.Known || f.Type != "quantity" {
		p := &page{Maker: m}
		cells[0] = textCell(p.factWords(f, e))
		return cells
	}
	for i, v := range []float64{e.Range.Best, e.Range.Low, e.Range.High} {
		shown, err := quantity.ToUnit(v, unit, f.Dimension)
		if err != nil { // a number without a unit
			shown = v
		}
		cells[i] = numberCell(shown)
	}
	return cells
}

// anyKnown says whether a fact is known of one of the assemblies.
func anyKnown(list []Beside, id string) bool {
	for _, a := range list {
		if across(a.Result, id).Known {
			return true
		}
	}
	return false
}

// safeText keeps a table program from reading a text as a formula: an apostrophe
// before it, as such programs write it themselves.
func safeText(text string) string {
	if strings.ContainsAny(firstOf(text), "=+-@\t\r") {
		return "'" + text
	}
	return text
}

// firstOf is the first letter of a text, or nothing.
func firstOf(text string) string {
	for _, r := range text {
		return string(r)
	}
	return ""
}
