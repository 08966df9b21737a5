package house

import (
	"cmp"
	"math"
	"slices"

	"relath/advisor/assembly"
	"relath/advisor/climate"
	"relath/advisor/moistair"
	"relath/advisor/steady"
)

// surroundings is the year as cold surfaces see it.
type surroundings struct {
	year   *climate.Year
	daily  []float64 // mean outdoor temperature of the 24 hours up to each, °C
	ground float64   // yearly mean outdoors, °C
	known  map[airKey][]airHour
}

// airKey names the air that may lie around a surface.
type airKey struct {
	side                          assembly.Side
	ground                        float64 // share of the ground in a crawl space
	heatT, heatRH, coolT, coolRH  float64 // settings of the rooms
	hasCooling, isRoom, isOutdoor bool
}

// airHour is that air in one hour.
type airHour struct {
	temperature, dewPoint, humidity float64 // °C, °C, 0 to 1
}

// newSurroundings prepares a year.
func newSurroundings(y *climate.Year) *surroundings {
	n := len(y.Hours)
	w := &surroundings{year: y, daily: make([]float64, n), known: make(map[airKey][]airHour)}
	day := 0.0
	for i := -24; i < n; i++ {
		day += y.Hours[(i+n)%n].Temperature / 24
		if i < 0 {
			continue
		}
		day -= y.Hours[(i-24+n)%n].Temperature / 24
		w.daily[i] = day
		w.ground += y.Hours[i].Temperature / float64(n)
	}
	return w
}

// key names the air around a surface.
func (s *surface) key() airKey {
	k := airKey{side: s.around}
	switch {
	case roomAir(s.around):
		k = airKey{isRoom: true, heatT: s.rule.Heating.Temperature, heatRH: s.rule.Heating.RelativeHumidity}
		if c := s.rule.Cooling; c != nil {
			k.hasCooling, k.coolT, k.coolRH = true, c.Temperature, c.RelativeHumidity
		}
	case s.around == "crawl":
		k.ground = s.ground
	case s.around != "ground":
		k = airKey{isOutdoor: true}
	}
	return k
}

// around is the air around a surface, hour by hour. Attics, garages and crawl
// spaces hold outdoor vapor; a crawl space stands between the weather and the
// yearly mean of the ground, and its air is full where that is below the dew
// point. Against the ground the air of the joint is full.
func (w *surroundings) around(s *surface) []airHour {
	key := s.key()
	if list, ok := w.known[key]; ok {
		return list
	}
	list := make([]airHour, len(w.year.Hours))
	var rooms []climate.Air
	if key.isRoom {
		rooms = w.year.Indoors(s.rule)
	}
	lastP, lastDew := 0.0, 0.0
	for i := range list {
		t, p := w.year.Hours[i].Temperature, w.year.Hours[i].VaporPressure
		switch {
		case key.isRoom:
			t, p = rooms[i].Temperature, rooms[i].VaporPressure
		case s.around == "ground":
			t, p = w.ground, moistair.SaturationPressureOverWater(w.ground)
		case s.around == "crawl":
			t += s.ground * (w.ground - t)
		}
		full := moistair.SaturationPressureOverWater(t)
		p = min(p, full)
		if p != lastP {
			lastP, lastDew = p, moistair.DewPointOverWater(p)
		}
		list[i] = airHour{temperature: t, dewPoint: min(t, lastDew), humidity: p / full}
	}
	w.known[key] = list
	return list
}

// foggy is the relative humidity of air above which nothing but drying it keeps
// a colder surface dry in practice: the end of the table of insulation in ASHRAE
// Handbook—Fundamentals 2021, ch. 23.
const foggy = 0.95

// hour is one hour in which a surface is colder than the air around it, and that
// air is not foggy.
type hour struct {
	air, dew, inside float64 // °C
	needed           float64 // m²·K/W of insulation that keep it dry
	warmEnough       float64 // °C inside that keeps it dry as it is
	dryEnough        float64 // relative humidity of the air that keeps it dry as it is
}

// outcome is what a year does to a surface.
type outcome struct {
	running float64
	hours   float64
	foggy   float64 // hours among them in foggy air
	byMonth [12]float64
	hoursOf []hour // in which it is cold in air that is not foggy, by rising need of insulation
}

// run counts the hours of a surface, and keeps them for sizing where that is
// asked. Its face stands between what is inside and the air around it: t_s = t_i
// + (t_a − t_i)·R/(R + 1/h); the insulation needed is that of
// [steady.ColdSurface.Resistance].
func (w *surroundings) run(s *surface, keep bool) outcome {
	var o outcome
	around := w.around(s)
	share := s.resistance() * s.film / (1 + s.resistance()*s.film)
	for i := range around {
		inside := s.inside
		if s.kind == "slab-edge" {
			inside = w.daily[i]
		} else if runsOnCooling(s.kind) && w.daily[i] <= steady.CoolingAbove {
			continue
		}
		a := &around[i]
		if inside >= a.temperature {
			continue
		}
		o.running++
		temperature := inside + (a.temperature-inside)*share
		if temperature < a.dewPoint {
			o.hours++
			o.byMonth[climate.MonthOf(i)]++
			if a.humidity > foggy {
				o.foggy++
			}
		}
		if keep && a.humidity <= foggy {
			o.hoursOf = append(o.hoursOf, s.hour(a, inside, temperature))
		}
	}
	slices.SortStableFunc(o.hoursOf, func(a, b hour) int { return cmp.Compare(a.needed, b.needed) })
	return o
}

// hour works out what keeps the surface dry in one hour.
func (s *surface) hour(a *airHour, inside, temperature float64) hour {
	spread := a.temperature - a.dewPoint
	full := moistair.SaturationPressureOverWater(a.temperature)
	return hour{
		air: a.temperature, dew: a.dewPoint, inside: inside,
		needed:     max(0, (a.dewPoint-inside)/(s.film*spread)-s.path),
		warmEnough: a.dewPoint - spread*s.film*s.resistance(),
		dryEnough:  min(1, moistair.SaturationPressureOverWater(temperature)/full),
	}
}

// runsOnCooling says whether a surface is cold only while the house is cooled.
func runsOnCooling(k assembly.ColdKind) bool { return k == "duct" || k == "boot" }

// at is the index of the hour that all but a share of the cold hours need no
// more than, −1 for none.
func (o *outcome) at(share float64) int {
	if len(o.hoursOf) == 0 {
		return -1
	}
	return max(0, int(math.Ceil((1-share)*float64(len(o.hoursOf))))-1)
}

// percentile is the value that all but a share of the cold hours stay at or
// under, 0 without cold hours.
func (o *outcome) percentile(share float64, value func(*hour) float64) float64 {
	if len(o.hoursOf) == 0 {
		return 0
	}
	values := make([]float64, len(o.hoursOf))
	for i := range o.hoursOf {
		values[i] = value(&o.hoursOf[i])
	}
	slices.Sort(values)
	return values[o.at(share)]
}
