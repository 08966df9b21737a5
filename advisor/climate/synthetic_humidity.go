package climate

import (
	"fmt"
	"math"
	"slices"

	"relath/advisor/moistair"
)

// Constants of humidity within and between days (derived from TMY3 data).
const (
	defaultHumiditySD   = 0.101
	withinDaySpread     = 0.10 // of the logarithm of vapor pressure
	withinDayPersistent = 0.9
)

// humidity sets the hourly vapor pressure: for each day the constant one that gives
// the day's mean relative humidity, joined from noon to noon, roughened within the
// day and never above saturation.
func (s *synthesis) humidity() error {
	saturation := make([]float64, HoursPerYear)
	for i := range saturation {
		saturation[i] = moistair.SaturationPressureOverWater(s.year.Hours[i].Temperature)
	}
	daily := make([]float64, DaysPerYear)
	for d, rh := range s.dailyHumidity() {
		daily[d] = pressureForHumidity(saturation[24*d:24*d+24], rh)
	}
	rough := newRandom(s.place.ID, "vapor").persistent(HoursPerYear, withinDayPersistent)
	for i := range s.year.Hours {
		e := noonToNoon(daily, i) * math.Exp(withinDaySpread*rough[i])
		s.year.Hours[i].VaporPressure = min(e, saturation[i])
	}
	for m := range 12 {
		first, end := monthDays(m)
		if err := s.fitHumidity(m, saturation[24*first:24*end]); err != nil {
			return err
		}
	}
	return nil
}

// dailyHumidity returns the mean relative humidity of each day, lower under a clear
// sky.
func (s *synthesis) dailyHumidity() []float64 {
	own := math.Sqrt(1 - humidityWithSky*humidityWithSky)
	daily := make([]float64, DaysPerYear)
	for m := range 12 {
		month := &s.place.Months[m]
		sd := month.HumiditySD
		if sd == 0 {
			sd = defaultHumiditySD
		}
		// Little room is left for variation when the air is damp.
		sd = min(sd, 0.5*(1-month.RelativeHumidity)+0.01)
		first, end := monthDays(m)
		for d := first; d < end; d++ {
			z := humidityWithSky*s.zSky[d] + own*s.zHumidity[d]
			daily[d] = min(1, max(0.02, month.RelativeHumidity+sd*z))
		}
	}
	return daily
}

// pressureForHumidity returns the constant vapor pressure at which the hours have
// the mean relative humidity rh, none of them above 1.
func pressureForHumidity(saturation []float64, rh float64) float64 {
	return bisect(0, slices.Max(saturation), fine, func(e float64) bool {
		sum := 0.0
		for _, full := range saturation {
			sum += min(1, e/full)
		}
		return sum < rh*float64(len(saturation))
	})
}

// humidityFit searches the vapor pressures of a month that have given means: the
// hours are multiplied by a common factor and by e^(tilt·z), with z the day's
// temperature in standard deviations, and held at saturation. The tilt makes cold
// spells drier and mild ones damper, or the reverse.
type humidityFit struct {
	hours      []Hour
	saturation []float64
	z          []float64 // of each hour
	// With the tilt and before the common factor: vapor pressure, and relative humidity.
	tilted, ratio []float64
}

// widestTilt bounds the tilt: one standard deviation of daily temperature then
// changes the vapor pressure by a third at equal mean.
const widestTilt = 0.3

// fitHumidity gives month m its mean relative humidity and, where it is known, its
// mean vapor pressure. Where both cannot be had, vapor pressure goes first.
func (s *synthesis) fitHumidity(m int, saturation []float64) error {
	month := &s.place.Months[m]
	first, _ := monthDays(m)
	f := &humidityFit{hours: s.year.month(m), saturation: saturation}
	f.z = make([]float64, len(f.hours))
	f.tilted = make([]float64, len(f.hours))
	f.ratio = make([]float64, len(f.hours))
	for i := range f.z {
		f.z[i] = noonToNoon(s.zTemperature, 24*first+i)
	}
	if month.VaporPressure == 0 {
		f.store(f.forHumidity(0, month.RelativeHumidity))
		return nil
	}
	tilt := bisect(-widestTilt, widestTilt, coarse, func(tilt float64) bool {
		factor := f.forHumidity(tilt, month.RelativeHumidity)
		return f.pressure(factor) < month.VaporPressure
	})
	f.tilt(tilt)
	if f.pressure(widestFactor) < month.VaporPressure {
		return fmt.Errorf("month %d: vapor pressure %g Pa is too high for a mean temperature of %g °C",
			m+1, month.VaporPressure, month.Temperature)
	}
	f.store(bisect(0, widestFactor, fine, func(factor float64) bool {
		return f.pressure(factor) < month.VaporPressure
	}))
	return nil
}

// widestFactor bounds the common factor.
const widestFactor = 4.0

// Halvings: the tilt need not be exact, because the factor is set after it.
const coarse, fine = 20, 45

// forHumidity sets the tilt and returns the factor for a mean relative humidity.
func (f *humidityFit) forHumidity(tilt, rh float64) float64 {
	f.tilt(tilt)
	return bisect(0, widestFactor, fine, func(factor float64) bool { return f.humidity(factor) < rh })
}

// tilt sets the vapor pressures before the common factor.
func (f *humidityFit) tilt(tilt float64) {
	for i := range f.hours {
		f.tilted[i] = f.hours[i].VaporPressure * math.Exp(tilt*f.z[i])
		f.ratio[i] = f.tilted[i] / f.saturation[i]
	}
}

// pressure returns the mean vapor pressure with a common factor.
func (f *humidityFit) pressure(factor float64) (mean float64) {
	for i, e := range f.tilted {
		mean += min(f.saturation[i], factor*e)
	}
	return mean / float64(len(f.tilted))
}

// humidity returns the mean relative humidity with a common factor.
func (f *humidityFit) humidity(factor float64) (mean float64) {
	for _, rh := range f.ratio {
		mean += min(1, factor*rh)
	}
	return mean / float64(len(f.tilted))
}

// store writes the vapor pressures into the hours.
func (f *humidityFit) store(factor float64) {
	for i, e := range f.tilted {
		f.hours[i].VaporPressure = min(f.saturation[i], factor*e)
	}
}

// bisect returns where below turns from true to false between low and high, halving
// the interval so many times.
func bisect(low, high float64, times int, below func(float64) bool) float64 {
	for range times {
		if middle := (low + high) / 2; below(middle) {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}
