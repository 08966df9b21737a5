package report

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// cut is one of the fonts of paper.
type cut int

// The fonts. A file embeds those that it uses, with the letters that it uses.
const (
	regular cut = iota
	bold
	mono
)

// cuts gives the fonts with the family and style under which the PDF library
// knows them.
func cuts() []struct {
	family, style string
	data          []byte
} {
	return []struct {
		family, style string
		data          []byte
	}{{"go", "", goregular.TTF}, {"go", "B", gobold.TTF}, {"gomono", "", gomono.TTF}}
}

// letters knows which letters the fonts have and how wide they are.
type letters struct {
	fonts  []*sfnt.Font
	buffer sfnt.Buffer
	known  []map[rune]float64 // width by font, as a share of the size; -1 for none
}

func newLetters() (*letters, error) {
	l := new(letters)
	for _, c := range cuts() {
		f, err := sfnt.Parse(c.data)
		if err != nil {
			return nil, fmt.Errorf("font %s%s: %w", c.family, c.style, err)
		}
		l.fonts, l.known = append(l.fonts, f), append(l.known, make(map[rune]float64))
	}
	return l, nil
}

// advance is the width of a letter as a share of the size, -1 when the font has
// no such letter.
func (l *letters) advance(c cut, r rune) float64 {
	if w, ok := l.known[c][r]; ok {
		return w
	}
	w := -1.0
	f := l.fonts[c]
	if i, err := f.GlyphIndex(&l.buffer, r); err == nil && i != 0 {
		em := fixed.I(int(f.UnitsPerEm()))
		if a, err := f.GlyphAdvance(&l.buffer, i, em, font.HintingNone); err == nil {
			w = float64(a) / float64(em)
		}
	}
	l.known[c][r] = w
	return w
}

// width is that of a text of known letters, mm.
func (l *letters) width(s style, text string) float64 {
	w := 0.0
	for _, r := range text {
		w += max(0, l.advance(s.cut, r))
	}
	return w * s.mm()
}

// instead says how letters that the fonts lack are written. What else is lacking
// is named by its number, so that nothing vanishes.
func instead(r rune) string {
	switch r {
	case '\u2009', '\u202f': // thin blanks: the fonts have one blank
		return " "
	case '\u2010', '\u2011': // hyphens: the fonts have the plain one
		return "-"
	case '⅓':
		return "1/3"
	case '⅔':
		return "2/3"
	}
	if unicode.IsSpace(r) {
		return " "
	}
	return fmt.Sprintf("[U+%04X]", r)
}

// written gives a text in letters that the font has.
func (l *letters) written(c cut, text string) string {
	var out strings.Builder
	for _, r := range text {
		if r < unicode.MaxASCII && unicode.IsPrint(r) || l.advance(c, r) >= 0 && !unicode.IsControl(r) {
			out.WriteRune(r)
			continue
		}
		out.WriteString(instead(r))
	}
	return out.String()
}

// style is how a run of words is set.
type style struct {
	cut  cut
	size float64 // points
	gray int     // 0 black to 255 white
}

// mm is the size in millimeters.
func (s style) mm() float64 { return s.size * 25.4 / 72 }

// leading is the distance of two lines, mm.
func (s style) leading() float64 { return s.mm() * 1.4 }

// The one scale of sizes, in points.
const (
	sizeTitle  = 20
	sizeFirst  = 14
	sizeSecond = 11.5
	sizeBody   = 9.5
	sizeSmall  = 8
	sizeMark   = 6.5
	sizeRaised = 5.5
)

// The grays of paper.
const (
	black = 20
	soft  = 85
	line  = 190
	wash  = 243
)

func bodyStyle() style    { return style{regular, sizeBody, black} }
func smallStyle() style   { return style{regular, sizeSmall, black} }
func softStyle() style    { return style{regular, sizeSmall, soft} }
func boldStyle() style    { return style{bold, sizeBody, black} }
func captionStyle() style { return style{bold, sizeSmall, black} }
func headStyle() style    { return style{bold, sizeSmall, soft} }
func markStyle() style    { return style{regular, sizeMark, soft} }
func raisedStyle() style  { return style{regular, sizeRaised, black} }
func fileStyle() style    { return style{mono, sizeSmall, black} }

// headingStyle is that of a heading of a level.
func headingStyle(level int) style {
	switch level {
	case 1:
		return style{bold, sizeFirst, black}
	case 2:
		return style{bold, sizeSecond, black}
	}
	return boldStyle()
}
