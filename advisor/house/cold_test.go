package house

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/climate"
	"relath/advisor/internal/checks"
	"relath/advisor/moistair"
	"relath/kb"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// steadyYear is a year of the same air in every hour.
func steadyYear(t, rh float64) *climate.Year {
	y := &climate.Year{Hours: make([]climate.Hour, climate.HoursPerYear)}
	for i := range y.Hours {
		y.Hours[i] = climate.Hour{Temperature: t, VaporPressure: rh * moistair.SaturationPressureOverWater(t)}
	}
	return y
}

// study is a house with one cold surface and a given year.
func study(t testing.TB, base *kb.Base, year *climate.Year, surface string) Cold {
	t.Helper()
	s := New(base, resolved(t, base, `
format: 1
house: Invented
place: des-moines-ia
indoor:
  heating: {temperature: 68 F, humidity: 35 %}
  cooling: {temperature: 74 F, humidity: 50 %, supply-air: 55 F}
cold-surfaces:
  - `+surface+"\n"), analysis.Hourly{})
	s.year = year
	list, err := s.coldSurfaces(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return list[0]
}

// Water of 4.4 °C in air of 27 °C: the thicknesses of the check file, flat and
// around a pipe, with the film and the conductivity of the base, which are those
// of the published table.
func TestColdPipe(t *testing.T) {
	base := loadBase(t)
	f := checks.Open(t, "steady-cold-pipe.csv")
	for _, row := range f.Rows() {
		year := steadyYear(27, row.Float("rh"))
		large := study(t, base, year, "{name: pipe, kind: pipe, air: 4.4 C, around: outdoors, diameter: 168.3 mm}")
		small := study(t, base, year, "{name: pipe, kind: pipe, air: 4.4 C, around: outdoors, diameter: 22 mm}")
		f.Check(t, row, "flat_mm", 1000*large.Flat.Range.Best)
		f.Check(t, row, "pipe_168_mm", 1000*large.Round.Range.Best)
		f.Check(t, row, "pipe_22_mm", 1000*small.Round.Range.Best)
		if large.Hours.Range.Best != climate.HoursPerYear {
			t.Errorf("bare: wet in %g hours of the year", large.Hours.Range.Best)
		}
	}
}

// The question of the kitchen table: 74 °F inside at 50 % and supply air of 55 °F.
// The dew point of the room is 54.2 °F, so a bare boot just stays dry; it is wet
// with supply air of 50 °F, or at 60 %. Dew points of 75 °F at 50 and 60 % are
// printed as 55.1 and 60.2 °F (Magnus form, derived), 74 °F lies a degree lower.
func TestBareBootInACooledRoom(t *testing.T) {
	base := loadBase(t)
	boot := study(t, base, nil, "{name: boot, kind: boot, around: room}")
	if h := boot.Hours.Range; h.High != 0 {
		t.Errorf("wet in %g hours at 74 °F and 50 %%", h.High)
	}
	near(t, "dew point of the room, °C", boot.Design.DewPoint, (54.2-32)/1.8, 0.005)
	near(t, "supply air that is warm enough, °C", boot.WarmEnough.Range.Best, boot.Design.DewPoint, 1e-9)
	for _, c := range boot.Changes {
		wet := c.Hours.Range.Best > 0
		want := c.What == "supply-air" && c.Delta < 0 || c.What == "humidity" && c.Delta > 0 || c.What == "set-point" && c.Delta > 0
		if wet != want {
			t.Errorf("%s by %+.2f: %g hours", c.What, c.Delta, c.Hours.Range.Best)
		}
	}
	// A room of 74 °F full to the share of saturation of 55 °F: 1477 of 2872 Pa.
	near(t, "humidity that is dry enough", boot.DryEnough.Range.Best, 0.514, 0.005)
}

// Insulated as it asks, a surface is wet in no more than the design share of its
// hours that are not foggy.
func TestTheInsulationAskedForIsEnough(t *testing.T) {
	base := loadBase(t)
	for _, line := range []string{
		"{name: duct, kind: duct, air: 55 F, around: attic, insulation: 0 m2K/W}",
		"{name: pipe, kind: pipe, air: 50 F, around: crawl, insulation: 0 m2K/W}",
		"{name: edge, kind: slab-edge, around: room, insulation: 0 m2K/W}",
		"{name: tank, kind: tank, air: 45 F, around: room, insulation: 0 m2K/W}",
	} {
		bare := study(t, base, nil, line)
		if !bare.Needed.Known {
			t.Errorf("%s: %s", line, bare.Needed.Missing)
			continue
		}
		needed := bare.Needed.Range.Best * (1 + 1e-6)
		done := study(t, base, nil, strings.Replace(line, "insulation: 0", "insulation: "+formatted(needed), 1))
		const share = 0.01
		wet := done.Hours.Range.Best - done.Foggy
		if limit := share * done.Running; wet > limit+1 {
			t.Errorf("%s: with R %.3f it is wet in %.0f hours, allowed are %.0f", line, needed, wet, limit)
		}
		if done.Hours.Range.Best > bare.Hours.Range.Best {
			t.Errorf("%s: insulation makes it wetter", line)
		}
	}
}

func formatted(v float64) string { return strconv.FormatFloat(v, 'f', 12, 64) }

// Warmer inside and more insulation never add wet hours, months sum up to the
// year, and foggy hours are among them.
func TestColdProperties(t *testing.T) {
	base := loadBase(t)
	s := New(base, resolved(t, base, invented), analysis.Hourly{})
	year, err := s.hourly()
	if err != nil {
		t.Fatal(err)
	}
	w := newSurroundings(year)
	sides := []assembly.Side{"attic", "crawl", "room", "garage", "outdoors"}
	rapid.Check(t, func(t *rapid.T) {
		x := surface{
			kind: rapid.SampledFrom([]assembly.ColdKind{"duct", "pipe", "tank"}).Draw(t, "kind"), rule: s.rule,
			around:     rapid.SampledFrom(sides).Draw(t, "around"),
			inside:     rapid.Float64Range(1, 20).Draw(t, "inside"),
			insulation: rapid.Float64Range(0, 3).Draw(t, "insulation"),
			film:       rapid.Float64Range(3, 10).Draw(t, "film"),
		}
		o := w.run(&x, false)
		sum := 0.0
		for _, h := range o.byMonth {
			sum += h
		}
		if sum != o.hours || o.hours > o.running || o.foggy > o.hours {
			t.Fatalf("hours %g, by month %g, running %g, foggy %g", o.hours, sum, o.running, o.foggy)
		}
		warmer, thicker := x, x
		warmer.inside += 2
		thicker.insulation += 0.5
		if h := w.run(&warmer, false).hours; h > o.hours {
			t.Fatalf("2 K warmer: %g hours, before %g", h, o.hours)
		}
		if h := w.run(&thicker, false).hours; h > o.hours {
			t.Fatalf("thicker: %g hours, before %g", h, o.hours)
		}
	})
}

// The hours are those of a plain count over the year of the place.
func TestHoursOfAColdPipeOutdoors(t *testing.T) {
	base := loadBase(t)
	s := New(base, resolved(t, base, invented), analysis.Hourly{})
	year, err := s.hourly()
	if err != nil {
		t.Fatal(err)
	}
	want := 0.0
	for _, h := range year.Hours {
		if dew := moistair.DewPointOverWater(h.VaporPressure); h.Temperature > 10 && dew > 10 {
			want++
		}
	}
	pipe := study(t, base, nil, "{name: pipe, kind: pipe, air: 10 C, around: outdoors}")
	// The year holds a few hours at exactly the dew point, which are a matter of
	// rounding.
	if got := pipe.Hours.Range.Best; math.Abs(got-want) > 5 {
		t.Errorf("%g hours, a plain count gives %g", got, want)
	}
}

// A measured year takes the place of the synthetic one, and the page names it.
func TestColdPipeInAMeasuredYear(t *testing.T) {
	base := loadBase(t)
	file, err := os.Open("../../testdata/weather/tmy3-725300-chicago-il.csv.gz")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	h := resolved(t, base, invented)
	weather, err := analysis.ReadWeather(file, h.Place)
	if err != nil {
		t.Fatal(err)
	}
	r, err := New(base, h, analysis.Hourly{Weather: weather}).Run(t.Context(), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(r.Weather, "measured year of ") {
		t.Errorf("counted over the %q", r.Weather)
	}
	synthetic, err := New(base, h, analysis.Hourly{}).Run(t.Context(), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(synthetic.Weather, "synthetic year of ") || cmp.Equal(r.Cold[0].Hours, synthetic.Cold[0].Hours) {
		t.Errorf("counted over the %q, with the hours of the measured year: %v", synthetic.Weather, r.Cold[0].Hours.Range)
	}
}

func TestSurfacesThatAreNeverCold(t *testing.T) {
	base := loadBase(t)
	s := New(base, resolved(t, base, `
format: 1
house: Invented
place: des-moines-ia
cold-surfaces:
  - {name: heating duct, kind: duct, around: attic}
  - {name: hot pipe, kind: pipe, air: 120 F, around: room, diameter: 7/8 in}
`), analysis.Hourly{})
	list, err := s.coldSurfaces(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range list {
		if c.Hours.Range.High != 0 || c.Needed.Range.High != 0 {
			t.Errorf("%s: %+v hours, needs %+v", c.Of.Surface.Name, c.Hours.Range, c.Needed.Range)
		}
	}
}

// The same house gives the same result.
func TestSameResultTwice(t *testing.T) {
	base := loadBase(t)
	if diff := cmp.Diff(run(t, base, invented), run(t, base, invented)); diff != "" {
		t.Errorf("two runs differ:\n%s", diff)
	}
}

func BenchmarkRun(b *testing.B) {
	base := loadBase(b)
	h := resolved(b, base, invented)
	results := analyzed(b, base, h)
	for b.Loop() {
		if _, err := New(base, h, analysis.Hourly{}).Run(b.Context(), results, nil); err != nil {
			b.Fatal(err)
		}
	}
}
