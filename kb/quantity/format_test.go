package quantity

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		v             float64
		d             Dimension
		inchPound, si string
	}{
		{0.0111125, Length, "7/16 in", "11.1 mm"},
		{0.1397, Length, "5-1/2 in", "140 mm"},
		{0.3048 * 2, Length, "24 in", "610 mm"},
		{0.0001524, Length, "6 mil", "0.152 mm"},
		{0.0254 / 16, Length, "1/16 in", "1.59 mm"},
		{0.0254 / 32, Length, "31.2 mil", "0.794 mm"},
		{0.019, Length, "0.748 in", "19 mm"},
		{0.3048 * 62, Length, "62 ft", "18.9 m"},
		{0.3048 * 1234.4, Length, "1234 ft", "376 m"},
		{0, Length, "0 in", "0 mm"},
		{0.3048 * 0.3048 * 310, Area, "310 ft²", "28.8 m²"},
		{20, Temperature, "68 °F", "20 °C"},
		{-0.001, Temperature, "32 °F", "0 °C"},
		{12.8, Temperature, "55 °F", "12.8 °C"},
		{5, TemperatureDifference, "9 °F", "5 K"},
		{0.35, Ratio, "35 %", "35 %"},
		{0.1234567, Ratio, "12.3 %", "12.3 %"},
		{57.2134947e-12, Permeance, "1 perm", "57.2 ng/(Pa·s·m²)"},
		{1.453223e-12, Permeability, "1 perm-in", "1.45 ng/(Pa·s·m)"},
		{0.1761102 * 13, ThermalResistance, "R-13", "2.29 m²·K/W"},
		{6.933472 * 3.7, ThermalResistancePerLength, "R-3.7/in", "25.7 m·K/W"},
		{5.678263 * 0.06, UFactor, "0.06 Btu/(h·ft²·°F)", "0.341 W/(m²·K)"},
		{650, Density, "40.6 lb/ft³", "650 kg/m³"},
		{7.0 / 3600, AirTightness, "7 ACH50", "7 ACH50"},
		{10.0 / 3600, AirChange, "10 /h", "10 /h"},
		{0.5, Slope, "6:12", "50 %"},
		{0.3, Slope, "30 %", "30 %"},
		{math.Pi / 6, Angle, "30°", "30°"},
		{0.9, Emittance, "0.9", "0.9"},
		{50, VaporResistanceFactor, "50", "50"},
		{3 * 86400, Duration, "3 days", "3 days"},
		{5400, Duration, "1.5 h", "1.5 h"},
		{90, Duration, "1.5 min", "1.5 min"},
		{1e-9, LiquidDiffusivity, "0.000000001 m²/s", "0.000000001 m²/s"},
		{0.11, BufferValue, "1.1 g/(m²·%)", "1.1 g/(m²·%)"},
		{1234.5, Number, "1234", "1234"}, // ties to even, as printed decimals are rounded
		{2, "girth", "2", "2"},
	} {
		if got := Format(c.v, c.d, InchPound); got != c.inchPound {
			t.Errorf("%g as %s is %q, want %q", c.v, c.d, got, c.inchPound)
		}
		if got := Format(c.v, c.d, SI); got != c.si {
			t.Errorf("%g as %s is %q, want %q", c.v, c.d, got, c.si)
		}
	}
}

