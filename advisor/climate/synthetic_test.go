package climate

import (
	"bytes"
	"encoding/binary"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"relath/advisor/moistair"
)

func TestMonthlyMeansAreExact(t *testing.T) {
	p := inventedPlace()
	months := generated(t, p).Months()
	for m := range months {
		got, want := months[m], p.Months[m]
		for _, c := range []struct {
			name            string
			got, want, slip float64
		}{
			{"temperature", got.Temperature, want.Temperature, 1e-9},
			{"vapor pressure", got.VaporPressure, want.VaporPressure, 1e-6},
			{"sun", got.Sun, want.Sun, 1e-9},
			{"precipitation", got.Precipitation, want.Precipitation, 1e-9},
			{"precipitation days", got.PrecipitationDays, want.PrecipitationDays, 2},
			// Wind runs through mid-month nodes and is not shifted.
			{"wind", got.WindSpeed, want.WindSpeed, 1e-2},
		} {
			if math.Abs(c.got-c.want) > c.slip {
				t.Errorf("month %d: %s is %g, not %g", m+1, c.name, c.got, c.want)
			}
		}
	}
}

func TestRelativeHumidityIsExactWithoutVaporPressure(t *testing.T) {
	p := inventedPlace()
	for m := range p.Months {
		p.Months[m].VaporPressure = 0
	}
	for m, got := range generated(t, p).Months() {
		if math.Abs(got.RelativeHumidity-0.71) > 1e-9 {
			t.Errorf("month %d: mean relative humidity %g, not 0.71", m+1, got.RelativeHumidity)
		}
	}
}

// The daily range comes back although clouds narrow it and spells tilt it, and so
// does the day-to-day variation of temperature.
func TestDailyRangeAndVariation(t *testing.T) {
	p := inventedPlace()
	for m := range p.Months {
		p.Months[m].TemperatureSD = 4
	}
	for m, got := range generated(t, p).Months() {
		want := p.Months[m]
		low, high := got.TemperatureMin-want.TemperatureMin, got.TemperatureMax-want.TemperatureMax
		if math.Abs(low) > 1 || math.Abs(high) > 1 {
			t.Errorf("month %d: mean lowest off by %.2f K, mean highest by %.2f K", m+1, low, high)
		}
		// The trend within the month, some percent of the variation, is not in the figure.
		if got.TemperatureSD < 3.5 || got.TemperatureSD > 4.2 {
			t.Errorf("month %d: standard deviation of days is %.2f K, not near 4", m+1, got.TemperatureSD)
		}
	}
}

// yearBytes writes a year down to the last bit.
func yearBytes(t *testing.T, y *Year) []byte {
	var out bytes.Buffer
	if err := binary.Write(&out, binary.LittleEndian, y.Hours); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestSamePlaceHasTheSameYear(t *testing.T) {
	first := yearBytes(t, generated(t, inventedPlace()))
	if !bytes.Equal(first, yearBytes(t, generated(t, inventedPlace()))) {
		t.Error("the same place has two different years")
	}
	other := inventedPlace()
	other.ID = "elsewhere"
	if bytes.Equal(first, yearBytes(t, generated(t, other))) {
		t.Error("the name of a place does not seed its weather")
	}
}

// sound reports the first hour that no weather can have.
func sound(y *Year) (hour int, ok bool) {
	for i := range y.Hours {
		h := &y.Hours[i]
		saturation := moistair.SaturationPressureOverWater(h.Temperature)
		possible := h.Temperature > -90 && h.Temperature < 80 &&
			h.VaporPressure > 0 && h.VaporPressure <= saturation*(1+1e-12) &&
			h.Global >= 0 && h.Global < 2*SolarConstant && h.Diffuse >= 0 && h.Diffuse <= h.Global &&
			h.Beam >= 0 && h.WindSpeed >= 0 && h.Rain >= 0 && h.Snow >= 0 &&
			(h.Rain == 0 || h.Temperature >= snowTemperature) && (h.Snow == 0 || h.Temperature < snowTemperature)
		if !possible {
			return i, false
		}
	}
	return 0, true
}

func TestAnyPlaceHasSoundWeather(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := &Place{
			ID:       rapid.String().Draw(t, "id"),
			Latitude: rapid.Float64Range(-90, 90).Draw(t, "latitude"),
		}
		for m := range p.Months {
			month := &p.Months[m]
			month.Temperature = rapid.Float64Range(-35, 38).Draw(t, "temperature")
			month.TemperatureMax = month.Temperature + rapid.Float64Range(0, 12).Draw(t, "up")
			month.TemperatureMin = month.Temperature - rapid.Float64Range(0, 12).Draw(t, "down")
			month.RelativeHumidity = rapid.Float64Range(0.05, 1).Draw(t, "rh")
			month.WindSpeed = rapid.Float64Range(0.1, 20).Draw(t, "wind")
			month.PrecipitationDays = rapid.Float64Range(0, 31).Draw(t, "days")
			month.Precipitation = rapid.Float64Range(0, 600).Draw(t, "precipitation")
			// Up to 80 % of what arrives outside the atmosphere.
			first, _ := monthDays(m)
			month.Sun = 0.01 + rapid.Float64Range(0, 0.8).Draw(t, "clearness")*DailyExtraterrestrial(p.Latitude, first+15)
		}
		y, err := Generate(p)
		if err != nil {
			t.Fatal(err)
		}
		if i, ok := sound(y); !ok {
			t.Fatalf("%s: %+v", stamp(i), y.Hours[i])
		}
	})
}

