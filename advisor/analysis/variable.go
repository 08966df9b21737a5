package analysis

import (
	"math"
	"slices"
	"strings"

	"relath/kb"
	"relath/kb/quantity"
)

// variable is one thing that is not known exactly: a property of a material or
// of a measured system, or a default. It stands at one place of its range
// wherever it is used, so that five coats of one paint move together.
type variable struct {
	input  Input    // the value, with all layers that use it
	layers []string // those layers
	mark   kb.Evidence
	kind   variableKind
	share  float64 // of heat variables: their part of the thermal resistance

	reads func(position) float64 // what the input reads at a place of its range, SI; nil where it has none
	cup   func(position) float64 // of permeances: by the dry cup
}

// variableKind says what a variable belongs to.
type variableKind int

const (
	ofVapor variableKind = iota // permeances and air changes: what the corners move
	ofHeat                      // thermal resistances and the share of framing
	ofRooms                     // room air that the description leaves out
)

// position says where a variable stands in its range: best, at an end, or
// between (samples). The nudged ends are those of the range or, for a value
// without one, a tenth below and above it: they show what a value moves.
type position float64

const (
	nudgedLow  position = -2
	tight      position = -1
	best       position = 0
	open       position = 1
	nudgedHigh position = 2
)

// nudge is the share by which a value without a range is moved.
const nudge = 0.1

// corner says at which end the vapor variables stand, for each element: the
// mixed corners hold the outer elements at one end and the inner at the other.
type corner func(element int) position

// bestCase leaves every variable at its best value.
func bestCase(int) position { return best }

// everywhere puts all elements at one end.
func everywhere(end position) corner { return func(int) position { return end } }

// places says where the variables of one element stand: all of a kind at one
// position or, with shift, each at its own.
type places struct {
	vapor, heat position
	air         position   // of the rooms, where all stand at one
	shift       []position // by variable
	released    int        // one more than the vapor variable that stays at best, 0 for none
}

func (p places) ofVapor(variable int) position {
	switch {
	case p.shift != nil:
		return p.shift[variable]
	case p.released == variable+1:
		return best
	}
	return p.vapor
}

// ofHeat is the same for heat; a variable below 0 has no range.
func (p places) ofHeat(variable int) position {
	switch {
	case variable < 0:
		return best
	case p.shift != nil:
		return p.shift[variable]
	}
	return p.heat
}

// pick gives the value of a range at a position. Between the ends and the best
// value it interpolates by ratio, and linearly where a bound is not positive.
func pick(r quantity.Range, at position) float64 {
	switch at {
	case best:
		return r.Best
	case tight:
		return r.Low
	case open:
		return r.High
	case nudgedLow:
		if r.Low == r.High {
			return r.Best * (1 - nudge)
		}
		return r.Low
	case nudgedHigh:
		if r.Low == r.High {
			return r.Best * (1 + nudge)
		}
		return r.High
	}
	end, far := r.High, float64(at)
	if at < 0 {
		end, far = r.Low, -far
	}
	switch {
	case end == r.Best:
		return end
	case r.Best > 0 && end > 0:
		return r.Best * math.Pow(end/r.Best, far)
	}
	return r.Best + (end-r.Best)*far
}

// variableOf gives the index of the variable of a property of a material,
// system or assumption, new where it was not met yet. Conductivity and thermal
// resistance of a material are one.
func (m *model) variableOf(kind variableKind, in Input, mark kb.Evidence) int {
	for i := range m.variables {
		v := &m.variables[i]
		if v.kind == kind && v.input.Material == in.Material && (kind == ofHeat || v.input.Property == in.Property) {
			v.mark = v.mark.Weaker(mark)
			if !slices.Contains(v.layers, in.Layer) {
				v.layers = append(v.layers, in.Layer)
				v.input.Layer = strings.Join(v.layers, " and ")
			}
			return i
		}
	}
	m.variables = append(m.variables, variable{input: in, layers: []string{in.Layer}, mark: mark, kind: kind})
	return len(m.variables) - 1
}

// reading says what the input of a variable reads at a place of its range.
func (m *model) reading(variable int, reads func(position) float64) {
	if v := &m.variables[variable]; v.reads == nil {
		v.reads = reads
	}
}

// decides says whether a variable can move a moisture fact at all. A layer that
// holds less than a twentieth of the thermal resistance moves no temperature by
// more than a twentieth, and is left out.
func (v *variable) decides() bool { return v.kind != ofHeat || v.share > decisive }

// weak says whether a mark is one that a footnote counts.
func weak(mark kb.Evidence) bool { return mark != kb.Read && mark != "" }
