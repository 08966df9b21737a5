package house

import (
	"fmt"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/climate"
	"relath/advisor/wood"
	"relath/kb"
	"relath/kb/quantity"
)

// Movement is how the boards of a finish move with the seasons. Moisture
// contents are kg of water per kg of dry wood.
type Movement struct {
	Low, High      analysis.Estimate // moisture content in the driest and the dampest month
	Driest         int               // month, 0 for January
	Dampest        int
	Target         analysis.Estimate // moisture content at which it should be laid: the middle of the two
	Delivered      analysis.Estimate // moisture content as wood is commonly delivered
	Width          float64           // m of a board, 0 when not given
	Cut            assembly.Cut      // as described; empty when not known
	PerWidth       analysis.Estimate // movement over the year for each unit of width
	Gap            analysis.Estimate // m beside each board in the driest month
	Swell          analysis.Estimate // m that each board grows to the dampest month
	Total          analysis.Estimate // m between the two months
	GapLimit       analysis.Estimate // m, the gap that is put up with
	WidestBoard    analysis.Estimate // m, the widest board whose yearly movement stays under that gap
	Acclimatize    analysis.Estimate // s in the heated room before it is laid
	Perimeter      analysis.Estimate // m at the edges, for floors
	WithinValidity bool              // whether the coefficients hold for all moisture contents
	Warnings       []string
}

// movement gives how a finish of solid wood moves: the coefficient of the
// species times the change of moisture content (Wood Handbook FPL-GTR-282, ch.
// 13), in equilibrium with the monthly mean air of the rooms. It is nil for
// other materials, and where the place has no climate.
func (s *Study) movement(f *assembly.ResolvedFinish, m *kb.Material) *Movement {
	if !hasTerm(m, "solid-wood") || len(s.months) == 0 {
		return nil
	}
	t := &trace{}
	coefficient, ok := coefficientOf(t, f, m)
	if !ok {
		return nil
	}
	v := &Movement{Width: f.Width, Cut: f.Finish.Cut}
	s.season(v)
	low, high := v.Low.Range, v.High.Range
	v.Target = analysis.Estimate{Known: true, Range: sorted((low.Low+high.Low)/2, (low.Best+high.Best)/2, (low.High+high.High)/2), Evidence: v.Low.Evidence}
	d := &trace{}
	v.Delivered = d.estimate(s.take(d, "wood-delivered"))
	v.WithinValidity = wood.InMovementRange(low.Best, high.Best)
	span := sorted(max(0, high.Low-low.High), high.Best-low.Best, high.High-low.Low)
	t.mark = t.mark.Weaker(v.Low.Evidence)
	v.PerWidth = t.estimate(times(coefficient, span))
	s.limits(v, m)
	v.boards(t, coefficient)
	v.warn(f, m)
	return v
}

// LayerMovement is how the boards of a layer toward a room move. A layer gives no
// width of its boards, so that only the movement for each unit of width and the
// widest board are known.
type LayerMovement struct {
	Where    Where
	Material *kb.Material
	Movement *Movement
}

// layerMovements gives the movement of solid wood that faces a room, in the
// first variant of each assembly.
func (s *Study) layerMovements(results []*analysis.Result) []LayerMovement {
	var list []LayerMovement
	for _, r := range results {
		if len(r.Variants) == 0 {
			continue
		}
		layers := r.Variants[0].Of.Layers
		faces := []*assembly.Part{layers[len(layers)-1]}
		if len(layers) > 1 && roomAir(r.Assembly.Between[0]) {
			faces = append(faces, layers[0])
		}
		for _, p := range faces {
			if p.Cavity || p.Framed || !roomAir(r.Assembly.Between[1]) {
				continue
			}
			f := &assembly.ResolvedFinish{Finish: &assembly.Finish{}, Name: p.Name, Materials: []*kb.Material{p.Material}, Thickness: p.Depth}
			if m := s.movement(f, p.Material); m != nil {
				list = append(list, LayerMovement{Where: Where{Assembly: r.Assembly.Name, Layer: p.Name}, Material: p.Material, Movement: m})
			}
		}
	}
	return list
}

