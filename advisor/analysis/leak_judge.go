package analysis

import (
	"fmt"
	"math"
	"slices"

	"relath/advisor/wood"
	"relath/kb"
	"relath/kb/quantity"
)

// When a wall counts as dry.
const (
	// heldFor is how long a condition must hold, h.
	heldFor = 7 * 24
	// dryShare is the share of the water taken up by which a layer may differ from
	// the undisturbed one.
	dryShare = 0.05
)

// difference compares a wetted wall with the undisturbed one over the year after
// the wetting.
type difference struct {
	with, without *leakTrace
	from, to      int // hours
	over          int // length of the wetting, h
}

// flow is what a sum gained more than undisturbed from the wetting to hour k.
func (d *difference) flow(of func(*leakTrace) []float64, k int) float64 {
	more := func(t *leakTrace) float64 {
		sums := of(t)
		return sums[k] - sums[d.from-1]
	}
	return more(d.with) - more(d.without)
}

// part is the water of a part above the undisturbed wall at hour k.
func (d *difference) part(i, k int) float64 {
	if d.with.content[i] == nil {
		return 0
	}
	return d.with.content[i][k] - d.without.content[i][k]
}

// stored sums the parts.
func (d *difference) stored(k int) float64 {
	sum := 0.0
	for i := range d.with.content {
		sum += d.part(i, k)
	}
	return sum
}

// supplied and drained are amounts over the year.
func (d *difference) supplied() float64 {
	return d.flow(func(t *leakTrace) []float64 { return t.supplied }, d.to-1)
}

func (d *difference) drained() float64 {
	return d.flow(func(t *leakTrace) []float64 { return t.drained }, d.to-1)
}

// kept is what the wall took up while it was wetted.
func (d *difference) kept() float64 {
	last := min(d.from+d.over, d.to) - 1
	return d.flow(func(t *leakTrace) []float64 { return t.supplied }, last) -
		d.flow(func(t *leakTrace) []float64 { return t.drained }, last)
}

// outside is the water that left to the outside, with the rain that a wetter face
// took less of.
func (d *difference) outside() float64 {
	return d.flow(func(t *leakTrace) []float64 { return t.runoff }, d.to-1) -
		d.flow(func(t *leakTrace) []float64 { return t.outside }, d.to-1)
}

func (d *difference) inside() float64 {
	return -d.flow(func(t *leakTrace) []float64 { return t.inside }, d.to-1)
}

// peak is the most water above the undisturbed wall.
func (d *difference) peak() float64 {
	most := 0.0
	for k := d.from; k < d.to; k++ {
		most = max(most, d.stored(k))
	}
	return most
}

// highest is the largest value of a course in the year after the wetting.
func (d *difference) highest(course []float64) float64 { return slices.Max(course[d.from:d.to]) }

// until is the time in s from the beginning of the wetting until a condition holds
// for heldFor, counted from the end of the wetting on; NaN for not within the year.
func (d *difference) until(holds func(k int) bool) float64 {
	run := 0
	for k := min(d.from+d.over, d.to); k < d.to; k++ {
		run++
		if !holds(k) {
			run = 0
		}
		if run == heldFor {
			return float64(k-heldFor+1-d.from) * secondsPerHour
		}
	}
	return math.NaN()
}

// near says whether every layer is near the undisturbed wall.
func (d *difference) near() func(k int) bool {
	limit := dryShare * d.kept()
	return func(k int) bool {
		for i := range d.with.content {
			if math.Abs(d.part(i, k)) > limit {
				return false
			}
		}
		return true
	}
}

// below says whether all given wooden parts are below their limit.
func (d *difference) below(parts []int) func(k int) bool {
	return func(k int) bool {
		for _, i := range parts {
			if d.with.wood[i][k] > wood.SafeLimit {
				return false
			}
		}
		return true
	}
}

