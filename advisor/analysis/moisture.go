package analysis

import (
	"slices"
	"strings"

	"relath/advisor/moistair"
	"relath/advisor/steady"
	"relath/kb/quantity"
)

// heat states the U-factor and the surface temperatures.
func (m *model) heat(f Facts, layers []LayerFacts) error {
	for i := range layers {
		r := quantity.Range{}
		var inputs []Input
		for _, e := range m.elements {
			if e.part != i {
				continue
			}
			r.Low, r.Best, r.High = r.Low+e.heat.Low, r.Best+e.heat.Best, r.High+e.heat.High
			for _, in := range e.inputs {
				if in.Value != nil && isHeat(in.Property) {
					inputs = append(inputs, in)
				}
			}
		}
		e := measured(r)
		e.Inputs, e.Evidence = inputs, weakestOf(inputs)
		layers[i].Facts["layer-resistance"] = e
	}
	if len(m.heatless) > 0 {
		missing := Estimate{Missing: strings.Join(m.heatless, "; ")}
		f["u-factor"], f["temperature-ratio"], f["room-surface-humidity"] = missing, missing, missing
		m.dewPoints(layers, nil)
		return nil
	}
	u, err := m.uFactor()
	if err != nil {
		return err
	}
	f["u-factor"] = u
	ratio, err := m.surfaceRatio()
	if err != nil {
		return err
	}
	f["temperature-ratio"] = measured(ratio)
	f["room-surface-humidity"] = m.surfaceHumidity(ratio)
	var in *steady.Input
	if m.ambient && len(m.lacks) == 0 {
		in = m.compile(bestCase)
	}
	return m.dewPoints(layers, in)
}

// uFactor is the printed U-factor: parallel paths with ASHRAE films.
func (m *model) uFactor() (Estimate, error) {
	inside, outside := films(m.of)
	at := func(end int) (float64, error) {
		r, err := m.conduction(end, inside, outside).ParallelPath()
		return 1 / r, err
	}
	middle, err := at(best)
	if err != nil {
		return Estimate{}, err
	}
	low, err := at(open)
	if err != nil {
		return Estimate{}, err
	}
	high, err := at(tight)
	if err != nil {
		return Estimate{}, err
	}
	e := measured(quantity.Range{Low: low, Best: middle, High: high})
	for i := range m.elements {
		for _, in := range m.elements[i].inputs {
			if isHeat(in.Property) {
				e.Inputs = append(e.Inputs, in)
			}
		}
	}
	m.markHeat(&e)
	return e, nil
}

// isHeat says whether a property belongs to the heat side of a layer.
func isHeat(property string) bool {
	return property == "thermal-resistance" || property == "conductivity"
}

// markHeat gives the mark of the U-factor: the weakest among elements that
// hold more than a twentieth of the resistance.
func (m *model) markHeat(e *Estimate) {
	total := 0.0
	for _, x := range m.elements {
		total += x.heat.Best
	}
	for _, x := range m.elements {
		for _, in := range x.inputs {
			if in.Value == nil || in.Property == "permeance" {
				continue
			}
			if x.heat.Best > decisive*total {
				e.Evidence = e.Evidence.Weaker(in.Value.Evidence)
			} else if in.Value.Evidence != "read" {
				e.Minor++
			}
		}
	}
}

// surfaceRatio is the temperature ratio at the room surface with the mold
// surface resistance, at the framing where there is one: the colder path.
func (m *model) surfaceRatio() (quantity.Range, error) {
	_, outside := films(m.of)
	var r quantity.Range
	for _, at := range []int{tight, best, open} {
		rest := outside
		for i, p := range m.variant.Layers {
			part := 0.0
			for _, e := range m.elements {
				if e.part == i {
					part += pick(e.heat, at)
				}
			}
			if p.Framed && p.Fraction > 0 {
				part = min(part, pick(m.framing[i], at))
			}
			rest += part
		}
		ratio, err := steady.SurfaceRatio(steady.MoldFilm, rest)
		if err != nil {
			return r, err
		}
		switch at {
		case tight:
			r.Low = ratio
		case best:
			r.Best = ratio
		default:
			r.High = ratio
		}
	}
	return r, nil
}

// surfaceHumidity is the highest monthly humidity at that surface in months
// that are not cooled.
func (m *model) surfaceHumidity(ratio quantity.Range) Estimate {
	if !m.ambient {
		return Estimate{Missing: "no outdoor climate on the first side"}
	}
	at := func(f float64) float64 {
		most := 0.0
		for _, month := range m.months {
			if month.Cooling() {
				continue
			}
			if s, err := month.InnerSurface(f, steady.ASHRAE); err == nil {
				most = max(most, min(1, s.RH))
			}
		}
		return most
	}
	return measured(quantity.Range{Low: at(ratio.High), Best: at(ratio.Best), High: at(ratio.Low)})
}

