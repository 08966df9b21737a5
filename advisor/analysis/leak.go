package analysis

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"relath/advisor/assembly"
	"relath/advisor/climate"
	"relath/advisor/transient"
	"relath/kb"
	"relath/kb/quantity"
)

// Leak says which layer is wetted, with how much, when. The zero value stands for
// the defaults: 2 kg/m² within 6 h onto the cavity face of the sheathing, once on
// 15 January and once on 15 July.
type Leak struct {
	Hourly           // weather, tolerance and progress; the rest is not used
	Layer  string    // name of the wetted layer; empty for the sheathing
	Face   LeakFace  // where in that layer; empty for the face toward the insulation
	Amount float64   // kg/m²; 0 for the default
	Over   float64   // hours; 0 for the default
	On     []LeakDay // empty for both defaults
	// RainShare, if above 0, lets a share of the rain on the wall in for a year
	// instead of an amount on a day; Rain stands for the default share.
	RainShare float64
	Rain      bool
	// Brief wets the first variant alone, at best values.
	Brief bool
}

// LeakFace is where in a layer the water goes.
type LeakFace string

// The faces: toward the first side, toward the second side, and spread evenly over
// the layer.
const (
	LeakOuter LeakFace = "outer"
	LeakInner LeakFace = "inner"
	LeakWhole LeakFace = "whole"
)

// LeakDay is a day of the year.
type LeakDay struct{ Month, Day int }

// String writes the day as MM-DD.
func (d LeakDay) String() string { return fmt.Sprintf("%02d-%02d", d.Month, d.Day) }

// hour is the hour of the year at which the day begins, or -1 for no day of a
// common year.
func (d LeakDay) hour() int {
	days := daysOf()
	if d.Month < 1 || d.Month > len(days) || d.Day < 1 || d.Day > int(days[d.Month-1]) {
		return -1
	}
	sum := d.Day - 1
	for _, n := range days[:d.Month-1] {
		sum += int(n)
	}
	return 24 * sum
}

// ParseLeakDay reads MM-DD.
func ParseLeakDay(text string) (LeakDay, error) {
	var d LeakDay
	n, err := fmt.Sscanf(text, "%d-%d", &d.Month, &d.Day)
	if err != nil || n != 2 || d.hour() < 0 || d.String() != text {
		return LeakDay{}, fmt.Errorf("day %q: month and day of a common year are needed, such as 01-15", text)
	}
	return d, nil
}

// leakDays are the days of the defaults: the heart of winter and of summer.
func leakDays() []LeakDay { return []LeakDay{{1, 15}, {7, 15}} }

// LeakResult is what came of a leak into an assembly: into its first variant at all
// corners, and into the others in short.
type LeakResult struct {
	Assembly *assembly.Assembly
	Variant  *assembly.Variant
	Wetted   int // part
	Face     LeakFace
	Amount   float64 // kg/m²; 0 when rain leaks in
	Over     float64 // h
	Share    float64 // of the rain; 0 when an amount leaks in
	Cases    []LeakCase
	Corners  []string
	Facts    Facts // drying times and kept water by season, of scope assembly
	Hourly   HourlyResult
	Warnings []string
	Missing  string // why there is no answer

	Choices  []LeakChoice  // the other variants
	NotRun   int           // further variants that were not wetted
	Deciders []LeakDecider // the doubts that decide, at most one for each case

	Assumptions []Assumption
}

// LeakCase is one wetting. Ranges run over the corners.
type LeakCase struct {
	On       LeakDay
	Season   string         // winter or summer by the month, or rain
	Supplied quantity.Range // kg/m² that were offered
	Kept     quantity.Range // kg/m² that the wall took up
	Peak     quantity.Range // most water above the undisturbed wall, kg/m²
	Residual quantity.Range // water above the undisturbed wall a year later, kg/m²
	Wood     Span           // until wood is below its limit
	Dry      Span           // until every layer is near the undisturbed wall
	Outside  quantity.Range // where the water went within a year, kg/m²
	Inside   quantity.Range
	Stored   quantity.Range
	Drained  quantity.Range
	Spots    []LeakSpot
	Parts    []LeakPart
	Course   *LeakCourse // best case
}

