// Package report makes one document from results and shows it in many forms:
// text for a terminal, Markdown, a self-contained HTML page, PDF for paper, and
// JSON.
//
// It owns wording, units and layout. It computes nothing, rounds late, and
// drops no warning, footnote or mark: a walker test holds every form to that.
package report

// Document is what every form shows.
type Document struct {
	Title  string   `json:"title"`
	Sub    string   `json:"sub,omitempty"`
	Blocks []Block  `json:"blocks"`
	Marks  []Legend `json:"marks,omitempty"` // what the marks in the document mean, in order of first use
	Notes  []Note   `json:"notes,omitempty"` // footnotes, numbered from 1 in order of first use
	Dense  bool     `json:"dense,omitempty"` // on paper set close, for what has to fit few pages
}

// Block is one piece of a document. Exactly one of its parts is set.
type Block struct {
	Heading   *Heading   `json:"heading,omitempty"`
	Paragraph *Paragraph `json:"paragraph,omitempty"`
	List      *List      `json:"list,omitempty"`
	Table     *Table     `json:"table,omitempty"`
	Bars      *Bars      `json:"bars,omitempty"`
	Curve     *Curve     `json:"curve,omitempty"`
	Figure    *Figure    `json:"figure,omitempty"`
	Verbatim  *Verbatim  `json:"verbatim,omitempty"`
}

// Heading starts a section. Level 1 is right below the title; there are three.
type Heading struct {
	Level int  `json:"level"`
	Text  Text `json:"text"`
}

// The moods of a paragraph. A mood is shown by a word or by weight, never by
// color alone.
const (
	plain   = ""
	lead    = "lead"    // the answer in short
	warning = "warning" // something the reader must not miss
	caution = "caution" // a hazard of the work
	quiet   = "quiet"   // how to read what stands above
)

// Paragraph is running text.
type Paragraph struct {
	Text Text   `json:"text"`
	Mood string `json:"mood,omitempty"`
}

// List is a list of short texts.
type List struct {
	Ordered bool   `json:"ordered,omitempty"`
	Fine    bool   `json:"fine,omitempty"` // on paper in two columns of small letters
	Items   []Text `json:"items"`
}

// Table is a table with heads, all empty for a list of named texts. Right names
// the columns of numbers.
type Table struct {
	Caption string   `json:"caption,omitempty"`
	Mark    string   `json:"mark,omitempty"`  // of evidence, for the whole table
	Notes   []int    `json:"notes,omitempty"` // of the caption
	Heads   []string `json:"heads"`
	Right   []int    `json:"right,omitempty"`
	Fill    []int    `json:"fill,omitempty"` // columns that are filled in by hand: on paper they take the room that is left
	Rows    [][]Text `json:"rows"`
}

// Bars is a two-sided bar chart: for each row what goes to one side and what
// goes to the other. The scale is logarithmic and says so.
type Bars struct {
	Caption string     `json:"caption"`
	Left    string     `json:"left"`  // head of the left side
	Right   string     `json:"right"` // head of the right side
	Unit    string     `json:"unit"`
	From    float64    `json:"from"` // where the scale begins; nothing shorter is drawn
	To      float64    `json:"to"`
	Key     string     `json:"key"` // how to read a bar
	Groups  []BarGroup `json:"groups"`
}

// BarGroup is what belongs together in a two-sided chart, such as the seasons
// of a layer.
type BarGroup struct {
	Name string   `json:"name"`
	Rows []BarRow `json:"rows"`
}

// BarRow is one row of a two-sided chart.
type BarRow struct {
	Label string `json:"label"`
	Left  Bar    `json:"left"`
	Right Bar    `json:"right"`
}

// Bar is a value with its range in the unit of the chart.
type Bar struct {
	Low   float64 `json:"low"`
	Best  float64 `json:"best"`
	High  float64 `json:"high"`
	Shown string  `json:"shown"` // the value in words, without the unit
	None  bool    `json:"none,omitempty"`
}

// Curve is one or more lines over a common axis.
type Curve struct {
	Caption string   `json:"caption"`
	XLabel  string   `json:"x-label"`
	YLabel  string   `json:"y-label"`
	Log     bool     `json:"log,omitempty"` // of the vertical axis; the label says so
	X       []string `json:"x"`             // as text, for the table behind the chart
	Lines   []Line   `json:"lines"`
	Every   int      `json:"every,omitempty"`  // only each n-th point is labelled and tabulated, and no dots are drawn; 0 for each
	Limits  []Limit  `json:"limits,omitempty"` // values that are marked across the chart
}

// Limit is a value against which lines are held.
type Limit struct {
	At    float64 `json:"at"`
	Label string  `json:"label"`
}

// Line is one line of a curve, with a point for each X.
type Line struct {
	Label  string  `json:"label"`
	Points []Point `json:"points"`
}

// Point is one point of a line.
type Point struct {
	X     float64 `json:"x"`
	Low   float64 `json:"low"`
	Best  float64 `json:"best"`
	High  float64 `json:"high"`
	Shown string  `json:"shown"`
}

// Verbatim is text that is shown as it stands, such as a description file.
type Verbatim struct {
	Caption string `json:"caption"`
	Text    string `json:"text"`
}

// Text is a run of words with the mark of evidence and the footnotes that hang
// on it.
type Text struct {
	Words string `json:"words"`
	Mark  string `json:"mark,omitempty"` // of evidence, where it is not read
	Notes []int  `json:"notes,omitempty"`
}

// Note is one footnote.
type Note struct {
	Kind string `json:"kind"` // source, evidence, assumption, warning, model
	Text string `json:"text"`
}

// Legend says what a mark means.
type Legend struct {
	Mark    string `json:"mark"`
	Meaning string `json:"meaning"`
}
