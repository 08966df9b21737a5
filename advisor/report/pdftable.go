package report

import (
	"math"
	"slices"
)

// The measures of a table on paper, mm.
const (
	columnSpace = 4.0  // between two columns
	wideRow     = 1.0  // above and below the lines of a row
	denseRow    = 0.6  // the same in a dense document
	leastColumn = 12.0 // below which a column is not squeezed
	wholeWord   = 34.0 // words up to this width are not broken
	shortWord   = 24.0 // nor up to this where room is short
	tableSpace  = 1.5  // above a table
	byHand      = 26.0 // least width of a column that is filled in by hand
)

// rowPad is the space above and below the lines of a row, mm.
func (f *pdfFace) rowPad() float64 {
	if f.dense {
		return denseRow
	}
	return wideRow
}

// grid is a table laid out for a page.
type grid struct {
	widths []float64
	right  []bool

	headless bool
	heads    [][][]piece // by column, lines
	rows     [][][][]piece
}

// table sets a table; its heads stand on every page. Where the columns cannot
// be made narrow enough each row becomes a short list of its own.
func (f *pdfFace) table(t *Table) {
	g := f.grid(t)
	f.keep(f.tableLeast(t))
	if f.y > marginTop {
		f.y += tableSpace
	}
	f.caption(t)
	if g == nil {
		f.stacked(t)
		return
	}
	f.heads(g)
	for i := range g.rows {
		if last := len(g.rows) - 1; i > 0 && i == last-1 {
			f.keepRows(g, f.tall(g.rows[i])+f.tall(g.rows[last]))
		}
		f.row(g, g.rows[i])
	}
	f.y += 3.5
}

func (f *pdfFace) caption(t *Table) {
	text := f.pieces(t.title(), captionStyle())
	if len(text) == 0 {
		return
	}
	f.flow(f.left, f.wide, text)
	f.y += 0.8
}

// keepRows keeps the last two rows of a table together, so that none stands alone
// on the next page.
func (f *pdfFace) keepRows(g *grid, height float64) {
	if height > f.room() && height <= f.full()/3 {
		f.turn()
		f.heads(g)
	}
}

// tableLeast is the height of a small table, of which no part goes to the next
// page, or of caption, heads and first two rows.
func (f *pdfFace) tableLeast(t *Table) float64 {
	h := tableSpace + 1
	for _, l := range f.broken(f.pieces(t.title(), captionStyle()), f.wide) {
		h += leading(l)
	}
	g := f.grid(t)
	if g == nil {
		return h + 3*smallStyle().leading()
	}
	if !g.headless {
		h += f.tall(g.heads)
	}
	least, all := 0.0, 0.0
	for i := range g.rows {
		all += f.tall(g.rows[i])
		if i < 2 {
			least = all
		}
	}
	whole := f.full() / 4
	if f.dense {
		whole = f.full() / 8
	}
	if len(t.Fill) > 0 {
		whole = f.full() / 2 // a form is not parted
	}
	if all <= whole {
		return h + all
	}
	return h + min(least, f.full()/3)
}

// grid gives the layout of a table, made once: what stands above it wants to know
// its height too.
func (f *pdfFace) grid(t *Table) *grid {
	g, ok := f.grids[t]
	if !ok {
		g = f.layout(t)
		f.grids[t] = g
	}
	return g
}

// layout lays a table out: words whole where that fits, else long words broken.
// Nil when the columns do not fit or their heads would fill the page.
func (f *pdfFace) layout(t *Table) *grid {
	heads, rows := f.cells(t)
	if len(heads) == 0 {
		return nil
	}
	room := f.wide - columnSpace*float64(len(heads)-1)
	want, least := f.needs(heads, rows, wholeWord)
	if sumOf(least) > room {
		want, least = f.needs(heads, rows, shortWord)
	}
	for _, c := range t.Fill {
		if c >= 0 && c < len(want) && sumOf(least)-least[c]+byHand <= room {
			want[c], least[c] = max(want[c], byHand), max(least[c], byHand)
		}
	}
	if sumOf(least) > room {
		return nil
	}
	g := f.lowest(heads, rows, want, least, room)
	g.headless = t.headless()
	f.fill(g, t.Fill)
	g.right = make([]bool, len(heads))
	for _, c := range t.Right {
		if c >= 0 && c < len(heads) {
			g.right[c] = true
		}
	}
	if f.tall(g.heads) > f.full()/3 {
		return nil
	}
	return g
}

// fill gives the room that is left to the columns that are filled in by hand.
func (f *pdfFace) fill(g *grid, columns []int) {
	left := f.wide - g.whole()
	for _, c := range columns {
		if left > 0 && c >= 0 && c < len(g.widths) {
			g.widths[c] += left / float64(len(columns))
		}
	}
}

// cells gives heads and cells as pieces, all rows as long as the longest.
func (f *pdfFace) cells(t *Table) (heads [][]piece, rows [][][]piece) {
	n := len(t.Heads)
	for _, row := range t.Rows {
		n = max(n, len(row))
	}
	heads = make([][]piece, n)
	for i, h := range t.Heads {
		heads[i] = f.words(h, headStyle())
	}
	for _, row := range t.Rows {
		cells := make([][]piece, n)
		for i := range row {
			cells[i] = f.pieces(row[i], smallStyle())
		}
		rows = append(rows, cells)
	}
	return heads, rows
}

