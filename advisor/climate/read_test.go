package climate

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"relath/advisor/moistair"
)

// stationLines are the head of a TMY3 file with no more columns than are read.
const stationLines = "700001,INVENTED,XX,-6,42,-93,250\n" +
	"Date (MM/DD/YYYY),Time (HH:MM),GHI (W/m^2),DNI (W/m^2),DHI (W/m^2),Dry-bulb (C),Dew-point (C)," +
	"RHum (%),Wdir (degrees),Wspd (m/s),Lprecip depth (mm)\n"

// tmy3Text is a whole invented TMY3 file; change may alter a row, "" leaves it out.
func tmy3Text(change func(i int, row string) string) string {
	var out strings.Builder
	out.WriteString(stationLines)
	for i := range HoursPerYear {
		m := MonthOf(i)
		first, _ := monthDays(m)
		sun := max(0, 12-int(math.Abs(float64(i%24)-12))) * 20
		row := fmt.Sprintf("%d/%d/1999,%d:00,%d,%d,%d,%d,%d,80,180,3,%d\n",
			m+1, i/24-first+1, i%24+1, sun, sun/2, sun/2, i%24, i%24-4, i%2)
		out.WriteString(change(i, row))
	}
	return out.String()
}

func asIs(_ int, row string) string { return row }

// plainText is a whole invented plain file.
func plainText(change func(i int, row string) string) string {
	var out strings.Builder
	out.WriteString("time,temperature (C),relative humidity (%),global (W/m2),wind speed (m/s)\n")
	for i := range HoursPerYear {
		row := fmt.Sprintf("%s,%d,80,%d,3\n", stamp(i), i%24, 20*max(0, 12-int(math.Abs(float64(i%24)-12))))
		out.WriteString(change(i, row))
	}
	return out.String()
}

// The first hour of each file, as printed in it.
func TestMeasuredYearIsReadAsPrinted(t *testing.T) {
	chicago := measured(t, "tmy3-725300-chicago-il.csv.gz")
	if s := chicago.Site; s.Name != "CHICAGO OHARE INTL AP" || s.Zone != -6 || s.Latitude != 41.983 ||
		s.Longitude != -87.917 || s.Elevation != 201 || s.SolarTime {
		t.Errorf("site is %+v", s)
	}
	h := chicago.Hours[0]
	want := Hour{
		Temperature: -12.2, VaporPressure: 0.73 * moistair.SaturationPressureOverWater(-12.2),
		WindSpeed: 2.6, WindDirection: 270,
	}
	if h != want {
		t.Errorf("first hour is %+v, not %+v", h, want)
	}
	noon := measured(t, "tmy3-725460-des-moines-ia.csv.gz").Hours[24*(181+1)+15]
	if noon.Global != 654 || noon.Beam != 713 || noon.Diffuse != 139 || noon.Temperature != 31.7 {
		t.Errorf("2 July 16:00 is %+v", noon)
	}
	if len(chicago.Gaps) != 0 {
		t.Errorf("a complete file has gaps: %v", chicago.Gaps)
	}
}

// Monthly means of the files, published with the monthly data of the two places.
func TestMonthlyMeansOfMeasuredYears(t *testing.T) {
	for _, c := range []struct {
		name                           string
		month                          int
		temperature, rh, pressure, vel float64
	}{
		{"tmy3-725300-chicago-il.csv.gz", 0, -4.6, 71, 352, 4.9},
		{"tmy3-725300-chicago-il.csv.gz", 1, -2.5, 66, 382, 5.1},
		{"tmy3-725300-chicago-il.csv.gz", 2, 3.8, 71, 583, 5.5},
		{"tmy3-725300-chicago-il.csv.gz", 3, 10.0, 69, 897, 4.8},
	} {
		m := measured(t, c.name).Months()[c.month]
		if math.Abs(m.Temperature-c.temperature) > 0.051 || math.Abs(100*m.RelativeHumidity-c.rh) > 0.51 ||
			math.Abs(m.VaporPressure/c.pressure-1) > 0.01 || math.Abs(m.WindSpeed-c.vel) > 0.051 {
			t.Errorf("%s month %d: %+v", c.name, c.month+1, m)
		}
	}
}

