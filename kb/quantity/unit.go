package quantity

import (
	"math"
	"strings"
)

// vector holds twice the exponents of the base units, so that the square root of a second is a whole number.
// The percent, the angle and the pressure difference of 50 Pa are kept as bases of their own: that is what tells
// "1 g/(m2 %)" from "1 g/m2" and "7 ACH50" from "7 ACH".
type vector struct {
	mass, length, time, temperature, percent, angle, at50 int8
}

// plus gives v and w raised to half of the number twice, and false where an exponent is no multiple of a half or
// leaves the range that any real unit needs.
func (v vector) plus(w vector, twice int) (vector, bool) {
	ok := true
	add := func(a, b int8) int8 {
		sum := 2*int(a) + int(b)*twice
		if sum%2 != 0 || sum < -48 || sum > 48 {
			ok = false
			return 0
		}
		return int8(sum / 2)
	}
	return vector{
		mass:        add(v.mass, w.mass),
		length:      add(v.length, w.length),
		time:        add(v.time, w.time),
		temperature: add(v.temperature, w.temperature),
		percent:     add(v.percent, w.percent),
		angle:       add(v.angle, w.angle),
		at50:        add(v.at50, w.at50),
	}, ok
}

// unit is a named unit: its size in SI base units, and for the two temperature scales the reading in °C at zero.
type unit struct {
	of     vector
	factor float64
	zero   float64 // °C at a reading of 0, for absolute temperatures
}

// Exact definitions: NIST SP 811 (2008), Appendix B, footnotes and B.8, and the international yard and pound of
// 1959. The conventional densities of mercury and water under the standard acceleration of fall define the manometric
// units (same Appendix, B.6.2); the mercury column at 23 °C is recalled.
const (
	inch   = 0.0254
	foot   = 12 * inch
	yard   = 3 * foot
	mile   = 5280 * foot
	pound  = 0.45359237
	grain  = pound / 7000
	ounce  = pound / 16
	gallon = 231 * inch * inch * inch
	minute = 60.0
	hour   = 3600.0
	day    = 24 * hour
	month  = 365 * day / 12

	fall         = 9.80665 // m/s2
	poundForce   = pound * fall
	mercury0     = 13595.1 // kg/m3
	mercury23    = 13538.6 // kg/m3
	inchMercury  = mercury0 * fall * inch
	milliMercury = mercury0 * fall * 1e-3
	inchWater    = 1000 * fall * inch

	fahrenheit = 5.0 / 9.0     // K
	calorieIT  = 4.1868        // J
	btu        = 1055.05585262 // J; = calorieIT * 1000 * pound * 5/9
	perm       = grain / (hour * foot * foot * inchMercury)
	perm23     = grain / (hour * foot * foot * mercury23 * fall * inch)
	metricPerm = 1e-3 / (day * milliMercury)
	nano       = 1e-9
)

// Vectors that several units share.
var (
	ofLength      = vector{length: 2}
	ofMass        = vector{mass: 2}
	ofTime        = vector{time: 2}
	ofTemperature = vector{temperature: 2}
	ofArea        = vector{length: 4}
	ofVolume      = vector{length: 6}
	ofPressure    = vector{mass: 2, length: -2, time: -4}
	ofForce       = vector{mass: 2, length: 2, time: -4}
	ofEnergy      = vector{mass: 2, length: 4, time: -4}
	ofPower       = vector{mass: 2, length: 4, time: -6}
	ofFlow        = vector{length: 6, time: -2}
	ofPermeance   = vector{length: -2, time: 2}
)

