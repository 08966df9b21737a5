package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Format writes a value in SI with its unit, to three significant digits; whole numbers below ten million keep all
// of theirs. Inch-pound lengths on a sixteenth of an inch become fractions ("5-1/2 in"), thin ones mils. [Parse]
// reads the text back. An unknown dimension gives the plain number.
func Format(v float64, d Dimension, s System) string {
	if text, ok := special(v, d, s); ok {
		return text
	}
	x, unitText := Display(v, d, s)
	return join(shorten(x, decimalsFor(x, d)), unitText)
}

// tiny says whether the range of an amount of mass is too small to be written out: "3.1e-05 (3.08e-05 to 3.41e-05)
// lb/ft²" says nothing to a reader that "under 0.001" does not.
func tiny(x float64, d Dimension) bool {
	return (d == AreaDensity || d == Mass) && 0 < x && x < plainFrom
}

func underSlight() string { return "under " + shorten(slight, 3) }

// FormatBoth writes a value in inch-pound units with SI in brackets after it, and once where both are the same.
func FormatBoth(v float64, d Dimension) string {
	a, b := Format(v, d, InchPound), Format(v, d, SI)
	if a == b {
		return a
	}
	return a + " (" + b + ")"
}

// FormatRange writes the best value and the bounds, "0.75 (0.7 to 0.8) perm", with no more digits than the spread
// supports: the last digit of the best value is worth at least a hundredth and at most a tenth of the spread, and the
// bounds keep two significant digits. A best value below that digit, in a range above 0, keeps two significant
// digits too: "29 (14 to 5700)". A vapor resistance without an end is "29 (14 or more)". A bound that is next to nothing against the spread is "under 0.001". A range
// without spread is written by [Format], but for an amount of mass that is "under 0.001"; one whose spread does not show without bounds.
func FormatRange(r Range, d Dimension, s System) string {
	if x, unitText := Display(r.High, d, s); tiny(x, d) {
		return join(underSlight(), unitText)
	}
	if r.IsExact() {
		return Format(r.Best, d, s) + orMore(r.Low, d)
	}
	if best, ok := special(r.Best, d, s); ok {
		low, lowOK := special(r.Low, d, s)
		high, highOK := special(r.High, d, s)
		if lowOK && highOK {
			return best + " (" + low + " to " + high + ")"
		}
	}
	_, unitText := Display(r.Best, d, s)
	low, best, high := inUnit(r.Low, unitText, d), inUnit(r.Best, unitText, d), inUnit(r.High, unitText, d)
	step := stepFor(high - low)
	text := roundTo(best, bestStep(low, best, step))
	from, to := boundText(low, high-low), boundText(high, high-low)
	bounds := " (" + from + " to " + to + ")"
	if more := orMore(r.High, d); more != "" {
		bounds = " (" + from + more + ")"
	}
	if from == text && to == text {
		bounds = ""
	}
	if prefix, suffix, ok := rValue(d, s); ok {
		return prefix + text + suffix + bounds
	}
	return join(text+bounds, unitText)
}

// endless is the vapor resistance in s·m²·Pa/kg that stands for any larger one: that of a sheet without a measurable
// permeance.
const endless = 1e15

// orMore says of a vapor resistance that it only stands for larger ones.
func orMore(v float64, d Dimension) string {
	if d == VaporResistance && v >= endless*(1-1e-9) {
		return " or more"
	}
	return ""
}

// slight is the size below which a bound that is small against its range is not written out: 5.55e-05 says nothing to
// a reader that "under 0.001" does not.
const slight = 0.001

// boundText writes a bound of a range with the given spread.
func boundText(x, spread float64) string {
	switch a := math.Abs(x); {
	case a == 0 || a >= slight || a > spread/50:
		return roundTo(x, boundStep(x, stepFor(spread)))
	case x < 0:
		return "about 0"
	}
	return underSlight()
}

// Display gives a value in the unit in which the system shows it, unrounded, and the name of that unit: for axes and
// spreadsheets. R-values come as ft²·°F·h/Btu.
func Display(v float64, d Dimension, s System) (float64, string) {
	def, ok := d.define()
	if !ok {
		return v, ""
	}
	unitText := displayUnit(def, v, s)
	return inUnit(v, unitText, d), unitText
}

// displayUnit picks the unit of a system, by size where the trade does.
func displayUnit(def dimension, v float64, s System) string {
	switch {
	case def.name == Length && s == InchPound:
		return inchPoundLength(v)
	case def.name == Length:
		return metricLength(v)
	case def.name == Duration:
		return durationUnit(v)
	case def.name == ThermalResistance && s == InchPound:
		return "ft²·°F·h/Btu"
	case def.name == ThermalResistancePerLength && s == InchPound:
		return "ft²·°F·h/(Btu·in)"
	case def.name == Slope:
		return "%"
	}
	if s == SI {
		return def.show[1]
	}
	return def.show[0]
}

func inchPoundLength(v float64) string {
	switch x := math.Abs(v); {
	case x >= 10*foot:
		return "ft"
	case x > 0 && x < inch/16*(1-1e-6):
		return "mil"
	}
	return "in"
}

