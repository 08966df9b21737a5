package climate

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"

	"relath/advisor/moistair"
)

// publishedSpread is what a generator of this kind reached against the measured years
// of 122 stations: 90 % of the months deviate by no more (K, percentage points, % of
// vapor pressure). It was computed from the TMY3 files when the method was set up.
func publishedSpread() []spreadLimit {
	return []spreadLimit{
		{"temperature 5th", 2.5},
		{"temperature 50th", 1.0},
		{"temperature 95th", 2.3},
		{"humidity 5th", 8.2},
		{"humidity 50th", 4.1},
		{"humidity 95th", 8.9},
		{"pressure mean", 8.4},
		{"pressure 5th", 42},
		{"pressure 50th", 12},
		{"pressure 95th", 29},
	}
}

type spreadLimit struct {
	quantity string
	within   float64
}

// deviations of synthetic from measured months, one value per station and month.
type deviations map[string][]float64

func (d deviations) add(measured, made Statistics) {
	put := func(name string, value float64) { d[name] = append(d[name], value) }
	put("temperature 5th", made.Temperature.P5-measured.Temperature.P5)
	put("temperature 50th", made.Temperature.P50-measured.Temperature.P50)
	put("temperature 95th", made.Temperature.P95-measured.Temperature.P95)
	put("humidity 5th", 100*(made.RelativeHumidity.P5-measured.RelativeHumidity.P5))
	put("humidity 50th", 100*(made.RelativeHumidity.P50-measured.RelativeHumidity.P50))
	put("humidity 95th", 100*(made.RelativeHumidity.P95-measured.RelativeHumidity.P95))
	put("pressure mean", 100*(made.VaporPressure.Mean/measured.VaporPressure.Mean-1))
	put("pressure 5th", 100*(made.VaporPressure.P5/measured.VaporPressure.P5-1))
	put("pressure 50th", 100*(made.VaporPressure.P50/measured.VaporPressure.P50-1))
	put("pressure 95th", 100*(made.VaporPressure.P95/measured.VaporPressure.P95-1))
}

// compareMonths makes a year from the months of each measured one, changed by alter,
// and collects the deviations.
func compareMonths(t *testing.T, alter func(*Month)) deviations {
	d := deviations{}
	for _, name := range measuredNames() {
		y := measured(t, name)
		p := placeOf(y, name)
		for m := range p.Months {
			alter(&p.Months[m])
		}
		g := generated(t, p)
		for m := range 12 {
			d.add(y.MonthStatistics(m), g.MonthStatistics(m))
		}
	}
	return d
}

// within returns the share of months that deviate by no more than the limit.
func within(values []float64, limit float64) float64 {
	n := 0
	for _, v := range values {
		if math.Abs(v) <= limit {
			n++
		}
	}
	return float64(n) / float64(len(values))
}

func unchanged(*Month)                {}
func withoutPressure(m *Month)        { m.VaporPressure = 0 }
func withoutDayToDayWeather(m *Month) { m.TemperatureSD, m.HumiditySD = 1e-3, 1e-4 }

// Both stations have the wide swings of the middle of a continent, and 24 months are
// few: 70 % stand for the 90 % of 122 stations (one station-month is 4 %).
func TestSyntheticMonthsLikeMeasuredOnes(t *testing.T) {
	const least = 0.70
	for _, c := range []struct {
		name  string
		alter func(*Month)
	}{{"with vapor pressure", unchanged}, {"without vapor pressure", withoutPressure}} {
		d := compareMonths(t, c.alter)
		for _, limit := range publishedSpread() {
			share := within(d[limit.quantity], limit.within)
			t.Logf("%s: %s: mean deviation %+.2f, %.0f %% within %g", c.name, limit.quantity,
				stat.Mean(d[limit.quantity], nil), 100*share, limit.within)
			if share < least {
				t.Errorf("%s: %s: %.0f %% of the months within %g", c.name, limit.quantity, 100*share, limit.within)
			}
		}
	}
}

// Vapor pressure and relative humidity of a month can both be had in nearly every
// month, because cold spells may be drier and mild ones damper.
func TestBothHumiditiesOfMeasuredMonths(t *testing.T) {
	var off []float64
	for _, name := range measuredNames() {
		p := placeOf(measured(t, name), name)
		for m, got := range generated(t, p).Months() {
			off = append(off, math.Abs(100*(got.RelativeHumidity-p.Months[m].RelativeHumidity)))
		}
	}
	if mean := stat.Mean(off, nil); mean > 1 {
		t.Errorf("mean relative humidity is off by %.2f percentage points on average: %.2f", mean, off)
	} else {
		t.Logf("off by %.2f percentage points on average", mean)
	}
}

