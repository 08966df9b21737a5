package analysis

import (
	"fmt"
	"math"

	"relath/advisor/assembly"
	"relath/advisor/climate"
	"relath/advisor/steady"
	"relath/advisor/transient"
	"relath/kb"
)

// startHour is the hour of the year at which runs start: 1 October, when wood is
// as dry as the year leaves it and the damp half begins.
const startHour = 273 * 24

// loads are the weather and the air of rooms of one assembly over a year that
// starts in October, and what was assumed for them.
type loads struct {
	year            *climate.Year
	yearName        string // which year it is, in words
	synthetic       bool
	outside, inside transient.Surface
	rain            transient.Series // driven against the face, kg/m² in each hour, before splashing
	used            []string         // ids of assumptions
	words           []string         // what else was assumed
}

// newLoads makes the loads of an assembly.
func newLoads(base *kb.Base, a *assembly.Assembly, year *climate.Year) *loads {
	l := &loads{year: year}
	indoor := RoomRule(a.House)
	rooms := year.Indoors(indoor)
	inside, outside := filmsISO(a)
	l.inside = transient.Surface{
		Temperature:   readings(func(i int) float64 { return rooms[i].Temperature }),
		VaporPressure: readings(func(i int) float64 { return rooms[i].VaporPressure }),
		HeatTransfer:  transient.Constant(1 / inside),
		VaporTransfer: transient.Constant(l.assumed(base, "hourly-inside-vapor-film")),
	}
	l.outside = transient.Surface{
		Temperature:   readings(func(i int) float64 { return year.Hours[i].Temperature }),
		VaporPressure: readings(func(i int) float64 { return year.Hours[i].VaporPressure }),
	}
	if a.Between[0] != "outdoors" {
		// Attic, crawl space and garage: air of the weather, without sun and wind.
		l.outside.HeatTransfer = transient.Constant(1 / outside)
		l.outside.VaporTransfer = l.inside.VaporTransfer
		return l
	}
	l.weather(base, a)
	return l
}

// assumed gives the best value of an assumption and notes its use.
func (l *loads) assumed(base *kb.Base, id string) float64 {
	a := base.Assumption(id)
	if a == nil {
		return 0
	}
	l.used = append(l.used, id)
	return a.SI.Best
}

// readings turns readings at the ends of hours into values at full hours from the
// start on.
func readings(at func(hour int) float64) transient.Series {
	s := make(transient.Series, climate.HoursPerYear)
	for k := range s {
		s[k] = at((startHour + k - 1 + climate.HoursPerYear) % climate.HoursPerYear)
	}
	return s
}

// amounts turns what belongs to whole hours into amounts from the start on.
func amounts(at func(hour int) float64) transient.Series {
	s := make(transient.Series, climate.HoursPerYear)
	for k := range s {
		s[k] = at((startHour + k) % climate.HoursPerYear)
	}
	return s
}

// weather adds wind, sun, sky and rain.
func (l *loads) weather(base *kb.Base, a *assembly.Assembly) {
	year, s := l.year, l.surface(a)
	emittance := l.assumed(base, "hourly-emittance")
	l.outside.HeatTransfer = readings(func(i int) float64 {
		h := &year.Hours[i]
		return transient.Convection(h.WindSpeed) + transient.Radiation(emittance, h.Temperature)
	})
	l.outside.VaporTransfer = readings(func(i int) float64 {
		return transient.VaporTransfer(transient.Convection(year.Hours[i].WindSpeed))
	})
	l.outside.Sun = transient.AtFullHours(amounts(func(i int) float64 { return year.Irradiance(i, s) }))
	if deficit := s.LongwaveDeficit(); deficit > 0 {
		l.outside.LongWave = transient.Constant(-emittance * deficit)
	}
	if a.Kind != "wall" {
		return
	}
	factor := l.assumed(base, "rain-deposition") * l.assumed(base, "rain-exposure-"+exposure(a))
	l.rain = amounts(func(i int) float64 { return year.Hours[i].RainOn(s, factor) })
}

// exposure is the exposure to driven rain; a description that leaves it out means
// a normal one.
func exposure(a *assembly.Assembly) string {
	if a.Rain == "" {
		return "normal"
	}
	return string(a.Rain)
}

// surface is the orientation of the outside face. A description that leaves out
// where it faces gets north, the side with the least sun.
func (l *loads) surface(a *assembly.Assembly) climate.Surface {
	const eighth = 45.0
	s := climate.Surface{Tilt: tiltOf(a)}
	for i, name := range assembly.Faces("").Allowed() {
		if name == string(a.Faces) {
			s.Azimuth = eighth * float64(i)
		}
	}
	if a.Faces == "" {
		l.words = append(l.words, fmt.Sprintf("%s faces north, the side with the least sun", a.Name))
	}
	return s
}

