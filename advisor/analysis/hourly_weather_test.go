package analysis

import (
	"bytes"
	"context"
	"math"
	"os"
	"strings"
	"testing"

	"relath/advisor/assembly"
	"relath/advisor/climate"
	"relath/kb"
)

// measuredYear reads a shipped measured year.
func measuredYear(t testing.TB, file string, at *kb.Place) *Weather {
	t.Helper()
	data, err := os.ReadFile("../../testdata/weather/" + file)
	if err != nil {
		t.Fatal(err)
	}
	w, err := ReadWeather(bytes.NewReader(data), at)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// underYear runs the best case of a wall under a year.
func underYear(t testing.TB, base *kb.Base, a *assembly.Assembly, year *climate.Year) *hourlySummary {
	t.Helper()
	r, err := Run(context.Background(), base, a)
	if err != nil {
		t.Fatal(err)
	}
	o := Hourly{bestOnly: true}
	v := &hourlyVariant{of: r.Variants[0]}
	if err := v.prepare(base, a, newLoads(base, a, year), o); err != nil {
		t.Fatal(err)
	}
	if v.missing != "" {
		t.Fatal(v.missing)
	}
	if err := runJobs(context.Background(), v.jobs(), nil); err != nil {
		t.Fatal(err)
	}
	return v.runs[0].summary
}

// The synthetic year against the measured one of which it has the monthly means,
// and against the synthetic year of the long-term means of the place, in a wall
// whose sheathing gets damp in winter. The bounds are what the note of a synthetic
// run states; they are a record, not a claim of the literature.
func TestSyntheticYearAgainstMeasured(t *testing.T) {
	base := loadBase(t)
	const sheathing = 3
	for _, city := range []struct{ place, file string }{
		{"des-moines-ia", "tmy3-725460-des-moines-ia.csv.gz"},
		{"chicago-il", "tmy3-725300-chicago-il.csv.gz"},
	} {
		a := resolve(t, base, wallText(city.place, openWall)).Assemblies[0]
		weather := measuredYear(t, city.file, a.House.Place)
		measured, err := yearOf(a.House.Place, weather, Typical)
		if err != nil {
			t.Fatal(err)
		}
		place := climateOf(a.House.Place)
		place.Months = weather.year.Months()
		for m, rain := range rainOf(measured) {
			place.Months[m].Precipitation = rain
		}
		twin, err := climate.Generate(&place)
		if err != nil {
			t.Fatal(err)
		}
		typical, err := yearOf(a.House.Place, nil, Typical)
		if err != nil {
			t.Fatal(err)
		}
		want := underYear(t, base, a, measured)
		for _, test := range []struct {
			name              string
			year              *climate.Year
			mean, peak, index float64
		}{{"same months", twin, 0.03, 0.03, 0.1}, {"long-term months", typical, 0.06, 0.04, 0.25}} {
			got := underYear(t, base, a, test.year)
			mean := got.parts[sheathing].mean/want.parts[sheathing].mean - 1
			peak := got.parts[sheathing].highest/want.parts[sheathing].highest - 1
			x, y := worstIndex(got), worstIndex(want)
			t.Logf("%s, %s: sheathing mean %+.1f %%, highest %+.1f %%; mold index %.2f against %.2f", city.place, test.name, 100*mean, 100*peak, x, y)
			if math.Abs(mean) > test.mean || math.Abs(peak) > test.peak || math.Abs(x-y) > test.index {
				t.Errorf("%s, %s: beyond what the note states", city.place, test.name)
			}
		}
	}
}

func worstIndex(s *hourlySummary) float64 {
	most := 0.0
	for _, x := range s.spots {
		if x.index > most {
			most = x.index
		}
	}
	return most
}

// The wetter year is wetter in the wall, the colder year loses more heat.
func TestShiftedYears(t *testing.T) {
	base := loadBase(t)
	a := resolve(t, base, wallText("des-moines-ia", openWall)).Assemblies[0]
	at := func(s Shift) Facts {
		return hourlyOf(t, base, a, Hourly{Shift: s, bestOnly: true}).Variants[0].Facts
	}
	typical, wetter, colder := at(Typical), at(Wetter), at(Colder)
	if typical["wood-moisture"].Range.Best >= wetter["wood-moisture"].Range.Best {
		t.Error("the wetter year leaves the wood drier")
	}
	if typical["heat-loss"].Range.Best >= colder["heat-loss"].Range.Best {
		t.Error("the colder year loses less heat")
	}
}

// A plain file and a TMY3 file are told apart by their first line; faults are
// located.
func TestWeatherFilesAreToldApart(t *testing.T) {
	base := loadBase(t)
	place := base.Place("des-moines-ia")
	if w := measuredYear(t, "tmy3-725460-des-moines-ia.csv.gz", place); !strings.Contains(strings.ToUpper(w.Name), "DES MOINES") {
		t.Errorf("station %q", w.Name)
	}
	for _, text := range []string{
		"", "time", "time,temperature (C)\n", "not weather at all\n", "\x00\x01\x02", "\x1f\x8b\x08broken", strings.Repeat("x", 10000),
	} {
		if _, err := ReadWeather(strings.NewReader(text), place); err == nil {
			t.Errorf("%.20q is taken for weather", text)
		}
	}
	if _, err := ReadWeather(strings.NewReader("time,temperature (C)\n"), nil); err == nil {
		t.Error("a plain file is taken without a place")
	}
}

// The standard time of a longitude: US Central at Des Moines, Eastern at Boston,
// Central European at Berlin.
func TestStandardZone(t *testing.T) {
	for longitude, want := range map[float64]float64{-93.67: -6, -71: -5, 13.1: 1, 0: 0, 7.4: 0, -180: -12} {
		if got := standardZone(longitude); got != want {
			t.Errorf("zone of %g is %g, want %g", longitude, got, want)
		}
	}
}
