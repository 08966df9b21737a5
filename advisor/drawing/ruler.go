package drawing

import (
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Ruler measures words by the metrics of the Go fonts. They run wider than the
// sans-serif fonts that a page usually shows, so that what fits by them fits
// there. A Ruler is for one goroutine.
type Ruler struct {
	regular, bold *sfnt.Font
	buffer        sfnt.Buffer
}

// NewRuler reads the fonts.
func NewRuler() *Ruler {
	return &Ruler{regular: parsed(goregular.TTF), bold: parsed(gobold.TTF)}
}

func parsed(data []byte) *sfnt.Font {
	f, err := sfnt.Parse(data)
	if err != nil {
		panic(err) // not reached: the fonts are part of the program
	}
	return f
}

// Ascent and Descent bound the letters of a text above and below its base line,
// as shares of its size.
const (
	Ascent  = 0.95
	Descent = 0.25
)

// Width gives the length of a text in the unit of its size.
func (r *Ruler) Width(text string, size float64, bold bool) float64 {
	f := r.font(bold)
	const unit = 1000 // an em, in pixels: fine enough, and no hinting
	var sum fixed.Int26_6
	for _, c := range text {
		glyph, err := f.GlyphIndex(&r.buffer, c)
		if err != nil {
			continue
		}
		if advance, err := f.GlyphAdvance(&r.buffer, glyph, fixed.I(unit), 0); err == nil {
			sum += advance
		}
	}
	return float64(sum) / 64 / unit * size
}

func (r *Ruler) font(bold bool) *sfnt.Font {
	if bold {
		return r.bold
	}
	return r.regular
}

// Fit breaks a text into lines no longer than the width; a longer word stands
// alone and is cut.
func (r *Ruler) Fit(text string, size, width float64, bold bool) []string {
	return fit(text, func(s string) bool { return r.Width(s, size, bold) <= width })
}
