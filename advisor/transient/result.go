package transient

import (
	"math"

	"relath/advisor/sorption"
)

// Status says how a run ended.
type Status int

const (
	// Finished is a run over all its hours.
	Finished Status = iota
	// NotConverged is a run that could not be solved beyond Result.Hours.
	NotConverged
)

// Result is a run. Element k of a course belongs to the end of hour k, the full
// hour k+1, or to the hour from k to k+1 for amounts.
type Result struct {
	Status Status
	Hours  int // full hours that were solved
	// Layers in the order of Input.Layers.
	Layers []LayerResult
	// Probes in the order of Input.Probes, and the faces toward the air of both
	// sides, on top of coats.
	Probes []Course
	Faces  [2]Course
	// Sides are what came from the air of the two sides through the faces, Air
	// what came by exchange of cavities and air paths.
	Sides [2]Flows
	Air   Flows
	// Supplied is the rain and leak water of each hour, Runoff the rain that the
	// faces could not take, Drained what else exceeded free saturation; kg/m².
	Supplied, Runoff, Drained []float64
	Mass                      Balance // kg/m²
	Heat                      Balance // J/m²
	Effort                    Effort
}

// LayerResult is the course of one layer.
type LayerResult struct {
	Content []float64 // kg/m²; empty for cavities and sheets
	// Frost is the largest number of hours on end in which a place in the layer
	// was below 0 °C and above 90 % relative humidity.
	Frost int

	frost int
}

// Course is the state of one place.
type Course struct {
	Temperature []float64 // °C
	Humidity    []float64 // relative, 0 to 1, to the saturation pressure of the input
}

// Flows are amounts per hour, positive into the construction. Heat holds the
// latent heat of the vapor and not the absorbed radiation, which is Gain.
type Flows struct {
	Heat, Gain []float64 // J/m²
	Vapor      []float64 // kg/m²
}

// Balance compares what the state holds with what the flows brought.
type Balance struct {
	Before, After float64 // content; for heat the gain since the start
	In            float64 // net amount brought by all flows, drained water taken off
	Throughput    float64 // sum of the amounts of all flows regardless of sign
	Error         float64 // After − Before − In
}

// Relative returns the error as a share of the throughput; 0 if nothing flowed.
func (b Balance) Relative() float64 {
	if b.Throughput == 0 {
		return 0
	}
	return math.Abs(b.Error) / b.Throughput
}

// Effort counts the work of a run.
type Effort struct{ Steps, Rejected, Iterations int }

// tally is what a run counts on its way.
type tally struct {
	hour                        liquids
	mass, heat                  sum
	stored                      float64
	steps, rejected, iterations int
}

// liquids are amounts of liquid water in an hour, kg/m².
type liquids struct{ supplied, runoff, drained float64 }

// sum is a net and a gross sum.
type sum struct{ net, gross float64 }

func (s *sum) add(x float64) {
	s.net += x
	s.gross += math.Abs(x)
}

// newResult makes the courses of a run at their full length.
func newResult(m *Model) *Result {
	hours := m.input.Hours
	course := func() []float64 { return make([]float64, hours) }
	r := &Result{
		Hours:    hours,
		Layers:   make([]LayerResult, len(m.input.Layers)),
		Probes:   make([]Course, len(m.probes)),
		Supplied: course(), Runoff: course(), Drained: course(),
	}
	for k := range m.slabs {
		r.Layers[m.slabs[k].layer].Content = course()
	}
	r.eachCourse(func(c *Course) { *c = Course{course(), course()} })
	r.eachFlow(func(f *Flows) { *f = Flows{course(), course(), course()} })
	return r
}

func (r *Result) eachCourse(do func(*Course)) {
	for i := range r.Probes {
		do(&r.Probes[i])
	}
	for i := range r.Faces {
		do(&r.Faces[i])
	}
}

func (r *Result) eachFlow(do func(*Flows)) {
	for i := range r.Sides {
		do(&r.Sides[i])
	}
	do(&r.Air)
}

// cut ends a result after the hours that were solved.
func (r *Result) cut(hours int) {
	r.Status, r.Hours = NotConverged, hours
	for i := range r.Layers {
		if c := &r.Layers[i].Content; *c != nil {
			*c = (*c)[:hours]
		}
	}
	r.eachCourse(func(c *Course) {
		c.Temperature, c.Humidity = c.Temperature[:hours], c.Humidity[:hours]
	})
	r.eachFlow(func(f *Flows) {
		f.Heat, f.Gain, f.Vapor = f.Heat[:hours], f.Gain[:hours], f.Vapor[:hours]
	})
	r.Supplied, r.Runoff, r.Drained = r.Supplied[:hours], r.Runoff[:hours], r.Drained[:hours]
}

