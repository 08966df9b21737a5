package house

import (
	"context"
	"fmt"
	"slices"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/climate"
	"relath/advisor/steady"
	"relath/kb/quantity"
)

// Cold is a duct, pipe or edge against the dew point of the air around it.
type Cold struct {
	Of          *assembly.ResolvedCold
	Inside      analysis.Estimate // °C of what flows inside; for a slab edge it follows the weather
	Running     float64           // hours of the year in which it is colder than the air around it
	Hours       analysis.Estimate // hours of the year in which its surface is below the dew point
	ByMonth     [12]float64       // the same in the best case
	Foggy       float64           // hours among them in air above 95 % humidity, where only drying the air helps
	Design      Design
	Needed      analysis.Estimate // m²·K/W of insulation that keep it dry in all but a design share of its cold hours, foggy ones left out
	Flat        analysis.Estimate // m of insulation on a flat surface
	Round       analysis.Estimate // m of insulation around the diameter
	WarmEnough  analysis.Estimate // °C inside from which it stays dry as it is
	DryEnough   analysis.Estimate // relative humidity of the room up to which it stays dry, for what stands in rooms
	Jacket      analysis.Estimate // permeance that the jacket over the insulation must not exceed
	Changes     []ColdChange
	Assumptions []string // in words: what stands for what is not described
	Warnings    []string
}

// Design is the hour by which the insulation is sized.
type Design struct {
	Known    bool
	Air      float64 // °C around
	DewPoint float64 // °C
	Inside   float64 // °C
}

// ColdChange is the number of wet hours after a change of one setting.
type ColdChange struct {
	What  string  // supply-air, set-point or humidity
	Delta float64 // K, or a share of relative humidity
	Hours analysis.Estimate
}

// The changes of settings that are tried: 5 °F of supply air, 2 °F of set point,
// ten points of humidity.
const (
	supplyStep   = 25.0 / 9
	setPointStep = 10.0 / 9
	humidityStep = 0.10
)

// coldSurfaces looks at every cold surface over the hours of the year.
func (s *Study) coldSurfaces(ctx context.Context) ([]Cold, error) {
	if len(s.house.Cold) == 0 {
		return nil, nil
	}
	year, err := s.hourly()
	if err != nil {
		return nil, err
	}
	w := newSurroundings(year)
	var list []Cold
	for i := range s.house.Cold {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		list = append(list, s.cold(w, &s.house.Cold[i]))
	}
	return list, nil
}

// surface is a cold surface made ready to be run over the year.
type surface struct {
	kind       assembly.ColdKind
	around     assembly.Side
	inside     float64 // °C; of a slab edge nothing
	insulation float64 // m²·K/W
	path       float64 // m²·K/W that are there without insulation
	film       float64 // W/(m²·K)
	ground     float64 // share of the ground in the temperature of a crawl space
	rule       climate.Indoor
	idle       bool // never cold: a duct of a house without cooling
}

// resistance is that up to the face, m²·K/W.
func (s *surface) resistance() float64 { return s.insulation + s.path }

// cold looks at one surface. Bounds: of the film coefficient, of the
// temperature inside where it is a default, of the ground's share in a crawl
// space.
func (s *Study) cold(w *surroundings, of *assembly.ResolvedCold) Cold {
	c := Cold{Of: of}
	t := &trace{mark: "derived"}
	at := s.surfaces(&c, t)
	if at[1].idle {
		c.idle(t)
		return c
	}
	runs := [3]outcome{}
	for i := range at {
		runs[i] = w.run(&at[i], true)
	}
	c.Running, c.ByMonth, c.Foggy = runs[1].running, runs[1].byMonth, runs[1].foggy
	c.Hours = t.estimate(sorted(runs[0].hours, runs[1].hours, runs[2].hours))
	s.size(&c, t, at, &runs)
	s.changes(&c, t, w, at)
	j := &trace{}
	c.Jacket = j.estimate(s.take(j, "cold-jacket"))
	return c
}