// lowest divides the room among the columns in several ways and takes the one
// that needs the least height.
func (f *pdfFace) lowest(heads [][]piece, rows [][][]piece, want, least []float64, room float64) *grid {
	var best *grid
	lowest := math.Inf(1)
	for _, power := range []float64{0, 0.25, 0.5, 0.75} {
		g := &grid{widths: shares(want, least, room, power)}
		g.heads = f.laid(heads, g.widths)
		height := f.tall(g.heads)
		for _, row := range rows {
			lines := f.laid(row, g.widths)
			g.rows, height = append(g.rows, lines), height+f.tall(lines)
		}
		if height < lowest {
			best, lowest = g, height
		}
		if sumOf(want) <= room {
			break // every column has what it wants
		}
	}
	return best
}

// needs gives for every column the width of its longest cell and the least that
// it can do with: words up to the width of whole are kept.
func (f *pdfFace) needs(heads [][]piece, rows [][][]piece, whole float64) (want, least []float64) {
	want, least = make([]float64, len(heads)), make([]float64, len(heads))
	need := func(c int, cell []piece) {
		want[c] = max(want[c], f.span(cell)+0.01)
		for i := 0; i < len(cell); {
			var word []piece
			word, i = f.together(cell, i)
			least[c] = max(least[c], min(f.span(word)+0.01, whole))
		}
	}
	for c := range heads {
		need(c, heads[c])
		for _, row := range rows {
			need(c, row[c])
		}
	}
	for c := range least {
		least[c] = max(least[c], min(want[c], leastColumn))
	}
	return want, least
}

// shares gives every column what it wants, but none more than a limit, and none
// less than its least, which must fit. With a power above 0 the limit grows with
// what a column wants, so that long texts get more room.
func shares(want, least []float64, room, power float64) []float64 {
	at := func(limit float64) []float64 {
		out := make([]float64, len(want))
		for c := range want {
			out[c] = max(least[c], min(want[c], limit*math.Pow(want[c], power)))
		}
		return out
	}
	low, high := 0.0, math.Pow(slices.Max(want)+1, 1-power)
	if out := at(high); sumOf(out) <= room {
		return out
	}
	const halvings = 50
	for range halvings {
		if middle := (low + high) / 2; sumOf(at(middle)) <= room {
			low = middle
		} else {
			high = middle
		}
	}
	return at(low)
}

func sumOf(list []float64) float64 {
	total := 0.0
	for _, v := range list {
		total += v
	}
	return total
}

// laid breaks the cells of a row into lines.
func (f *pdfFace) laid(cells [][]piece, widths []float64) [][][]piece {
	out := make([][][]piece, len(cells))
	for c := range cells {
		out[c] = f.broken(cells[c], widths[c])
	}
	return out
}

// tall is the height of a row with its pads.
func (f *pdfFace) tall(row [][][]piece) float64 {
	h := smallStyle().leading()
	for _, cell := range row {
		h = max(h, float64(len(cell))*smallStyle().leading())
	}
	return h + 2*f.rowPad()
}

// whole is the width of a table.
func (g *grid) whole() float64 {
	w := columnSpace * float64(len(g.widths)-1)
	for _, c := range g.widths {
		w += c
	}
	return w
}

// heads sets the heads of a table with a rule below.
func (f *pdfFace) heads(g *grid) {
	if g.headless {
		return
	}
	f.cellLines(g, g.heads, 0, 1000)
	f.pen(black, 0.3)
	f.pdf.Line(f.left, f.y, f.left+g.whole(), f.y)
}

// row sets a row. It is kept on one page where it fits on one; a taller one
// goes on under the heads of the next page.
func (f *pdfFace) row(g *grid, row [][][]piece) {
	h := smallStyle().leading()
	if height := f.tall(row); height > f.room() && (height <= f.full()-f.tall(g.heads) || f.room() < 4*h) {
		f.turn()
		f.heads(g)
	}
	lines := 1
	for _, cell := range row {
		lines = max(lines, len(cell))
	}
	for from := 0; from < lines; {
		n := max(1, min(lines-from, int((f.room()-2*f.rowPad())/h)))
		f.cellLines(g, row, from, n)
		if from += n; from < lines {
			f.turn()
			f.heads(g)
		}
	}
	f.pen(line, 0.15)
	f.pdf.Line(f.left, f.y, f.left+g.whole(), f.y)
}

// cellLines sets some lines of all cells of a row.
func (f *pdfFace) cellLines(g *grid, row [][][]piece, from, n int) {
	h := smallStyle().leading()
	most := 1
	x := f.left
	f.y += f.rowPad()
	for c, cell := range row {
		for k := from; k < min(from+n, len(cell)); k++ {
			at := x
			if g.right[c] {
				at += g.widths[c] - f.span(cell[k])
			}
			f.put(at, f.y+float64(k-from)*h, cell[k])
			most = max(most, k-from+1)
		}
		x += g.widths[c] + columnSpace
	}
	f.y += float64(most)*h + f.rowPad()
}

// stacked sets every row as lines of "Head: cell".
func (f *pdfFace) stacked(t *Table) {
	if len(t.Rows) == 0 && len(t.Heads) > 0 {
		for _, h := range t.Heads {
			f.flow(f.left, f.wide, f.words(h, headStyle()))
		}
	}
	for _, row := range t.Rows {
		for c, cell := range row {
			var text []piece
			if c < len(t.Heads) {
				text = f.words(t.Heads[c]+":", headStyle())
			}
			if len(text) > 0 || len(f.pieces(cell, smallStyle())) > 0 {
				f.flow(f.left, f.wide, append(text, f.pieces(cell, smallStyle())...))
			}
		}
		f.pen(line, 0.15)
		f.y += 0.8
		f.pdf.Line(f.left, f.y, f.left+f.wide, f.y)
		f.y += 0.8
	}
	f.y += 2.5
}
