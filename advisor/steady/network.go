package steady

// touchSlack is the relative excess over saturation that counts as none. It
// keeps rounding from putting a plane in and out of contact without end, and
// is far below what any result shows.
const touchSlack = 1e-10

// network is the vapor path of one period: planes in series between room air
// and outdoor air, with vents from planes to the outdoor air.
type network struct {
	pIn, pOut float64   // vapor pressures of the air, Pa
	zIn, zOut float64   // vapor resistances of the films
	z         []float64 // vapor resistance from plane k to k+1
	vent      []float64 // permeance from plane k to the outdoor air
	sat       []float64 // saturation pressure at plane k, Pa

	held  []bool // plane k is wet: at saturation, whichever way vapor flows
	fixed []bool // plane k is at saturation, held or because it condenses

	p      []float64 // vapor pressure at plane k, Pa
	flow   []float64 // from plane k−1 to k; the first from the room, the last to outdoors
	vented []float64 // from plane k through its vent, 0 without

	// What meets the flow outward from plane k: a pressure behind a resistance,
	// equivalent to all that is outside of k up to the next plane at saturation.
	beyondP, beyondZ []float64
}

// resize gives the network n planes, all dry and free of vents.
func (w *network) resize(n int) {
	w.z = resized(w.z, n-1)
	w.held, w.fixed = resized(w.held, n), resized(w.fixed, n)
	w.p, w.flow = resized(w.p, n), resized(w.flow, n+1)
	w.vent, w.vented = resized(w.vent, n), resized(w.vented, n)
	w.beyondP, w.beyondZ = resized(w.beyondP, n), resized(w.beyondZ, n)
	clear(w.vent)
	clear(w.vented)
	w.release()
}

// resized returns list with length n, new only where its memory is too small.
// The content is undefined.
func resized[T any](list []T, n int) []T {
	if cap(list) < n {
		return make([]T, n)
	}
	return list[:n]
}

// release makes all planes dry.
func (w *network) release() {
	clear(w.held)
	clear(w.fixed)
}

// hold makes plane k wet.
func (w *network) hold(k int) {
	w.held[k], w.fixed[k] = true, true
}

// canTouch reports whether plane k can be at saturation: a surface without a
// vapor film cannot.
func (w *network) canTouch(k int) bool {
	return !(k == 0 && w.zIn == 0) && !(k == len(w.p)-1 && w.zOut == 0)
}

// solve finds pressures and flows with the planes at saturation as they are.
// Flows are differences of pressure over whole resistances, never sums over
// parts, so they stay exact through layers that differ by many orders.
func (w *network) solve() {
	flow := w.firstFlow()
	w.flow[0] = flow
	// Slices of one length spare the loop, in which the program spends most of its
	// time, the checks of their bounds.
	n := len(w.fixed)
	fixed, p, onward, sat := w.fixed[:n], w.p[:n], w.flow[1:][:n], w.sat[:n]
	vent, vented, beyondP, beyondZ := w.vent[:n], w.vented[:n], w.beyondP[:n], w.beyondZ[:n]
	before, z := w.pIn, w.zIn
	for k := range n {
		here := before - flow*z
		if fixed[k] {
			here = sat[k]
			flow = (here - beyondP[k]) / beyondZ[k]
			vented[k] = vent[k] * (here - w.pOut)
		} else if vent[k] > 0 {
			arriving := flow
			flow = (here - beyondP[k]) / beyondZ[k]
			vented[k] = arriving - flow
		}
		p[k], onward[k], before = here, flow, here
		if k < len(w.z) {
			z = w.z[k]
		}
	}
}

// firstFlow fills beyondP and beyondZ from the outside to the inside and
// returns the flow that reaches plane 0.
func (w *network) firstFlow() float64 {
	n := len(w.p)
	fixed, sat, vent, beyondP, beyondZ := w.fixed[:n], w.sat[:n], w.vent[:n], w.beyondP[:n], w.beyondZ[:n]
	p, z := w.pOut, w.zOut
	for k := n - 1; k >= 0; k-- {
		beyondP[k], beyondZ[k] = p, z
		if fixed[k] {
			p, z = sat[k], 0
		} else if v := vent[k]; v > 0 {
			g := 1/z + v
			p, z = (p/z+w.pOut*v)/g, 1/g
		}
		if k > 0 {
			z += w.z[k-1]
		}
	}
	return (w.pIn - p) / (w.zIn + z)
}

// settle solves the network so that no plane exceeds saturation. All planes
// that would exceed it are put to saturation; then pressures only fall, and dry
// planes that would have to give water off are let go until none is left. The
// matrix of the problem is an M-matrix, for which these rounds end at its one
// solution, after at most as many as there are planes (Hintermüller, Ito and
// Kunisch 2003, recalled). It is the complementarity form of the monthly method
// of ISO 13788 (recalled).
func (w *network) settle() {
	for range 2*len(w.p) + 4 {
		w.solve()
		changed := false
		for k, fixed := range w.fixed {
			switch {
			case w.held[k]:
			case fixed && w.gain(k) < 0:
				w.fixed[k], changed = false, true
			case !fixed && w.exceeds(k):
				w.fixed[k], changed = true, true
			}
		}
		if !changed {
			return
		}
	}
}

// exceeds reports whether plane k is above saturation.
func (w *network) exceeds(k int) bool {
	return w.p[k] > w.sat[k]*(1+touchSlack) && w.canTouch(k)
}

// exceedsAnywhere reports whether any plane is above saturation.
func (w *network) exceedsAnywhere() bool {
	for k := range w.p {
		if w.exceeds(k) {
			return true
		}
	}
	return false
}

// arrive returns the vapor that reaches plane k from the inside.
func (w *network) arrive(k int) float64 { return w.flow[k] }

// leave returns the vapor that leaves plane k outward, its vent included.
func (w *network) leave(k int) float64 { return w.flow[k+1] + w.vented[k] }

// gain returns the condensation at plane k; evaporation is negative.
func (w *network) gain(k int) float64 {
	if !w.fixed[k] {
		return 0
	}
	return w.arrive(k) - w.leave(k)
}

// outflow returns the vapor that reaches the outdoor air through the outer
// surface and through vents at plane from and outside of it.
func (w *network) outflow(from int) float64 {
	sum := w.flow[len(w.p)]
	for k := from; k < len(w.p); k++ {
		sum += w.vented[k]
	}
	return sum
}

// outwardResistance returns the resistance from plane k to the outdoor air,
// its vent included, with no plane at saturation and beyondZ filled.
func (w *network) outwardResistance(k int) float64 {
	if v := w.vent[k]; v > 0 {
		return 1 / (1/w.beyondZ[k] + v)
	}
	return w.beyondZ[k]
}