// Span is a time after the wetting in s that may not come.
type Span struct {
	Applies bool // whether there is anything to wait for
	Within  bool // whether it comes within the year at every corner
	Ever    bool // whether it comes within the year at some corner
	Time    quantity.Range
	// Best says whether it comes within the year in the best case.
	Best bool
}

// LeakSpot is the mold index of a face, highest in the year after the wetting.
type LeakSpot struct {
	Part, Side    int
	Room          bool
	Limit         float64
	With, Without quantity.Range
	Wetted        bool // the layer was wetted with liquid, which the index does not cover
}

// LeakPart is the water of a part.
type LeakPart struct {
	Part          int
	Storage, Wood bool
	Peak          quantity.Range // kg/m² above the undisturbed wall
	Moisture      quantity.Range // highest moisture content of wood by mass after the wetting
}

// LeakCourse is a year after the wetting, day by day, in the best case.
type LeakCourse struct {
	Parts []LeakPartCourse
	Spots []LeakSpotCourse
}

// LeakPartCourse is the water of a part with and without the leak, kg/m², and its
// wood moisture by mass where it is of wood.
type LeakPartCourse struct {
	Part                  int
	With, Without         []float64
	WoodWith, WoodWithout []float64
}

// LeakSpotCourse is the mold index of a face with and without the leak.
type LeakSpotCourse struct {
	Part, Side    int
	Limit         float64
	With, Without []float64
}

// followed is how long a wetting is followed, h.
const followed = climate.HoursPerYear

// RunLeak wets a layer of an assembly at each of the days and follows the water for
// a year: the first variant at the corners of the hourly model, the others at best
// values and with all layers tight. It is an error
// when the leak names no layer, face or day that there is, when the context ends,
// or when a model refuses its input.
func RunLeak(ctx context.Context, base *kb.Base, a *assembly.Assembly, o Leak) (*LeakResult, error) {
	s, err := newLeakStudy(base, a, a.Variants[0], o)
	if err != nil || s.out.Missing != "" {
		return s.out, err
	}
	if err := s.compile(); err != nil {
		return nil, err
	}
	if err := s.run(ctx); err != nil {
		return nil, err
	}
	s.conclude(base)
	if s.out.Missing != "" || o.Brief {
		return s.out, nil
	}
	if err := s.runChoices(ctx, base); err != nil {
		return nil, err
	}
	return s.out, nil
}

// newLeakStudy finds the wetted place of a variant and the loads, or what is
// missing.
func newLeakStudy(base *kb.Base, a *assembly.Assembly, v *assembly.Variant, o Leak) (*leakStudy, error) {
	out := &LeakResult{Assembly: a, Variant: v, Facts: make(Facts)}
	s := &leakStudy{out: out, asked: o}
	var err error
	o.bestOnly = o.bestOnly || o.Brief
	if s.wishes, err = o.filled(base); err != nil {
		return &leakStudy{}, err
	}
	m := newModel(base, a, out.Variant)
	if out.Wetted, out.Face, err = s.wishes.place(m); err != nil {
		return &leakStudy{}, err
	}
	out.Amount, out.Over, out.Share = s.wishes.Amount, s.wishes.Over, s.wishes.RainShare
	if s.loads, out.Missing, err = loadsOf(base, a, o.Hourly); err != nil {
		return &leakStudy{}, err
	}
	if out.Missing == "" && out.Share > 0 && len(s.loads.rain) == 0 {
		out.Missing = "the rain does not reach it"
	}
	if out.Missing == "" {
		out.Missing = hourlyBlocked(m)
	}
	if out.Missing != "" {
		return s, nil
	}
	s.of = newHourlyModel(m)
	if len(s.of.lacks) > 0 {
		out.Missing = names(s.of.lacks)
	}
	return s, nil
}

