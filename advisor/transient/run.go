package transient

import (
	"context"
	"math"
)

// DefaultTolerance is the tolerance of a run that names none.
const DefaultTolerance = 0.01

// Run solves the model over its hours. The error is that of the context when it
// ends first. A run that cannot be solved further is returned up to the last full
// hour with the status NotConverged.
func (m *Model) Run(ctx context.Context, w *Workspace) (*Result, error) {
	w.prepare(m)
	r := newResult(m)
	r.Mass.Before = w.held()
	step := firstStep
	for hour := range m.input.Hours {
		if hour%24 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		w.beginHour(hour)
		var ok bool
		if step, ok = w.runHour(step); !ok {
			r.cut(hour)
			break
		}
		w.record(r, hour)
	}
	w.finish(r)
	return r, nil
}

// runHour solves one hour with steps that end with it. It returns the next step.
func (w *Workspace) runHour(step float64) (next float64, ok bool) {
	if w.known == 1 {
		step = w.opening
	}
	for at := 0.0; at < secondsPerHour; {
		parts := math.Ceil((secondsPerHour-at)/step - 1e-9)
		dt := (secondsPerHour - at) / parts
		end := at + dt
		if parts == 1 {
			end = secondsPerHour
		}
		share, ok := w.attempt(dt, end/secondsPerHour)
		if ok && (share <= 1 || dt <= firstStep) {
			step = min(dt*min(maxGrowth, w.factor(share)), secondsPerHour)
			if w.known == 1 {
				w.opening = step
			}
			w.accept(dt)
			at = end
			continue
		}
		w.tally.rejected++
		step = dt / 4
		if ok {
			step = dt * max(0.2, w.factor(share))
		}
		if step < minStep {
			return step, false
		}
	}
	return step, true
}

// factor returns the factor by which a step may change whose error was a share of
// the tolerance.
func (w *Workspace) factor(share float64) float64 {
	order := 2.0
	if w.known == 1 {
		order = 1
	}
	return 0.85 * math.Pow(max(share, 1e-6), -1/(order+1))
}

// accept books the step that was solved, drains what exceeds saturation and keeps
// the state. The linear forms of the last iteration were solved exactly, so books
// made from them close; the next step starts from the books, which takes up what
// the forms left out.
func (w *Workspace) accept(dt float64) {
	f := w.formula(dt)
	for i := range w.flows {
		w.book(&w.flows[i], f)
	}
	w.tally.hour.supplied += dt * w.supply
	for i := range w.nodes {
		n, change := &w.nodes[i], &w.rows[i].right
		gain := n.w + n.wT*change[0] + n.wX*change[1] - w.books[i]
		w.heated[i] = w.capacity[i] * (n.t - w.past[0][i].t)
		if w.excess[i] == 0 {
			w.heated[i] += w.latent * gain
		}
		w.tally.stored += w.heated[i]
		w.gained[i] = gain - dt*w.poured[i]
		w.books[i] += gain
		w.drain(i, dt)
	}
	w.keep(dt)
}

// book adds a flow to the sums of the hour.
func (w *Workspace) book(f *flow, by formula) {
	change := &w.rows[f.node].right
	amount := func(linear *[3]float64, last float64) float64 {
		return by.gamma*last + by.b*(linear[0]+linear[1]*change[0]+linear[2]*change[1])
	}
	f.last = bookings{
		heat:  amount(&f.heat, f.last.heat),
		vapor: amount(&f.vapor, f.last.vapor),
		gain:  by.gamma*f.last.gain + by.b*f.gain,
	}
	f.hour.heat += f.last.heat
	f.hour.vapor += f.last.vapor
	f.hour.gain += f.last.gain
	w.tally.heat.add(f.last.heat)
	w.tally.heat.add(f.last.gain)
	w.tally.mass.add(f.last.vapor)
}

// drain takes what exceeds saturation out of a solid node. At a face that takes
// rain it is runoff up to the rain of the step.
func (w *Workspace) drain(i int, dt float64) {
	n := &w.nodes[i]
	if w.excess[i] == 0 || n.x < saturated {
		return
	}
	surplus := w.books[i] - w.soaked[i]
	if surplus <= 0 {
		n.x = full
		return
	}
	// It starts the next step where it will be again if the supply goes on.
	n.x = saturated
	w.books[i] -= surplus
	for side, node := range []int{0, w.Model.nodes - 1} {
		if i == node {
			runoff := min(surplus, w.rain[side]*dt)
			w.tally.hour.runoff += runoff
			surplus -= runoff
		}
	}
	w.tally.hour.drained += surplus
}

// keep makes the solved state the newest of the past.
func (w *Workspace) keep(dt float64) {
	w.past[0], w.past[1], w.past[2] = w.past[2], w.past[0], w.past[1]
	for i := range w.nodes {
		w.past[0][i] = w.nodes[i].place
	}
	w.steps = [2]float64{dt, w.steps[0]}
	w.known = min(w.known+1, len(w.past))
	w.tally.steps++
}
