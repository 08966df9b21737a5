package transient

import (
	"math"

	"relath/advisor/sorption"
)

const (
	secondsPerHour = 3600.0
	// firstStep starts a run, in s; steps grow by at most maxGrowth. Steps no
	// longer than it are taken at any local error, since a jump of the loads
	// makes one that does not shrink with the step.
	firstStep = 1.0
	maxGrowth = 2.0
	// minStep ends a run that cannot be solved, in s.
	minStep = 1e-3
	// maxIterations of Newton's method; a step that needs more is divided. A step
	// of up to firstStep may take more of them: after a jump, for instance where
	// a wet layer touches a dry one at the start, shorter steps help little.
	maxIterations     = 12
	maxIterationsJump = 60
	// Changes in one iteration are limited to what keeps the linear forms
	// useful, in K and units of the coordinate.
	maxChangeT = 25.0
	maxChangeX = 1.5
	// steep is the coordinate, at about 87 % relative humidity, above which a node
	// may fill up to saturation in one iteration.
	steep = 2.0
	// lowest is the coordinate, just inside the tables, below which a solid node
	// owes water, empty the first one below.
	lowest = sorption.MinCoordinate + 1e-6
	empty  = lowest - 1e-9
	// saturated is the coordinate from which on a solid node has more water than
	// it holds, full the last one below.
	saturated = sorption.MaxCoordinate
	full      = saturated - 1e-9
	// newtonShare is the error that Newton's method may leave as a share of the
	// tolerance of a step. It is not small because the next step makes up for it:
	// a share of 0.1 changes no result and costs a third more iterations.
	newtonShare = 0.5
	// kelvinPerTolerance turns the tolerance of a step into K.
	kelvinPerTolerance = 20.0
	// contentFloor in kg/m³ keeps the relative error of dry layers from ruling.
	contentFloor = 1.0
)

// formula holds the factors of a step: what is stored is b times the flows at its
// end plus gamma times what was stored in the last step.
type formula struct{ b, gamma float64 }

// formula returns the second-order backward differentiation formula for steps of
// different lengths, or the first-order one when there is no last step.
func (w *Workspace) formula(dt float64) formula {
	if w.known < 2 {
		return formula{dt, 0}
	}
	r := dt / w.steps[0]
	return formula{dt * (1 + r) / (1 + 2*r), r * r / (1 + 2*r)}
}

// errorShare is the local error of a step as a share of the distance between
// prediction and solution. It follows from the divided differences of both.
func (w *Workspace) errorShare(dt float64) float64 {
	switch w.known {
	case 1:
		return 0.5
	case 2:
		return 1.0 / 3
	}
	return w.formula(dt).b / (dt + w.steps[0] + w.steps[1])
}

// attempt solves a step that ends at a time within the hour, from 0 to 1. It
// returns the local error as a share of the tolerance.
func (w *Workspace) attempt(dt, time float64) (share float64, ok bool) {
	w.setWeather(time)
	w.predict(dt)
	f := w.formula(dt)
	iterations := maxIterations
	if dt <= firstStep {
		iterations = maxIterationsJump
	}
	for iteration := range iterations {
		w.evaluate()
		if iteration == 0 {
			w.setCapacity()
		}
		w.assemble(dt, f.b, f.gamma)
		w.tally.iterations++
		if !solve(w.rows, w.faces) {
			return 0, false
		}
		left, ok := w.update()
		if !ok {
			return 0, false
		}
		switch {
		case left > w.newtonTolerance(time):
		case !w.owes || w.known == 1 && left < 1e-9:
			return w.localError() * w.errorShare(dt) / w.tolerance, true
		case w.known > 1:
			// The formula of second order may take more water than there is, the
			// one of first order does not once it is solved well.
			w.known = 1
			return w.attempt(dt, time)
		}
	}
	return 0, false
}

// newtonTolerance is the error that Newton's method may leave in a step that ends
// at a time within the hour. No step makes up for that of the last one, which is
// all that the balances of a run can miss.
func (w *Workspace) newtonTolerance(time float64) float64 {
	if time == 1 && w.hour == w.input.Hours-1 {
		return 1e-12
	}
	return newtonShare * w.tolerance
}