// conclude turns the traces into the answer.
func (s *leakStudy) conclude(base *kb.Base) {
	out := s.out
	out.Hourly.Weather, out.Hourly.Notes = s.loads.yearName, s.loads.notes()
	out.Assumptions = hourlyAssumptions(base, s.loads, []*hourlyVariant{{model: s.of}})
	for _, run := range s.runs {
		out.Hourly.Runs = append(out.Hourly.Runs, run.short(0))
	}
	if out.Missing = s.unsolved(); out.Missing != "" {
		return
	}
	for k, day := range s.wishes.On {
		out.Cases = append(out.Cases, s.judge(k, day))
	}
	s.facts()
	s.warn()
}

// judge makes one case.
func (s *leakStudy) judge(k int, day LeakDay) LeakCase {
	list := make([]*difference, len(s.runs))
	for i := range s.runs {
		list[i] = &difference{
			with: s.with[i][k], without: s.without[i],
			from: begin(day), to: begin(day) + followed, over: int(math.Round(s.wishes.Over)),
		}
		if s.wishes.RainShare > 0 {
			list[i].over = followed
		}
	}
	c := LeakCase{
		On: day, Season: seasonOf(day),
		Supplied: rangeOf(list, (*difference).supplied),
		Kept:     rangeOf(list, (*difference).kept),
		Peak:     rangeOf(list, (*difference).peak),
		Residual: rangeOf(list, func(d *difference) float64 { return d.stored(d.to - 1) }),
		Outside:  rangeOf(list, (*difference).outside),
		Inside:   rangeOf(list, (*difference).inside),
		Stored:   rangeOf(list, func(d *difference) float64 { return d.stored(d.to - 1) }),
		Drained:  rangeOf(list, (*difference).drained),
	}
	if s.wishes.RainShare == 0 {
		c.Dry = spanOver(list, func(d *difference) float64 { return d.until(d.near()) })
		if wood := s.runs[0].sheltered(); len(wood) > 0 {
			c.Wood = spanOver(list, func(d *difference) float64 { return d.until(d.below(wood)) })
		}
	} else {
		c.Season = "rain"
	}
	c.Spots, c.Parts, c.Course = s.spotCases(list), s.partCases(list), s.course(list[0])
	return c
}

// seasonOf names the half of the year in which a leak is.
func seasonOf(d LeakDay) string {
	if d.Month >= 4 && d.Month <= 9 {
		return "summer"
	}
	return "winter"
}

// spanOver joins times over the corners; where one does not come within the year
// the year itself is the end.
func spanOver(list []*difference, time func(*difference) float64) Span {
	s := Span{Applies: true, Within: true}
	s.Time = rangeOf(list, func(d *difference) float64 {
		t := time(d)
		if math.IsNaN(t) {
			s.Within = false
			return followed * secondsPerHour
		}
		s.Ever = true
		return t
	})
	s.Best = !math.IsNaN(time(list[0]))
	return s
}

// spotCases compares the mold index of the examined faces.
func (s *leakStudy) spotCases(list []*difference) []LeakSpot {
	var spots []LeakSpot
	for i, spot := range s.runs[0].spots {
		if s.without[0].index[i] == nil {
			continue
		}
		spots = append(spots, LeakSpot{
			Part: spot.part, Side: spot.side, Room: spot.room, Limit: spot.limit, Wetted: s.wets(spot),
			With:    rangeOf(list, func(d *difference) float64 { return d.highest(d.with.index[i]) }),
			Without: rangeOf(list, func(d *difference) float64 { return d.highest(d.without.index[i]) }),
		})
	}
	return spots
}

// wets says whether liquid is put onto a face: onto the wetted layer or what
// touches its wetted face.
func (s *leakStudy) wets(spot spot) bool {
	if spot.part == s.out.Wetted {
		return true
	}
	beside := 1
	if s.out.Face == LeakOuter {
		beside = -1
	}
	return s.out.Face != LeakWhole && spot.part == s.out.Wetted+beside && spot.side == -beside
}

// partCases compares the water of the parts.
func (s *leakStudy) partCases(list []*difference) []LeakPart {
	parts := make([]LeakPart, len(s.of.variant.Layers))
	for i := range parts {
		p := LeakPart{Part: i, Storage: list[0].with.content[i] != nil, Wood: list[0].with.wood[i] != nil}
		if p.Storage {
			p.Peak = rangeOf(list, func(d *difference) float64 {
				most := 0.0
				for k := d.from; k < d.to; k++ {
					most = max(most, d.part(i, k))
				}
				return most
			})
		}
		if p.Wood {
			p.Moisture = rangeOf(list, func(d *difference) float64 { return d.highest(d.with.wood[i]) })
		}
		parts[i] = p
	}
	return parts
}