func TestPlainAndGzipGiveTheSameYear(t *testing.T) {
	text := tmy3Text(asIs)
	plain, err := ReadTMY3(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	if _, err := io.WriteString(w, text); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	unpacked, err := ReadTMY3(bytes.NewReader(packed.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(plain.Hours, unpacked.Hours) {
		t.Error("the packed file has another year")
	}
	if got := plain.Hours[1].Rain; got != 0.1 {
		t.Errorf("rain depth 1 is %g kg/m²", got)
	}
	cut := packed.Bytes()[:packed.Len()/2]
	if _, err := ReadTMY3(bytes.NewReader(cut)); err == nil {
		t.Error("half a gzip file is read without error")
	}
}

func TestFaultsAreLocated(t *testing.T) {
	at := func(hour int, old, replacement string) func(int, string) string {
		return func(i int, row string) string {
			if i == hour {
				return strings.Replace(row, old, replacement, 1)
			}
			return row
		}
	}
	tmy3 := func(r io.Reader) (*Year, error) { return ReadTMY3(r) }
	plain := func(r io.Reader) (*Year, error) { return ReadCSV(r, Site{}) }
	for _, c := range []struct {
		name string
		read func(io.Reader) (*Year, error)
		text string
		want string
	}{
		{"empty", tmy3, "", "file ends before the line with the station"},
		{"one line", tmy3, "1,A,B,-6,42,-93,250\n", "file ends before the line with the column headings"},
		{"short station", tmy3, "1,A\n", "line 1: station has 2 fields"},
		{"latitude", tmy3, "1,A,B,-6,142,-93,250\n", "line 1, column 5 (latitude): 142 is out of range; possible is -90 to 90"},
		{"zone", tmy3, "1,A,B,x,42,-93,250\n", `line 1, column 4 (zone): "x" is not a number`},
		{"no column", tmy3, "1,A,B,-6,42,-93,250\nTime (HH:MM)\n", `line 2: no column "Date (MM/DD/YYYY)"`},
		{"no rows", tmy3, stationLines, "temperature missing for 8760 h from 01-01 01:00; up to 6 h are bridged"},
		{"text", tmy3, tmy3Text(at(5, ",80,", ",wet,")), `line 8, column 8 (RHum (%)): "wet" is not a number`},
		{"range", tmy3, tmy3Text(at(5, ",80,", ",180,")), "line 8, column 8 (RHum (%)): 180 is out of range; possible is 0 to 100"},
		{"not finite", tmy3, tmy3Text(at(5, ",80,", ",NaN,")), `column 8 (RHum (%)): "NaN" is not a number`},
		{"short row", tmy3, tmy3Text(at(5, ",80,180,3,1", "")), "line 8: 7 fields, the headings need 11"},
		{"half hour", tmy3, tmy3Text(at(5, "6:00", "6:30")), `line 8, column 2 (Time (HH:MM)): "6:30" is not a full hour`},
		{"hour 0", tmy3, tmy3Text(at(5, "6:00", "0:00")), "is not an hour of a year of 365 days"},
		{"order", tmy3, tmy3Text(at(5, "6:00", "4:00")), "line 8: hour 01-01 04:00 does not follow 01-01 05:00"},
		{"leap day", tmy3, tmy3Text(at(58*24+3, "2/28", "2/29")), "is not an hour of a year of 365 days"},
		{"date", tmy3, tmy3Text(at(5, "1/1/1999", "1-1-1999")), `"1-1-1999" is not a date MM/DD/YYYY`},
		{"quote", tmy3, "1,A\"B\n", "line 1, column 4: bare \""},
		{"no gzip", tmy3, "\x1f\x8bnot gzip", "gzip: "},
		{"unit", plain, "time,temperature (F)\n", "line 1, column 2 (temperature (F)): not a known column; known are time, temperature (C)"},
		{"no time", plain, "temperature (C)\n", `line 1: no column "time"`},
		{"no sun", plain, "time,temperature (C),wind speed (m/s),dew point (C)\n", "line 1: no column of global irradiance"},
		{"twice", plain, "time,temperature (C),temperature (K)\n", "column 3 (temperature (K)): temperature stands twice"},
		{
			"two humidities", plain, "time,temperature (C),global (W/m2),wind speed (m/s),dew point (C),vapor pressure (Pa)\n",
			"line 1: 2 columns of humidity; needed is one of",
		},
		{"fields", plain, plainText(at(2, ",3\n", ",3,9\n")), "line 4: 6 fields, the headings have 5"},
		{"time", plain, plainText(at(2, "03:00", "3 pm")), `line 4, column 1 (time): "01-01 3 pm" is not MM-DD HH:00`},
		{"kelvin as celsius", plain, plainText(at(2, ",2,80", ",275.15,80")), "line 4, column 2 (temperature (C)): 275.15 is out of range"},
	} {
		_, err := c.read(strings.NewReader(c.text))
		var fault *ReadError
		if !errors.As(err, &fault) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error is %v, not %q", c.name, err, c.want)
		}
	}
}

func TestLongFilesAreRefused(t *testing.T) {
	endless := io.MultiReader(strings.NewReader(stationLines), zeros{})
	if _, err := ReadTMY3(endless); err == nil || !strings.Contains(err.Error(), "longer than 16 MiB") {
		t.Errorf("error of an endless line is %v", err)
	}
	var bomb bytes.Buffer
	w := gzip.NewWriter(&bomb)
	for range 40 {
		if _, err := w.Write(bytes.Repeat([]byte("0"), 1<<20)); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadCSV(&bomb, Site{}); err == nil || !strings.Contains(err.Error(), "longer than 16 MiB") {
		t.Errorf("error of a file that unpacks to 40 MiB is %v", err)
	}
}

// zeros is a line without end.
type zeros struct{}

func (zeros) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = '0'
	}
	return len(p), nil
}

func TestGapsAreBridgedByStraightLines(t *testing.T) {
	y, err := ReadTMY3(strings.NewReader(tmy3Text(func(i int, row string) string {
		switch {
		case i >= 4 && i < 8: // no rows at all
			return ""
		case i == 30: // dry-bulb and relative humidity missing, dew point given
			return "1/2/1999,7:00,140,70,70,-9900,1,-9900,180,3,0\n"
		case i == 40: // relative humidity missing, dew point given
			return "1/2/1999,17:00,160,80,80,16,9,-9900,180,3,0\n"
		}
		return row
	})))
	if err != nil {
		t.Fatal(err)
	}
	for i := 4; i < 8; i++ {
		if got := y.Hours[i].Temperature; math.Abs(got-float64(i)) > 1e-9 {
			t.Errorf("%s: %g °C on the line, not %d", stamp(i), got, i)
		}
	}
	if got := y.Hours[30].Temperature; math.Abs(got-6) > 1e-9 {
		t.Errorf("one missing hour is %g °C, not 6", got)
	}
	if got, want := y.Hours[40].VaporPressure, moistair.SaturationPressureOverWater(9); got != want {
		t.Errorf("vapor pressure from the dew point is %g, not %g", got, want)
	}
	want := []string{
		"temperature missing for 4 h from 01-01 05:00: straight line between the hours around it",
		"temperature missing for 1 h from 01-02 07:00: straight line between the hours around it",
		"vapor pressure missing for 4 h from 01-01 05:00: straight line between the hours around it",
		"global irradiance missing for 4 h from 01-01 05:00: straight line between the hours around it",
		"wind speed missing for 4 h from 01-01 05:00: straight line between the hours around it",
		"diffuse irradiance missing for 4 h from 01-01 05:00: split from global irradiance by correlation",
		"beam irradiance missing for 4 h from 01-01 05:00: from the difference of global and diffuse irradiance",
		"wind direction missing for 4 h from 01-01 05:00: left unknown",
		"rain missing for 4 h from 01-01 05:00: counted as none",
	}
	got := make([]string, len(y.Gaps))
	for i, gap := range y.Gaps {
		got[i] = gap.String()
	}
	if !slices.Equal(got, want) {
		t.Errorf("gaps are\n%s", strings.Join(got, "\n"))
	}
}

func TestGapOverTheTurnOfTheYear(t *testing.T) {
	y, err := ReadCSV(strings.NewReader(plainText(func(i int, row string) string {
		if i < 2 || i >= HoursPerYear-2 {
			return ""
		}
		return row
	})), Site{Latitude: 42, Longitude: -90, Zone: -6})
	if err != nil {
		t.Fatal(err)
	}
	// From 21 °C at 22:00 of the last day to 2 °C at 03:00 of the first.
	want := []float64{21 - 19*0.6, 21 - 19*0.8}
	if math.Abs(y.Hours[0].Temperature-want[0]) > 1e-9 || math.Abs(y.Hours[1].Temperature-want[1]) > 1e-9 {
		t.Errorf("first hours are %g and %g °C, not %v", y.Hours[0].Temperature, y.Hours[1].Temperature, want)
	}
	if g := y.Gaps[0]; g.First != HoursPerYear-2 || g.Hours != 4 {
		t.Errorf("gap is %v", g)
	}
	_, err = ReadCSV(strings.NewReader(plainText(func(i int, row string) string {
		if i >= 100 && i < 107 {
			return ""
		}
		return row
	})), Site{})
	if err == nil || !strings.Contains(err.Error(), "temperature missing for 7 h from 01-05 05:00") {
		t.Errorf("error of a gap of 7 hours is %v", err)
	}
}

// Every column and unit of a plain file: the same air in all of them.
func TestPlainColumns(t *testing.T) {
	saturation := moistair.SaturationPressureOverWater(20)
	dew := moistair.DewPointOverWater(0.5 * saturation)
	for heading, value := range map[string]float64{
		"relative humidity (%)": 50, "relative humidity (1)": 0.5, "dew point (C)": dew, "dew point (K)": dew + 273.15,
		"vapor pressure (Pa)": 0.5 * saturation, "vapor pressure (hPa)": 0.005 * saturation,
	} {
		var text strings.Builder
		fmt.Fprintf(&text, "\ufefftime, temperature (K),%s,global (W/m2),diffuse (W/m2),beam (W/m2),"+
			"wind speed (m/s),wind direction (deg),rain (mm)\n", heading)
		for i := range HoursPerYear {
			fmt.Fprintf(&text, "2021-%s,293.15,%.12g,-3,0,0,2,90,1.5\n", stamp(i), value)
		}
		y, err := ReadCSV(strings.NewReader(text.String()), Site{Name: "roof"})
		if err != nil {
			t.Fatal(heading, err)
		}
		h := y.Hours[5000]
		if math.Abs(h.Temperature-20) > 1e-9 || math.Abs(h.RelativeHumidity()-0.5) > 1e-6 ||
			h.Global != 0 || h.WindDirection != 90 || h.Rain != 1.5 || y.Site.Name != "roof" {
			t.Errorf("%s: %+v", heading, h)
		}
	}
}

// A file without diffuse irradiance is split as the generator splits.
func TestDiffuseFromGlobal(t *testing.T) {
	site := Site{Latitude: 42, Longitude: -90, Zone: -6}
	y, err := ReadCSV(strings.NewReader(plainText(asIs)), site)
	if err != nil {
		t.Fatal(err)
	}
	for i, h := range y.Hours {
		want := Hour{Global: h.Global}
		want.split(site.Sun(i))
		if h.Diffuse != want.Diffuse || h.Beam != want.Beam {
			t.Fatalf("%s: %+v", stamp(i), h)
		}
	}
	if !math.IsNaN(y.Hours[0].WindDirection) {
		t.Error("a wind direction is invented")
	}
}

func FuzzReadTMY3(f *testing.F) {
	f.Add([]byte(stationLines))
	f.Add([]byte(stationLines + "1/1/1999,1:00,0,0,0,-5,-9,70,180,3,0\n12/31/1999,24:00:00,-9900,0,0,-5,-9,70,180,3,-9900\n"))
	f.Add([]byte("1,A,B,-6,42,-93,250\n\"\n"))
	f.Add([]byte{0x1f, 0x8b, 8, 0})
	f.Fuzz(func(t *testing.T, data []byte) {
		y, err := ReadTMY3(bytes.NewReader(data))
		checkRead(t, y, err)
	})
}

func FuzzReadCSV(f *testing.F) {
	f.Add([]byte("time,temperature (C),relative humidity (%),global (W/m2),wind speed (m/s)\n01-01 01:00,5,80,0,3\n"))
	f.Add([]byte("\ufefftime,temperature (K),dew point (K),global (W/m2),wind speed (m/s),rain (mm)\n2020-12-31 24:00,,,,,\n"))
	f.Add([]byte(plainText(asIs)))
	f.Fuzz(func(t *testing.T, data []byte) {
		y, err := ReadCSV(bytes.NewReader(data), Site{Latitude: 42})
		checkRead(t, y, err)
	})
}

// checkRead holds a reader to either a located error or a whole sound year.
func checkRead(t *testing.T, y *Year, err error) {
	if err != nil {
		var fault *ReadError
		if !errors.As(err, &fault) || y != nil {
			t.Fatalf("error %v with year %v", err, y != nil)
		}
		return
	}
	if len(y.Hours) != HoursPerYear {
		t.Fatalf("%d hours", len(y.Hours))
	}
	for i := range y.Hours {
		h := &y.Hours[i]
		sum := h.Temperature + h.VaporPressure + h.Global + h.Diffuse + h.Beam + h.WindSpeed + h.Rain +
			y.Irradiance(i, Surface{Azimuth: 200, Tilt: 90})
		if math.IsNaN(sum) || math.IsInf(sum, 0) {
			t.Fatalf("%s: %+v", stamp(i), h)
		}
	}
}

func BenchmarkReadTMY3(b *testing.B) {
	data, err := io.ReadAll(weatherFile(b, measuredNames()[0]))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := ReadTMY3(bytes.NewReader(data)); err != nil {
			b.Fatal(err)
		}
	}
}
