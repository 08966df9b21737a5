package report

import (
	"slices"
	"strings"
)

// columnGap stands between two columns, narrowGap where the table is tight.
const (
	columnGap = "  "
	narrowGap = " "
)

// narrowest is the width below which a column is not squeezed.
const narrowest = 8

// table writes a table with wrapped cells. Where the columns cannot be made
// narrow enough each row becomes a short list of its own.
func (t *textFace) table(b *Table) {
	if caption := b.title().flat(); caption != "" {
		for _, l := range wrap(caption, Width) {
			t.line(l)
		}
		t.gap()
	}
	cells := b.cells()
	widths, gap := layout(b.Heads, cells)
	if widths == nil {
		t.stacked(b.Heads, cells)
		return
	}
	right := make([]bool, len(widths))
	for _, c := range b.Right {
		right[c] = true
	}
	if !b.headless() {
		t.row(b.Heads, widths, right, gap)
		rules := make([]string, len(widths))
		for i, w := range widths {
			rules[i] = strings.Repeat("-", w)
		}
		t.line(strings.Join(rules, gap))
	}
	tall := slices.ContainsFunc(cells, func(row []string) bool { return height(row, widths) > 1 })
	for i, row := range cells {
		if tall && i > 0 {
			t.gap()
		}
		t.row(row, widths, right, gap)
	}
}

// headless says whether a table has no heads: a list of named texts.
func (b *Table) headless() bool {
	return !slices.ContainsFunc(b.Heads, func(h string) bool { return h != "" })
}

// title is the caption with its mark and footnotes.
func (b *Table) title() Text { return Text{Words: b.Caption, Mark: b.Mark, Notes: b.Notes} }

// cells gives the cells as single lines of text.
func (b *Table) cells() [][]string {
	cells := make([][]string, len(b.Rows))
	for i, row := range b.Rows {
		cells[i] = make([]string, len(b.Heads))
		for k := range row {
			cells[i][k] = row[k].flat()
		}
	}
	return cells
}

// layout finds widths and gaps that fit: words whole and gaps wide where that
// can be, else narrow gaps, else long words broken. Nil when nothing fits.
func layout(heads []string, cells [][]string) (widths []int, gap string) {
	for _, whole := range []int{Width, 2 * narrowest} {
		for _, gap := range []string{columnGap, narrowGap} {
			if widths, ok := columns(heads, cells, Width-len(gap)*(len(heads)-1), whole); ok {
				return widths, gap
			}
		}
	}
	return nil, ""
}

// columns divides the room among columns: each gets what its longest cell
// needs, and the widest give way until all fit. Words up to the length of whole
// are not broken.
func columns(heads []string, cells [][]string, room, whole int) (widths []int, ok bool) {
	widths, least := make([]int, len(heads)), make([]int, len(heads))
	need := func(c int, s string) {
		widths[c] = max(widths[c], wide(s))
		for _, word := range strings.Fields(s) {
			least[c] = max(least[c], min(wide(word), whole))
		}
	}
	for c, h := range heads {
		need(c, h)
		for _, row := range cells {
			need(c, row[c])
		}
	}
	for sum(widths) > room {
		at := -1
		for c := range widths {
			if widths[c] > max(least[c], narrowest) && (at < 0 || widths[c] > widths[at]) {
				at = c
			}
		}
		if at < 0 {
			return nil, false
		}
		widths[at]--
	}
	return widths, true
}

func sum(list []int) int {
	total := 0
	for _, v := range list {
		total += v
	}
	return total
}

// height is the number of lines of a row.
func height(row []string, widths []int) int {
	most := 1
	for c, cell := range row {
		most = max(most, len(wrap(cell, widths[c])))
	}
	return most
}

// row writes the lines of one row.
func (t *textFace) row(row []string, widths []int, right []bool, gap string) {
	for i := range height(row, widths) {
		parts := make([]string, len(row))
		for c, cell := range row {
			text := ""
			if lines := wrap(cell, widths[c]); i < len(lines) {
				text = lines[i]
			}
			parts[c] = pad(text, widths[c], right[c])
		}
		t.line(strings.Join(parts, gap))
	}
}

// pad fills a cell up to its width.
func pad(s string, width int, right bool) string {
	blanks := strings.Repeat(" ", max(0, width-wide(s)))
	if right {
		return blanks + s
	}
	return s + blanks
}

// stacked writes every row as lines of "Head: cell".
func (t *textFace) stacked(heads []string, cells [][]string) {
	for i, row := range cells {
		if i > 0 {
			t.gap()
		}
		lead := "- "
		for c, cell := range row {
			if cell != "" {
				t.hanging(lead, heads[c]+": "+cell)
				lead = "  "
			}
		}
	}
}

// table gives the numbers behind a curve.
func (c *Curve) table() *Table {
	t := &Table{Caption: c.Caption + " (" + c.YLabel + ")", Heads: []string{c.XLabel}}
	for _, l := range c.Limits {
		t.Caption += "; " + l.Label
	}
	for i, l := range c.Lines {
		t.Heads = append(t.Heads, l.Label)
		t.Right = append(t.Right, i+1)
	}
	for i, x := range c.X {
		if i%max(1, c.Every) != 0 {
			continue
		}
		row := []Text{say(x)}
		for _, l := range c.Lines {
			row = append(row, say(l.Points[i].Shown))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
