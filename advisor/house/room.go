package house

import (
	"fmt"
	"math"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/moistair"
	"relath/kb/quantity"
)

// Room is what the air of one room does.
type Room struct {
	Of       *assembly.ResolvedRoom
	Volume   float64           // m³
	Moisture analysis.Estimate // kg of water given off in a day
	Given    bool              // whether the description gives it
	Fan      *Fan              // for kitchens and baths
	Swing    Swing
	Warnings []string
}

// Fan is the exhaust that a kitchen or a bath should have.
type Fan struct {
	OnDemand   analysis.Estimate // m³/s, run while moisture is given off
	Continuous analysis.Estimate // m³/s, run all day
	Clears     analysis.Estimate // s in which the fan on demand takes nine tenths of extra vapor out
	Alone      analysis.Estimate // s in which the natural air change does
	Rise       analysis.Estimate // relative humidity that a day's water adds at its end with the fan, as a fraction
	RiseAlone  analysis.Estimate // the same without a fan; above 1 the air cannot hold it
}

// Swing is the difference between the highest and the lowest relative humidity
// of a day, as a fraction, with the door closed.
type Swing struct {
	Bare     analysis.Estimate // with air change alone
	Buffered analysis.Estimate // with the faces that are described
	Off      analysis.Estimate // what the faces take off
	Faces    int
}

// rooms looks at each room. The faces of assemblies, which the description
// gives to no room, are shared among the rooms by floor area; finishes belong to
// the room they name.
func (s *Study) rooms(b Buffering) []Room {
	total := 0.0
	for _, r := range s.house.Rooms {
		total += r.Area
	}
	var list []Room
	for i := range s.house.Rooms {
		of := &s.house.Rooms[i]
		r := Room{Of: of, Volume: of.Area * of.Height}
		t := &trace{}
		water := quantity.Exact(of.Moisture)
		if r.Given = !of.Room.Moisture.IsZero(); !r.Given {
			water = s.take(t, "moisture-"+string(of.Room.Use))
		}
		r.Moisture = t.estimate(water)
		r.Fan = s.fan(&r)
		r.Swing = s.swingOf(&r, b, of.Area/total)
		list = append(list, r)
	}
	return list
}

// fan sizes the exhaust of a kitchen or a bath (ASHRAE Standard 62.2, recalled)
// and says how long extra vapor stays: in perfectly mixed air it falls as
// e^(−Q·t/V), to a tenth in ln(10)·V/Q.
func (s *Study) fan(r *Room) *Fan {
	of := r.Of
	t := &trace{}
	f := &Fan{Continuous: missing("a kitchen fan that always runs is sized by air changes")}
	switch of.Room.Use {
	case "bath":
		f.OnDemand = t.estimate(s.take(t, "fan-bath"))
		c := &trace{}
		f.Continuous = c.estimate(s.take(c, "fan-bath-continuous"))
	case "kitchen":
		f.OnDemand = t.estimate(s.take(t, "fan-kitchen"))
	default:
		return nil
	}
	volume := of.Area * of.Height
	clears := func(flow float64) float64 { return math.Ln10 * volume / max(flow, 1e-9) }
	q := f.OnDemand.Range
	f.Clears = t.estimate(sorted(clears(q.High), clears(q.Best), clears(q.Low)))
	a := &trace{}
	n := s.airChange(a)
	f.Alone = a.estimate(sorted(clears(n.High*volume), clears(n.Best*volume), clears(n.Low*volume)))
	d := &trace{mark: r.Moisture.Evidence.Weaker(a.mark), inputs: r.Moisture.Inputs}
	hours, water := s.take(d, "moisture-hours-wet"), r.Moisture.Range
	rise := func(mass, duration, flow float64) float64 {
		return riseOf(mass, duration, flow, volume, s.house.Heating.Temperature)
	}
	f.Rise = d.estimate(sorted(rise(water.Low, hours.High, q.High), rise(water.Best, hours.Best, q.Best), rise(water.High, hours.Low, q.Low)))
	f.RiseAlone = d.estimate(sorted(rise(water.Low, hours.High, n.High*volume), rise(water.Best, hours.Best, n.Best*volume), rise(water.High, hours.Low, n.Low*volume)))
	return f
}

