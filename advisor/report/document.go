// Package report makes one document from results and shows it in many forms.
//
// It owns wording, units and layout. It computes nothing, rounds late, and
// drops no warning, footnote or mark: a walker test holds every form to that.
package report

// Document is what every form shows.
type Document struct {
	Title  string
	Sub    string
	Blocks []Block
	Notes  []Note // footnotes, numbered from 1 in order of first use
}

// Block is one piece of a document. Exactly one of its parts is set.
type Block struct {
	Heading   *Heading
	Paragraph *Paragraph
	List      *List
	Table     *Table
	Bars      *Bars
	Curve     *Curve
}

// Heading starts a section. Level 1 is below the title.
type Heading struct {
	Level int
	Text  Text
}

// Paragraph is running text.
type Paragraph struct {
	Text Text
	Mood string // plain, warning, caution, quiet
}

// List is a list of short texts.
type List struct {
	Ordered bool
	Items   []Text
}

// Table is a table with heads; Align holds "left" or "right" for each column.
type Table struct {
	Caption string
	Heads   []string
	Align   []string
	Rows    [][]Text
}

// Bars is a two-sided bar chart: for each row what goes out and what goes in.
// The scale is logarithmic and says so.
type Bars struct {
	Caption   string
	LeftHead  string
	RightHead string
	Unit      string
	Rows      []BarRow
}

// BarRow is one row of a two-sided chart.
type BarRow struct {
	Label       Text
	Left, Right Bar
}

// Bar is a value with its range; None says why there is none.
type Bar struct {
	Low, Best, High float64
	Shown           string // the value as text with unit
	None            string
}

// Curve is values against one variable, with ranges.
type Curve struct {
	Caption string
	XLabel  string
	YLabel  string
	Log     bool
	Points  []CurvePoint
}

// CurvePoint is one point of a curve.
type CurvePoint struct {
	Label           string
	X               float64
	Low, Best, High float64
	Shown           string
}

// Text is a run of words with the footnotes that hang on it.
type Text struct {
	Words string
	Notes []int // numbers of footnotes
}

// Note is one footnote: a source, a mark of evidence, an assumption or a warning.
type Note struct {
	Kind string // source, evidence, assumption, warning, model
	Text string
}
