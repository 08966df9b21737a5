// Package takeoff turns a resolved house into what has to be bought and in
// which order it is built: net quantities by layer and finish, waste by stated
// factors, an order list by kind of supplier, costs by the user's own prices,
// and a sequence of work with curing times.
//
// It owns the arithmetic of quantities; every factor is a value or an
// assumption of the base. It takes what is proposed and leaves what stands. The
// mass of adhesive is always that of the net quantity, without waste: waste
// goes out with the offcuts.
package takeoff

import (
	"fmt"
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// Job is what quantities are taken of.
type Job struct {
	House   *assembly.Resolved
	Before  *assembly.Resolved      // the house before the plan, nil for none: what stood before is not bought again
	Recipes map[string][]*kb.Recipe // recipes that the plan applied, by assembly
	Only    string                  // the assembly of this name alone, empty for the whole house
	All     bool                    // what stands counts too
}

// Where says to what a quantity belongs: a layer of an assembly, or a finish of
// a room.
type Where struct {
	Assembly, Layer string
	Room, Part      string
}

// Kind says how a quantity is measured.
type Kind string

// The kinds, each in its SI unit or as a number.
const (
	Area      Kind = "area"       // m²
	Length    Kind = "length"     // m
	Volume    Kind = "volume"     // m³
	Mass      Kind = "mass"       // kg
	Pieces    Kind = "pieces"     // doors, lath, nails
	Panels    Kind = "panels"     // of the usual size of the trade
	Bags      Kind = "bags"       // of the usual size of the trade
	BoardFeet Kind = "board-feet" // nominal
)

// Whole says whether a kind is bought in whole numbers.
func (k Kind) Whole() bool { return slices.Contains([]Kind{Pieces, Panels, Bags}, k) }

// Measure is a quantity in one kind, net and as ordered.
type Measure struct {
	Kind  Kind
	Net   quantity.Range
	Order quantity.Range // net with waste
}

// Factor is the waste that was added.
type Factor struct {
	Ratio quantity.Range
	From  string // id of a material, recipe or assumption
	Basis kb.Basis
}

// Line is one thing to buy for one place.
type Line struct {
	Where    Where
	Item     string // id of a material, or of one of [Items]
	Name     string
	Material *kb.Material // nil for fasteners, lath and ingredients
	Supplier string
	Measures []Measure // the leading one first; empty when nothing could be measured
	Waste    Factor
	Glue     quantity.Range // kg of adhesive in the net quantity
	Water    quantity.Range // kg of water that the plaster brings in, keys behind lath included
	Of       int            // index of the line whose ingredient or accessory it is, −1 for none
	Mixed    bool           // an ingredient that is mixed into that line: a price of that line covers it
	How      []string       // the arithmetic in words
	Mark     kb.Evidence    // weakest mark among the factors
	Missing  string         // why there is no quantity
	Stage    Stage
	Coats    int // coats of a coating
}

// Measure gives the quantity of a kind.
func (l *Line) Measure(k Kind) (Measure, bool) {
	for _, m := range l.Measures {
		if m.Kind == k {
			return m, true
		}
	}
	return Measure{}, false
}

// Takeoff is all that a job needs.
type Takeoff struct {
	Lines       []Line
	Glue        quantity.Range // kg, net
	Water       quantity.Range // kg that plaster brings in and that must dry out
	Assumptions []*kb.Assumption
	Warnings    []string
}

// taker collects the lines of a job.
type taker struct {
	base *kb.Base
	job  Job
	out  *Takeoff
	used map[string]bool
}

// Take gives the quantities of a job. What the description leaves in doubt is
// taken by its first choice, and said.
func Take(base *kb.Base, job Job) *Takeoff {
	t := &taker{base: base, job: job, out: &Takeoff{}, used: make(map[string]bool)}
	for _, a := range job.House.Assemblies {
		if job.Only == "" || a.Name == job.Only {
			t.assembly(a)
		}
	}
	for i := range job.House.Finishes {
		if job.Only == "" {
			t.finish(&job.House.Finishes[i])
		}
	}
	for i := range t.out.Lines {
		l := &t.out.Lines[i]
		t.out.Glue, t.out.Water = plus(t.out.Glue, l.Glue), plus(t.out.Water, l.Water)
		if l.Missing != "" {
			t.warn(fmt.Sprintf("%s: %s", l.Name, l.Missing))
		}
	}
	for _, a := range base.Assumptions {
		if t.used[a.ID] {
			t.out.Assumptions = append(t.out.Assumptions, a)
		}
	}
	return t.out
}

func (t *taker) warn(text string) {
	if !slices.Contains(t.out.Warnings, text) {
		t.out.Warnings = append(t.out.Warnings, text)
	}
}

// assumed gives an assumption of the base and notes its use; the mark of the
// line is weakened by it.
func (t *taker) assumed(l *Line, id string) quantity.Range {
	a := t.base.Assumption(id)
	if a == nil {
		l.Missing = "the base has no assumption " + id
		return quantity.Range{}
	}
	t.used[id] = true
	l.Mark = l.Mark.Weaker(a.Evidence)
	return a.SI
}

// add appends a line and gives its index.
func (t *taker) add(l Line) int {
	if l.Missing != "" {
		l.Measures, l.Glue, l.Water = nil, quantity.Range{}, quantity.Range{}
	}
	t.out.Lines = append(t.out.Lines, l)
	return len(t.out.Lines) - 1
}

func plus(a, b quantity.Range) quantity.Range {
	return quantity.Range{Low: a.Low + b.Low, Best: a.Best + b.Best, High: a.High + b.High}
}

// times multiplies ranges of amounts that are not negative.
func times(list ...quantity.Range) quantity.Range {
	out := quantity.Exact(1)
	for _, r := range list {
		out.Low, out.Best, out.High = out.Low*r.Low, out.Best*r.Best, out.High*r.High
	}
	return out
}

// over divides an amount by one that is above 0.
func over(a, b quantity.Range) quantity.Range {
	return quantity.Range{Low: a.Low / b.High, Best: a.Best / b.Best, High: a.High / b.Low}
}

func hasTerm(m *kb.Material, terms ...string) bool {
	return slices.ContainsFunc(m.Terms, func(t string) bool { return slices.Contains(terms, t) })
}
