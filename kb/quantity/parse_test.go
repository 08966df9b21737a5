package quantity

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func near(got, want float64) bool {
	return math.Abs(got-want) <= 1e-12*math.Max(math.Abs(want), 1e-30)
}

// The expected values are products of the exact definitions: the inch is 25.4 mm, the pound 0.45359237 kg, the day
// 86400 s, 0 °C is 32 °F and 273.15 K.
func TestParse(t *testing.T) {
	for _, c := range []struct {
		text string
		d    Dimension
		want float64
	}{
		{"3/4 in", Length, 0.01905},
		{"5-1/2 in", Length, 0.1397},
		{"5 1/2 in", Length, 0.1397},
		{"5½ in", Length, 0.1397},
		{"5 ½ inches", Length, 0.1397},
		{"½ in.", Length, 0.0127},
		{`7/16"`, Length, 0.0111125},
		{"7/16″", Length, 0.0111125},
		{"7⁄16 IN", Length, 0.0111125},
		{"1 MM", Length, 0.001},
		{"15 MIL", Length, 15 * 0.0000254},
		{"1 kpa", Pressure, 1000},
		{"7/16-inch", Length, 0.0111125},
		{"2 ft 6 in", Length, 0.762},
		{"2 ft. 6 in.", Length, 0.762},
		{`2'-6 1/2"`, Length, 0.7747},
		{"2′6″", Length, 0.762},
		{"2’ 6”", Length, 0.762},
		{"2'6''", Length, 0.762},
		{"19\u00a0mm", Length, 0.019},
		{"19mm", Length, 0.019},
		{"6 mil", Length, 0.0001524},
		{"6-mil", Length, 0.0001524},
		{"150 µm", Length, 0.00015},
		{"150 μm", Length, 0.00015},
		{".5 in", Length, 0.0127},
		{"310 ft2", Area, 28.79994240},
		{"310 ft²", Area, 28.79994240},
		{"310 sq ft", Area, 28.79994240},
		{"310 sq. ft.", Area, 28.79994240},
		{"310 square feet", Area, 28.79994240},
		{"2 cu yd", Volume, 2 * 0.9144 * 0.9144 * 0.9144},
		{"3 lb 4 oz", Mass, 3.25 * 0.45359237},
		{"1 day 12 h", Duration, 129600},
		{"7 days", Duration, 604800},
		{"68 F", Temperature, 20},
		{"68 °F", Temperature, 20},
		{"68 ℉", Temperature, 20},
		{"-40 F", Temperature, -40},
		{"−40 °F", Temperature, -40},
		{"212 f", Temperature, 100},
		{"20 °C", Temperature, 20},
		{"20 ºC", Temperature, 20},
		{"293.15 K", Temperature, 293.15 - 273.15},
		{"9 F", TemperatureDifference, 5},
		{"5 C", TemperatureDifference, 5},
		{"35 %", Ratio, 0.35},
		{"35%", Ratio, 0.35},
		{"35 % RH", Ratio, 0.35},
		{"12 % by dry mass", Ratio, 0.12},
		{"0.12 kg/kg", Ratio, 0.12},
		{"50 ppm", Ratio, 50e-6},
		{"0.9", Emittance, 0.9},
		{"90 %", Emittance, 0.9},
		{"50", VaporResistanceFactor, 50},
		{"3", Count, 3},
		{"110 ng/(Pa s m2)", Permeance, 110e-12},
		{"110 ng/(s·m²·Pa)", Permeance, 110e-12},
		{"110 ng/Pa·s·m²", Permeance, 110e-12},
		{"110 ng/Pa/s/m2", Permeance, 110e-12},
		{"110 ng Pa^-1 s^-1 m^-2", Permeance, 110e-12},
		{"110 ng·Pa⁻¹·s⁻¹·m⁻²", Permeance, 110e-12},
		{"1e-10 kg/(m s Pa)", Permeability, 1e-10},
		{"1.9E−10 kg/(s m Pa)", Permeability, 1.9e-10},
		{"25 GPa s m2/kg", VaporResistance, 25e9},
		{"5 g/(m2 day)", VaporFlow, 0.005 / 86400},
		{"5 g/m2d", VaporFlow, 0.005 / 86400},
		{"2.3 m2K/W", ThermalResistance, 2.3},
		{"2.3 m²·K/W", ThermalResistance, 2.3},
		{"2.3 (m2 K)/W", ThermalResistance, 2.3},
		{"RSI-2.3", ThermalResistance, 2.3},
		{"0.13 W/mK", Conductivity, 0.13},
		{"0.13 W/(m K)", Conductivity, 0.13},
		{"0.13 W/m·K", Conductivity, 0.13},
		{"0.13 W/m K", Conductivity, 0.13},
		{"25 m K/W", ThermalResistancePerLength, 25},
		{"0.34 W/m2K", UFactor, 0.34},
		{"650 kg/m3", Density, 650},
		{"50 g/L", Density, 50},
		{"80 kg/m3", MoistureDensity, 80},
		{"1.6 kJ/(kg K)", SpecificHeat, 1600},
		{"1600 J/kgK", SpecificHeat, 1600},
		{"0.05 kg/(m2 s0.5)", AbsorptionCoefficient, 0.05},
		{"0.05 kg/(m² s^0.5)", AbsorptionCoefficient, 0.05},
		{"0.05 kg/(m²·√s)", AbsorptionCoefficient, 0.05},
		{"3 kg/(m2 h0.5)", AbsorptionCoefficient, 0.05},
		{"1e-9 m2/s", LiquidDiffusivity, 1e-9},
		{"1.1 g/(m2 %)", BufferValue, 0.11},
		{"1.1 g/(m2 %RH)", BufferValue, 0.11},
		{"0.00263 /%", ShrinkageCoefficient, 0.263},
		{"0.00263 1/%", ShrinkageCoefficient, 0.263},
		{"0.00263 per %", ShrinkageCoefficient, 0.263},
		{"10 m2/L", Coverage, 10e3},
		{"7 ACH50", AirTightness, 7.0 / 3600},
		{"7 ach50", AirTightness, 7.0 / 3600},
		{"10 /h", AirChange, 10.0 / 3600},
		{"10 1/h", AirChange, 10.0 / 3600},
		{"10 per hour", AirChange, 10.0 / 3600},
		{"1/h", AirChange, 1.0 / 3600},
		{"0.02 L/(s m2)", AirPermeance, 2e-5},
		{"4.8 kWh/(m2 d)", HeatFlux, 200},
		{"3600 K day", DegreeTime, 3600 * 86400},
		{"6/12", Slope, 0.5},
		{"6:12", Slope, 0.5},
		{"1/4 in/ft", Slope, 1.0 / 48},
		{"45 deg", Slope, 1},
		{"180°", Angle, math.Pi},
	} {
		got, err := Parse(c.text, c.d)
		if err != nil {
			t.Errorf("%s: %v", c.d, err)
		} else if !near(got, c.want) {
			t.Errorf("%q as %s is %.15g %s, want %.15g", c.text, c.d, got, c.d.Unit(), c.want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		d    Dimension
		want string // in the message or the hint
	}{
		{"", Length, "a value is missing"},
		{"  ", Length, "a value is missing"},
		{"in", Length, "a number is missing"},
		{"5", Length, "a unit is missing; write a length like 3/4 in"},
		{"5-", Length, "a unit is missing"},
		{"0.35", Ratio, "a unit is missing"},
		{"0.5", Slope, "a unit is missing"},
		{"5 inchs", Length, `"inchs" is not a known unit; did you mean "inch"?`},
		{"5 prem", Permeance, `did you mean "perm"?`},
		{"5 zorkmids", Length, `"zorkmids" is not a known unit; write a length like`},
		{"5 psi", Length, `"psi" is a unit of pressure, not of length`},
		{"5 ACH", AirTightness, `"ACH" is a unit of air change, not of air tightness`},
		{"5 ft2", Length, "is a unit of area, not of length"},
		{"5 g/m2", BufferValue, "is a unit of area density, not of buffer value"},
		{"3 s", Permeability, "is a unit of duration, not of permeability"},
		{"3 kg/(s m Pa)", Duration, "is a unit of permeability, not of duration"},
		{"5 m/s", VaporResistance, "is a unit of velocity, not of vapor resistance"},
		{"5 m s", Length, `"m s" is not a unit of length`},
		{"1 mPa", Pressure, "is not a unit of pressure"}, // a millipascal, not a megapascal
		{"5 deg", Ratio, "is a unit of angle, not of ratio"},
		{"50 %", VaporResistanceFactor, "a vapor resistance factor has no unit"},
		{"R-13", Conductivity, "an R-value is not a conductivity"},
		{"R-13 ft", ThermalResistance, "is not understood"},
		{"R-", ThermalResistance, "a number is missing"},
		{"U-0.3", ThermalResistance, "a U-factor is not a thermal resistance"},
		{"NaN in", Length, "a number is missing"},
		{"Inf in", Length, "a number is missing"},
		{"nan", Emittance, "a number is missing"},
		{"1e400 m", Length, "the number is too large"},
		{"1e-400 m", Length, "the number is too close to zero"},
		{"1e300 m", Length, "too large for a length"},
		{"-3 in", Length, "a negative value is not allowed for a length"},
		{"-1 perm", Permeance, "a negative value is not allowed for a permeance"},
		{"-300 C", Temperature, "below absolute zero"},
		{"-500 F", Temperature, "below absolute zero"},
		{"1.2", Emittance, "too large for an emittance"},
		{"2.5", Count, "a whole number is needed"},
		{"010 in", Length, "does not start with a zero"},
		{"00.5 in", Length, "does not start with a zero"},
		{"5-01/2 in", Length, "does not start with a zero"},
		{"1,200 ft2", Area, "thousands separator"},
		{"0,5 in", Length, "a comma is not allowed"},
		{"1_000 m", Length, "underscore"},
		{"1.2.3 m", Length, "one decimal point"},
		{"5. in", Length, "not complete"},
		{"3-5 in", Length, "one value is needed here, not a range"},
		{"3 – 5 in", Length, "one value is needed here, not a range"},
		{"5 5 in", Length, "not several numbers"},
		{"1/0 in", Length, "zero below the bar"},
		{"5-3/2 in", Length, "must be less than one"},
		{"2 ft 14 in", Length, "less than one"},
		{"2 ft 6 mm", Length, "not a way to write one value"},
		{"2 ft 6 in", Mass, "is a unit of length, not of mass"},
		{"5 in/", Length, "not a known unit"},
		{"5 in)", Length, "not a known unit"},
		{"5 (in", Length, "not a known unit"},
		{"5 m9", Length, "is not a unit of length"},
		{"5 m^12", Length, "not a known unit"},
		{"5 m0.55", Length, "not a known unit"},
		{"5 in\xff", Length, "not valid UTF-8"},
		{strings.Repeat("5", 501), Length, "too long"},
		{"5 in", "girth", `"girth" is not a dimension`},
	} {
		v, err := Parse(c.text, c.d)
		var p *ParseError
		if !errors.As(err, &p) {
			t.Errorf("%q as %s gives %g, %v; want an error with %q", c.text, c.d, v, err, c.want)
			continue
		}
		if !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q as %s says\n%s\nwant it to contain %q", c.text, c.d, err, c.want)
		}
		if p.Text != c.text {
			t.Errorf("the error about %q quotes %q", c.text, p.Text)
		}
	}
}

func TestParseRange(t *testing.T) {
	for _, c := range []struct {
		text      string
		d         Dimension
		low, high float64
	}{
		{"3-5", Count, 3, 5},
		{"3–5 in", Length, 0.0762, 0.127},
		{"3 to 5 in", Length, 0.0762, 0.127},
		{"3 in to 5 in", Length, 0.0762, 0.127},
		{"1/2-3/4 in", Length, 0.0127, 0.01905},
		{"1-1/2-2-1/2 in", Length, 0.0381, 0.0635},
		{"3-5/8 in", Length, 0.092075, 0.092075}, // a mixed number, not a range
		{"[30, 50] %", Ratio, 0.3, 0.5},
		{"20 %", Ratio, 0.2, 0.2},
		{"-5 to 3 C", Temperature, -5, 3},
		{"-5 - 3 C", Temperature, -5, 3},
		{"RSI-1 to RSI-2", ThermalResistance, 1, 2},
	} {
		r, err := ParseRange(c.text, c.d)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		if !near(r.Low, c.low) || !near(r.High, c.high) || !near(r.Best, (c.low+c.high)/2) {
			t.Errorf("%q is %v, want %g to %g", c.text, r, c.low, c.high)
		}
	}
	for text, want := range map[string]string{
		"5-3 in":       "the low end of a range comes first",
		"[1, 2, 3] in": "a range has two values",
		"[1, 2 in":     "closing bracket",
		"3-5":          "a unit is missing",
		"3 to 5 psi":   "not of length",
		"3 to":         "",
		"1-2-3 in":     "not a range",
	} {
		if r, err := ParseRange(text, Length); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q gives %v, %v; want an error with %q", text, r, err, want)
		}
	}
}