func TestPolarNight(t *testing.T) {
	p := inventedPlace()
	p.Latitude = 75
	for _, m := range []int{0, 10, 11} {
		p.Months[m].Sun = 0
	}
	y := generated(t, p)
	if i, ok := sound(y); !ok {
		t.Fatalf("%s: %+v", stamp(i), y.Hours[i])
	}
	if s := y.MonthStatistics(11); s.Sun != 0 {
		t.Errorf("December has %g W/m²", s.Sun)
	}
}

func TestValidateNamesMonthAndField(t *testing.T) {
	for _, c := range []struct {
		spoil func(*Place)
		want  string
	}{
		{func(p *Place) { p.Latitude = 91 }, "latitude 91"},
		{func(p *Place) { p.Longitude = math.NaN() }, "longitude NaN"},
		{func(p *Place) { p.Months[4].RelativeHumidity = 0 }, "month 5: relative humidity"},
		{func(p *Place) { p.Months[0].TemperatureMin = 5 }, "month 1: mean daily lowest temperature"},
		{func(p *Place) { p.Months[11].Sun = math.Inf(1) }, "month 12: mean irradiance"},
		{func(p *Place) { p.Months[6].VaporPressure = 7000 }, "month 7: vapor pressure 7000 Pa is too high"},
		{noSun, "irradiance is zero"},
		{noWind, "wind speed is zero"},
	} {
		p := inventedPlace()
		c.spoil(p)
		if _, err := Generate(p); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("error is %v, not about %q", err, c.want)
		}
	}
}

func noSun(p *Place) {
	for m := range p.Months {
		p.Months[m].Sun = 0
	}
}

func noWind(p *Place) {
	for m := range p.Months {
		p.Months[m].WindSpeed = 0
	}
}

func TestCourseHasExactMonths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var means [12]float64
		for m := range means {
			means[m] = rapid.Float64Range(-50, 50).Draw(t, "mean")
		}
		days := course(means)
		for m, want := range means {
			first, end := monthDays(m)
			sum := 0.0
			for _, v := range days[first:end] {
				sum += v
			}
			if got := sum / float64(end-first); math.Abs(got-want) > 1e-9 {
				t.Fatalf("month %d: %g, not %g", m+1, got, want)
			}
		}
	})
}

// A persistent series has zero mean, unit variance and the correlation asked for.
func TestPersistentSeries(t *testing.T) {
	const n, correlation = 200000, 0.57
	z := newRandom("somewhere", "test").persistent(n, correlation)
	mean, square, lagged := 0.0, 0.0, 0.0
	for i := range z {
		mean += z[i] / n
		square += z[i] * z[i] / n
		if i > 0 {
			lagged += z[i] * z[i-1] / n
		}
	}
	// Five standard errors; persistence widens that of the mean by √((1+φ)/(1−φ)).
	if math.Abs(mean) > 0.022 || math.Abs(square-1) > 0.02 || math.Abs(lagged-correlation) > 0.02 {
		t.Errorf("mean %.4f, variance %.4f, correlation %.4f", mean, square, lagged)
	}
}

