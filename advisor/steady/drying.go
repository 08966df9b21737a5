package steady

import "fmt"

// Side is a side of an assembly.
type Side uint8

// The sides.
const (
	Inward  Side = iota // toward the room air
	Outward             // toward the outdoor air
)

// Drying is the vapor that a wet plane gives off toward one side.
type Drying struct {
	// Arriving reaches the air of the side, kg/(s·m²): the drying capacity. It is
	// negative where that air wets the plane.
	Arriving float64
	// Leaving leaves the wet plane toward the side, kg/(s·m²).
	Leaving float64
	// Landing condenses on the plane Plane between the two, kg/(s·m²): the
	// largest such amount. At 0 nothing condenses and Plane is −1.
	Landing float64
	Plane   int
}

// DryingCapacity returns what the wet plane gives off toward the inside and
// the outside in month m. Temperatures are those of the steady profile without
// sun or heat of evaporation; the wet plane is at saturation and every other
// plane at most there, so that vapor can condense on its way. A layer soaked
// through is wet from plane inner to plane outer; for a single plane they are
// equal. Permeances are those of the humidity with the plane wet.
//
// Vapor that a vent outside of the plane takes away has arrived outdoors; a
// vent on its inside counts for neither side.
func (w *Workspace) DryingCapacity(in *Input, m Month, inner, outer int) (inward, outward Drying, err error) {
	if err := checkSoaked(inner, outer); err != nil {
		return Drying{}, Drying{}, err
	}
	if err := w.loadPinned(in, &m, []int{inner, outer}); err != nil {
		return Drying{}, Drying{}, err
	}
	inward, outward = w.dry(inner, outer)
	return inward, outward, nil
}

func checkSoaked(inner, outer int) error {
	if inner > outer {
		return fmt.Errorf("inner plane %d lies outside of outer plane %d", inner, outer)
	}
	return nil
}

// dry solves the month that is loaded, with the planes held.
func (w *Workspace) dry(inner, outer int) (inward, outward Drying) {
	w.readPermeances((*network).settle)
	w.net.settle()
	inward = Drying{Arriving: -w.net.arrive(0), Leaving: -w.net.arrive(inner)}
	inward.Landing, inward.Plane = w.largestGain(0, inner)
	outward = Drying{Arriving: w.net.outflow(outer), Leaving: w.net.leave(outer)}
	outward.Landing, outward.Plane = w.largestGain(outer+1, len(w.planes))
	return inward, outward
}

// largestGain returns the largest condensation on the planes from up to, not
// including, to, and that plane; 0 and −1 where there is none.
func (w *Workspace) largestGain(from, to int) (gain float64, plane int) {
	plane = -1
	for k := from; k < to; k++ {
		if g := w.net.gain(k); g > gain {
			gain, plane = g, k
		}
	}
	return gain, plane
}

// DryingYear is the drying capacity in the twelve months.
type DryingYear struct {
	Inward, Outward [12]Drying
}

// DryingYear returns the drying capacity of a plane, or of a soaked layer, in
// each month of in; see [Workspace.DryingCapacity].
func (w *Workspace) DryingYear(in *Input, inner, outer int) (DryingYear, error) {
	var year DryingYear
	err := firstError(checkSoaked(inner, outer), w.validate(in), in.checkPlane(inner), in.checkPlane(outer))
	if err != nil {
		return year, err
	}
	w.load(in, false)
	for m := range in.Months {
		w.beginDry(&in.Months[m])
		w.net.hold(inner)
		w.net.hold(outer)
		year.Inward[m], year.Outward[m] = w.dry(inner, outer)
	}
	return year, nil
}

// Arriving is what arrives in the air of both sides in each month, kg/(s·m²): the
// drying capacity; see [Drying].
type Arriving struct {
	Inward, Outward [12]float64
}

// DryingCapacities gives the drying capacity of each of several planes in the
// months of in to a function: what [Workspace.DryingYear] says of the plane, but
// for where vapor lands. The function must not use the workspace.
func (w *Workspace) DryingCapacities(in *Input, planes []int, each func(plane int, a *Arriving)) error {
	if err := w.validate(in); err != nil {
		return err
	}
	for _, j := range planes {
		if err := in.checkPlane(j); err != nil {
			return err
		}
	}
	w.load(in, false)
	n := len(w.planes)
	w.sat = resized(w.sat, 12*n)
	for m := range in.Months {
		w.saturate(&in.Months[m], w.monthSaturation(m))
	}
	var a Arriving
	for _, j := range planes {
		for m := range in.Months {
			w.net.release()
			w.setMonth(&in.Months[m], w.monthSaturation(m))
			w.net.hold(j)
			w.readPermeances((*network).settle)
			w.net.settle()
			a.Inward[m], a.Outward[m] = -w.net.arrive(0), w.net.outflow(j)
		}
		each(j, &a)
	}
	return nil
}

// Limits of the seasons by the mean outdoor temperature of a month, °C.
const (
	HeatingBelow = 10.0            // 50 °F
	CoolingAbove = (65 - 32) / 1.8 // 65 °F
)

// Heating reports whether the month belongs to the heating season.
func (m Month) Heating() bool { return m.OutdoorT < HeatingBelow }

// Cooling reports whether the month belongs to the cooling season.
func (m Month) Cooling() bool { return m.OutdoorT > CoolingAbove }

// Seasons are means over the days of the heating season, of the cooling season
// and of the year. A season without days has the mean 0.
type Seasons struct {
	Heating, Cooling, Year             float64
	HeatingDays, CoolingDays, YearDays float64
}

// SeasonMeans returns the day-weighted means of a value per month.
func SeasonMeans(months *[12]Month, value *[12]float64) Seasons {
	var s Seasons
	for i, m := range months {
		part := m.Days * value[i]
		s.Year += part
		s.YearDays += m.Days
		switch {
		case m.Heating():
			s.Heating += part
			s.HeatingDays += m.Days
		case m.Cooling():
			s.Cooling += part
			s.CoolingDays += m.Days
		}
	}
	s.Heating = mean(s.Heating, s.HeatingDays)
	s.Cooling = mean(s.Cooling, s.CoolingDays)
	s.Year = mean(s.Year, s.YearDays)
	return s
}

func mean(sum, days float64) float64 {
	if days == 0 {
		return 0
	}
	return sum / days
}
