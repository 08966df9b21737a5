package climate

import (
	"fmt"

	"relath/advisor/moistair"
)

// Outdoor means between which the indoor air passes from heating to cooling values,
// °C (50 and 65 °F), and how much warmer than outdoors a house without cooling is,
// K (5 °F; ASHRAE Standard 160, recalled).
const (
	heatingBelow = 10.0
	coolingAbove = 18.0 + 1.0/3
	freeWarmth   = 25.0 / 9
)

// HumidityClass is a humidity class of ISO 13788 by what goes on indoors: 1 storage,
// 2 dwellings with normal occupancy and ventilation, 3 unknown occupancy, 4 kitchens
// and sports halls (recalled). Class 5 has no upper limit and is not offered.
type HumidityClass int

// NewHumidityClass checks the number of a humidity class.
func NewHumidityClass(number int) (HumidityClass, error) {
	if number < 1 || number > 4 {
		return 0, fmt.Errorf("humidity class %d is not 1 to 4", number)
	}
	return HumidityClass(number), nil
}

// Excess returns the upper limit of the class for the vapor pressure indoors above
// that outdoors, Pa, at the mean outdoor temperature te in °C: 270 Pa per class up
// to 0 °C, falling to nothing at 20 °C (ISO 13788, Annex A, recalled).
func (c HumidityClass) Excess(te float64) float64 {
	return 270 * float64(c) * max(0, min(1, 1-te/20))
}

// Air is a temperature in °C with a vapor pressure in Pa.
type Air struct {
	Temperature, VaporPressure float64
}

// Setting is what heating or cooling holds: a temperature in °C and a relative
// humidity, a fraction.
type Setting struct {
	Temperature, RelativeHumidity float64
}

// air returns the air of a setting; its humidity refers to liquid water.
func (s Setting) air() Air {
	return Air{s.Temperature, s.RelativeHumidity * moistair.SaturationPressureOverWater(s.Temperature)}
}

// Indoor is the rule for the air of a room as a function of the air outdoors.
type Indoor struct {
	Heating Setting
	// Cooling is nil for a house without cooling.
	Cooling *Setting
	// Class gives the humidity of a house without cooling in the warm season.
	Class HumidityClass
}

// At returns the air indoors for outdoor means, of a day or a month: temperature te
// in °C and vapor pressure pe in Pa. Below 10 °C the heating values hold, above
// 18.3 °C the cooling values, in between temperature and relative humidity pass
// linearly. Without cooling the warm season has the temperature of heating, or
// 2.8 K above outdoors if that is more, and the vapor pressure outdoors with the
// excess of the class, no more than saturation.
func (r Indoor) At(te, pe float64) Air {
	share := max(0, min(1, (te-heatingBelow)/(coolingAbove-heatingBelow)))
	if r.Cooling == nil {
		return r.free(share, te, pe)
	}
	return Setting{
		Temperature:      mix(r.Heating.Temperature, r.Cooling.Temperature, share),
		RelativeHumidity: mix(r.Heating.RelativeHumidity, r.Cooling.RelativeHumidity, share),
	}.air()
}

// free returns the air of a house without cooling.
func (r Indoor) free(share, te, pe float64) Air {
	t := max(r.Heating.Temperature, te+freeWarmth)
	p := mix(r.Heating.air().VaporPressure, pe+r.Class.Excess(te), share)
	return Air{t, min(p, moistair.SaturationPressureOverWater(t))}
}

func mix(a, b, share float64) float64 { return a + share*(b-a) }

// Indoors returns the air indoors in every hour of a year: the rule applied to the
// means of the 24 hours up to each, the first day taking from the last.
func (y *Year) Indoors(r Indoor) []Air {
	indoors := make([]Air, len(y.Hours))
	var te, pe float64
	for i := -24; i < len(y.Hours); i++ {
		now := &y.Hours[(i+HoursPerYear)%HoursPerYear]
		te += now.Temperature / 24
		pe += now.VaporPressure / 24
		if i < 0 {
			continue
		}
		gone := &y.Hours[(i-24+HoursPerYear)%HoursPerYear]
		te -= gone.Temperature / 24
		pe -= gone.VaporPressure / 24
		indoors[i] = r.At(te, pe)
	}
	return indoors
}