func TestFormatBoth(t *testing.T) {
	if got, want := FormatBoth(0.0111125, Length), "7/16 in (11.1 mm)"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got, want := FormatBoth(0.35, Ratio), "35 %"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestFormatRange(t *testing.T) {
	for _, c := range []struct {
		low, best, high string
		d               Dimension
		s               System
		want            string
	}{
		{"0.7 perm", "0.75 perm", "0.8 perm", Permeance, InchPound, "0.75 (0.7 to 0.8) perm"},
		{"3 perm", "10.37 perm", "30 perm", Permeance, InchPound, "10 (3 to 30) perm"},
		{"110 ng/(Pa s m2)", "412 ng/(Pa s m2)", "1650 ng/(Pa s m2)", Permeance, SI, "400 (110 to 1700) ng/(Pa·s·m²)"},
		{"R-11", "R-13", "R-15", ThermalResistance, InchPound, "R-13 (R-11 to R-15)"},
		{"1/2 in", "5/8 in", "3/4 in", Length, InchPound, "5/8 in (1/2 in to 3/4 in)"},
		{"12 mm", "15.3 mm", "19 mm", Length, SI, "15.3 (12 to 19) mm"},
		{"58.04 F", "65.27 F", "70 F", Temperature, InchPound, "65 (58 to 70) °F"},
		{"35 %", "35 %", "35 %", Ratio, SI, "35 %"},
		{"0 %", "0.2 %", "40 %", Ratio, SI, "0 (0 to 40) %"},
		{"1.00001 perm", "1.00002 perm", "1.00003 perm", Permeance, InchPound, "1 perm"},
		{"0 perm", "0.5 perm", "1.1 perm", Permeance, InchPound, "0.5 (0 to 1.1) perm"},
		{"0.0000175 perm", "0.51 perm", "0.9 perm", Permeance, InchPound, "0.51 (under 0.001 to 0.9) perm"},
		{"0.00002 perm", "0.00005 perm", "0.00007 perm", Permeance, InchPound, "0.00005 (0.00002 to 0.00007) perm"},
		{"0.00003 lb/ft2", "0.00004 lb/ft2", "0.00005 lb/ft2", AreaDensity, InchPound, "under 0.001 lb/ft²"},
		{"0.00004 lb", "0.00004 lb", "0.00004 lb", Mass, InchPound, "under 0.001 lb"},
		{"0 lb", "0 lb", "0 lb", Mass, InchPound, "0 lb"},
		{"14.3 1/perm", "28.6 1/perm", "57213 1/perm", VaporResistance, InchPound, "29 (14 to 57000) 1/perm"},
		{"14.3 1/perm", "28.6 1/perm", "57214 1/perm", VaporResistance, InchPound, "29 (14 or more) 1/perm"},
		{"57214 1/perm", "57214 1/perm", "57214 1/perm", VaporResistance, InchPound, "57214 1/perm or more"},
		{"0.0000175 perm", "0.0004 perm", "0.9 perm", Permeance, InchPound, "0 (under 0.001 to 0.9) perm"},
		{"0.1 perm", "0.3 perm", "900 perm", Permeance, InchPound, "0.3 (0.1 to 900) perm"},
		{"6 mil", "8 mil", "10 mil", Length, InchPound, "8 (6 to 10) mil"},
	} {
		r := Range{must(t, c.low, c.d), must(t, c.best, c.d), must(t, c.high, c.d)}
		if got := FormatRange(r, c.d, c.s); got != c.want {
			t.Errorf("%s, %s, %s is %q, want %q", c.low, c.best, c.high, got, c.want)
		}
	}
}

func must(t *testing.T, text string, d Dimension) float64 {
	t.Helper()
	v, err := Parse(text, d)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// anyValue draws a value of the dimension over many powers of ten, up to half of the upper limit.
func anyValue(d dimension) *rapid.Generator[float64] {
	return rapid.Custom(func(t *rapid.T) float64 {
		switch {
		case d.name == Count:
			return float64(rapid.IntRange(0, 1e5).Draw(t, "count"))
		case d.name == Temperature:
			return rapid.Float64Range(absoluteZero+1, d.top/2).Draw(t, "temperature")
		}
		x := rapid.Float64Range(-15, math.Log10(d.top/2)).Draw(t, "power of ten")
		v := math.Pow(10, x)
		if d.low < 0 && rapid.Bool().Draw(t, "negative") {
			v = -v
		}
		return v
	})
}

// Three significant digits are good to half of the last one, at worst 0.5 %; a temperature has one decimal.
func TestFormatReadsBack(t *testing.T) {
	for _, d := range dimensions {
		for _, s := range []System{InchPound, SI} {
			rapid.Check(t, func(t *rapid.T) {
				v := anyValue(d).Draw(t, "value")
				text := Format(v, d.name, s)
				back, err := Parse(text, d.name)
				if err != nil {
					t.Fatalf("%g as %s is %q, which does not read back: %v", v, d.name, text, err)
				}
				allowed := 0.00501 * math.Abs(v)
				if d.name == Temperature {
					allowed = 0.0501
				}
				if math.Abs(back-v) > allowed {
					t.Fatalf("%g as %s is %q, which reads back as %g", v, d.name, text, back)
				}
			})
		}
	}
}

// What Format wrote is written the same again, but where the form goes by size: 999.9 mm is 1000 mm, and that is 1 m.
func TestFormatIsStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(dimensions).Filter(func(d dimension) bool {
			return d.name != Length && d.name != Duration && d.name != Slope
		}).Draw(t, "dimension")
		s := rapid.SampledFrom([]System{InchPound, SI}).Draw(t, "system")
		text := Format(anyValue(d).Draw(t, "value"), d.name, s)
		back, err := Parse(text, d.name)
		if err != nil {
			t.Fatal(err)
		}
		if again := Format(back, d.name, s); again != text {
			t.Fatalf("%s is %q, then %q", d.name, text, again)
		}
	})
}

// Every sixteenth of an inch below ten feet is a fraction and reads back exactly.
func TestSixteenths(t *testing.T) {
	for n := 1; n < 16*120; n++ {
		v := float64(n) / 16 * 0.0254
		text := Format(v, Length, InchPound)
		back, err := Parse(text, Length)
		if err != nil || math.Abs(back-v) > 1e-15 || strings.Contains(text, ".") {
			t.Fatalf("%d/16 in is %q, which reads back as %g (%v), want %g", n, text, back, err, v)
		}
	}
}