// course keeps the year after the wetting day by day.
func (s *leakStudy) course(d *difference) *LeakCourse {
	cut := func(hours []float64) []float64 {
		if hours == nil {
			return nil
		}
		return daily(hours[:d.to], d.from)
	}
	out := &LeakCourse{}
	for i := range s.of.variant.Layers {
		out.Parts = append(out.Parts, LeakPartCourse{
			Part: i, With: cut(d.with.content[i]), Without: cut(d.without.content[i]),
			WoodWith: cut(d.with.wood[i]), WoodWithout: cut(d.without.wood[i]),
		})
	}
	for i, spot := range s.runs[0].spots {
		if d.with.index[i] != nil {
			out.Spots = append(out.Spots, LeakSpotCourse{
				Part: spot.part, Side: spot.side, Limit: spot.limit,
				With: cut(d.with.index[i]), Without: cut(d.without.index[i]),
			})
		}
	}
	return out
}

// LeakFacts lists the ids of the facts that only leaks give, all of scope assembly.
func LeakFacts() []string {
	return []string{
		"leak-dry-summer", "leak-dry-winter", "leak-mold-index-summer", "leak-mold-index-winter",
		"leak-wood-dry-summer", "leak-wood-dry-winter",
	}
}

// facts states drying times and mold index by season, of the first case of each.
func (s *leakStudy) facts() {
	for _, id := range LeakFacts() {
		s.out.Facts[id] = Estimate{Fact: id, Missing: "no leak in that season was computed"}
	}
	for i := len(s.out.Cases) - 1; i >= 0; i-- {
		c := &s.out.Cases[i]
		if c.Season == "rain" {
			continue
		}
		s.put("leak-dry-"+c.Season, c.Dry.estimate("not within a year"))
		wood := Estimate{Missing: noSheltered}
		if c.Wood.Applies {
			wood = c.Wood.estimate("not within a year")
		}
		s.put("leak-wood-dry-"+c.Season, wood)
		index := Estimate{Missing: "no face is food for mold or touches any"}
		if len(c.Spots) > 0 {
			index = measured(quantity.Range{
				Low:  mostOver(c.Spots, func(x LeakSpot) float64 { return x.With.Low }),
				Best: mostOver(c.Spots, func(x LeakSpot) float64 { return x.With.Best }),
				High: mostOver(c.Spots, func(x LeakSpot) float64 { return x.With.High }),
			})
		}
		s.put("leak-mold-index-"+c.Season, index)
	}
}

// put keeps a fact with its inputs.
func (s *leakStudy) put(id string, e Estimate) {
	e.Fact = id
	if e.Known {
		e.Inputs, e.Evidence = s.of.inputs, kb.Assumed // amount and place of the leak are
	}
	s.out.Facts[id] = e
}

// estimate is a time as a fact.
func (s Span) estimate(never string) Estimate {
	if !s.Best {
		return Estimate{Missing: never}
	}
	e := measured(s.Time)
	if !s.Within {
		e.Warnings = append(e.Warnings, never+" at some corner of the ranges")
	}
	return e
}

// warn collects what must be said of the runs.
func (s *leakStudy) warn() {
	add := func(words string) {
		if !slices.Contains(s.out.Warnings, words) {
			s.out.Warnings = append(s.out.Warnings, words)
		}
	}
	var frozen []string
	for i := range s.runs {
		for _, t := range append(slices.Clone(s.with[i]), s.without[i]) {
			frozen = append(frozen, t.frost...)
		}
	}
	if len(frozen) > 0 {
		add(frostWords(frozen))
	}
	for _, run := range s.runs {
		if run.balance[0] > balanceLimit || run.balance[1] > balanceLimit {
			add(fmt.Sprintf("the books of the run of the corner %q close to %.1g of the throughput only", run.corner, max(run.balance[0], run.balance[1])))
		}
	}
}
