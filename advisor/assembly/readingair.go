package assembly

import (
	"slices"

	"relath/kb/quantity"
)

// airReadings checks the readings of room air and sorts them into seasons by the
// mean outdoor temperature of their month: below 50 °F heating, above 65 °F
// cooling, as the monthly method does.
func (r *resolver) airReadings(h *House) {
	for i := range h.Indoor.Readings {
		of := &h.Indoor.Readings[i]
		taken := TakenAir{Of: of}
		if v, ok := of.Humidity.SI(quantity.Ratio, r.problem); ok {
			taken.Humidity = v
			r.within(of.Humidity, v, 0.01, 1, "relative humidity", "1 % to 100 %")
		}
		if !of.Temperature.IsZero() {
			if v, ok := of.Temperature.SI(quantity.Temperature, r.problem); ok {
				taken.Temperature, taken.Warm = v, true
				r.within(of.Temperature, v, 0, 40, "room temperature", "32 F to 104 F")
			}
		}
		if day, ok := r.day(of.Date, true); ok {
			taken.Season = r.seasonOf(int(day.Month()) - 1)
		}
		r.out.Air = append(r.out.Air, taken)
	}
}

// TakenAir is a reading of room air and the season it speaks for.
type TakenAir struct {
	Of          *AirReading
	Humidity    float64 // 0..1
	Temperature float64 // °C
	Warm        bool    // whether the temperature was read
	Season      string  // heating, cooling, or "" between them or where there is none
}

// The mean outdoor temperatures that bound the seasons, °C.
const (
	heatingBelow = 10.0      // 50 °F
	coolingAbove = 165.0 / 9 // 65 °F
)

// seasonOf gives the season of a month from January at the place.
func (r *resolver) seasonOf(month int) string {
	if r.out.Place == nil {
		return ""
	}
	for _, s := range r.out.Place.Months {
		if s.Quantity != "temperature" || len(s.SI) != 12 {
			continue
		}
		switch {
		case s.SI[month] < heatingBelow:
			return "heating"
		case s.SI[month] > coolingAbove && r.out.House.Indoor.Cooling != nil:
			return "cooling"
		}
	}
	return ""
}

// airOf lists what was read in a season.
func (r *resolver) airOf(season string) (temperatures, humidities []float64) {
	for _, t := range r.out.Air {
		if t.Season != season {
			continue
		}
		humidities = append(humidities, t.Humidity)
		if t.Warm {
			temperatures = append(temperatures, t.Temperature)
		}
	}
	return temperatures, humidities
}

// read puts the means of readings in the place of what is described. The range
// of the humidity is that of the readings with the error of the instrument.
func (r *resolver) read(state *RoomState, temperatures, humidities []float64) {
	if len(temperatures) > 0 {
		state.Temperature = mean(temperatures)
	}
	if len(humidities) == 0 {
		return
	}
	state.Humidity, state.Read = mean(humidities), true
	err := r.assumed("reading-hygrometer")
	state.Readings = quantity.Range{
		Low: max(0.01, slices.Min(humidities)-err), Best: state.Humidity, High: min(1, slices.Max(humidities)+err),
	}
}

func mean(list []float64) float64 {
	sum := 0.0
	for _, v := range list {
		sum += v
	}
	return sum / float64(len(list))
}
