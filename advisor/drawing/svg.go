package drawing

import (
	"fmt"
	"html"
	"strings"
	"unicode"
)

// SVG writes the picture as an element of a page with the style of [Rules] and
// [Variables]. Name makes the ids of its title and description unique on the
// page. The drawing takes the width that its place on the page has.
func (p *Picture) SVG(name string) string { return p.svg(name, "", "") }

// SVGFile writes the picture as a file that stands alone: in its true size, in
// the colors of a light or a dark page as its reader wishes.
func (p *Picture) SVGFile() string {
	style := fmt.Sprintf("<style>\n:root { %s }\n@media (prefers-color-scheme: dark) { :root { %s } }\n@media print { :root { %s } }\n%s</style>\n",
		Variables(OnLight), Variables(OnDark), Variables(OnPaper), Rules())
	sheet := "<rect class=\"f-paper\" width=\"100%\" height=\"100%\"/>\n"
	size := fmt.Sprintf(" xmlns=\"http://www.w3.org/2000/svg\" width=\"%smm\" height=\"%smm\"", number(p.Width), number(p.Height))
	return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + p.svg("picture", size, style+sheet) + "\n"
}

func (p *Picture) svg(name, attributes, head string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "<svg class=\"picture\"%s viewBox=\"0 0 %s %s\" role=\"img\" aria-labelledby=\"%s-t %s-d\">\n",
		attributes, number(p.Width), number(p.Height), name, name)
	fmt.Fprintf(&b, "<title id=\"%s-t\">%s</title><desc id=\"%s-d\">%s</desc>\n", name, escaped(p.Title), name, escaped(p.About))
	b.WriteString(head)
	for i := 0; i < len(p.Items); {
		if w := p.Items[i].Words; w != nil {
			b.WriteString(w.svg())
			i++
			continue
		}
		n := 1
		for i+n < len(p.Items) && alike(p.Items[i].Path, p.Items[i+n].Path) {
			n++
		}
		b.WriteString(pathSVG(p.Items[i : i+n]))
		i += n
	}
	b.WriteString("</svg>")
	return b.String()
}

// alike tells whether two open lines can be one element.
func alike(a, b *Path) bool {
	return a != nil && b != nil && !a.Closed && !b.Closed && a.Line == b.Line && a.Width == b.Width && len(a.Dash) == 0 && len(b.Dash) == 0
}

// pathSVG writes paths of one style as one element.
func pathSVG(items []Item) string {
	var d strings.Builder
	for _, it := range items {
		for k, pt := range it.Path.Points {
			d.WriteString([]string{"M", "L"}[min(k, 1)] + number(pt.X) + " " + number(pt.Y))
		}
		if it.Path.Closed {
			d.WriteString("Z")
		}
	}
	first := items[0].Path
	var class []string
	if first.Line != "" {
		class = append(class, "l-"+string(first.Line))
	}
	if first.Fill != "" && first.Closed {
		class = append(class, "f-"+string(first.Fill))
	}
	style := ""
	if first.Line != "" {
		style = " stroke-width=\"" + number(first.Width) + "\""
	}
	if len(first.Dash) > 0 {
		var dash []string
		for _, v := range first.Dash {
			dash = append(dash, number(v))
		}
		style += " stroke-dasharray=\"" + strings.Join(dash, " ") + "\""
	}
	return fmt.Sprintf("<path class=\"%s\"%s d=\"%s\"/>\n", strings.Join(class, " "), style, d.String())
}

func (w *Words) svg() string {
	more := ""
	if w.Align != Start && w.Align != "" {
		more += " text-anchor=\"" + string(w.Align) + "\""
	}
	if w.Bold {
		more += " font-weight=\"bold\""
	}
	if w.Turn != 0 {
		more += fmt.Sprintf(" transform=\"rotate(%s %s %s)\"", number(-w.Turn), number(w.At.X), number(w.At.Y))
	}
	return fmt.Sprintf("<text class=\"f-%s\" x=\"%s\" y=\"%s\" font-size=\"%s\"%s>%s</text>\n",
		w.Ink, number(w.At.X), number(w.At.Y), number(w.Size), more, escaped(w.Text))
}

// escaped makes a text safe within XML; what XML cannot hold is left out.
func escaped(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == unicode.ReplacementChar || r == '\uFFFE' || r == '\uFFFF' {
			return ' '
		}
		return r
	}, s)
	return html.EscapeString(s)
}
