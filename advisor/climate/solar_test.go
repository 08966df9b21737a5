package climate

import (
	"compress/gzip"
	"encoding/csv"
	"math"
	"strconv"
	"testing"

	"relath/advisor/internal/checks"
)

// sunAtSolarHour is the sun at a moment of solar time: the middle of an hour.
func sunAtSolarHour(latitude float64, day int, hour float64) Sun {
	return sunAt(latitude*degree, Declination(day), (hour-12)*2*halfHour, normalIrradiance(day))
}

func TestSunPosition(t *testing.T) {
	f := checks.Open(t, "climate-sun-position.csv")
	for _, row := range f.Rows() {
		day := int(row.Float("day"))
		sun := sunAtSolarHour(row.Float("latitude"), day, row.Float("solar_hour"))
		f.Check(t, row, "declination", Declination(day)/degree)
		f.Check(t, row, "zenith", math.Acos(sun.Up)/degree)
		f.Check(t, row, "azimuth_south", math.Atan2(-sun.East, -sun.North)/degree)
	}
}

func TestSunIncidence(t *testing.T) {
	f := checks.Open(t, "climate-sun-incidence.csv")
	for _, row := range f.Rows() {
		sun := sunAtSolarHour(row.Float("latitude"), int(row.Float("day")), row.Float("solar_hour"))
		surface := Surface{Azimuth: 180 + row.Float("azimuth_south"), Tilt: row.Float("tilt")}
		f.Check(t, row, "incidence", math.Acos(sun.cosIncidence(surface))/degree)
	}
}

func TestDailyExtraterrestrial(t *testing.T) {
	f := checks.Open(t, "climate-sun-daily.csv")
	for _, row := range f.Rows() {
		latitude, day := row.Float("latitude"), int(row.Float("day"))
		f.Check(t, row, "declination", Declination(day)/degree)
		f.Check(t, row, "sunset_angle", SunsetAngle(latitude*degree, Declination(day))/degree)
		f.Check(t, row, "mj_per_m2", DailyExtraterrestrial(latitude, day)*86400/1e6)
	}
}

// The hours of a day add up to the closed form of the day, at any latitude, polar
// night and polar day included.
func TestHoursAddUpToDay(t *testing.T) {
	for latitude := -90.0; latitude <= 90; latitude += 7.5 {
		site := Site{Latitude: latitude, SolarTime: true}
		for day := 1; day <= DaysPerYear; day += 13 {
			sum, lit := 0.0, 0.0
			for h := range 24 {
				sun := site.Sun(24*(day-1) + h)
				sum += sun.Extraterrestrial / 24
				lit += sun.Lit
			}
			if want := DailyExtraterrestrial(latitude, day); math.Abs(sum-want) > 1e-9*SolarConstant {
				t.Errorf("latitude %g day %d: hours give %g, the day %g", latitude, day, sum, want)
			}
			if want := 24 / math.Pi * SunsetAngle(latitude*degree, Declination(day)); math.Abs(lit-want) > 1e-9 {
				t.Errorf("latitude %g day %d: lit for %g h, day length %g h", latitude, day, lit, want)
			}
		}
	}
}

func TestSunAtEquinoxAndSolstice(t *testing.T) {
	// Cooper's formula crosses zero on day 81.
	if d := Declination(81); math.Abs(d) > 1e-9 {
		t.Errorf("declination at the equinox is %g rad", d)
	}
	for latitude := -60.0; latitude <= 60; latitude += 20 {
		if hours := 24 / math.Pi * SunsetAngle(latitude*degree, Declination(81)); math.Abs(hours-12) > 1e-9 {
			t.Errorf("latitude %g: equinox has %g h of day", latitude, hours)
		}
	}
	if noon := sunAtSolarHour(23.45, 172, 12); math.Abs(noon.Up-1) > 1e-6 {
		t.Errorf("the sun at noon of the solstice over the tropic has a zenith cosine of %g", noon.Up)
	}
	if noon := sunAtSolarHour(90, 172, 12); math.Abs(noon.Up-math.Sin(23.45*degree)) > 1e-5 {
		t.Errorf("the sun over the pole stands at a sine of %g", noon.Up)
	}
}