// riseOf is the relative humidity that a mass of water in kg, given off evenly
// over a time in s, adds to a room of a volume in m³ and a temperature in °C at
// the end of it, with an air flow in m³/s: v − v_e = G/Q·(1 − e^(−Q·t/V)), the
// moisture balance of mixed air.
func riseOf(mass, duration, flow, volume, temperature float64) float64 {
	excess := mass / duration / max(flow, 1e-9) * -math.Expm1(-flow*duration/volume) // kg/m³
	return excess / moistair.VaporConcentration(temperature, moistair.SaturationPressureOverWater(temperature))
}

// airChange is the natural air change of the house, 1/s: a test result by the
// rule of thumb, or the words of the description.
func (s *Study) airChange(t *trace) quantity.Range {
	if rate, err := quantity.Parse(s.house.House.Air.Tightness.Value, quantity.AirTightness); err == nil {
		d := s.take(t, "air-change-divisor")
		return sorted(rate/d.High, rate/d.Best, rate/d.Low)
	}
	return s.take(t, "natural-air-change-"+s.house.Tightness)
}

// swingOf gives the daily swing of a room. Bounds: of the bare room by the
// amount of water and the air change, of what the faces take off by the faces
// alone.
func (s *Study) swingOf(r *Room, b Buffering, share float64) Swing {
	t := &trace{}
	n := s.airChange(t)
	hours := "moisture-hours"
	if u := r.Of.Room.Use; u == "bath" || u == "kitchen" || u == "laundry" {
		hours = "moisture-hours-wet"
	}
	duration := s.take(t, hours)
	t.mark = t.mark.Weaker(r.Moisture.Evidence)
	t.inputs = append(t.inputs, r.Moisture.Inputs...)
	if r.Moisture.Range.High == 0 || r.Volume == 0 {
		none := missing("no moisture is given off in %s", r.Of.Room.Name)
		return Swing{Bare: none, Buffered: none, Off: none}
	}
	air := airVolume{volume: r.Volume, temperature: s.house.Heating.Temperature, duration: duration.Best}
	at := func(mass, change float64, faces []bufferFace) float64 {
		a := air
		a.mass, a.airChange, a.faces = mass, change, faces
		return a.swing()
	}
	best, low, high, marks := r.faces(b, share)
	water := r.Moisture.Range
	bare := sorted(at(water.Low, n.High, nil), at(water.Best, n.Best, nil), at(water.High, n.Low, nil))
	swing := Swing{Bare: t.estimate(bare), Faces: len(best)}
	t.mark = t.mark.Weaker(marks.mark)
	t.inputs = append(t.inputs, marks.inputs...)
	with := at(water.Best, n.Best, best)
	swing.Buffered = t.estimate(sorted(at(water.Low, n.High, high), with, at(water.High, n.Low, low)))
	swing.Off = t.estimate(sorted(bare.Best-at(water.Best, n.Best, low), bare.Best-with, bare.Best-at(water.Best, n.Best, high)))
	if bare.Best > 1 {
		r.Warnings = append(r.Warnings, "with its door closed the air cannot hold what is given off in the room: without a fan or an open door water settles on cold faces")
	}
	if len(best) > 0 {
		r.Warnings = append(r.Warnings, "furniture, cloth and faces that are not described take more off than is counted")
	}
	if len(best) == 0 {
		r.Warnings = append(r.Warnings, "no face with a known moisture buffer value is described for "+r.Of.Room.Name.Value)
	}
	return swing
}

// faces lists the faces that take part in a room: its share of those of the
// assemblies, and its finishes; with the best and the end values.
func (r *Room) faces(b Buffering, share float64) (best, low, high []bufferFace, t *trace) {
	t = &trace{}
	for _, f := range b.Faces {
		area := f.Area
		if f.Where.Assembly != "" {
			area *= share
		} else if f.Where.Room != r.Of.Room.Name.Value {
			continue
		}
		if !f.Buffer.Known || f.Bare.High == 0 {
			continue
		}
		best = append(best, bufferFace{area, f.Bare.Best, f.Coats.Best})
		low = append(low, bufferFace{area, f.Bare.Low, f.Coats.High})
		high = append(high, bufferFace{area, f.Bare.High, f.Coats.Low})
		t.mark = t.mark.Weaker(f.Buffer.Evidence)
		t.inputs = append(t.inputs, f.Buffer.Inputs...)
	}
	return best, low, high, t
}