// Without day-to-day weather the cold end of a month was found 3.0 K too warm and the
// warm end 2.7 K too cold in 15 cities.
func TestDayToDayWeatherIsNeeded(t *testing.T) {
	d := compareMonths(t, withoutDayToDayWeather)
	cold, warm := stat.Mean(d["temperature 5th"], nil), stat.Mean(d["temperature 95th"], nil)
	if cold < 2 || cold > 5 || warm > -2 || warm < -5 {
		t.Errorf("cold end %+.1f K, warm end %+.1f K", cold, warm)
	}
	full := compareMonths(t, unchanged)
	if mean := stat.Mean(full["temperature 5th"], nil); math.Abs(mean) > 1 {
		t.Errorf("with weather the cold end is off by %+.1f K", mean)
	}
}

// Hours that matter for mold, against the ratio found for the station when the method
// was set up without vapor pressure: 0.88 and 1.00. Another random series moves it by
// up to 0.1. With vapor pressure the year must not be optimistic.
func TestMoldHoursLikeMeasuredOnes(t *testing.T) {
	published := []float64{0.88, 1.00}
	for k, name := range measuredNames() {
		y := measured(t, name)
		want := float64(y.Statistics().MoldHours)
		p := placeOf(y, name)
		if ratio := float64(generated(t, p).Statistics().MoldHours) / want; ratio < 0.95 || ratio > 1.3 {
			t.Errorf("%s: %.3f of the measured hours", name, ratio)
		}
		for m := range p.Months {
			withoutPressure(&p.Months[m])
		}
		if ratio := float64(generated(t, p).Statistics().MoldHours) / want; math.Abs(ratio-published[k]) > 0.1 {
			t.Errorf("%s: %.3f of the measured hours without vapor pressure", name, ratio)
		}
	}
}

// Sunny hours were found within 5 % in 15 cities, and walls within −5 to +4 % over the
// year in four; one more point for other stations.
func TestSunLikeMeasured(t *testing.T) {
	for _, name := range measuredNames() {
		y := measured(t, name)
		g := generated(t, placeOf(y, name))
		if ratio := float64(g.Statistics().SunnyHours) / float64(y.Statistics().SunnyHours); math.Abs(ratio-1) > 0.05 {
			t.Errorf("%s: %.3f of the sunny hours", name, ratio)
		}
		for azimuth := 0.0; azimuth < 360; azimuth += 90 {
			if ratio := yearOn(g, azimuth) / yearOn(y, azimuth); ratio < 0.94 || ratio > 1.055 {
				t.Errorf("%s: wall facing %g° receives %.3f", name, azimuth, ratio)
			}
		}
	}
}

func TestStatisticsOfKnownHours(t *testing.T) {
	y := &Year{Hours: make([]Hour, HoursPerYear)}
	for i := range y.Hours {
		y.Hours[i] = Hour{Temperature: float64(i % 24), WindSpeed: 3, Rain: 0.25 / 24, Global: 600}
		y.Hours[i].VaporPressure = 0.9 * moistair.SaturationPressureOverWater(y.Hours[i].Temperature)
	}
	s := y.Statistics()
	if s.HumidHours != HoursPerYear || s.MoldHours != 18*DaysPerYear || s.SunnyHours != HoursPerYear {
		t.Errorf("counted %d, %d and %d hours", s.HumidHours, s.MoldHours, s.SunnyHours)
	}
	if math.Abs(s.Temperature.Mean-11.5) > 1e-9 || math.Abs(s.Temperature.P50-11.5) > 0.51 ||
		math.Abs(s.Rain-0.25*DaysPerYear) > 1e-6 || math.Abs(s.WindSpeed-3) > 1e-9 {
		t.Errorf("statistics %+v", s)
	}
	m := y.Months()[6]
	if math.Abs(m.TemperatureMax-23) > 1e-9 || math.Abs(m.TemperatureMin) > 1e-9 || m.TemperatureSD > 1e-9 {
		t.Errorf("July is %+v", m)
	}
}
