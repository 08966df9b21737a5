package report

import (
	"fmt"
	"io"
	"strings"
)

// Markdown writes a document as Markdown with tables and footnotes.
func (d *Document) Markdown(w io.Writer) error {
	m := &markdownFace{}
	m.line("# %s", escaped(d.Title))
	if d.Sub != "" {
		m.line("")
		m.line("%s", escaped(d.Sub))
	}
	for i := range d.Blocks {
		if d.Blocks[i].wordless() {
			continue
		}
		m.line("")
		m.block(&d.Blocks[i])
	}
	m.marks(d.Marks)
	m.notes(d.Notes)
	_, err := io.WriteString(w, m.out.String())
	return err
}

type markdownFace struct{ out strings.Builder }

func (m *markdownFace) line(format string, args ...any) {
	m.out.WriteString(fmt.Sprintf(format, args...) + "\n")
}

func (m *markdownFace) block(b *Block) {
	switch {
	case b.Heading != nil:
		m.line("%s %s", strings.Repeat("#", b.Heading.Level+1), markdownText(b.Heading.Text))
	case b.Paragraph != nil:
		m.paragraph(b.Paragraph)
	case b.List != nil:
		for i, item := range b.List.Items {
			lead := "-"
			if b.List.Ordered {
				lead = fmt.Sprintf("%d.", i+1)
			}
			m.line("%s %s", lead, markdownText(item))
		}
	case b.Table != nil:
		m.table(b.Table)
	case b.Bars != nil:
		m.table(b.Bars.table())
		m.line("")
		m.line("%s", escaped(b.Bars.Key))
	case b.Curve != nil:
		m.table(b.Curve.table())
	case b.Figure != nil:
		m.figure(b.Figure)
	case b.Verbatim != nil:
		m.verbatim(b.Verbatim)
	}
}

func (m *markdownFace) paragraph(p *Paragraph) {
	if word := moodWord(p.Mood); word != "" {
		m.line("> **%s** %s", strings.TrimSpace(word), markdownText(p.Text))
		return
	}
	m.line("%s", markdownText(p.Text))
}

func (m *markdownFace) table(t *Table) {
	if caption := markdownText(t.title()); caption != "" {
		m.line("%s", caption)
		m.line("")
	}
	heads, rules := make([]string, len(t.Heads)), make([]string, len(t.Heads))
	for i, h := range t.Heads {
		heads[i], rules[i] = escaped(h), "---"
	}
	for _, c := range t.Right {
		rules[c] = "--:"
	}
	m.line("| %s |", strings.Join(heads, " | "))
	m.line("| %s |", strings.Join(rules, " | "))
	for _, row := range t.Rows {
		cells := make([]string, len(t.Heads))
		for i := range row {
			cells[i] = markdownText(row[i])
		}
		m.line("| %s |", strings.Join(cells, " | "))
	}
}

// verbatim fences a text with more backquotes than it holds.
func (m *markdownFace) verbatim(v *Verbatim) {
	fence := "```"
	for strings.Contains(v.Text, fence) {
		fence += "`"
	}
	m.line("%s:", escaped(v.Caption))
	m.line("")
	m.line("%s", fence)
	m.line("%s", strings.TrimRight(v.Text, "\n"))
	m.line("%s", fence)
}

func (m *markdownFace) marks(list []Legend) {
	if len(list) == 0 {
		return
	}
	m.line("")
	m.line("## Marks")
	m.line("")
	for _, l := range list {
		m.line("- *%s*: %s", escaped(l.Mark), escaped(l.Meaning))
	}
}

func (m *markdownFace) notes(list []Note) {
	if len(list) == 0 {
		return
	}
	m.line("")
	m.line("## Notes")
	m.line("")
	for i, n := range list {
		m.line("[^%d]: %s: %s", i+1, escaped(capital(n.Kind)), escaped(n.Text))
	}
}

// markdownText writes a text with its mark and its footnotes.
func markdownText(t Text) string {
	s := escaped(t.Words)
	if t.Mark != "" {
		s += " *(" + escaped(t.Mark) + ")*"
	}
	for _, n := range t.Notes {
		s += fmt.Sprintf("[^%d]", n)
	}
	return s
}

// escaped keeps Markdown from reading words as markup.
func escaped(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	return strings.NewReplacer("&", "&amp;", `\`, `\\`, "|", `\|`, "*", `\*`, "_", `\_`, "`", "\\`", "<", "&lt;", "[", `\[`, "]", `\]`, "#", `\#`).Replace(s)
}

// table gives the numbers behind a two-sided chart.
func (b *Bars) table() *Table {
	t := &Table{
		Caption: fmt.Sprintf("%s, in %s, log scale from %g to %g", b.Caption, b.Unit, b.From, b.To),
		Heads:   []string{"Layer", "Season", capital(b.Left), capital(b.Right)}, Right: []int{2, 3},
	}
	for _, g := range b.Groups {
		for i, r := range g.Rows {
			name := ""
			if i == 0 {
				name = g.Name
			}
			t.Rows = append(t.Rows, []Text{say(name), say(r.Label), say(r.Left.Shown), say(r.Right.Shown)})
		}
	}
	return t
}