func metricLength(v float64) string {
	if math.Abs(v) >= 1 {
		return "m"
	}
	return "mm"
}

func durationUnit(v float64) string {
	switch {
	case v >= 2*day:
		return "days"
	case v >= hour:
		return "h"
	case v >= minute:
		return "min"
	}
	return "s"
}

// inUnit converts from SI to a unit of our own tables.
func inUnit(v float64, unitText string, d Dimension) float64 {
	if unitText == "" {
		return v
	}
	x, err := ToUnit(v, unitText, d)
	if err != nil {
		return v // not reached: a test converts every display unit
	}
	return x
}

// special writes the forms that are more than a number and a unit.
func special(v float64, d Dimension, s System) (string, bool) {
	if d == Length && s == InchPound {
		return inchFraction(v / inch)
	}
	if d == Slope && s == InchPound {
		if twelfths := v * 12; isWhole(twelfths*2) && 0.5 <= twelfths && twelfths <= 48 {
			return shorten(twelfths, 1) + ":12", true
		}
	}
	if prefix, suffix, ok := rValue(d, s); ok {
		x, _ := Display(v, d, s)
		return prefix + shorten(x, decimalsFor(x, d)) + suffix, true
	}
	return "", false
}

// rValue gives what stands before and after the number of an R-value.
func rValue(d Dimension, s System) (prefix, suffix string, ok bool) {
	switch {
	case s != InchPound:
		return "", "", false
	case d == ThermalResistance:
		return "R-", "", true
	case d == ThermalResistancePerLength:
		return "R-", "/in", true
	}
	return "", "", false
}

// inchFraction writes a length in inches as 7/16 in or 5-1/2 in, where it lies on a thirty-second and below 10 ft.
func inchFraction(x float64) (string, bool) {
	n := x * 32
	if !isWhole(n) || n < 1.5 || x >= 120 {
		return "", false
	}
	parts := int(math.Round(n))
	whole, top, bottom := parts/32, parts%32, 32
	for top > 0 && top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	text := ""
	if whole > 0 {
		text = strconv.Itoa(whole)
	}
	if top > 0 {
		if whole > 0 {
			text += "-"
		}
		text += strconv.Itoa(top) + "/" + strconv.Itoa(bottom)
	}
	return text + " in", true
}

// isWhole says whether x is a whole number but for the rounding of a unit conversion.
func isWhole(x float64) bool {
	return math.Abs(x-math.Round(x)) <= 1e-9*math.Max(1, math.Abs(x))
}

// decimalsFor gives the decimals that make three significant digits; temperatures have one decimal.
func decimalsFor(x float64, d Dimension) int {
	if d == Temperature {
		return 1
	}
	return max(0, 2-magnitude(x))
}

// magnitude is the power of ten of the first digit of x.
func magnitude(x float64) int {
	if x == 0 {
		return 0
	}
	return int(math.Floor(math.Log10(math.Abs(x))))
}

// plainFrom is the size below which a number needs more decimals than those given, longFrom that from which on it has
// three digits and zeros. Below exponentFrom and from
// exponentTo on lies nothing that a house has: hostile input is written with an exponent, so that it stays short.
const (
	plainFrom    = 1e-4
	longFrom     = 1e7
	exponentFrom = 1e-15
	exponentTo   = 1e15
)

// shorten writes a number with at most the decimals given, without zeros at the end.
func shorten(x float64, decimals int) string {
	switch a := math.Abs(x); {
	case a != 0 && a < exponentFrom || a >= exponentTo:
		return strconv.FormatFloat(x, 'g', 3, 64)
	case a >= longFrom:
		unit := math.Pow(10, float64(magnitude(x)-2))
		x = math.Round(x/unit) * unit
	case a != 0 && a < plainFrom:
		decimals = 2 - magnitude(x)
	}
	text := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

// stepFor is the largest power of ten not above a tenth of the spread.
func stepFor(spread float64) float64 {
	return math.Pow(10, math.Floor(math.Log10(spread/10)*(1+1e-12)))
}

// finest is the step of three significant digits of x.
func finest(x float64) float64 {
	if x == 0 {
		return 0
	}
	return math.Pow(10, float64(magnitude(x)-2))
}

// boundStep is the step of a bound: that of the spread, but two significant digits of a bound that is small against it.
func boundStep(x, step float64) float64 {
	if x == 0 {
		return step
	}
	return math.Max(math.Min(step, math.Pow(10, float64(magnitude(x)-1))), finest(x))
}

// bestStep is the step of the best value of a range: that of the spread, unless it would put the value below a bound
// above 0. What is slight may be 0.
func bestStep(low, best, step float64) float64 {
	if low > 0 && best < step && best >= slight {
		return boundStep(best, step)
	}
	return math.Max(step, finest(best))
}

// roundTo writes x as a multiple of a power of ten.
func roundTo(x, step float64) string {
	decimals := max(0, -int(math.Round(math.Log10(step))))
	if step > 1 {
		x = math.Round(x/step) * step
	}
	return shorten(x, decimals)
}

// join puts a number and a unit together as the field writes them.
func join(number, unitText string) string {
	switch unitText {
	case "":
		return number
	case "°":
		return number + unitText
	}
	return number + " " + unitText
}