func TestParseList(t *testing.T) {
	for _, text := range []string{"[10, 30, 50] %", "10, 30, 50 %", "10 30 50 %", "10,30,50%", "[10 30 50]%"} {
		got, err := ParseList(text, Ratio)
		if err != nil || len(got) != 3 || !near(got[0], 0.1) || !near(got[1], 0.3) || !near(got[2], 0.5) {
			t.Errorf("%q gives %v, %v", text, got, err)
		}
	}
	if got, err := ParseList("-5, 20 C", Temperature); err != nil || got[0] != -5 || got[1] != 20 {
		t.Errorf("temperatures give %v, %v", got, err)
	}
	for text, want := range map[string]string{
		"10, 20":      "a unit is missing",
		"10, , 20 %":  "a number is missing",
		"[10, 20 %":   "closing bracket",
		"10, 020 %":   "does not start with a zero",
		"10, 20 perm": "is a unit of permeance, not of ratio",
		"10, -20 %":   "negative",
		"":            "a value is missing",
	} {
		if got, err := ParseList(text, Ratio); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q gives %v, %v; want an error with %q", text, got, err, want)
		}
	}
}

// Nominal sizes: American Softwood Lumber Standard PS 20, recalled.
func TestParseSize(t *testing.T) {
	for _, c := range []struct {
		text             string
		thickness, width float64 // inches
	}{
		{"2x4", 1.5, 3.5},
		{"2x6", 1.5, 5.5},
		{"2 x 8", 1.5, 7.25},
		{"2×10", 1.5, 9.25},
		{"2 by 12", 1.5, 11.25},
		{"1x4", 0.75, 3.5},
		{"4x4", 3.5, 3.5},
		{"9/16 in x 5-1/4 in", 0.5625, 5.25},
		{"9/16 x 5-1/4 in", 0.5625, 5.25},
	} {
		a, b, err := ParseSize(c.text)
		if err != nil || !near(a, c.thickness*0.0254) || !near(b, c.width*0.0254) {
			t.Errorf("%q is %g by %g m, %v; want %g by %g in", c.text, a, b, err, c.thickness, c.width)
		}
	}
	for _, text := range []string{"", "2x", "x6", "2x5", "6x2", "6x6", "2", "2 in", "a x b", "2 psi x 3 in", "99999999999999999999x2"} {
		if a, b, err := ParseSize(text); err == nil {
			t.Errorf("%q gives %g by %g", text, a, b)
		}
	}
}
