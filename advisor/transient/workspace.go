package transient

import (
	"math"

	"relath/advisor/moistair"
	"relath/advisor/sorption"
)

// place is the state of a node: temperature in °C and coordinate of suction (see
// package sorption), for the air of a cavity relative humidity instead.
type place struct{ t, x float64 }

// node is a state with what follows from it: vapor pressure p in Pa, relative
// humidity and water w in kg/m², with their slopes by t and x.
type node struct {
	place
	p, pT, pX       float64
	phi, phiT, phiX float64
	w, wT, wX       float64
}

// Workspace holds the memory of a run. It may be used again for any model but by
// one run at a time. The zero value is ready.
type Workspace struct {
	*Model
	nodes  []node
	values []sorption.Values // of the slots: a node in two layers has two
	rows   []row
	faces  []face // between the nodes
	flows  []flow // of the outside, the inside and the exchanges

	// The last accepted states, newest first, and the steps between them.
	past  [3][]place
	steps [2]float64
	known int  // how many of the past states may be used
	owes  bool // whether the last iteration took more water from a node than it held

	books    []float64 // water of the nodes by the flows, kg/m²
	gained   []float64 // what the flows brought in the last step, kg/m²
	heated   []float64 // heat stored in the last step, J/m²
	capacity []float64 // heat capacity of the nodes in this step, J/(m²·K)
	poured   []float64 // liquid supply of this hour, kg/(s·m²)
	liquid   []float64 // share of suction diffusivity of the slabs in this hour
	guess    []place   // the predicted states

	hour     int
	weather  [2]weather
	rain     [2]float64 // offered in this hour, kg/(s·m²)
	supply   float64    // rain and leaks in this hour, kg/(s·m²)
	exchange []float64  // air flows, kg/(s·m²)
	opening  float64    // first step of an hour after a jump of the loads, s
	tally    tally
}

// prepare fits the memory to a model and sets the initial state.
func (w *Workspace) prepare(m *Model) {
	w.Model = m
	w.nodes = resize(w.nodes, m.nodes)
	w.values = resize(w.values, m.slots)
	w.rows = resize(w.rows, m.nodes)
	w.faces = resize(w.faces, m.nodes-1)
	w.flows = resize(w.flows, 2+len(m.exchanges))
	for i := range w.past {
		w.past[i] = resize(w.past[i], m.nodes)
	}
	for _, s := range []*[]float64{&w.books, &w.gained, &w.heated, &w.capacity, &w.poured} {
		*s = resize(*s, m.nodes)
	}
	w.liquid = resize(w.liquid, len(m.slabs))
	w.rain = [2]float64{}
	w.guess = resize(w.guess, m.nodes)
	w.exchange = resize(w.exchange, len(m.exchanges))
	w.steps, w.known, w.supply, w.tally, w.opening = [2]float64{}, 1, 0, tally{}, firstStep
	w.placeFlows()
	w.initialize()
}

// resize returns a zeroed slice of n elements, reusing s if it is large enough.
func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	s = s[:n]
	clear(s)
	return s
}

// initialize sets temperature and water of the nodes from the layers. A shared
// node gets the water of both, and the mean temperature by heat capacity.
func (w *Workspace) initialize() {
	state := w.past[0]
	for i := range state {
		state[i].x = math.NaN()
	}
	for k := range w.slabs {
		w.initializeSlab(&w.slabs[k], state)
	}
	for _, g := range w.gaps {
		layer := &w.input.Layers[g.layer]
		state[g.node] = place{layer.Temperature, layer.Humidity}
	}
	for i := range state {
		if math.IsInf(state[i].x, 1) {
			state[i].x = w.findCoordinate(i)
		}
		w.nodes[i].place = state[i]
	}
	w.evaluate()
	for _, g := range w.gaps {
		w.books[g.node] = w.nodes[g.node].w
	}
}

// initializeSlab adds what a solid layer brings to its nodes. The coordinate of a
// node stays infinite where the layers that meet disagree on it.
func (w *Workspace) initializeSlab(s *slab, state []place) {
	layer := &w.input.Layers[s.layer]
	f := &layer.Material.Functions
	x := coordinate(layer.Humidity, layer.Temperature)
	var v sorption.Values
	layer.Material.At(x, &v)
	for i, volume := range s.volume {
		n := s.first + i
		w.books[n] += volume * v.Content
		state[n].t += layer.Temperature * volume * f.Density * f.SpecificHeat / w.Model.capacity[n]
		if math.IsNaN(state[n].x) {
			state[n].x = x
		} else if state[n].x != x {
			state[n].x = math.Inf(1)
		}
	}
}

// coordinate returns the coordinate of a relative humidity at a temperature in °C.
func coordinate(humidity, celsius float64) float64 {
	kelvin := celsius + moistair.ZeroCelsius
	return max(lowest, min(full, sorption.Coordinate(math.Pow(humidity, kelvin/referenceKelvin))))
}

// findCoordinate returns the coordinate at which a node holds the water in its
// book.
func (w *Workspace) findCoordinate(i int) float64 {
	low, high := lowest, full
	for range 60 {
		x := (low + high) / 2
		if w.waterAt(i, x) < w.books[i] {
			low = x
		} else {
			high = x
		}
	}
	return high
}

// waterAt returns the water in kg/m² that solid layers hold at a node.
func (w *Workspace) waterAt(i int, x float64) float64 {
	var v sorption.Values
	sum := 0.0
	for k := range w.slabs {
		s := &w.slabs[k]
		if i >= s.first && i <= s.last() {
			w.table(s).At(x, &v)
			sum += s.volume[i-s.first] * v.Content
		}
	}
	return sum
}