// filled puts in the defaults and checks the rest.
func (o Leak) filled(base *kb.Base) (Leak, error) {
	assumed := func(id string) float64 {
		if a := base.Assumption(id); a != nil {
			return a.SI.Best
		}
		return 0
	}
	if o.Rain && o.RainShare == 0 {
		o.RainShare = assumed("leak-rain-share")
	}
	if o.Amount == 0 && o.RainShare == 0 {
		o.Amount = assumed("leak-amount")
	}
	if o.Over == 0 {
		o.Over = assumed("leak-duration") / secondsPerHour
	}
	if len(o.On) == 0 {
		o.On = leakDays()
	}
	const mostWater, longest = 1000.0, 8760.0
	switch {
	case !(o.Amount >= 0 && o.Amount <= mostWater):
		return o, askError("amount %g kg/m²: from 0 to %g", o.Amount, mostWater)
	case !(o.Over >= 1 && o.Over <= longest):
		return o, askError("duration %g h: from 1 to %g", o.Over, longest)
	case !(o.RainShare >= 0 && o.RainShare <= 1):
		return o, askError("share %g of the rain: from 0 to 1", o.RainShare)
	case o.RainShare > 0 && o.Amount > 0:
		return o, askError("an amount and a share of the rain do not go together")
	}
	for _, d := range o.On {
		if d.hour() < 0 {
			return o, askError("day %s is not in a common year", d)
		}
	}
	if o.RainShare > 0 {
		o.On = []LeakDay{{10, 1}}
	}
	return o, nil
}

// place finds the part that is wetted and the face of it.
func (o Leak) place(m *model) (part int, face LeakFace, err error) {
	part = defaultWetted(m)
	if o.Layer != "" {
		part = slices.IndexFunc(m.variant.Layers, func(p *assembly.Part) bool { return p.Name == o.Layer })
	}
	if part < 0 || !wettable(m.variant.Layers[part]) {
		return 0, "", notWettable(o.Layer, m.variant)
	}
	switch o.Face {
	case "":
		return part, faceToward(m.core, part), nil
	case LeakOuter, LeakInner, LeakWhole:
		return part, o.Face, nil
	}
	return 0, "", askError("face %q: allowed are %s, %s, %s", o.Face, LeakOuter, LeakInner, LeakWhole)
}

// AskError says that something was asked for that there is not, and what is
// allowed.
type AskError struct{ What string }

func (e *AskError) Error() string { return e.What }

func askError(format string, args ...any) error {
	return &AskError{What: fmt.Sprintf(format, args...)}
}

// wettable says whether a part has a solid that liquid can be put into.
func wettable(p *assembly.Part) bool {
	switch {
	case p.Cavity:
		return false
	case p.Framed:
		return slices.ContainsFunc(p.Fills, func(f assembly.PartFill) bool { return f.Material != nil })
	}
	return p.Material.Form != kb.Sheet && p.Material.Form != kb.Coat
}

// notWettable says which layers water can be put into.
func notWettable(name string, v *assembly.Variant) error {
	var list []string
	for _, p := range v.Layers {
		if wettable(p) {
			list = append(list, fmt.Sprintf("%q", p.Name))
		}
	}
	if len(list) == 0 || name == "" {
		return askError("no layer of the assembly takes up water")
	}
	return askError("water cannot be put into layer %q; it can into %s", name, strings.Join(list, ", "))
}

// defaultWetted is the sheathing: the first solid layer outside the insulated or
// framed one that is no fill; without one that layer itself or the next inside;
// -1 for none.
func defaultWetted(m *model) int {
	solid := func(i int) bool { return wettable(m.variant.Layers[i]) && !m.variant.Layers[i].Framed }
	for i := m.core - 1; i >= 0; i-- {
		if solid(i) {
			return i
		}
	}
	for i := m.core; i < len(m.variant.Layers); i++ {
		if solid(i) {
			return i
		}
	}
	return -1
}

// faceToward is the face of a part that looks at the core.
func faceToward(core, part int) LeakFace {
	switch {
	case part < core:
		return LeakInner
	case part > core:
		return LeakOuter
	}
	return LeakWhole
}

// positionIn turns a face into a place of the hourly model.
func (h *hourlyModel) positionIn(part int, face LeakFace) transient.Position {
	at := transient.Position{Layer: -1}
	for i, p := range h.places {
		if p.part != part || p.coat != 0 || h.bodies[p.body].solid == nil {
			continue
		}
		if at.Layer < 0 || face == LeakInner {
			at.Layer = i
		}
	}
	switch face {
	case LeakOuter:
		at.Face = transient.OuterFace
	case LeakInner:
		at.Face = transient.InnerFace
	default:
		at.Face = transient.Whole
	}
	return at
}
