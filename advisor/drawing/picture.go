// Package drawing holds pictures of lines, shapes and words, and writes them
// for a page or for paper. It knows nothing of walls or results: package report
// composes pictures, and every form of a document shows the same ones.
package drawing

// Picture is a drawing on a sheet. Lengths are millimeters of paper from the
// upper left corner, x to the right and y down. Later items lie over earlier
// ones.
type Picture struct {
	Width  float64 `json:"width"`
	Height float64 `json:"height"`
	Title  string  `json:"title"` // what it shows, in a few words
	About  string  `json:"about"` // what is seen in it, for those who cannot see it
	Items  []Item  `json:"items"`
}

// Item is one piece of a picture. Exactly one of its parts is set.
type Item struct {
	Path  *Path  `json:"path,omitempty"`
	Words *Words `json:"words,omitempty"`
}

// Path is a run of straight lines through its points.
type Path struct {
	Points []Point   `json:"points"`
	Closed bool      `json:"closed,omitempty"`
	Line   Ink       `json:"line,omitempty"`  // empty: no line
	Fill   Ink       `json:"fill,omitempty"`  // empty: not filled; only for closed paths
	Width  float64   `json:"width,omitempty"` // of the line, mm
	Dash   []float64 `json:"dash,omitempty"`  // mm drawn and left out in turn
}

// Point is a place on the sheet, mm.
type Point struct{ X, Y float64 }

// Words is one line of text on its base line.
type Words struct {
	At    Point   `json:"at"`
	Text  string  `json:"text"`
	Size  float64 `json:"size"`  // of the font, mm
	Align Align   `json:"align"` // of the text about the point
	Bold  bool    `json:"bold,omitempty"`
	Ink   Ink     `json:"ink"`
	Turn  float64 `json:"turn,omitempty"` // degrees, counterclockwise about the point
}

// Align says which end of a text stands at its point.
type Align string

// The alignments of a text.
const (
	Start  Align = "start"
	Middle Align = "middle"
	End    Align = "end"
)

// Ink names what a line or a fill is for, so that a page can follow light and
// dark and paper can be printed in gray.
type Ink string

// The inks. Those of bars and bands differ in lightness, never by color alone.
const (
	Full   Ink = "ink"   // lines and letters that carry the meaning
	Soft   Ink = "soft"  // what explains
	Faint  Ink = "line"  // grids and hatches
	Paper  Ink = "paper" // what covers
	Wash   Ink = "wash"
	Dark   Ink = "dark" // three steps of one scale
	Medium Ink = "medium"
	Light  Ink = "light"
)