// coefficientOf is the coefficient of movement across the boards, per kg/kg. A
// cut that is not described may be either, and flat-sawn boards, which are most
// of what is sold, are the best guess and the worst case.
func coefficientOf(t *trace, f *assembly.ResolvedFinish, m *kb.Material) (quantity.Range, bool) {
	flat, hasFlat := m.Working("shrinkage-coefficient-tangential", kb.AnyMethod, 0)
	quarter, hasQuarter := m.Working("shrinkage-coefficient-radial", kb.AnyMethod, 0)
	part := f.Name
	switch {
	case f.Finish.Cut == "quarter" && hasQuarter:
		t.value(part, m, quarter)
		return quarter.SI, true
	case !hasFlat:
		return quantity.Range{}, false
	case f.Finish.Cut == "flat" || !hasQuarter:
		t.value(part, m, flat)
		return flat.SI, true
	}
	t.value(part, m, flat)
	t.value(part, m, quarter)
	r := flat.SI
	r.Low = min(r.Low, quarter.SI.Low)
	return r, true
}

// season finds the moisture content of wood in the driest and the dampest month
// of the room air. Where the description leaves the humidity of a season to a
// default, the bounds of the default give the range.
func (s *Study) season(v *Movement) {
	at := func(pick func(quantity.Range) float64) (low, high float64, driest, dampest int) {
		for i, m := range s.monthly(s.ruleAt(pick)) {
			content := wood.EMC(m.indoorT, m.humidity())
			if i == 0 || content < low {
				low, driest = content, i
			}
			if i == 0 || content > high {
				high, dampest = content, i
			}
		}
		return low, high, driest, dampest
	}
	low, high, driest, dampest := at(func(r quantity.Range) float64 { return r.Best })
	dryLow, dryHigh, _, _ := at(func(r quantity.Range) float64 { return r.Low })
	dampLow, dampHigh, _, _ := at(func(r quantity.Range) float64 { return r.High })
	t := &trace{mark: "derived"}
	s.ruleTrace(t)
	v.Low, v.High = t.estimate(sorted(dryLow, low, dampLow)), t.estimate(sorted(dryHigh, high, dampHigh))
	v.Driest, v.Dampest = driest, dampest
}

// ruleAt is the air of the rooms with the humidities that were left to defaults
// at one end of their ranges.
func (s *Study) ruleAt(pick func(quantity.Range) float64) climate.Indoor {
	rule := s.rule
	t := &trace{}
	if in := s.house.House.Indoor.Heating; in == nil || in.Humidity.IsZero() {
		rule.Heating.RelativeHumidity = pick(s.take(t, "heating-humidity"))
	}
	if in := s.house.House.Indoor.Cooling; in != nil && in.Humidity.IsZero() && rule.Cooling != nil {
		cooling := *rule.Cooling
		cooling.RelativeHumidity = pick(s.take(t, "cooling-humidity"))
		rule.Cooling = &cooling
	}
	return rule
}

// ruleTrace notes the defaults behind the air of the rooms.
func (s *Study) ruleTrace(t *trace) {
	if in := s.house.House.Indoor.Heating; in == nil || in.Humidity.IsZero() {
		s.take(t, "heating-humidity")
	}
	if in := s.house.House.Indoor.Cooling; in != nil && in.Humidity.IsZero() {
		s.take(t, "cooling-humidity")
	}
}