// idle fills in a surface that is never cold.
func (c *Cold) idle(t *trace) {
	c.Hours = t.estimate(quantity.Exact(0))
	c.Needed = c.Hours
	none := missing("it is never cold")
	c.Flat, c.Round, c.WarmEnough, c.DryEnough, c.Jacket = none, none, none, none, none
}

// surfaces gives the surface at the end that keeps it driest, at the best
// values and at the end that wets it most.
func (s *Study) surfaces(c *Cold, t *trace) [3]surface {
	of := c.Of
	film := s.take(t, "cold-surface-film")
	path := quantity.Range{}
	if of.Surface.Kind == "slab-edge" {
		path = s.take(t, "slab-edge-path")
		film = quantity.Exact(1 / steady.MoldFilm)
		c.Assumptions = append(c.Assumptions, "the slab edge follows the mean outdoor temperature of the day")
	}
	inside := s.inside(c, t)
	ground := quantity.Range{}
	if of.Surface.Around == "crawl" {
		ground = s.take(t, "crawl-ground-share")
		c.Assumptions = append(c.Assumptions, "the crawl space holds outdoor vapor and stands between the outdoor temperature and the yearly mean of the ground")
	}
	if of.Surface.Around == "wet-room" {
		c.Assumptions = append(c.Assumptions, "the wet room holds the air of the other rooms; after a bath it is damper")
	}
	if of.Surface.Around == "attic" || of.Surface.Around == "garage" {
		c.Assumptions = append(c.Assumptions, fmt.Sprintf("the %s stands at outdoor temperature and vapor pressure; under a roof in the sun it is warmer, which helps", of.Surface.Around))
	}
	with := func(inside, path, film, ground float64) surface {
		return surface{
			kind: of.Surface.Kind, around: of.Surface.Around, inside: inside, insulation: of.Insulation, path: path,
			film: film, ground: ground, rule: s.rule, idle: s.isIdle(of),
		}
	}
	return [3]surface{
		with(inside.High, path.High, film.High, ground.Low),
		with(inside.Best, path.Best, film.Best, ground.Best),
		with(inside.Low, path.Low, film.Low, ground.High),
	}
}

// isIdle says whether a duct or boot never carries cold air: the house has no
// cooling and no temperature below that of the rooms is given.
func (s *Study) isIdle(of *assembly.ResolvedCold) bool {
	isAir := of.Surface.Kind == "duct" || of.Surface.Kind == "boot"
	return isAir && s.house.Cooling == nil && (!of.InsideSet || of.Inside >= s.house.Heating.Temperature)
}

// inside is the temperature inside, °C: as given, else the supply air of the
// cooling, cold water, or a default.
func (s *Study) inside(c *Cold, t *trace) quantity.Range {
	of := c.Of
	isAir := of.Surface.Kind == "duct" || of.Surface.Kind == "boot"
	i := &trace{}
	r := quantity.Exact(of.Inside)
	switch {
	case of.Surface.Kind == "slab-edge":
		c.Inside = missing("it follows the weather")
		return r
	case of.InsideSet:
	case isAir && s.house.Cooling != nil && s.house.Cooling.SupplyAir != 0:
		r = quantity.Exact(s.house.Cooling.SupplyAir)
	case isAir:
		r = s.take(i, "supply-air")
	default:
		r = s.take(i, "cold-water")
	}
	t.mark, t.inputs = t.mark.Weaker(i.mark), append(t.inputs, i.inputs...)
	c.Inside = i.estimate(r)
	if isAir {
		c.Assumptions = append(c.Assumptions, "supply air runs on days whose outdoor mean is above 65 °F")
	}
	return r
}

// size fills in what keeps the surface dry: what all but the design share of its
// cold hours need.
func (s *Study) size(c *Cold, t *trace, at [3]surface, runs *[3]outcome) {
	share := s.take(t, "cold-design-share").Best
	s.margins(c, t, runs, share)
	var design [3]hour
	for i := range runs {
		if k := runs[i].at(share); k >= 0 {
			design[i] = runs[i].hoursOf[k]
		}
	}
	if runs[1].running > 0 {
		c.Design = Design{Known: true, Air: design[1].air, DewPoint: design[1].dew, Inside: design[1].inside}
	}
	c.Needed = t.estimate(sorted(design[0].needed, design[1].needed, design[2].needed))
	s.thickness(c, at, design)
}