func TestSunDirectionIsUnitVector(t *testing.T) {
	site := Site{Latitude: 41.5, Longitude: -93.7, Zone: -6}
	morning, afternoon := 0, 0
	for i := range HoursPerYear {
		sun := site.Sun(i)
		if sun.Lit == 0 {
			continue
		}
		if length := math.Sqrt(sun.East*sun.East + sun.North*sun.North + sun.Up*sun.Up); math.Abs(length-1) > 1e-12 {
			t.Fatalf("hour %d: direction of length %g", i, length)
		}
		if sun.Up < 0 {
			t.Fatalf("hour %d: lit with the sun below the horizon", i)
		}
		switch {
		case i%24 < 10 && sun.East <= 0, i%24 > 15 && sun.East >= 0:
			t.Fatalf("hour %d: sun on the wrong side of the sky", i)
		case i%24 < 10:
			morning++
		case i%24 > 15:
			afternoon++
		}
	}
	if morning == 0 || afternoon == 0 {
		t.Error("no sun in the morning or in the afternoon")
	}
}

// The measured years carry the irradiance outside the atmosphere of each hour. They
// lift the sun by refraction and move the declination by the hour: their sum is 1.2 %
// higher and a low sun differs by up to 22 W/m². The hour of the day must agree
// closely: it shows a mistake in time zone, longitude or equation of time.
func TestSunAgainstMeasuredYears(t *testing.T) {
	for _, name := range measuredNames() {
		y := measured(t, name)
		outside := extraterrestrialColumn(t, name)
		var sum, want, moment, wantMoment float64
		for i, etr := range outside {
			own := y.Site.Sun(i).Extraterrestrial
			if math.Abs(own-etr) > 22 {
				t.Fatalf("%s, %s: %g W/m², not %g", name, stamp(i), own, etr)
			}
			sum, want = sum+own, want+etr
			moment, wantMoment = moment+own*float64(i%24), wantMoment+etr*float64(i%24)
		}
		if ratio := sum / want; ratio < 0.985 || ratio > 1 {
			t.Errorf("%s: sum is %.4f of the file's", name, ratio)
		}
		if shift := moment/sum - wantMoment/want; math.Abs(shift) > 0.005 {
			t.Errorf("%s: the sun runs %.4f h late", name, shift)
		}
	}
}

// extraterrestrialColumn reads the third column of a measured year.
func extraterrestrialColumn(t *testing.T, name string) []float64 {
	t.Helper()
	unpacked, err := gzip.NewReader(weatherFile(t, name))
	if err != nil {
		t.Fatal(err)
	}
	reader := csv.NewReader(unpacked)
	reader.FieldsPerRecord = -1
	rows, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	values := make([]float64, 0, HoursPerYear)
	for _, row := range rows[2:] {
		value, err := strconv.ParseFloat(row[2], 64)
		if err != nil {
			t.Fatal(err)
		}
		values = append(values, value)
	}
	return values
}

// The correlation has no jumps where its parts meet, and is all diffuse in the dark.
func TestDiffuseShareIsContinuous(t *testing.T) {
	if got := diffuseShare(0); got != 1 {
		t.Errorf("share at no clearness is %g", got)
	}
	for _, k := range []float64{0.22, 0.80} {
		if jump := diffuseShare(k+1e-9) - diffuseShare(k); math.Abs(jump) > 0.003 {
			t.Errorf("jump of %g at %g", jump, k)
		}
	}
}

func TestSplitKeepsGlobal(t *testing.T) {
	site := Site{Latitude: 42, SolarTime: true}
	for i := 0; i < HoursPerYear; i += 7 {
		sun := site.Sun(i)
		h := Hour{Global: 0.6 * sun.Extraterrestrial}
		h.split(sun)
		if got := h.Diffuse + h.Beam*sun.Up; math.Abs(got-h.Global) > 1e-9 || h.Beam < 0 || h.Diffuse < 0 {
			t.Fatalf("hour %d: diffuse %g and beam %g make %g of %g", i, h.Diffuse, h.Beam, got, h.Global)
		}
	}
}