// limits fills in what the trade puts up with and asks for.
func (s *Study) limits(v *Movement, m *kb.Material) {
	t := &trace{}
	v.Acclimatize = t.estimate(s.take(t, "acclimatize"))
	t = &trace{}
	v.GapLimit = t.estimate(s.take(t, "floor-gap-limit"))
	switch most := v.PerWidth.Range; {
	case hasTerm(m, "trim", "door", "cabinet"):
		v.WidestBoard = missing("only boards laid side by side open gaps")
	case most.Low <= 0:
		v.WidestBoard = missing("the boards may hardly move")
	default:
		limit := v.GapLimit.Range
		t.mark = t.mark.Weaker(v.PerWidth.Evidence)
		v.WidestBoard = t.estimate(sorted(limit.Low/most.High, limit.Best/most.Best, limit.High/most.Low))
	}
	if hasTerm(m, "flooring") {
		t = &trace{}
		v.Perimeter = t.estimate(s.take(t, "floor-perimeter-gap"))
	} else {
		v.Perimeter = missing("only floors have one")
	}
}

// boards fills in gap and swell of one board, laid at the target; the bounds
// hold boards laid as dry or as damp as wood is delivered.
func (v *Movement) boards(t *trace, coefficient quantity.Range) {
	if v.Width <= 0 {
		why := missing("the width of a board is not given")
		v.Gap, v.Swell, v.Total = why, why, why
		return
	}
	at := func(c, laid, low, high float64) wood.Season {
		return wood.SeasonalMovement(v.Width, c, laid, low, high)
	}
	low, high, laid := v.Low.Range, v.High.Range, v.Delivered.Range
	best := at(coefficient.Best, v.Target.Range.Best, low.Best, high.Best)
	damp := at(coefficient.High, max(laid.High, v.Target.Range.High), low.Low, high.High)
	dry := at(coefficient.High, min(laid.Low, v.Target.Range.Low), low.Low, high.High)
	dampLeast := at(coefficient.Low, max(laid.High, v.Target.Range.High), low.High, max(low.High, high.Low))
	dryLeast := at(coefficient.Low, min(laid.Low, v.Target.Range.Low), low.High, max(low.High, high.Low))
	v.Gap = t.estimate(sorted(dryLeast.Gap, best.Gap, damp.Gap))
	v.Swell = t.estimate(sorted(dampLeast.Swell, best.Swell, dry.Swell))
	v.Total = t.estimate(v.PerWidth.Range.Scale(v.Width))
}

// warn says what the reader must know.
func (v *Movement) warn(f *assembly.ResolvedFinish, m *kb.Material) {
	if !v.WithinValidity {
		v.Warnings = append(v.Warnings, fmt.Sprintf("the coefficients hold from 6 to 14 %% moisture; the rooms bring %s to %.1f to %.1f %%", m.Name, 100*v.Low.Range.Best, 100*v.High.Range.Best))
	}
	if v.Cut == "" {
		v.Warnings = append(v.Warnings, "flat-sawn boards are taken, which move most; quarter-sawn boards move about half")
	}
	if t := v.Target.Range.Best; t < v.Delivered.Range.Low || t > v.Delivered.Range.High {
		v.Warnings = append(v.Warnings, fmt.Sprintf("these rooms ask for wood at %.1f %% moisture, outside of what is commonly delivered: acclimatize and measure", 100*t))
	}
	if widest := v.WidestBoard; widest.Known && v.Width > widest.Range.Best && hasTerm(m, "flooring") {
		v.Warnings = append(v.Warnings, fmt.Sprintf("boards of %s will open gaps wider than %s: take boards up to %s, or quarter-sawn",
			quantity.Format(f.Width, quantity.Length, quantity.InchPound), quantity.Format(v.GapLimit.Range.Best, quantity.Length, quantity.InchPound),
			quantity.Format(roundDown(widest.Range.Best), quantity.Length, quantity.InchPound)))
	}
}

// roundDown takes a length to the next smaller quarter of an inch, m.
func roundDown(v float64) float64 {
	const quarter = 0.00635
	return float64(int(v/quarter+1e-9)) * quarter
}
