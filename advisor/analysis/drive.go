package analysis

import (
	"cmp"
	"math"
	"slices"

	"relath/kb"
)

// decisive is the share of a fact by which an input must move it to decide its
// mark of evidence.
const decisive = 0.05

// negligible is the least spread of a fact that is worth a driver, in the SI
// unit of the fact; all moisture facts are far above it when they matter.
const negligible = 1e-12

// drive moves one element at a time to the ends of its range (or a tenth,
// where it has none) and records what moves each fact. Without full it only
// passes on the marks of all inputs.
func (m *model) drive(f Facts, bestOutcome outcome, full bool) error {
	ids := moistureFacts()
	estimates := make([]Estimate, len(ids))
	for i, id := range ids {
		estimates[i] = f[id]
		for _, e := range m.elements {
			estimates[i].Inputs = append(estimates[i].Inputs, e.inputs...)
		}
	}
	if full {
		for i := range m.elements {
			if err := m.driveOne(i, ids, estimates, bestOutcome); err != nil {
				return err
			}
		}
	}
	for i, id := range ids {
		slices.SortStableFunc(estimates[i].Drivers, func(a, b Driver) int {
			return cmp.Compare(math.Abs(b.High-b.Low), math.Abs(a.High-a.Low))
		})
		f[id] = estimates[i]
	}
	return nil
}

// driveOne moves one element.
func (m *model) driveOne(i int, ids []string, estimates []Estimate, from outcome) error {
	low, err := m.run(only(i, nudgedLow))
	if err != nil {
		return err
	}
	high, err := m.run(only(i, nudgedHigh))
	if err != nil {
		return err
	}
	for k, id := range ids {
		read := reader(id)
		lo, hi, base := read(&low), read(&high), read(&from)
		moved := max(math.Abs(lo-base), math.Abs(hi-base))
		input, mark := m.elements[i].vaporInput()
		switch {
		case moved > decisive*math.Abs(base) && moved > negligible:
			estimates[k].Evidence = estimates[k].Evidence.Weaker(mark)
			estimates[k].Drivers = append(estimates[k].Drivers, Driver{Input: input, Low: lo, High: hi})
		case mark != kb.Read && mark != "":
			estimates[k].Minor++
		}
	}
	return nil
}

// only moves a single element.
func only(i, end int) corner {
	return func(e int) int {
		if e == i {
			return end
		}
		return best
	}
}

// vaporInput gives the input that stands for the vapor side of an element and
// the weakest mark among all of them.
func (e *element) vaporInput() (Input, kb.Evidence) {
	var first Input
	var mark kb.Evidence
	for _, in := range e.inputs {
		if in.Property == "thermal-resistance" || in.Property == "conductivity" {
			continue
		}
		if first.Property == "" || in.Property == "air-change" {
			first = in
		}
		if in.Value != nil {
			mark = mark.Weaker(in.Value.Evidence)
		} else {
			mark = mark.Weaker(kb.Assumed)
		}
	}
	return first, mark
}
