package report

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Width is the width of the text face in characters.
const Width = 80

// Text writes a document as plain text, 80 characters wide, without color.
func (d *Document) Text(w io.Writer) error {
	t := &textFace{}
	t.title(d)
	for i := range d.Blocks {
		if !d.Blocks[i].wordless() {
			t.block(&d.Blocks[i])
		}
	}
	t.marks(d.Marks)
	t.notes(d.Notes)
	_, err := io.WriteString(w, strings.TrimLeft(t.out.String(), "\n"))
	return err
}

// textFace writes the lines of a document.
type textFace struct{ out strings.Builder }

func (t *textFace) line(s string) { t.out.WriteString(strings.TrimRight(s, " ") + "\n") }

func (t *textFace) gap() { t.out.WriteString("\n") }

func (t *textFace) title(d *Document) {
	t.line(strings.Repeat("=", min(wide(d.Title), Width)))
	t.underlined(d.Title, "=")
	for _, l := range wrap(d.Sub, Width) {
		t.line(l)
	}
}

// underlined writes a heading with a rule below it.
func (t *textFace) underlined(s, rule string) {
	widest := 0
	for _, l := range wrap(s, Width) {
		t.line(l)
		widest = max(widest, wide(l))
	}
	if rule != "" {
		t.line(strings.Repeat(rule, widest))
	}
}

func (t *textFace) block(b *Block) {
	t.gap()
	switch {
	case b.Heading != nil:
		t.gapBefore(b.Heading.Level)
		t.underlined(b.Heading.Text.flat(), [...]string{"=", "=", "-", "."}[min(b.Heading.Level, 3)])
	case b.Paragraph != nil:
		t.paragraph(b.Paragraph)
	case b.List != nil:
		t.listing(b.List)
	case b.Table != nil:
		t.table(b.Table)
	case b.Bars != nil:
		t.bars(b.Bars)
	case b.Curve != nil:
		t.table(b.Curve.table())
	case b.Figure != nil:
		t.figure(b.Figure)
	case b.Verbatim != nil:
		t.verbatim(b.Verbatim)
	}
}

func (t *textFace) gapBefore(level int) {
	if level == 1 {
		t.gap()
	}
}

// moodWord is the word that a mood puts before a paragraph.
func moodWord(mood string) string {
	switch mood {
	case warning:
		return "Warning: "
	case caution:
		return "Caution: "
	}
	return ""
}

func (t *textFace) paragraph(p *Paragraph) {
	for _, l := range wrap(moodWord(p.Mood)+p.Text.flat(), Width) {
		t.line(l)
	}
}

func (t *textFace) listing(l *List) {
	for i, item := range l.Items {
		lead := "- "
		if l.Ordered {
			lead = fmt.Sprintf("%d. ", i+1)
		}
		t.hanging(lead, item.flat())
	}
}

// hanging writes a text whose further lines stand under its first word.
func (t *textFace) hanging(lead, text string) {
	indent := strings.Repeat(" ", wide(lead))
	for i, l := range wrap(text, Width-wide(lead)) {
		if i == 0 {
			t.line(lead + l)
			continue
		}
		t.line(indent + l)
	}
}

// verbatim keeps every line as it is: a file must read back.
func (t *textFace) verbatim(v *Verbatim) {
	t.paragraph(&Paragraph{Text: say(v.Caption + ":")})
	t.gap()
	for _, l := range strings.Split(strings.TrimRight(v.Text, "\n"), "\n") {
		t.line("    " + l)
	}
}

func (t *textFace) marks(list []Legend) {
	if len(list) == 0 {
		return
	}
	t.gap()
	t.gap()
	t.underlined("Marks", "-")
	for _, m := range list {
		t.hanging(m.Mark+": ", m.Meaning)
	}
}

func (t *textFace) notes(list []Note) {
	if len(list) == 0 {
		return
	}
	t.gap()
	t.gap()
	t.underlined("Notes", "-")
	for i, n := range list {
		t.hanging(fmt.Sprintf("%*s ", len(fmt.Sprint(len(list)))+2, fmt.Sprintf("[%d]", i+1)), capital(n.Kind)+": "+n.Text)
	}
}

// flat writes a text with its mark and footnotes in one line.
func (t Text) flat() string {
	s := t.Words
	if t.Mark != "" {
		s += " (" + t.Mark + ")"
	}
	if len(t.Notes) > 0 {
		numbers := make([]string, len(t.Notes))
		for i, n := range t.Notes {
			numbers[i] = fmt.Sprint(n)
		}
		s += " [" + strings.Join(numbers, ",") + "]"
	}
	return strings.TrimSpace(s)
}

// wide counts the columns of a line.
func wide(s string) int { return utf8.RuneCountInString(s) }

// hardSpace holds words together at the end of a line, as in a unit.
const hardSpace = '\u00a0'

// held splits a text into words at spaces that may end a line.
func held(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return r != hardSpace && unicode.IsSpace(r) })
}

// wordsIn splits a text into words for lines of a width: what is held together is
// not, where it is too long for a line.
func wordsIn(s string, width int) []string {
	var list []string
	for _, word := range held(s) {
		if wide(word) > width {
			list = append(list, strings.Fields(word)...)
			continue
		}
		list = append(list, word)
	}
	return list
}

// wrap breaks a text into lines of at most the width; a word that is longer is
// broken.
func wrap(s string, width int) []string {
	var lines []string
	line := ""
	for _, word := range wordsIn(s, width) {
		for wide(word) > width {
			if line != "" {
				lines, line = append(lines, line), ""
			}
			head := string([]rune(word)[:width])
			lines, word = append(lines, head), word[len(head):]
		}
		switch {
		case line == "":
			line = word
		case wide(line)+1+wide(word) <= width:
			line += " " + word
		default:
			lines, line = append(lines, line), word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