// record writes the end of an hour into the result.
func (w *Workspace) record(r *Result, hour int) {
	w.recordContents(r, hour)
	for i, n := range w.probes {
		w.evaluateAir(n)
		r.Probes[i].Temperature[hour] = w.nodes[n].t
		r.Probes[i].Humidity[hour] = w.nodes[n].phi
		if w.excess[n] > 0 {
			r.Probes[i].Humidity[hour] = min(1, w.nodes[n].phi) // rounding
		}
	}
	for side := range r.Faces {
		t, humidity := w.face(Side(side))
		r.Faces[side].Temperature[hour] = t
		r.Faces[side].Humidity[hour] = humidity
	}
	for i := range w.flows {
		to := &r.Air
		if i < len(r.Sides) {
			to = &r.Sides[i]
		}
		f := &w.flows[i]
		to.Heat[hour] += f.hour.heat
		to.Gain[hour] += f.hour.gain
		to.Vapor[hour] += f.hour.vapor
		f.hour = bookings{}
	}
	h := &w.tally.hour
	r.Supplied[hour], r.Runoff[hour], r.Drained[hour] = h.supplied, h.runoff, h.drained
	w.tally.closeHour()
}

// closeHour moves the liquid of the hour to the sums of the run.
func (t *tally) closeHour() {
	t.mass.add(t.hour.supplied)
	t.mass.add(-t.hour.runoff)
	t.mass.add(-t.hour.drained)
	t.hour = liquids{}
}

// recordContents writes the water of the layers and counts frost.
func (w *Workspace) recordContents(r *Result, hour int) {
	for k := range w.slabs {
		s := &w.slabs[k]
		saturation := w.table(s).Functions.FreeSaturation
		water, frozen := 0.0, false
		for i, volume := range s.volume {
			n, v := &w.nodes[s.first+i], &w.values[s.firstSlot+i]
			content := v.Content + v.ContentSlope*w.rows[s.first+i].right[1]
			water += volume * max(0, min(content, saturation))
			frozen = frozen || n.t < 0 && n.phi > 0.9
		}
		layer := &r.Layers[s.layer]
		layer.Content[hour] = water
		layer.frost++
		if !frozen {
			layer.frost = 0
		}
		layer.Frost = max(layer.Frost, layer.frost)
	}
}

// face returns temperature and relative humidity of the face toward the air of a
// side, from the flows through its film; at most 1, as a coat does not hold the
// water that condenses on it.
func (w *Workspace) face(side Side) (celsius, humidity float64) {
	f, air := &w.flows[side], &w.weather[side]
	w.evaluateAir(f.node)
	w.measureEnd(side)
	n := &w.nodes[f.node]
	celsius, pressure := n.t, n.p
	if air.heat > 0 && w.ends[side].resistance > 0 {
		celsius = air.temperature - (f.heat[0]-w.latent*f.vapor[0])/air.heat
	}
	if air.vapor > 0 {
		pressure = air.pressure - f.vapor[0]/air.vapor
	}
	saturation, _ := w.saturation.at(celsius)
	return celsius, min(1, pressure/saturation)
}

// held returns the water that the state holds by the functions of the materials,
// kg/m².
func (w *Workspace) held() float64 {
	var v sorption.Values
	sum := 0.0
	for k := range w.slabs {
		s := &w.slabs[k]
		for i, volume := range s.volume {
			w.table(s).At(w.past[0][s.first+i].x, &v)
			sum += volume * v.Content
		}
	}
	for _, g := range w.gaps {
		w.nodes[g.node].place = w.past[0][g.node]
		w.evaluateAir(g.node)
		sum += g.storage * w.nodes[g.node].p
	}
	return sum
}

// finish closes the balances.
func (w *Workspace) finish(r *Result) {
	t := &w.tally
	t.closeHour()
	r.Mass.After, r.Mass.In, r.Mass.Throughput = w.held(), t.mass.net, t.mass.gross
	r.Mass.Error = r.Mass.After - r.Mass.Before - r.Mass.In
	r.Heat.After, r.Heat.In, r.Heat.Throughput = t.stored, t.heat.net, t.heat.gross
	r.Heat.Error = r.Heat.After - r.Heat.Before - r.Heat.In
	r.Effort = Effort{t.steps, t.rejected, t.iterations}
}
