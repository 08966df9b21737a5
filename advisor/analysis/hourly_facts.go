package analysis

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"relath/advisor/mold"
	"relath/kb"
)

// HourlyFacts lists the ids of the facts that only hourly runs give, of the
// assembly and of a layer.
func HourlyFacts() (assembly, layer []string) {
	assembly = []string{
		"heat-gain", "heat-loss", "mold-index-cavity", "mold-index-room", "wood-decay-hours", "wood-moisture", "wood-wet-hours",
	}
	layer = []string{
		"damp-hours", "mold-index", "moisture-highest", "moisture-mean",
		"wood-hours-above-16", "wood-hours-above-20", "wood-hours-above-28", "wood-moisture-highest",
		"wood-moisture-month", "wood-reading-hourly",
	}
	return assembly, layer
}

// state writes the facts of a variant into a result, with the warnings of its
// runs.
func (v *hourlyVariant) state(base *kb.Base, r *Result) {
	v.missing = v.unsolved()
	ofAssembly, ofLayer := HourlyFacts()
	for _, id := range ofAssembly {
		v.of.Facts[id] = Estimate{Fact: id, Missing: v.missing}
	}
	for i := range v.of.Layers {
		for _, id := range ofLayer {
			v.of.Layers[i].Facts[id] = Estimate{Fact: id, Missing: v.missing}
		}
	}
	switch v.missing {
	case "":
	case onlyFirst:
		r.warn(onlyFirst)
		return
	default:
		r.warn("no hourly answer: " + v.missing)
		return
	}
	v.stateAssembly()
	for i := range v.of.Layers {
		v.stateLayer(i)
	}
	for _, words := range v.warnings() {
		r.warn(words)
	}
}

// warn adds a warning once.
func (r *Result) warn(words string) {
	if !slices.Contains(r.Warnings, words) {
		r.Warnings = append(r.Warnings, words)
	}
}

// unsolved says why there is no answer: what was missing, or which corner did not
// come to the end.
func (v *hourlyVariant) unsolved() string {
	if v.missing != "" {
		return v.missing
	}
	for _, run := range v.runs {
		if !run.converged {
			return fmt.Sprintf("the hourly run of the corner %q could not be solved beyond hour %d", run.corner, run.hours)
		}
	}
	return ""
}

// estimate makes a fact of a value over the corners.
func (v *hourlyVariant) estimate(id string, value func(*hourlySummary) float64) Estimate {
	e := v.model.rested(measured(rangeOf(v.runs, func(run *hourlyRun) float64 { return value(run.summary) })), v.model.inputs)
	e.Fact = id
	if len(v.model.assumed) > 0 {
		e.Evidence = kb.Assumed
	}
	v.drive(&e, value)
	return e
}

// The readings of a mold index: by the class, and where one is assumed by the
// class next more resistant and next more sensitive.
func byClass(s spotSummary) float64 { return s.index }
func byMild(s spotSummary) float64  { return s.mild }
func byHarsh(s spotSummary) float64 { return s.harsh }

// estimateIndex makes a fact of the highest mold index over some spots. Where a
// class is assumed its neighbors widen the range, and it may be what decides.
func (v *hourlyVariant) estimateIndex(id string, spots []int) Estimate {
	most := func(by func(spotSummary) float64) func(*hourlySummary) float64 {
		return func(s *hourlySummary) float64 {
			return mostOver(spots, func(i int) float64 { return by(s.spots[i]) })
		}
	}
	e := v.estimate(id, most(byClass))
	for _, run := range v.runs {
		e.Range.Low = min(e.Range.Low, most(byMild)(run.summary))
		e.Range.High = max(e.Range.High, most(byHarsh)(run.summary))
	}
	worst := slices.MaxFunc(spots, func(a, b int) int {
		return cmp.Compare(v.runs[0].summary.spots[a].index, v.runs[0].summary.spots[b].index)
	})
	if in := v.runs[0].spots[worst].unsure; in != nil {
		best := v.runs[0].summary
		e.move(*in, most(byMild)(best), most(byHarsh)(best), e.Range.Best)
	}
	return e
}