// Balance is the humidity that the rooms reach by what is given off in them and
// the air that is exchanged, against the humidity that the description sets.
type Balance struct {
	Known     bool
	Missing   string
	Volume    float64               // m³
	Bedrooms  int                   // as described
	Moisture  analysis.Estimate     // kg in a day
	AirChange analysis.Estimate     // 1/s
	Humidity  [12]analysis.Estimate // relative humidity of the room air, monthly means
	Heated    [12]bool              // months in which the house is heated
	Fan       analysis.Estimate     // m³/s of ventilation of the whole house
	Warnings  []string
}

// balance computes the humidity of the house month by month: p_i = p_e +
// R_v·T·m/Q with the water m given off and the air Q exchanged, in steady state
// (ASHRAE Standard 160, intermediate method, recalled). Open windows and cooling
// are not seen, so that it speaks of months below 50 °F only.
func (s *Study) balance() Balance {
	var b Balance
	area := 0.0
	for _, r := range s.house.Rooms {
		area += r.Area
		b.Volume += r.Area * r.Height
		if r.Room.Use == "bedroom" {
			b.Bedrooms++
		}
	}
	switch {
	case b.Volume == 0:
		b.Missing = "no rooms are described"
		return b
	case len(s.months) == 0:
		b.Missing = "the place has no monthly climate"
		return b
	}
	b.Known = true
	t := &trace{}
	water := s.houseMoisture(t, b.Bedrooms)
	b.Moisture = t.estimate(water)
	a := &trace{}
	change := s.airChange(a)
	b.AirChange = a.estimate(change)
	v := &trace{}
	perArea, person := s.take(v, "fan-house-area"), s.take(v, "fan-house-person")
	b.Fan = v.estimate(plus(perArea.Scale(area), person.Scale(float64(b.Bedrooms+1))))
	t.mark = t.mark.Weaker(a.mark)
	t.inputs = append(t.inputs, a.inputs...)
	for i, m := range s.months {
		b.Heated[i] = m.outdoorT < heatingBelow
		if !b.Heated[i] {
			b.Humidity[i] = missing("windows are open or the house is cooled")
			continue
		}
		at := func(mass, rate float64) float64 { return roomHumidity(m, mass, rate*b.Volume) }
		b.Humidity[i] = t.estimate(sorted(at(water.Low, change.High), at(water.Best, change.Best), at(water.High, change.Low)))
	}
	b.compare(s)
	return b
}

// roomHumidity is the relative humidity of room air, at most 1, with a mass in
// kg given off in a day and an air flow in m³/s.
func roomHumidity(m month, mass, flow float64) float64 {
	p := m.outdoorP + moistair.GasConstantWaterVapor*(m.indoorT+moistair.ZeroCelsius)*mass/dayLength/max(flow, 1e-9)
	return min(1, p/moistair.SaturationPressureOverWater(m.indoorT))
}

// houseMoisture is the water given off in a day by the number of bedrooms; a
// house without a described bedroom counts as one of one.
func (s *Study) houseMoisture(t *trace, bedrooms int) quantity.Range {
	const listed = 4
	base := s.take(t, fmt.Sprintf("house-moisture-%d", min(max(bedrooms, 1), listed)))
	if bedrooms > listed {
		base = plus(base, s.take(t, "house-moisture-more").Scale(float64(bedrooms-listed)))
	}
	return base
}

// heatingBelow is the outdoor mean below which the heating values of the rooms
// hold, °C (50 °F).
const heatingBelow = 10.0

// compare says where the balance and the described humidity disagree.
func (b *Balance) compare(s *Study) {
	coldest := 0
	for i, m := range s.months {
		if m.outdoorT < s.months[coldest].outdoorT {
			coldest = i
		}
	}
	h, set := b.Humidity[coldest].Range, s.house.Heating.Humidity
	switch {
	case h.Low > set:
		b.Warnings = append(b.Warnings, fmt.Sprintf("in the coldest month what is given off brings the rooms to %.0f %% humidity, more than the %.0f %% that the description sets: ventilate, or compute with more", 100*h.Best, 100*set))
	case h.High < set:
		b.Warnings = append(b.Warnings, fmt.Sprintf("in the coldest month what is given off brings the rooms to %.0f %% humidity, less than the %.0f %% that the description sets, unless a humidifier runs", 100*h.Best, 100*set))
	}
}