// exposed adds sun and rain as the outermost layers of a variant take them.
// Behind a thin cladding without storage the absorbed sun reaches the gap in part:
// what its outer film does not give back. The rain is that of the loads times a
// factor.
func (h *hourlyModel) exposed(l *loads, factor float64) transient.Surface {
	s := l.outside
	if h.of.Between[0] != "outdoors" {
		return s
	}
	first := h.variant.Layers[0]
	s.Absorptance = h.absorptance(l)
	if h.screened() {
		gap := h.firstGap()
		s.Sun = make(transient.Series, len(l.outside.Sun))
		for k := range s.Sun {
			film := 1 / l.outside.HeatTransfer[k]
			s.Sun[k] = l.outside.Sun[k] * film / (film + gap/2)
		}
	}
	if len(l.rain) == 0 {
		return s
	}
	if why := h.sheds(); why != "" {
		h.assume(fmt.Sprintf("%s sheds the rain: %s", first.Name, why))
		return s
	}
	taken := l.assumed(h.base, "rain-taken") * factor
	s.Rain = make(transient.Series, len(l.rain))
	for k := range s.Rain {
		s.Rain[k] = taken * l.rain[k]
	}
	return s
}

// screened says whether a sheet before an air space is outermost.
func (h *hourlyModel) screened() bool {
	for _, p := range h.places {
		b := &h.bodies[p.body]
		switch {
		case p.coat != 0 || b.solid != nil:
			return false
		case len(b.total) == 0:
			return p.part > 0
		}
	}
	return false
}

// firstGap is the resistance of the outermost air space.
func (h *hourlyModel) firstGap() float64 {
	for _, b := range h.bodies {
		if b.solid == nil && len(b.total) == 0 {
			return max(h.elements[b.element].heat.Best, leastGap)
		}
	}
	return leastGap
}

// absorptance is that of the outermost material or by the color described, medium
// where none is.
func (h *hourlyModel) absorptance(l *loads) float64 {
	first := h.variant.Layers[0]
	if first.Color == "" && first.Material != nil && !first.Framed && len(first.CoatsOut) == 0 {
		if w, ok := first.Material.Working("solar-absorptance", kb.AnyMethod, 0); ok {
			h.note(Input{Layer: first.Name, Material: first.Material.ID, Property: "solar-absorptance", Value: w.Value})
			return w.SI.Best
		}
	}
	color := string(first.Color)
	if color == "" {
		color = "medium"
		h.assume(fmt.Sprintf("%s is of medium color", first.Name))
	}
	return l.assumed(h.base, "sun-absorbed-"+color)
}

// sheds says why the outermost layer takes up no rain, or "".
func (h *hourlyModel) sheds() string {
	p := h.places[0]
	b := &h.bodies[p.body]
	first := h.variant.Layers[p.part]
	switch {
	case b.solid == nil:
		return "it has no storage"
	case b.solid.data.Absorption == 0:
		return "it takes up no liquid"
	case p.coat != 0:
		return "the coats on its face let no liquid pass; water that enters at laps and cracks is a leak"
	case hasTerm(first.Material, "roofing"):
		return "it is a roofing"
	}
	return ""
}

// tiltOf is the angle of the outside face, degrees.
func tiltOf(a *assembly.Assembly) float64 {
	const upright, under = 90.0, 180.0
	switch flowOf(a.Kind, a.Slope) {
	case steady.Up, steady.SlantUp:
		return math.Atan(a.Slope) * 180 / math.Pi
	case steady.Down:
		return under
	}
	return upright
}

// initial sets the state of the layers at the start: new layers are damp as built,
// others stand as the steady profile of October has them. Yearly means of steady
// profiles, which know no sun, would be damper than any wall stays.
func (h *hourlyModel) initial(layers []transient.Layer, l *loads, at corner) error {
	const october = 9
	in := h.compile(at)
	profile, err := h.workspace.Profile(in, in.Months[october])
	if err != nil {
		return err
	}
	fresh := l.assumed(h.base, "hourly-start-humidity")
	n := len(h.elements)
	for i, p := range h.places {
		j := n - 1 - h.bodies[p.body].element // layer of package steady; its faces are planes j and j+1
		layers[i].Temperature = (profile.Temperature[j] + profile.Temperature[j+1]) / 2
		layers[i].Humidity = min(dampest, (profile.Pressure[j]+profile.Pressure[j+1])/(profile.Saturation[j]+profile.Saturation[j+1]))
		if h.variant.Layers[p.part].State != "existing" && layers[i].Material != nil {
			layers[i].Humidity = fresh
		}
	}
	return nil
}

// dampest is the largest humidity at which a standing layer starts.
const dampest = 0.95
