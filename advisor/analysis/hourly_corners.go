package analysis

import (
	"cmp"
	"math"
	"slices"

	"relath/advisor/climate"
	"relath/kb"
)

// hourlyCorner is one setting of what is not known exactly.
type hourlyCorner struct {
	name string
	at   corner
	// unlent leaves out the suction that stand-ins lend.
	unlent bool
	// rain and suction multiply the rain on the face and the water absorption
	// coefficient of the outermost layer; 0 stands for 1.
	rain, suction float64
	// air is room air that meets the cold side of the bay, kg/(s·m²).
	air float64
}

// orOne is x, or 1 for nothing.
func orOne(x float64) float64 {
	if x == 0 {
		return 1
	}
	return x
}

// hourlyCorners are the best case, all tight, the mixed corner with the larger
// peak of the monthly method, or if neither condenses the one with the more humid
// food face, and the best case without the suction that stand-ins lend. A single
// layer has no mixed corners: all open instead.
func (h *hourlyModel) hourlyCorners(l *loads, o Hourly) ([]hourlyCorner, error) {
	ends, err := h.corners()
	if err != nil {
		return nil, err
	}
	list := []hourlyCorner{{name: "best values", at: ends[0]}}
	if o.bestOnly {
		return list, nil
	}
	list = append(list, hourlyCorner{name: "all layers tight", at: ends[1]})
	mixed, err := h.mixedCorner(ends)
	if err != nil {
		return nil, err
	}
	list = append(list, mixed)
	if h.lent() != nil {
		list = append(list, hourlyCorner{name: withoutSuction, at: ends[0], unlent: true})
	}
	if o.AirPath && h.leaky() {
		list = append(list, hourlyCorner{name: "best values with room air at the cold side of the bay", at: ends[0], air: h.airPath(l)})
	}
	return list, nil
}

// withoutSuction names the corner without the suction of stand-ins.
const withoutSuction = "best values without the suction of stand-ins"

// mixedCorner is the mixed corner that is run.
func (h *hourlyModel) mixedCorner(ends []corner) (hourlyCorner, error) {
	if len(h.elements) < 2 {
		return hourlyCorner{name: "all layers open", at: ends[2]}, nil
	}
	outside, err := h.evaluate(h.compile(ends[3]), nil, true)
	if err != nil {
		return hourlyCorner{}, err
	}
	inside, err := h.evaluate(h.compile(ends[4]), nil, true)
	if err != nil {
		return hourlyCorner{}, err
	}
	if inside[peakCondensate] > outside[peakCondensate] ||
		inside[peakCondensate] == outside[peakCondensate] && inside[planeHumidity] > outside[planeHumidity] {
		return hourlyCorner{name: "outside open, inside tight", at: ends[4]}, nil
	}
	return hourlyCorner{name: "outside tight, inside open", at: ends[3]}, nil
}

// lent is the suction that a stand-in of another kind lends to a layer behind the
// outermost one, that of the thickest such layer; nil for none.
func (h *hourlyModel) lent() *Input {
	var in *Input
	depth := 0.0
	for i := range h.bodies {
		if b := &h.bodies[i]; i > 0 && b.solid != nil && b.solid.lent != nil && b.depth > depth {
			in, depth = b.solid.lent, b.depth
		}
	}
	return in
}

// trial moves one input alone to the ends of its range, all else at best values.
type trial struct {
	input Input
	runs  []*hourlyRun // at one end or both
}

const (
	// mostTried is how many layers are tried: those whose range is widest for their
	// share of the vapor resistance.
	mostTried = 3
	// trialTolerance is the tolerance of trials.
	trialTolerance = 0.1
)

