package transient

// weather is the load of one face at a moment.
type weather struct {
	temperature, pressure float64 // °C, Pa
	heat, vapor           float64 // transfer coefficients
	gain                  float64 // absorbed sun and long-wave, W/m²
}

// beginHour sets what is constant within an hour.
func (w *Workspace) beginHour(hour int) {
	w.hour = hour
	clear(w.poured)
	wet := w.supply > 0
	w.supply = 0
	for k := range w.slabs {
		w.liquid[k] = w.table(&w.slabs[k]).Functions.Redistribution
	}
	for side, node := range []int{0, w.Model.nodes - 1} {
		if layer := w.rainLayer[side]; layer >= 0 {
			rain := w.surface(Side(side)).Rain.at(hour)
			w.rain[side] = rain / secondsPerHour
			w.pour(layer, node, rain)
		}
	}
	for i := range w.sources {
		s := &w.sources[i]
		water := s.water.at(hour)
		for k, share := range s.share {
			w.pour(s.layer, s.first+k, water*share)
		}
	}
	if w.input.Held || wet != (w.supply > 0) {
		w.known = 1 // the loads or the liquid transport jump
	}
}

// pour lets water flow into a node evenly within the hour.
func (w *Workspace) pour(layer, node int, water float64) {
	w.poured[node] += water / secondsPerHour
	w.supply += water / secondsPerHour
	for k := range w.slabs {
		if water > 0 && w.slabs[k].layer == layer {
			w.liquid[k] = 1
		}
	}
}

// setWeather sets the loads at a time within the hour, from 0 to 1.
func (w *Workspace) setWeather(time float64) {
	if w.input.Held {
		time = 0
	}
	value := func(s Series) float64 {
		a := s.at(w.hour)
		return a + time*(s.at(w.hour+1)-a)
	}
	for side := range w.weather {
		s := w.surface(Side(side))
		w.weather[side] = weather{
			temperature: value(s.Temperature),
			pressure:    value(s.VaporPressure),
			heat:        value(s.HeatTransfer),
			vapor:       value(s.VaporTransfer),
			gain:        value(s.Sun)*s.Absorptance + value(s.LongWave),
		}
	}
	for i := range w.exchanges {
		w.exchange[i] = value(w.exchanges[i].flow) * w.exchanges[i].factor
	}
}
