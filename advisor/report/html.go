package report

import (
	"fmt"
	"html"
	"io"
	"slices"
	"strconv"
	"strings"

	"relath/advisor/drawing"
)

// HTML writes a document as one page that stands alone: no script, no other
// file, readable in light and dark, on paper and by a screen reader.
func (d *Document) HTML(w io.Writer) error {
	var b strings.Builder
	b.WriteString("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n")
	b.WriteString("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n")
	b.WriteString("<meta name=\"color-scheme\" content=\"light dark\">\n")
	fmt.Fprintf(&b, "<title>%s</title>\n<style>\n%s</style>\n</head>\n<body>\n", html.EscapeString(d.Title), Style())
	b.WriteString(d.Fragment())
	b.WriteString("</body>\n</html>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// Fragment gives the document as the main part of a page, for those who bring
// their own frame; it wants the rules of [Style].
func (d *Document) Fragment() string {
	h := &htmlFace{}
	h.line("<main>")
	h.line("<header><h1>%s</h1>", html.EscapeString(d.Title))
	if d.Sub != "" {
		h.line("<p class=\"sub\">%s</p>", html.EscapeString(d.Sub))
	}
	h.line("</header>")
	for i := range d.Blocks {
		h.block(&d.Blocks[i], i)
	}
	h.marks(d.Marks)
	h.notes(d.Notes)
	h.line("</main>")
	return h.out.String()
}

// Part gives the blocks of a document, and apart from them its marks and notes,
// for a page that shows more than one document: headings stand as many levels
// below their own, those of the notes one more, and the prefix keeps ids apart.
func (d *Document) Part(prefix string, below int) (body, foot string) {
	h := &htmlFace{prefix: prefix, below: below}
	for i := range d.Blocks {
		h.block(&d.Blocks[i], i)
	}
	f := &htmlFace{prefix: prefix, below: below + 1, cited: h.cited}
	f.marks(d.Marks)
	f.notes(d.Notes)
	return h.out.String(), f.out.String()
}

type htmlFace struct {
	out    strings.Builder
	prefix string      // of ids
	below  int         // how far headings stand below their level
	cited  map[int]int // how often a footnote was cited so far
}

// lowest is the lowest level of a heading in HTML.
const lowest = 6

// level gives the level in HTML of a heading of a document.
func (h *htmlFace) level(of int) int { return min(of+1+h.below, lowest) }

func (h *htmlFace) line(format string, args ...any) {
	h.out.WriteString(fmt.Sprintf(format, args...) + "\n")
}

func (h *htmlFace) block(b *Block, number int) {
	at := h.prefix + strconv.Itoa(number)
	switch {
	case b.Heading != nil:
		h.line("<h%d>%s</h%d>", h.level(b.Heading.Level), h.text(b.Heading.Text), h.level(b.Heading.Level))
	case b.Paragraph != nil:
		h.paragraph(b.Paragraph)
	case b.List != nil:
		h.list(b.List)
	case b.Table != nil:
		h.table(b.Table)
	case b.Bars != nil:
		h.figure(b.Bars.Caption+", in "+b.Bars.Unit, b.Drawing(), at, b.Bars.Key, b.Bars.table())
	case b.Curve != nil:
		h.figure(b.Curve.Caption, b.Drawing(), at, "", b.Curve.table())
	case b.Figure != nil:
		h.figure(b.Figure.Caption, b.Drawing(), at, b.Figure.Key, b.Figure.Table)
	case b.Verbatim != nil:
		h.line("<figure><figcaption>%s</figcaption>\n<pre tabindex=\"0\">%s</pre></figure>", html.EscapeString(b.Verbatim.Caption), html.EscapeString(b.Verbatim.Text))
	}
}

func (h *htmlFace) paragraph(p *Paragraph) {
	class := ""
	if p.Mood != "" {
		class = " class=\"" + p.Mood + "\""
	}
	word := ""
	if w := moodWord(p.Mood); w != "" {
		word = "<strong>" + strings.TrimSpace(w) + "</strong> "
	}
	h.line("<p%s>%s%s</p>", class, word, h.text(p.Text))
}

func (h *htmlFace) list(l *List) {
	tag := "ul"
	if l.Ordered {
		tag = "ol"
	}
	h.line("<%s>", tag)
	for _, item := range l.Items {
		h.line("<li>%s</li>", h.text(item))
	}
	h.line("</%s>", tag)
}

func (h *htmlFace) table(t *Table) {
	h.line("<div class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"%s\"><table%s>", html.EscapeString(orWord(t.Caption, "table")), listClass(t))
	if caption := h.text(t.title()); caption != "" {
		h.line("<caption>%s</caption>", caption)
	}
	right := make(map[int]bool)
	for _, c := range t.Right {
		right[c] = true
	}
	if !t.headless() {
		h.heads(t, right)
	}
	h.line("<tbody>")
	for _, row := range t.Rows {
		h.line("<tr>")
		for i := range t.Heads {
			cell := ""
			if i < len(row) {
				cell = h.text(row[i])
			}
			if i == 0 && !right[0] && cell != "" {
				h.line("<th scope=\"row\">%s</th>", cell)
				continue
			}
			h.line("<td%s>%s</td>", numberClass(right[i]), cell)
		}
		h.line("</tr>")
	}
	h.line("</tbody></table></div>")
}

func (h *htmlFace) heads(t *Table, right map[int]bool) {
	h.line("<thead><tr>")
	for i, head := range t.Heads {
		if head == "" {
			h.line("<td></td>")
			continue
		}
		class := numberClass(right[i])
		if slices.Contains(t.Fill, i) {
			class = " class=\"fill\""
		}
		h.line("<th scope=\"col\"%s>%s</th>", class, html.EscapeString(head))
	}
	h.line("</tr></thead>")
}

// listClass marks a list of named texts, whose names are not broken on a wide page.
func listClass(t *Table) string {
	if t.headless() {
		return " class=\"named\""
	}
	return ""
}

func numberClass(right bool) string {
	if right {
		return " class=\"number\""
	}
	return ""
}

// figure writes a picture with what it says in words folded below.
func (h *htmlFace) figure(caption string, p *drawing.Picture, at string, key string, t *Table) {
	h.line("<figure><figcaption>%s</figcaption>", html.EscapeString(caption))
	h.line("%s", p.SVG("picture-"+at))
	if key != "" {
		h.line("<p class=\"quiet\">%s</p>", html.EscapeString(key))
	}
	if t != nil {
		h.line("<details><summary>The same in words and numbers</summary>")
		h.table(t)
		h.line("</details>")
	}
	h.line("</figure>")
}

func (h *htmlFace) marks(list []Legend) {
	if len(list) == 0 {
		return
	}
	h.line("<section class=\"foot\"><h%d>Marks</h%d><dl>", h.level(1), h.level(1))
	for _, l := range list {
		h.line("<dt><span class=\"mark\">%s</span></dt><dd>%s</dd>", html.EscapeString(l.Mark), html.EscapeString(l.Meaning))
	}
	h.line("</dl></section>")
}

func (h *htmlFace) notes(list []Note) {
	if len(list) == 0 {
		return
	}
	h.line("<section class=\"foot\" role=\"doc-endnotes\"><h%d>Notes</h%d><ol>", h.level(1), h.level(1))
	for i, n := range list {
		back := ""
		if h.cited[i+1] > 0 {
			back = fmt.Sprintf(" <a href=\"#%sr%d\" role=\"doc-backlink\" aria-label=\"back to where note %d is cited first\">↩</a>", h.prefix, i+1, i+1)
		}
		h.line("<li id=\"%sn%d\"><span class=\"kind\">%s:</span> %s%s</li>", h.prefix, i+1, html.EscapeString(capital(n.Kind)), html.EscapeString(n.Text), back)
	}
	h.line("</ol></section>")
}

// text writes a text with its mark and links to its footnotes; the first
// citation of a note is where its backlink leads.
func (h *htmlFace) text(t Text) string {
	s := html.EscapeString(t.Words)
	if t.Mark != "" {
		s += " <span class=\"mark\">" + html.EscapeString(t.Mark) + "</span>"
	}
	if len(t.Notes) == 0 {
		return s
	}
	if h.cited == nil {
		h.cited = make(map[int]int)
	}
	s += "<sup>"
	for i, n := range t.Notes {
		if i > 0 {
			s += ", "
		}
		id := ""
		if h.cited[n] == 0 {
			id = fmt.Sprintf(" id=\"%sr%d\"", h.prefix, n)
		}
		h.cited[n]++
		s += fmt.Sprintf("<a%s href=\"#%sn%d\" role=\"doc-noteref\" aria-label=\"note %d\">%d</a>", id, h.prefix, n, n, n)
	}
	return s + "</sup>"
}
