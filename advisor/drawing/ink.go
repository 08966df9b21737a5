package drawing

import (
	"fmt"
	"strings"
)

// Scheme is where a picture is shown: the same inks have other colors there.
type Scheme int

// The schemes: a light page, a dark page, and paper in black and grays.
const (
	OnLight Scheme = iota
	OnDark
	OnPaper
)

// Inks lists all inks.
func Inks() []Ink { return []Ink{Full, Soft, Faint, Paper, Wash, Dark, Medium, Light} }

// RGB gives the color of an ink, 0xRRGGBB. An unknown ink is drawn in full.
func (k Ink) RGB(s Scheme) uint32 {
	switch k {
	case Soft:
		return [...]uint32{0x5b6166, 0xa8acad, 0x333333}[s]
	case Faint:
		return [...]uint32{0xc9c5ba, 0x41464a, 0x999999}[s]
	case Paper:
		return [...]uint32{0xfbfaf6, 0x16191c, 0xffffff}[s]
	case Wash:
		return [...]uint32{0xf0ede4, 0x1f2427, 0xf4f4f4}[s]
	case Dark:
		return [...]uint32{0x33515f, 0xb4c8d1, 0x222222}[s]
	case Medium:
		return [...]uint32{0x7f9aa6, 0x6f8791, 0x888888}[s]
	case Light:
		return [...]uint32{0xc3ced3, 0x3d4b52, 0xcccccc}[s]
	}
	return [...]uint32{0x23272b, 0xe6e3da, 0x000000}[s]
}

// Variables gives the inks as custom properties of a style sheet.
func Variables(s Scheme) string {
	var list []string
	for _, k := range Inks() {
		list = append(list, fmt.Sprintf("--%s: #%06x;", k, k.RGB(s)))
	}
	return strings.Join(list, " ")
}

// Rules gives the style rules that an SVG picture wants: its inks by class, and
// letters with a seam of paper that parts them from what they stand on.
func Rules() string {
	var b strings.Builder
	for _, k := range Inks() {
		fmt.Fprintf(&b, ".picture .l-%s { stroke: var(--%s); }\n.picture .f-%s { fill: var(--%s); }\n", k, k, k, k)
	}
	b.WriteString(".picture path { fill: none; stroke-linecap: butt; stroke-linejoin: round; }\n")
	b.WriteString(".picture text { font-family: \"Helvetica Neue\", Arial, sans-serif; paint-order: stroke; stroke: var(--paper); stroke-width: .25em; stroke-linejoin: round; }\n")
	return b.String()
}
