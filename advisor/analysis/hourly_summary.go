package analysis

import (
	"math"
	"slices"

	"relath/advisor/moistair"
	"relath/advisor/mold"
	"relath/advisor/sorption"
	"relath/advisor/transient"
	"relath/advisor/wood"
)

// The conditions of a damp hour.
const (
	dampAbove = 0.8 // relative humidity
	warmAbove = 5.0 // °C
)

// frostHours is the number of hours of frost on end from which a warning goes
// with a run: the model knows no ice.
const frostHours = 100

// hourlySummary is what a run says of its last year.
type hourlySummary struct {
	parts []partSummary
	spots []spotSummary
	loss  float64 // heat that leaves the room through the inner face, mean of the year, W/m²
	gain  float64 // heat that enters it there, W/m²
	frost []int   // parts in which it froze for long
}

// partSummary is the water of one part.
type partSummary struct {
	storage       bool
	highest, mean float64 // kg/m³
	drift         float64 // change over the last year as a share of the mean
	wood          bool
	moisture      wood.DampHours // at the wettest of both faces and the middle
	months        *woodMonths    // where a reading asks for them
}

// spotSummary is what happens at one face.
type spotSummary struct {
	damp    int     // hours above 80 % and 5 °C
	index   float64 // highest mold index of the last year; NaN where it is not examined
	mild    float64 // the same by the class next more resistant, where the class is assumed
	harsh   float64 // the same by the class next more sensitive
	before  float64 // mold index at the start of the last year
	at      float64 // mold index at its end
	highest float64 // relative humidity
}

// leastDrift is the mean content in kg/m³ below which a layer holds too little
// water for its drift to matter.
const leastDrift = 1.0

// summarize reads the hours from the given one to the end of the run.
func (run *hourlyRun) summarize(r *transient.Result, from int) *hourlySummary {
	s := &hourlySummary{parts: make([]partSummary, len(run.of.variant.Layers))}
	for i := range s.parts {
		s.parts[i] = run.partSummary(r, i, from)
		if run.frozen(r, i) {
			s.frost = append(s.frost, i)
		}
	}
	for i := range run.spots {
		s.spots = append(s.spots, run.spotSummary(r, i, from))
	}
	s.loss, s.gain = heatThrough(&r.Sides[transient.Inside], from)
	return s
}

// course is the state of a watched face: that of the face toward the air where
// there is one.
func (run *hourlyRun) course(r *transient.Result, i int) *transient.Course {
	switch s := run.spots[i]; {
	case s.room:
		return &r.Faces[transient.Inside]
	case s.weather:
		return &r.Faces[transient.Outside]
	}
	return &r.Probes[i]
}

func (run *hourlyRun) spotSummary(r *transient.Result, i, from int) spotSummary {
	spot, c := &run.spots[i], run.course(r, i)
	out := spotSummary{index: math.NaN()}
	for k := from; k < len(c.Humidity); k++ {
		out.highest = max(out.highest, c.Humidity[k])
		if c.Humidity[k] > dampAbove && c.Temperature[k] > warmAbove {
			out.damp++
		}
	}
	if !spot.food || spot.model == nil {
		return out
	}
	out.index, out.before, out.at = indexOver(spot.model, c, from)
	out.mild, out.harsh = out.index, out.index
	if spot.unsure != nil {
		out.mild, _, _ = indexOver(spot.mild, c, from)
		out.harsh, _, _ = indexOver(spot.harsh, c, from)
	}
	return out
}

// indexOver is the highest mold index of a face from an hour on, and that at the
// hour and at the end, from a clean face at the start on.
func indexOver(m *mold.Model, c *transient.Course, from int) (highest, before, at float64) {
	var state mold.State
	for k, t := range c.Temperature {
		if k == from {
			before = state.Index()
		}
		state.Advance(m, t, c.Humidity[k])
		if k >= from {
			highest = max(highest, state.Index())
		}
	}
	return highest, before, state.Index()
}

func (run *hourlyRun) partSummary(r *transient.Result, part, from int) partSummary {
	content, depth := run.content(r, part)
	if content == nil {
		return partSummary{}
	}
	out := partSummary{storage: true}
	for _, w := range content[from:] {
		out.highest = max(out.highest, w/depth)
		out.mean += w / depth / float64(len(content)-from)
	}
	if out.mean > leastDrift {
		out.drift = math.Abs(content[len(content)-1]-content[max(0, from-1)]) / depth / out.mean
	}
	wet := run.woodCourse(r, part)
	if wet == nil {
		return out
	}
	out.wood = true
	for k := from; k < len(wet.Humidity); k++ {
		out.moisture.Advance(wet.Temperature[k], wet.Humidity[k])
	}
	if len(run.of.readingsOn(part)) > 0 {
		out.months = run.woodMonths(r, part, from)
	}
	return out
}

