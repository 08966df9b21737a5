package steady

// Year is the result of the monthly method. Months are numbered 0 for January
// to 11 for December; tables are indexed by month, then by plane.
type Year struct {
	// Planes are the places where water was looked for.
	Planes []Plane
	// Wet says whether there is condensation at all.
	Wet bool
	// Start is the month the balance starts with, from a dry assembly.
	Start int
	// Gain is the change of water in the month, kg/m².
	Gain [12][]float64
	// Water is what lies there at the end of the month, kg/m².
	Water [12][]float64
	// Inflow leaves the room air in the month, Outflow reaches the outdoor air,
	// vents included, kg/m².
	Inflow, Outflow [12]float64
	// Peak is the largest total at the end of a month, kg/m², and PeakMonth that
	// month.
	Peak      float64
	PeakMonth int
	// PlanePeak is the largest amount at the end of a month on one plane, kg/m²,
	// and PeakPlane the index of that plane.
	PlanePeak float64
	PeakPlane int
	// CarryOver is what is left after the twelve months, kg/m²; at 0 the
	// assembly dries within the year.
	CarryOver float64
}

// Condensation returns the water that condenses in the months in which plane k
// gains, kg/m² per year.
func (y *Year) Condensation(k int) float64 {
	sum := 0.0
	for m := range y.Gain {
		sum += max(0, y.Gain[m][k])
	}
	return sum
}

// Total returns the water on all planes at the end of month m, kg/m².
func (y *Year) Total(m int) float64 {
	sum := 0.0
	for _, water := range y.Water[m] {
		sum += water
	}
	return sum
}

// Year runs the monthly method of ISO 13788 (recalled) with any number of
// condensing planes. Each month is steady: vapor pressure exceeds saturation
// nowhere and equals it where water lies, and where water runs out within the
// month the rest of the month is solved anew. The balance starts dry with the
// first month that condenses after one that does not, or with January if all
// do. If water is left after twelve months but another month of the round
// ended dry, the round is run once more from there.
//
// A permeance curve is read at the mean humidity that its layer has at the
// start of the month, with the water then present.
//
// The result belongs to the workspace and is valid until its next call.
func (w *Workspace) Year(in *Input) (*Year, error) {
	if err := w.validate(in); err != nil {
		return nil, err
	}
	w.load(in, !in.Unsliced)
	w.prepareYear()
	w.dryMonths()
	y := &w.year
	if !y.Wet {
		return y, nil
	}
	y.Start = w.firstCondensingMonth()
	lastDry := w.runYear()
	if y.CarryOver > 0 && lastDry >= 0 {
		// No month is drier than in the first round, so the flows of the months
		// that stay dry still hold.
		y.Start = (lastDry + 1) % 12
		w.runYear()
	}
	return y, nil
}

// prepareYear lays out the tables and fills the saturation pressures.
func (w *Workspace) prepareYear() {
	n := len(w.planes)
	w.months = resized(w.months, 24*n)
	clear(w.months)
	w.sat = resized(w.sat, 12*n)
	w.water = resized(w.water, n)
	w.year = Year{Planes: w.planes}
	for m := range 12 {
		w.year.Gain[m] = w.months[m*n : (m+1)*n]
		w.year.Water[m] = w.months[(12+m)*n : (13+m)*n]
		w.saturate(&w.in.Months[m], w.monthSaturation(m))
	}
}

func (w *Workspace) monthSaturation(m int) []float64 {
	n := len(w.planes)
	return w.sat[m*n : (m+1)*n]
}

// dryMonths solves each month from a dry assembly and notes which condense. The
// flows it counts hold for the months in which the assembly stays dry.
func (w *Workspace) dryMonths() {
	clear(w.water)
	for m := range 12 {
		w.beginMonth(m)
		w.net.release()
		w.net.solve()
		w.condensing[m] = w.net.exceedsAnywhere()
		w.year.Wet = w.year.Wet || w.condensing[m]
		w.countFlows(m, w.in.Months[m].seconds())
	}
}

// beginMonth prepares month m with the water now present.
func (w *Workspace) beginMonth(m int) {
	w.setMonth(&w.in.Months[m], w.monthSaturation(m))
	w.net.release()
	for k, water := range w.water {
		if water > 0 {
			w.net.hold(k)
		}
	}
	w.readPermeances((*network).settle)
}

// countFlows adds the flows of a span of seconds to month m.
func (w *Workspace) countFlows(m int, seconds float64) {
	w.year.Inflow[m] += w.net.arrive(0) * seconds
	w.year.Outflow[m] += w.net.outflow(0) * seconds
}

// firstCondensingMonth returns the first month that condenses after one that
// does not, or 0 if all do.
func (w *Workspace) firstCondensingMonth() int {
	for m := range 12 {
		if w.condensing[m] && !w.condensing[(m+11)%12] {
			return m
		}
	}
	return 0
}

// runYear runs twelve months from the start month, from dry, and returns the
// last month that ended dry, or −1.
func (w *Workspace) runYear() (lastDry int) {
	y := &w.year
	y.Peak, y.PlanePeak = 0, 0
	lastDry = -1
	clear(w.water)
	total := 0.0
	for i := range 12 {
		m := (y.Start + i) % 12
		if total == 0 && !w.condensing[m] {
			clear(y.Gain[m])
			clear(y.Water[m])
		} else {
			w.runMonth(m)
		}
		total = y.Total(m)
		w.notePeaks(m, total)
		if total == 0 {
			lastDry = m
		}
	}
	y.CarryOver = total
	return lastDry
}

// runMonth advances the water through month m.
func (w *Workspace) runMonth(m int) {
	y := &w.year
	y.Inflow[m], y.Outflow[m] = 0, 0
	copy(y.Gain[m], w.water)
	w.beginMonth(m)
	for left := w.in.Months[m].seconds(); left > 0; {
		w.net.settle()
		span := w.untilDry(left)
		w.advance(span)
		w.countFlows(m, span)
		left -= span
	}
	copy(y.Water[m], w.water)
	for k, water := range w.water {
		y.Gain[m][k] = water - y.Gain[m][k]
	}
}

// untilDry returns the seconds until the first wet plane runs dry, at most
// left.
func (w *Workspace) untilDry(left float64) float64 {
	for k, water := range w.water {
		if water > 0 {
			if gain := w.net.gain(k); gain < 0 {
				left = min(left, water/-gain)
			}
		}
	}
	return left
}

// advance lets water gather and dry for a span in which no plane runs dry
// before its end. As the planes that run dry never wet again within the month,
// a month has at most as many spans as planes, and one.
func (w *Workspace) advance(span float64) {
	for k, water := range w.water {
		gain := w.net.gain(k)
		switch {
		case gain < 0 && water/-gain <= span:
			water = 0
		case gain != 0:
			water = max(0, water+gain*span)
		}
		w.water[k] = water
		w.net.held[k] = water > 0
	}
}

// notePeaks compares the end of month m with the peaks so far.
func (w *Workspace) notePeaks(m int, total float64) {
	y := &w.year
	if total > y.Peak {
		y.Peak, y.PeakMonth = total, m
	}
	for k, water := range y.Water[m] {
		if water > y.PlanePeak {
			y.PlanePeak, y.PeakPlane = water, k
		}
	}
}