// thickness turns the design hours into insulation, flat and round.
func (s *Study) thickness(c *Cold, at [3]surface, design [3]hour) {
	t := &trace{mark: c.Needed.Evidence, inputs: slices.Clone(c.Needed.Inputs)}
	k := s.take(t, "cold-insulation")
	conductivity := [3]float64{k.Low, k.Best, k.High}
	var flat, round [3]float64
	for i, h := range design {
		if h.needed == 0 {
			continue
		}
		flat[i] = conductivity[i] * h.needed
		if c.Of.Diameter == 0 {
			continue
		}
		var err error
		of := steady.ColdSurface{Air: h.air, DewPoint: h.dew, Inside: h.inside, Film: at[i].film}
		if round[i], err = of.PipeThickness(conductivity[i], c.Of.Diameter/2); err != nil {
			c.Flat = missing("%v", err)
			c.Round = c.Flat
			return
		}
	}
	c.Flat = t.estimate(sorted(flat[0], flat[1], flat[2]))
	c.Round = missing("the diameter is not given")
	if c.Of.Diameter > 0 && c.Of.Surface.Kind != "slab-edge" {
		c.Round = t.estimate(sorted(round[0], round[1], round[2]))
	}
}

// margins fills in the temperature inside that is warm enough, and the humidity
// of the room that is dry enough.
func (s *Study) margins(c *Cold, t *trace, runs *[3]outcome, share float64) {
	c.WarmEnough, c.DryEnough = missing("it follows the weather"), missing("it does not stand in a room")
	if c.Of.Surface.Kind != "slab-edge" {
		at := func(o *outcome) float64 { return o.percentile(share, func(h *hour) float64 { return h.warmEnough }) }
		c.WarmEnough = missing("it is never cold")
		if runs[1].running > 0 {
			c.WarmEnough = t.estimate(sorted(at(&runs[0]), at(&runs[1]), at(&runs[2])))
		}
	}
	if roomAir(c.Of.Surface.Around) && runs[1].running > 0 {
		at := func(o *outcome) float64 { return -o.percentile(share, func(h *hour) float64 { return -h.dryEnough }) }
		c.DryEnough = t.estimate(sorted(at(&runs[0]), at(&runs[1]), at(&runs[2])))
	}
}

// changes runs the surface with changed settings.
func (s *Study) changes(c *Cold, t *trace, w *surroundings, at [3]surface) {
	try := func(what string, delta float64, change func(*surface)) {
		var hours [3]float64
		for i := range at {
			changed := at[i]
			change(&changed)
			hours[i] = w.run(&changed, false).hours
		}
		c.Changes = append(c.Changes, ColdChange{What: what, Delta: delta, Hours: t.estimate(sorted(hours[0], hours[1], hours[2]))})
	}
	if k := c.Of.Surface.Kind; k == "duct" || k == "boot" {
		for _, d := range []float64{supplyStep, -supplyStep} {
			try("supply-air", d, func(x *surface) { x.inside += d })
		}
	}
	if !roomAir(c.Of.Surface.Around) {
		return
	}
	for _, d := range []float64{setPointStep, -setPointStep} {
		try("set-point", d, func(x *surface) { x.rule = shifted(x.rule, d, 0) })
	}
	for _, d := range []float64{-humidityStep, humidityStep} {
		try("humidity", d, func(x *surface) { x.rule = shifted(x.rule, 0, d) })
	}
}

// shifted is a rule with another temperature or humidity in both seasons.
func shifted(rule climate.Indoor, temperature, humidity float64) climate.Indoor {
	shift := func(s climate.Setting) climate.Setting {
		return climate.Setting{Temperature: s.Temperature + temperature, RelativeHumidity: min(1, max(0.01, s.RelativeHumidity+humidity))}
	}
	rule.Heating = shift(rule.Heating)
	if rule.Cooling != nil {
		cooling := shift(*rule.Cooling)
		rule.Cooling = &cooling
	}
	return rule
}
