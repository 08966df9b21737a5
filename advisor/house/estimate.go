package house

import (
	"fmt"
	"slices"

	"relath/advisor/analysis"
	"relath/kb"
	"relath/kb/quantity"
)

// Where says to what an amount belongs: a layer of an assembly, or a finish of
// a room.
type Where struct {
	Assembly, Layer string
	Room, Part      string
}

// Holdings is an amount over the house and where it lies, in the order of the
// description; what is known to be none is left out.
type Holdings struct {
	Sum   analysis.Estimate
	Items []Holding
}

// Holding is one share of an amount.
type Holding struct {
	Where    Where
	Material *kb.Material
	Area     float64 // m² of the layer or face, 0 where it is not an area
	Amount   analysis.Estimate
}

// trace collects what an estimate was computed from.
type trace struct {
	inputs []analysis.Input
	mark   kb.Evidence
}

// value takes a working value of a material.
func (t *trace) value(layer string, m *kb.Material, w kb.Working) {
	t.inputs = append(t.inputs, analysis.Input{Layer: layer, Material: m.ID, Property: w.Property, Value: w.Value})
	t.mark = t.mark.Weaker(w.Evidence)
}

// estimate makes an estimate of a range by way of the trace.
func (t *trace) estimate(r quantity.Range) analysis.Estimate {
	return analysis.Estimate{Known: true, Range: r, Inputs: t.inputs, Evidence: t.mark}
}

// take gives the range of an assumption of the base and notes its use.
func (s *Study) take(t *trace, id string) quantity.Range {
	a := s.base.Assumption(id)
	if a == nil {
		return quantity.Range{}
	}
	s.used[id] = true
	t.inputs = append(t.inputs, analysis.Input{Material: id, Property: string(a.Dim)})
	t.mark = t.mark.Weaker(a.Evidence)
	return a.SI
}

func missing(format string, args ...any) analysis.Estimate {
	return analysis.Estimate{Missing: fmt.Sprintf(format, args...)}
}

// exact is an amount that follows from the description alone.
func exact(v float64) analysis.Estimate {
	return analysis.Estimate{Known: true, Range: quantity.Exact(v)}
}

// decisive is the share of a sum from which a part decides its mark.
const decisive = 0.05

// sum adds amounts. Those that are not known are left out and named. The mark
// is the weakest among parts that make more than a twentieth of the sum.
func sum(items []Holding) analysis.Estimate {
	total := analysis.Estimate{Known: true}
	for _, i := range items {
		if !i.Amount.Known {
			total.Warnings = appendNew(total.Warnings, "not counted: "+i.Amount.Missing)
			continue
		}
		total.Range = plus(total.Range, i.Amount.Range)
		for _, w := range i.Amount.Warnings {
			total.Warnings = appendNew(total.Warnings, w)
		}
	}
	for _, i := range items {
		a := i.Amount
		switch {
		case !a.Known || a.Range.High == 0:
		case a.Range.High > decisive*total.Range.High:
			total.Evidence = total.Evidence.Weaker(a.Evidence)
			total.Inputs = append(total.Inputs, a.Inputs...)
		case a.Evidence != "" && a.Evidence != kb.Read:
			total.Minor++
		}
	}
	return total
}

// holdings sums items and leaves out what is none.
func holdings(items []Holding) Holdings {
	h := Holdings{Sum: sum(items)}
	for _, i := range items {
		if !i.Amount.Known || i.Amount.Range.High > 0 {
			h.Items = append(h.Items, i)
		}
	}
	return h
}

func appendNew(list []string, text string) []string {
	if slices.Contains(list, text) {
		return list
	}
	return append(list, text)
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

// sorted makes a range of three values of which the second is the best.
func sorted(a, best, b float64) quantity.Range {
	return quantity.Range{Low: min(a, best, b), Best: best, High: max(a, best, b)}
}

func hasTerm(m *kb.Material, terms ...string) bool {
	return slices.ContainsFunc(m.Terms, func(t string) bool { return slices.Contains(terms, t) })
}