func (v *hourlyVariant) stateAssembly() {
	f := v.of.Facts
	put := func(id string, value func(*hourlySummary) float64) { f[id] = v.estimate(id, value) }
	put("heat-loss", func(s *hourlySummary) float64 { return s.loss })
	put("heat-gain", func(s *hourlySummary) float64 { return s.gain })
	v.stateIndex("mold-index-cavity", "no face in a cavity is food for mold or touches any", func(s spot) bool { return !s.room })
	v.stateIndex("mold-index-room", "the face toward the room is no food for mold", func(s spot) bool { return s.room })
	wood := v.runs[0].sheltered()
	if len(wood) == 0 {
		for _, id := range []string{"wood-decay-hours", "wood-moisture", "wood-wet-hours"} {
			f[id] = Estimate{Fact: id, Missing: noSheltered}
		}
		return
	}
	put("wood-moisture", func(s *hourlySummary) float64 {
		return mostOver(wood, func(i int) float64 { return s.parts[i].moisture.Highest })
	})
	put("wood-wet-hours", func(s *hourlySummary) float64 {
		return mostOver(wood, func(i int) float64 { return float64(s.parts[i].moisture.AboveSafe) })
	})
	put("wood-decay-hours", func(s *hourlySummary) float64 {
		return mostOver(wood, func(i int) float64 { return float64(s.parts[i].moisture.DecayHours) })
	})
}

// noSheltered is why there is no wood moisture of an assembly.
const noSheltered = "no layer of wood behind the weather face"

// sheltered lists the wooden parts but an outermost one toward the weather, which
// is meant to get wet.
func (run *hourlyRun) sheltered() []int {
	var list []int
	for i, p := range run.of.variant.Layers {
		if woody(p.Material) && !p.Framed && !(i == 0 && run.of.of.Between[0] == "outdoors") {
			list = append(list, i)
		}
	}
	return list
}

// stateIndex states the highest mold index over faces of one kind.
func (v *hourlyVariant) stateIndex(id, none string, of func(spot) bool) {
	var spots []int
	for i, s := range v.runs[0].spots {
		if of(s) && !math.IsNaN(v.runs[0].summary.spots[i].index) {
			spots = append(spots, i)
		}
	}
	if len(spots) == 0 {
		v.of.Facts[id] = Estimate{Fact: id, Missing: none}
		return
	}
	v.of.Facts[id] = v.estimateIndex(id, spots)
}

// mostOver is the largest value over a list, 0 for none.
func mostOver[T any](list []T, value func(T) float64) float64 {
	most := 0.0
	for _, x := range list {
		most = max(most, value(x))
	}
	return most
}

// stateLayer states the facts of one part. What does not apply to it is not known
// and says why.
func (v *hourlyVariant) stateLayer(part int) {
	f := v.of.Layers[part].Facts
	put := func(id string, value func(*hourlySummary) float64) { f[id] = v.estimate(id, value) }
	not := func(why string, ids ...string) {
		for _, id := range ids {
			f[id] = Estimate{Fact: id, Missing: why}
		}
	}
	p := v.runs[0].summary.parts[part]
	if p.storage {
		put("moisture-highest", func(s *hourlySummary) float64 { return s.parts[part].highest })
		put("moisture-mean", func(s *hourlySummary) float64 { return s.parts[part].mean })
	} else {
		not("a sheet or an air space stores no water", "moisture-highest", "moisture-mean")
	}
	if p.wood {
		put("wood-moisture-highest", func(s *hourlySummary) float64 { return s.parts[part].moisture.Highest })
		put("wood-hours-above-16", func(s *hourlySummary) float64 { return float64(s.parts[part].moisture.AbovePaint) })
		put("wood-hours-above-20", func(s *hourlySummary) float64 { return float64(s.parts[part].moisture.AboveSafe) })
		put("wood-hours-above-28", func(s *hourlySummary) float64 { return float64(s.parts[part].moisture.AboveDecay) })
	} else {
		not("not of wood", "wood-moisture-highest", "wood-hours-above-16", "wood-hours-above-20", "wood-hours-above-28")
	}
	v.stateReading(part)
	v.stateFaces(part, put, not)
}