// dewPoints counts the months in which faces are below the dew point of room
// air, and of outdoor air while the house is cooled.
func (m *model) dewPoints(layers []LayerFacts, in *steady.Input) error {
	if in == nil {
		for i := range layers {
			missing := Estimate{Missing: "no steady profile"}
			layers[i].Facts["below-dew-point-months"], layers[i].Facts["cooled-below-outdoor-dew-point"] = missing, missing
		}
		return nil
	}
	below, cooled := make([]float64, len(layers)), make([]float64, len(layers))
	n := len(m.elements)
	for _, month := range in.Months {
		p, err := m.workspace.Profile(in, month)
		if err != nil {
			return err
		}
		room, weather := moistair.DewPoint(month.IndoorP), moistair.DewPoint(month.OutdoorP)
		seen := make(map[[2]int]bool)
		for i, e := range m.elements {
			inner, outer := p.Temperature[n-1-i], p.Temperature[n-i]
			if inner < room && !seen[[2]int{0, e.part}] {
				seen[[2]int{0, e.part}] = true
				below[e.part]++
			}
			if m.of.House.Cooling != nil && month.Cooling() && outer < weather && !seen[[2]int{1, e.part}] {
				seen[[2]int{1, e.part}] = true
				cooled[e.part]++
			}
		}
	}
	for i := range layers {
		layers[i].Facts["below-dew-point-months"] = measured(quantity.Exact(below[i]))
		layers[i].Facts["cooled-below-outdoor-dew-point"] = measured(quantity.Exact(cooled[i]))
	}
	return nil
}

// moistureFacts are the assembly facts of the moisture methods.
func moistureFacts() []string {
	return []string{
		"peak-condensate", "condensation-months", "summer-condensate", "drying-capacity",
		"drying-outward", "drying-inward", "permeance-outward", "permeance-inward", "plane-humidity",
	}
}

// moisture states the facts of the moisture methods over the corners.
func (m *model) moisture(out *Variant, full bool) error {
	if lacks := m.blocked(); lacks != "" {
		missing := Estimate{Missing: lacks}
		for _, id := range append(moistureFacts(), "dries-in-year") {
			out.Facts[id] = missing
		}
		for i := range out.Layers {
			out.Layers[i].Facts["condensate"] = missing
		}
		return nil
	}
	ends, err := m.corners()
	if err != nil {
		return err
	}
	outcomes := make([]outcome, len(ends))
	for i, at := range ends {
		if outcomes[i], err = m.run(at); err != nil {
			return err
		}
	}
	for _, id := range moistureFacts() {
		out.Facts[id] = measured(over(outcomes, reader(id)))
	}
	out.Facts["dries-in-year"] = dries(outcomes)
	for i := range out.Layers {
		out.Layers[i].Facts["condensate"] = measured(over(outcomes, func(o *outcome) float64 { return o.perPart[i] }))
	}
	if err := m.drive(out.Facts, outcomes[0], full); err != nil {
		return err
	}
	if full {
		return m.detail(out, ends)
	}
	return nil
}

// blocked says why the moisture methods cannot run, or "".
func (m *model) blocked() string {
	switch {
	case !m.ambient && m.of.Between[0] == "ground":
		return "below grade the monthly method has no verdict"
	case !m.ambient:
		return "no outdoor climate on the first side"
	case len(m.elements) < 2:
		return "a single layer has no inner plane"
	case len(m.heatless) > 0:
		return strings.Join(m.heatless, "; ")
	case len(m.lacks) > 0:
		return strings.Join(slices.Compact(m.lacks), "; ")
	}
	return ""
}

// reader picks the value of a fact out of an outcome.
func reader(id string) func(*outcome) float64 {
	switch id {
	case "peak-condensate":
		return func(o *outcome) float64 { return o.peak }
	case "condensation-months":
		return func(o *outcome) float64 { return o.months }
	case "summer-condensate":
		return func(o *outcome) float64 { return o.summer }
	case "drying-capacity":
		return func(o *outcome) float64 { return o.both }
	case "drying-outward":
		return func(o *outcome) float64 { return o.outward }
	case "drying-inward":
		return func(o *outcome) float64 { return o.inward }
	case "permeance-outward":
		return func(o *outcome) float64 { return o.permeanceOut }
	case "permeance-inward":
		return func(o *outcome) float64 { return o.permeanceIn }
	}
	return func(o *outcome) float64 { return o.foodHumidity }
}

// dries says whether no water is carried over at any corner.
func dries(outcomes []outcome) Estimate {
	all, none := true, true
	for _, o := range outcomes {
		dry := o.carry <= condensing
		all, none = all && dry, none && !dry
	}
	return Estimate{Known: true, Flag: all, Mixed: !all && !none}
}