func TestClearnessQuantiles(t *testing.T) {
	for mean := 0.06; mean < 0.75; mean += 0.03 {
		values := clearnessQuantiles(mean, 30)
		sum := 0.0
		for _, v := range values {
			sum += v / 30
		}
		if math.Abs(sum-mean) > 1e-9 || !slices.IsSorted(values) || values[0] < 0.05 || values[29] > 0.86 {
			t.Errorf("mean %g: %v", mean, values)
		}
	}
}

func TestDailyShape(t *testing.T) {
	shape := dailyShape()
	low, high, sum := 0, 0, 0.0
	for h, v := range shape {
		sum += v
		if v < shape[low] {
			low = h
		}
		if v > shape[high] {
			high = h
		}
	}
	// Minimum at 5 to 7 o'clock and maximum at 14 to 15, as in measured years.
	if low+1 < 5 || low+1 > 7 || high+1 < 14 || high+1 > 15 {
		t.Errorf("lowest at %d, highest at %d o'clock", low+1, high+1)
	}
	if math.Abs(sum) > 1e-12 || math.Abs(shape[high]-shape[low]-1) > 1e-12 {
		t.Errorf("sum %g, range %g", sum, shape[high]-shape[low])
	}
}

// With five wet days the amounts are the quantiles 0.9, 0.7, 0.5, 0.3, 0.1 of an
// exponential distribution.
func TestWetDayAmounts(t *testing.T) {
	amounts := wetDayAmounts(10, 5)
	sum := 0.0
	for _, a := range amounts {
		sum += a
	}
	if math.Abs(sum-10) > 1e-12 {
		t.Errorf("sum is %g", sum)
	}
	for i, u := range []float64{0.9, 0.7, 0.5, 0.3, 0.1} {
		if got, want := amounts[i]/amounts[2], math.Log(1-u)/math.Log(0.5); math.Abs(got-want) > 1e-12 {
			t.Errorf("amount %d is %g times the median, not %g", i+1, got, want)
		}
	}
}

// Within a day the vapor pressure of measured years varies by 13 % of its mean.
func TestVaporPressureVariesWithinTheDay(t *testing.T) {
	y := generated(t, inventedPlace())
	variation := 0.0
	for d := range DaysPerYear {
		e := make([]float64, 24)
		for h := range e {
			e[h] = y.Hours[24*d+h].VaporPressure
		}
		mean, sd := stat.MeanStdDev(e, nil)
		variation += sd / mean / DaysPerYear
	}
	t.Logf("varies by %.3f", variation)
	if variation < 0.10 || variation > 0.16 {
		t.Errorf("varies by %.3f of the mean, measured years by 0.13", variation)
	}
}

func TestCloudyAndWetGoTogether(t *testing.T) {
	y := generated(t, inventedPlace())
	var wetSun, drySun, wetRH, dryRH, wetHours, dryHours float64
	for d := range DaysPerYear {
		day := y.Hours[24*d : 24*d+24]
		f := describeDay(day)
		sun := 0.0
		for i := range day {
			sun += day[i].Global
		}
		if f.precipitation > 0 {
			wetSun, wetRH, wetHours = wetSun+sun, wetRH+f.humidity, wetHours+1
		} else {
			drySun, dryRH, dryHours = drySun+sun, dryRH+f.humidity, dryHours+1
		}
	}
	if !(wetSun/wetHours < drySun/dryHours) || !(wetRH/wetHours > dryRH/dryHours) {
		t.Errorf("wet days: %.0f Wh/m², %.2f; dry days %.0f Wh/m², %.2f",
			wetSun/wetHours, wetRH/wetHours, drySun/dryHours, dryRH/dryHours)
	}
}

func BenchmarkGenerate(b *testing.B) {
	p := inventedPlace()
	for b.Loop() {
		if _, err := Generate(p); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkIrradianceYear(b *testing.B) {
	y, err := Generate(inventedPlace())
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		for i := range y.Hours {
			y.Irradiance(i, Surface{Azimuth: 200, Tilt: 90})
		}
	}
}