// content sums the water of a part over its fills in kg/m²; depth is in m.
func (run *hourlyRun) content(r *transient.Result, part int) (sum []float64, depth float64) {
	for i, p := range run.of.places {
		b := &run.of.bodies[p.body]
		if p.part != part || p.coat != 0 || b.solid == nil {
			continue
		}
		depth += b.depth
		if sum == nil {
			sum = slices.Clone(r.Layers[i].Content)
			continue
		}
		for k, w := range r.Layers[i].Content {
			sum[k] += w
		}
	}
	return sum, depth
}

// woodCourse is the temperature and, in place of humidity, the moisture content
// by mass of the wettest of both faces and the middle of a wooden part; nil for
// others. Coats count as the face below them.
func (run *hourlyRun) woodCourse(r *transient.Result, part int) *transient.Course {
	var out *transient.Course
	take := func(c *transient.Course) {
		if out == nil {
			out = &transient.Course{Temperature: make([]float64, len(c.Temperature)), Humidity: make([]float64, len(c.Temperature))}
		}
		for k, t := range c.Temperature {
			if u := run.of.contentAt(part, t, c.Humidity[k]); u > out.Humidity[k] {
				out.Temperature[k], out.Humidity[k] = t, u
			}
		}
	}
	for _, c := range run.cores {
		if c.part != part {
			continue
		}
		for _, probe := range []int{c.probe, c.probe + 1, c.probe + 2} {
			take(&r.Probes[probe])
		}
	}
	return out
}

// contentAt is the moisture content by mass of a solid part at a recorded place.
// Content belongs to suction, so humidity is taken to the reference temperature
// first.
func (h *hourlyModel) contentAt(part int, celsius, humidity float64) float64 {
	const reference = sorption.ReferenceTemperature + moistair.ZeroCelsius
	for i := range h.bodies {
		b := &h.bodies[i]
		if b.solid != nil && h.elements[b.element].part == part {
			return b.content(math.Pow(min(1, humidity), (celsius+moistair.ZeroCelsius)/reference)) / b.solid.data.Density
		}
	}
	return 0
}

// frozen says whether a part was below 0 °C and damp for long.
func (run *hourlyRun) frozen(r *transient.Result, part int) bool {
	for i, p := range run.of.places {
		if p.part == part && r.Layers[i].Frost > frostHours {
			return true
		}
	}
	return false
}

// heatThrough gives the mean flow of heat without the latent heat of vapor from
// the room into the construction, and that from the construction into the room.
func heatThrough(f *transient.Flows, from int) (loss, gain float64) {
	hours := float64(len(f.Heat) - from)
	for k := from; k < len(f.Heat); k++ {
		q := (f.Heat[k] - transient.LatentHeat*f.Vapor[k]) / secondsPerHour / hours
		if q > 0 {
			loss += q
		} else {
			gain -= q
		}
	}
	return loss, gain
}

// courses keeps the last year day by day.
func (run *hourlyRun) courses(r *transient.Result, from int) *HourlyDetail {
	d := &HourlyDetail{}
	for i := range run.of.variant.Layers {
		content, _ := run.content(r, i)
		d.Parts = append(d.Parts, PartCourse{Part: i, Content: daily(content, from)})
	}
	for i, s := range run.spots {
		if !s.food || s.model == nil {
			continue
		}
		d.Spots = append(d.Spots, SpotCourse{
			Part: s.part, Side: s.side, Limit: s.limit, Index: daily(indexCourse(s.model, run.course(r, i)), from),
		})
	}
	return d
}

// indexCourse is the mold index of a face hour by hour, from a clean face on.
func indexCourse(m *mold.Model, c *transient.Course) []float64 {
	var state mold.State
	index := make([]float64, len(c.Temperature))
	for k, t := range c.Temperature {
		state.Advance(m, t, c.Humidity[k])
		index[k] = state.Index()
	}
	return index
}

// daily takes the last hour of each day from the given hour on.
func daily(hours []float64, from int) []float64 {
	var days []float64
	for k := from + 23; k < len(hours); k += 24 {
		days = append(days, hours[k])
	}
	return days
}