// prepareTrials compiles the trials of a variant.
func (v *hourlyVariant) prepareTrials(l *loads, o Hourly) error {
	h := v.model
	o.Tolerance = max(trialTolerance, o.Tolerance)
	add := func(in Input, ends ...hourlyCorner) error {
		t := &trial{input: in}
		for _, c := range ends {
			if c.at == nil {
				c.at = bestCase
			}
			run, err := h.compileHourly(c, l, o, runLength{hours: o.years() * climate.HoursPerYear, fine: -1})
			if err != nil {
				return err
			}
			t.runs = append(t.runs, run)
		}
		v.trials = append(v.trials, t)
		return nil
	}
	for _, e := range h.widestElements() {
		alone := func(end position) corner {
			return func(element int) position {
				if element == e {
					return end
				}
				return best
			}
		}
		if err := add(h.vaporInput(e), hourlyCorner{at: alone(tight)}, hourlyCorner{at: alone(open)}); err != nil {
			return err
		}
	}
	if len(v.runs[0].model.Input().Outside.Rain) == 0 {
		return nil
	}
	if a := h.base.Assumption("rain-deposition"); a != nil {
		in := Input{Material: a.ID, Property: "default"}
		if err := add(in, hourlyCorner{rain: a.SI.Low / a.SI.Best}, hourlyCorner{rain: a.SI.High / a.SI.Best}); err != nil {
			return err
		}
	}
	first := h.variant.Layers[0]
	w, ok := first.Material.Working("absorption-coefficient", kb.AnyMethod, 0)
	if !ok || w.SI.Best <= 0 {
		return nil
	}
	in := Input{Layer: first.Name, Material: first.Material.ID, Property: "absorption-coefficient", Value: w.Value}
	return add(in, hourlyCorner{suction: max(w.SI.Low/w.SI.Best, 0.01)}, hourlyCorner{suction: w.SI.High / w.SI.Best})
}

// widestElements lists the elements whose range is widest for their share of the
// vapor resistance; of a gap that breathes its air change.
func (h *hourlyModel) widestElements() []int {
	weight := make([]float64, len(h.elements))
	total := 0.0
	for i := range h.elements {
		total += 1 / max(h.elements[i].vapor.at(middle).Best, minPermeance)
	}
	var list []int
	for i := range h.elements {
		e := &h.elements[i]
		r := e.vapor.at(middle)
		weight[i] = math.Log(max(r.High, minPermeance)/max(r.Low, minPermeance)) / max(r.Best, minPermeance) / total
		if e.vent.High > e.vent.Low {
			weight[i] = 1
		}
		if weight[i] > 0 {
			list = append(list, i)
		}
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(weight[b], weight[a]) })
	return list[:min(mostTried, len(list))]
}

// vaporInput names what the vapor side of an element hangs on: its permeance with
// its coats, or its air change.
func (h *hourlyModel) vaporInput(element int) Input {
	e := &h.elements[element]
	p := h.variant.Layers[e.part]
	m := h.materialOf(*e)
	if m == nil {
		return Input{Layer: p.Name, Material: "air-change-" + string(p.Air), Property: "default"}
	}
	in := Input{Layer: p.Name, Material: m.ID, Property: "permeance"}
	for _, x := range h.inputs {
		if x.Layer == p.Name && x.Value != nil && slices.Contains(vaporProperties(), x.Property) {
			in.Value = x.Value
			break
		}
	}
	return in
}

// vaporProperties are the properties that give a permeance.
func vaporProperties() []string {
	return []string{"permeance", "permeability", "vapor-resistance-factor", "equivalent-air-layer"}
}

// worth is how far an input must move a fact at least to be worth a driver.
func worth(fact string) float64 {
	switch fact {
	case "mold-index", "mold-index-cavity", "mold-index-room":
		return 0.05
	case "wood-moisture", "wood-moisture-highest":
		return 0.005 // by mass
	case "moisture-highest", "moisture-mean":
		return 0.05 // kg/m³
	case "heat-loss", "heat-gain":
		return 0.05 // W/m²
	}
	return 24 // hours
}

// drive notes what moves a fact from its best value by more than the decisive
// share: the inputs that were tried, and the suction of stand-ins.
func (v *hourlyVariant) drive(e *Estimate, value func(*hourlySummary) float64) {
	if v.index > 0 {
		return
	}
	from := value(v.runs[0].summary)
	note := func(in Input, runs ...*hourlyRun) {
		low, high := from, from
		for _, run := range runs {
			if run.converged {
				x := value(run.summary)
				low, high = min(low, x), max(high, x)
			}
		}
		e.move(in, low, high, from)
	}
	for _, t := range v.trials {
		note(t.input, t.runs...)
	}
	if in := v.model.lent(); in != nil {
		for _, run := range v.runs {
			if run.corner == withoutSuction {
				note(*in, run)
			}
		}
	}
}

// move records a driver where it moves the fact by more than the decisive share,
// strongest first.
func (e *Estimate) move(in Input, low, high, from float64) {
	moved := max(from-low, high-from)
	if moved <= decisive*math.Abs(from) || moved < worth(e.Fact) {
		return
	}
	e.Drivers = append(e.Drivers, Driver{Input: in, Low: low, High: high})
	slices.SortStableFunc(e.Drivers, func(a, b Driver) int { return cmp.Compare(b.High-b.Low, a.High-a.Low) })
}