// units maps every spelling that is read to its unit. Products, quotients and powers are built from these by
// parseUnit.
var units = map[string]unit{
	"m": {ofLength, 1, 0}, "meter": {ofLength, 1, 0}, "meters": {ofLength, 1, 0},
	"mm": {ofLength, 1e-3, 0}, "cm": {ofLength, 1e-2, 0}, "km": {ofLength, 1e3, 0}, "um": {ofLength, 1e-6, 0},
	"in": {ofLength, inch, 0}, "inch": {ofLength, inch, 0}, "inches": {ofLength, inch, 0}, `"`: {ofLength, inch, 0},
	"ft": {ofLength, foot, 0}, "foot": {ofLength, foot, 0}, "feet": {ofLength, foot, 0}, "'": {ofLength, foot, 0},
	"yd": {ofLength, yard, 0}, "yard": {ofLength, yard, 0}, "yards": {ofLength, yard, 0},
	"mi": {ofLength, mile, 0}, "mile": {ofLength, mile, 0}, "miles": {ofLength, mile, 0},
	"mil": {ofLength, inch / 1000, 0}, "mils": {ofLength, inch / 1000, 0},

	"sf": {ofArea, foot * foot, 0}, "sqft": {ofArea, foot * foot, 0}, "MSF": {ofArea, 1000 * foot * foot, 0},
	"L": {ofVolume, 1e-3, 0}, "liter": {ofVolume, 1e-3, 0}, "liters": {ofVolume, 1e-3, 0}, "mL": {ofVolume, 1e-6, 0},
	"gal": {ofVolume, gallon, 0}, "gallon": {ofVolume, gallon, 0}, "gallons": {ofVolume, gallon, 0},
	"qt": {ofVolume, gallon / 4, 0}, "quart": {ofVolume, gallon / 4, 0}, "quarts": {ofVolume, gallon / 4, 0},
	"fl oz": {ofVolume, gallon / 128, 0},

	"kg": {ofMass, 1, 0}, "g": {ofMass, 1e-3, 0}, "mg": {ofMass, 1e-6, 0}, "ug": {ofMass, 1e-9, 0}, "ng": {ofMass, 1e-3 * nano, 0},
	"lb": {ofMass, pound, 0}, "lbs": {ofMass, pound, 0}, "pound": {ofMass, pound, 0}, "pounds": {ofMass, pound, 0},
	"oz": {ofMass, ounce, 0}, "ounce": {ofMass, ounce, 0}, "ounces": {ofMass, ounce, 0},
	"gr": {ofMass, grain, 0}, "grain": {ofMass, grain, 0}, "grains": {ofMass, grain, 0},

	"s": {ofTime, 1, 0}, "sec": {ofTime, 1, 0}, "second": {ofTime, 1, 0}, "seconds": {ofTime, 1, 0},
	"min": {ofTime, minute, 0}, "minute": {ofTime, minute, 0}, "minutes": {ofTime, minute, 0},
	"h": {ofTime, hour, 0}, "hr": {ofTime, hour, 0}, "hrs": {ofTime, hour, 0}, "hour": {ofTime, hour, 0}, "hours": {ofTime, hour, 0},
	"d": {ofTime, day, 0}, "day": {ofTime, day, 0}, "days": {ofTime, day, 0},
	"week": {ofTime, 7 * day, 0}, "weeks": {ofTime, 7 * day, 0},
	"month": {ofTime, month, 0}, "months": {ofTime, month, 0},
	"year": {ofTime, 365 * day, 0}, "years": {ofTime, 365 * day, 0},

	"K": {ofTemperature, 1, absoluteZero},
	"C": {ofTemperature, 1, 0}, "°C": {ofTemperature, 1, 0}, "degC": {ofTemperature, 1, 0}, "deg C": {ofTemperature, 1, 0},
	"F": {ofTemperature, fahrenheit, -32 * fahrenheit}, "°F": {ofTemperature, fahrenheit, -32 * fahrenheit},
	"degF": {ofTemperature, fahrenheit, -32 * fahrenheit}, "deg F": {ofTemperature, fahrenheit, -32 * fahrenheit},

	"Pa": {ofPressure, 1, 0}, "hPa": {ofPressure, 1e2, 0}, "kPa": {ofPressure, 1e3, 0}, "MPa": {ofPressure, 1e6, 0}, "GPa": {ofPressure, 1e9, 0},
	"mbar": {ofPressure, 1e2, 0}, "bar": {ofPressure, 1e5, 0}, "atm": {ofPressure, 101325, 0},
	"psi": {ofPressure, poundForce / (inch * inch), 0}, "psf": {ofPressure, poundForce / (foot * foot), 0},
	"inHg": {ofPressure, inchMercury, 0}, "in Hg": {ofPressure, inchMercury, 0}, "mmHg": {ofPressure, milliMercury, 0}, "mm Hg": {ofPressure, milliMercury, 0},
	"inHg23C": {ofPressure, mercury23 * fall * inch, 0},
	"inH2O":   {ofPressure, inchWater, 0}, "in H2O": {ofPressure, inchWater, 0},
	"N": {ofForce, 1, 0}, "kN": {ofForce, 1e3, 0}, "lbf": {ofForce, poundForce, 0},

	"J": {ofEnergy, 1, 0}, "kJ": {ofEnergy, 1e3, 0}, "MJ": {ofEnergy, 1e6, 0}, "GJ": {ofEnergy, 1e9, 0},
	"Wh": {ofEnergy, hour, 0}, "kWh": {ofEnergy, 1e3 * hour, 0}, "MWh": {ofEnergy, 1e6 * hour, 0},
	"Btu": {ofEnergy, btu, 0}, "kBtu": {ofEnergy, 1e3 * btu, 0}, "MMBtu": {ofEnergy, 1e6 * btu, 0}, "therm": {ofEnergy, 1e5 * btu, 0}, "therms": {ofEnergy, 1e5 * btu, 0},
	"W": {ofPower, 1, 0}, "kW": {ofPower, 1e3, 0}, "Btuh": {ofPower, btu / hour, 0},

	"cfm":   {ofFlow, foot * foot * foot / minute, 0},
	"ACH":   {vector{time: -2}, 1 / hour, 0},
	"ACH50": {vector{time: -2, at50: 2}, 1 / hour, 0}, "ACH 50": {vector{time: -2, at50: 2}, 1 / hour, 0},
	"cfm50": {vector{length: 6, time: -2, at50: 2}, foot * foot * foot / minute, 0},
	"L/s50": {vector{length: 6, time: -2, at50: 2}, 1e-3, 0},
	"mph":   {vector{length: 2, time: -2}, mile / hour, 0},
	"pcf":   {vector{mass: 2, length: -6}, pound / (foot * foot * foot), 0},
	// A whole unit of its own: a factor of 100 within a unit would let "3 100 ft2" be read as 300.
	"lb/(100 ft2 month)": {vector{mass: 2, length: -4, time: -2}, pound / (100 * foot * foot * month), 0},
	"lb/(100 ft2*month)": {vector{mass: 2, length: -4, time: -2}, pound / (100 * foot * foot * month), 0},

	"perm": {ofPermeance, perm, 0}, "perms": {ofPermeance, perm, 0}, "US perm": {ofPermeance, perm, 0},
	"perm23C":     {ofPermeance, perm23, 0},
	"metric perm": {ofPermeance, metricPerm, 0}, "metric perms": {ofPermeance, metricPerm, 0},

	"%": {vector{percent: 2}, 0.01, 0}, "% RH": {vector{percent: 2}, 0.01, 0}, "%RH": {vector{percent: 2}, 0.01, 0}, "% MC": {vector{percent: 2}, 0.01, 0}, "%MC": {vector{percent: 2}, 0.01, 0},
	"percent": {vector{percent: 2}, 0.01, 0}, "% by mass": {vector{percent: 2}, 0.01, 0}, "% by dry mass": {vector{percent: 2}, 0.01, 0}, "% by volume": {vector{percent: 2}, 0.01, 0},
	"ppm": {vector{}, 1e-6, 0}, "ppb": {vector{}, 1e-9, 0},
	"deg": {vector{angle: 2}, math.Pi / 180, 0}, "degree": {vector{angle: 2}, math.Pi / 180, 0}, "degrees": {vector{angle: 2}, math.Pi / 180, 0}, "°": {vector{angle: 2}, math.Pi / 180, 0},
	"rad": {vector{angle: 2}, 1, 0},
}

// folded holds the spellings in small letters, for those who write FT or btu.
var folded = foldSpellings()

// foldSpellings leaves out spellings that would stand for two units, and a capital M, which is a million: mPa is not MPa.
func foldSpellings() map[string]unit {
	all, twice := map[string]unit{}, map[string]bool{}
	for name, u := range units {
		small := strings.ToLower(name)
		if other, ok := all[small]; ok && other != u {
			twice[small] = true
		}
		all[small] = u
	}
	for name := range units {
		if small := strings.ToLower(name); twice[small] || name[0] == 'M' && len(name) > 1 {
			delete(all, small)
		}
	}
	return all
}

// unitNamed looks a name up: as written, then without a final point, then without regard to case where the name is
// long enough to leave no doubt.
func unitNamed(name string) (unit, bool) {
	if u, ok := units[name]; ok {
		return u, true
	}
	name = strings.TrimSuffix(name, ".")
	if u, ok := units[name]; ok {
		return u, true
	}
	if len(name) < 2 && name != "f" && name != "c" && name != "l" {
		return unit{}, false
	}
	u, ok := folded[strings.ToLower(name)]
	return u, ok
}