// predict extrapolates the past states over the step into the nodes, by the
// parabola through three of them where they are known.
func (w *Workspace) predict(dt float64) {
	var a, c float64 // weights of the last difference and of the one before
	if w.known >= 2 {
		a = dt / w.steps[0]
	}
	if w.known >= 3 {
		bend := dt * (dt + w.steps[0]) / (w.steps[0] + w.steps[1])
		a, c = a+bend/w.steps[0], -bend/w.steps[1]
	}
	for i := range w.nodes {
		p0, p1, p2 := &w.past[0][i], &w.past[1][i], &w.past[2][i]
		t := p0.t + limited(a*(p0.t-p1.t)+c*(p1.t-p2.t), maxChangeT/2)
		x := p0.x + limited(a*(p0.x-p1.x)+c*(p1.x-p2.x), maxChangeX/2)
		if w.excess[i] > 0 {
			x = min(max(x, min(lowest, p0.x)), max(full, p0.x))
		}
		w.guess[i] = place{t, x}
		w.nodes[i].place = w.guess[i]
	}
}

func limited(x, limit float64) float64 { return max(-limit, min(x, limit)) }

// setCapacity sets the heat capacity of the nodes in a step, with the mean of the
// water at its start and of the predicted water.
func (w *Workspace) setCapacity() {
	for i := range w.capacity {
		water := 0.0
		if w.excess[i] > 0 {
			water = 0.5 * (w.books[i] + min(w.nodes[i].w, w.soaked[i]))
		}
		w.capacity[i] = w.Model.capacity[i] + sorption.WaterHeatCapacity*water
	}
}

// update applies the solution of an iteration to the nodes, within limits, and
// returns an estimate of the error that is left: the second-order terms that the
// linear forms leave out, as shares of vapor pressure and water. It reports
// failure when the solution is no number.
func (w *Workspace) update() (left float64, ok bool) {
	w.owes = false
	for i := range w.nodes {
		n, change := &w.nodes[i], &w.rows[i].right
		if math.IsNaN(change[0]+change[1]) || math.IsInf(change[0]+change[1], 0) {
			return 0, false
		}
		t := limited(change[0], maxChangeT)
		x, whole := w.limitX(i, change[1])
		if t != change[0] || !whole {
			left = 1
		}
		change[0], change[1] = t, x
		left = max(left, w.secondOrder(i, t, x))
		n.t += t
		n.x += x
		if w.excess[i] > 0 {
			w.owes = w.owes || w.excess[i]*(lowest-n.x) > 1e-6*w.soaked[i]
		} else {
			w.owes = w.owes || n.x < 0
		}
	}
	return left, true
}

// secondOrder returns what the linear forms leave out for a change of a node, as a
// share of vapor pressure and water. The saturation pressure rises by 7 % per K.
func (w *Workspace) secondOrder(i int, t, x float64) float64 {
	n := &w.nodes[i]
	t = 0.07 * math.Abs(t)
	switch {
	case w.excess[i] == 0:
		return 0.5 * (t + math.Abs(x)) * (t + math.Abs(x))
	case n.x >= saturated || n.x < lowest:
		return 0.5 * t * t
	}
	return 0.5 * max(t*t, x*x*(n.phiX+n.wX/(n.w+0.01*w.soaked[i])))
}

// limitX limits a change of the coordinate and reports whether it is wholly made.
// The bends where a node is saturated or empty are not crossed in one iteration,
// as the slopes on their two sides have nothing in common; within rounding it does
// not matter.
func (w *Workspace) limitX(i int, change float64) (limit float64, whole bool) {
	const rounding = 1e-11
	n := &w.nodes[i]
	x, to := n.x, n.x+change
	switch {
	case w.excess[i] == 0:
		return change, true
	case x >= saturated && to < saturated-rounding:
		return full - x, false
	case x < lowest && to > lowest:
		return lowest - x, to < lowest+rounding
	case x >= saturated:
		return max(change, saturated-x), true
	case x < lowest:
		return change, true
	case x > steep && to > saturated:
		return saturated - x, to < saturated+rounding
	}
	limit = limited(change, maxChangeX)
	if x+limit < lowest {
		if n.wX*(lowest-to) < 1e-12*w.soaked[i] {
			return lowest - x, true
		}
		return empty - x, false
	}
	return limit, limit == change
}

// localError returns the largest distance between prediction and solution over
// the layers: as a share of their water, or in K of their mean temperature over
// kelvinPerTolerance.
func (w *Workspace) localError() float64 {
	worst := 0.0
	for k := range w.slabs {
		s := &w.slabs[k]
		values := w.values[s.firstSlot : s.firstSlot+len(s.volume)]
		var thickness, water, errorT, errorW float64
		for i, volume := range s.volume {
			n, g, v := &w.nodes[s.first+i], &w.guess[s.first+i], &values[i]
			thickness += volume
			water += volume * v.Content
			errorT += volume * math.Abs(n.t-g.t)
			errorW += volume * v.ContentSlope * math.Abs(n.x-g.x)
		}
		worst = max(worst, errorT/(thickness*kelvinPerTolerance), errorW/(water+contentFloor*thickness))
	}
	return worst
}