func TestUnitsInvert(t *testing.T) {
	for _, d := range dimensions {
		for _, unitText := range []string{d.si, d.show[0], d.show[1]} {
			if unitText == "" || unitText == "1" || unitText == "kg/m2" && d.name == BufferValue || strings.Contains(unitText, " at ") {
				continue
			}
			rapid.Check(t, func(t *rapid.T) {
				v := anyValue(d).Draw(t, "value")
				x, err := ToUnit(v, unitText, d.name)
				if err != nil {
					t.Fatal(err)
				}
				back, err := FromUnit(x, unitText, d.name)
				if err != nil || math.Abs(back-v) > 1e-12*(math.Abs(v)+math.Abs(d.offset())) {
					t.Fatalf("%g as %s is %g %s, which comes back as %g, %v", v, d.name, x, unitText, back, err)
				}
			})
		}
	}
}

// offset is the size of the zero shift that limits the precision of a conversion.
func (d dimension) offset() float64 {
	if d.name == Temperature {
		return absoluteZero
	}
	return 0
}

// The SI unit of a dimension is the one in which a value keeps its number.
func TestUnitNamesTheUnit(t *testing.T) {
	for _, d := range Dimensions() {
		name := d.Unit()
		if name == "" {
			t.Errorf("%s has no unit", d)
		}
		if name == "1" || strings.Contains(name, " at ") || d == BufferValue {
			continue // a buffer value is per whole unit of relative humidity, which a unit of mass and area does not show
		}
		if v, err := FromUnit(1, name, d); err != nil || math.Abs(v-1) > 1e-15 {
			t.Errorf("1 %s as %s is %g, %v", name, d, v, err)
		}
	}
}

// The examples that errors show must be readable themselves.
func TestExamples(t *testing.T) {
	for _, d := range dimensions {
		for _, text := range strings.Split(strings.ReplaceAll(d.examples, " or ", ", "), ", ") {
			if _, err := Parse(text, d.name); err != nil {
				t.Errorf("example of %s: %v", d.name, err)
			}
		}
	}
}

func TestUnknownDimension(t *testing.T) {
	if _, err := FromUnit(1, "m", "girth"); err == nil {
		t.Error("FromUnit knows the girth")
	}
	if _, err := ToUnit(1, "m", "girth"); err == nil {
		t.Error("ToUnit knows the girth")
	}
	if _, err := ParseList("1, 2 m", "girth"); err == nil {
		t.Error("ParseList knows the girth")
	}
	if got := Dimension("girth").Unit(); got != "" {
		t.Errorf("the unit of the girth is %q", got)
	}
	if len(Dimensions()) != len(Length.Allowed()) {
		t.Error("Allowed and Dimensions differ")
	}
}

// TestWaterByTheMonth: a pound a month from 100 ft² by hand is 453.59237 g from
// 9.290304 m² in 365/12 days. The factor is part of the unit alone: beside an area
// it is no number.
func TestWaterByTheMonth(t *testing.T) {
	want := 453.59237 / 9.290304 / (365.0 / 12)
	if got := must(t, "1 lb/(100 ft2 month)", VaporFlow) * 86400 * 1000; math.Abs(got-want) > 1e-9 {
		t.Errorf("1 lb/(100 ft2 month) is %g g/(m2 day), want %g", got, want)
	}
	for _, text := range []string{"3 100 ft2", "3 lb/100 ft2 month"} {
		if v, err := Parse(text, Area); err == nil {
			t.Errorf("%q is read as %g", text, v)
		}
	}
}

// Nothing that a house has is written with an exponent, in any dimension and any
// form.
func TestNoExponents(t *testing.T) {
	for _, d := range Dimensions() {
		for _, system := range []System{InchPound, SI} {
			for exponent := -14; exponent <= 14; exponent++ {
				for _, digits := range []float64{1, 1.23, 9.99} {
					v := digits * math.Pow(10, float64(exponent))
					if shown, _ := Display(v, d, system); math.Abs(shown) < 1e-12 || math.Abs(shown) > 1e13 {
						continue // no house has it
					}
					for _, text := range []string{
						Format(v, d, system), Format(-v, d, system), FormatRange(Range{Low: v, Best: 2 * v, High: 3 * v}, d, system), FormatRange(Exact(v), d, system),
					} {
						if exponentForm.MatchString(text) {
							t.Fatalf("%g of %s is written %q", v, d, text)
						}
					}
				}
			}
		}
	}
}

var exponentForm = regexp.MustCompile(`[0-9]e[-+]?[0-9]`)