// stateFaces states what happens at the faces of a part; the face toward the
// weather counts for neither.
func (v *hourlyVariant) stateFaces(part int, put func(string, func(*hourlySummary) float64), not func(string, ...string)) {
	var faces, food []int
	for i, s := range v.runs[0].spots {
		if s.part != part || s.weather {
			continue
		}
		faces = append(faces, i)
		if s.food && s.model != nil {
			food = append(food, i)
		}
	}
	most := func(of []int, value func(spotSummary) float64) func(*hourlySummary) float64 {
		return func(s *hourlySummary) float64 {
			return mostOver(of, func(i int) float64 { return value(s.spots[i]) })
		}
	}
	if len(faces) == 0 {
		not("an air space has no faces", "damp-hours", "mold-index")
		return
	}
	put("damp-hours", most(faces, func(s spotSummary) float64 { return float64(s.damp) }))
	if len(food) == 0 {
		not("no food for mold at its faces", "mold-index")
		return
	}
	v.of.Layers[part].Facts["mold-index"] = v.estimateIndex("mold-index", food)
}

// Limits of the books: a run whose balance is worse is not to be trusted.
const balanceLimit = 1e-6

// stillRising is the rise of the mold index from year to year that is worth a
// warning.
const stillRising = 0.1

// unsettled is the change of the water of a standing layer over the last year, as
// a share of its mean, from which the run has not settled.
const unsettled = 0.02

// warnings says what the reader of hourly facts must know.
func (v *hourlyVariant) warnings() []string {
	var list []string
	var frozen, rising, drifting []string
	for _, run := range v.runs {
		if run.balance[0] > balanceLimit || run.balance[1] > balanceLimit {
			list = append(list, fmt.Sprintf("the books of the hourly run of the corner %q close to %.1g of the throughput only", run.corner, max(run.balance[0], run.balance[1])))
		}
		for _, part := range run.summary.frost {
			frozen = append(frozen, run.of.variant.Layers[part].Name)
		}
		for i, p := range run.summary.parts {
			if v.model.variant.Layers[i].State == "existing" && p.drift > unsettled {
				drifting = append(drifting, v.model.variant.Layers[i].Name)
			}
		}
		for i, s := range run.summary.spots {
			if !math.IsNaN(s.index) && s.at > s.before+stillRising {
				rising = append(rising, run.of.variant.Layers[run.spots[i].part].Name)
			}
		}
	}
	if len(frozen) > 0 {
		list = append(list, frostWords(frozen))
	}
	if len(drifting) > 0 {
		list = append(list, fmt.Sprintf("%s: the water of a standing layer still changes by more than %.0f %% from year to year; more years settle it", names(drifting), 100*unsettled))
	}
	if len(rising) > 0 {
		list = append(list, fmt.Sprintf("%s: the mold index is still rising from year to year", names(rising)))
	}
	return list
}

// frostWords says where it froze for long.
func frostWords(parts []string) string {
	return fmt.Sprintf("%s: damp and below 32 °F (0 °C) for over %d hours on end; the model knows no ice", names(parts), frostHours)
}

// names joins names without repetition.
func names(list []string) string {
	slices.Sort(list)
	return strings.Join(slices.Compact(list), ", ")
}

// LimitOf gives the highest accepted mold index for a fact, 0 for others.
func LimitOf(fact string) float64 {
	switch fact {
	case "mold-index-cavity":
		return mold.LimitCavity
	case "mold-index-room":
		return mold.LimitRoom
	}
	return 0
}
