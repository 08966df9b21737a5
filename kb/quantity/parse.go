package quantity

import (
	"fmt"
	"math"
	"strings"
)

// Parse reads one quantity of the dimension and gives it in SI. It returns a [*ParseError] when the text has no unit
// where one is needed, an unknown unit, a unit of another dimension, more than one value, or a value outside the limits
// of the dimension. The result of a nil error is finite.
func Parse(text string, d Dimension) (float64, error) {
	def, ok := d.define()
	if !ok {
		return 0, &ParseError{Text: text, Message: fmt.Sprintf("%q is not a dimension", string(d))}
	}
	s, problem := clean(text)
	if problem != "" {
		return 0, def.fail(text, problem)
	}
	v, err := def.read(s)
	if err != nil {
		err.Text = text
		return 0, err
	}
	return v, nil
}

// FromUnit converts a value given in the unit to SI, under the rules of [Parse].
func FromUnit(v float64, unitText string, d Dimension) (float64, error) {
	def, u, err := unitFor(unitText, d)
	if err != nil {
		return 0, err
	}
	si := def.toSI(v, u)
	if problem := def.check(si); problem != "" {
		return 0, def.fail(fmt.Sprintf("%g %s", v, unitText), problem)
	}
	return si, nil
}

// ToUnit converts a value in SI to the unit.
func ToUnit(si float64, unitText string, d Dimension) (float64, error) {
	def, u, err := unitFor(unitText, d)
	if err != nil {
		return 0, err
	}
	return def.fromSI(si, u), nil
}

// unitFor finds a unit and checks that it belongs to the dimension.
func unitFor(text string, d Dimension) (dimension, unit, error) {
	def, ok := d.define()
	if !ok {
		return def, unit{}, &ParseError{Text: text, Message: fmt.Sprintf("%q is not a dimension", string(d))}
	}
	s, problem := clean(text)
	if text == "" && def.plain {
		return def, unit{factor: 1}, nil
	}
	if problem != "" {
		return def, unit{}, def.fail(text, "a unit is missing")
	}
	u, err := def.unit(s)
	if err != nil {
		err.Text = text
		return def, unit{}, err
	}
	return def, u, nil
}

// fail makes an error that shows how the dimension is written.
func (d dimension) fail(text, message string) *ParseError {
	return &ParseError{Text: text, Message: message, Hint: d.hint()}
}

func (d dimension) hint() string { return "write " + d.phrase() + " like " + d.examples }

// words gives the name of the dimension in a sentence: "area density", "U-factor".
func (d dimension) words() string {
	if d.name == UFactor {
		return "U-factor"
	}
	return strings.ReplaceAll(string(d.name), "-", " ")
}

// phrase gives the name with its article: "an area density".
func (d dimension) phrase() string {
	words := d.words()
	if strings.ContainsRune("aeiou", rune(words[0])) {
		return "an " + words
	}
	return "a " + words
}

// read reads a cleaned text.
func (d dimension) read(s string) (float64, *ParseError) {
	v, err := d.value(s)
	if err != nil {
		return 0, err
	}
	if problem := d.check(v); problem != "" {
		return 0, d.fail(s, problem)
	}
	return v, nil
}

// value reads a cleaned text without looking at the limits.
func (d dimension) value(s string) (float64, *ParseError) {
	if first, second, ok := pair(s); ok {
		return d.sum(s, first, second)
	}
	if p, ok := prefixed(s); ok {
		return d.prefixedValue(s, p)
	}
	if d.name == Slope {
		s = strings.Replace(s, ":", "/", 1)
	}
	n, problem := scanNumber(s)
	if problem != "" {
		return 0, d.fail(s, problem)
	}
	if n.rest == "" {
		return d.plainValue(s, n)
	}
	unitText, problem := afterNumber(n.rest)
	if problem != "" {
		return 0, d.fail(s, problem)
	}
	u, err := d.unit(unitText)
	if err != nil {
		return 0, err
	}
	if d.name == Slope && u.of.angle != 0 {
		return math.Tan(math.Min(n.value*u.factor, math.Pi/2)), nil
	}
	return d.toSI(n.value, u), nil
}

// afterNumber gives the unit text that follows a number, without the hyphen of "6-mil".
func afterNumber(rest string) (unitText, problem string) {
	unitText = strings.TrimLeft(strings.TrimPrefix(rest, "-"), " ")
	switch {
	case unitText == "":
		return "", "a unit is missing"
	case rest[0] == '-' && (isDigit(unitText[0]) || unitText[0] == '.'):
		return "", "one value is needed here, not a range"
	case isDigit(unitText[0]) && !strings.HasPrefix(unitText, "1/"):
		return "", "one value is needed here, not several numbers"
	}
	return unitText, ""
}

// plainValue accepts a number without a unit where the dimension has none: a factor, a count, the 6/12 of a slope.
func (d dimension) plainValue(s string, n number) (float64, *ParseError) {
	if d.plain || d.name == Slope && n.fraction {
		return n.value, nil
	}
	return 0, d.fail(s, "a unit is missing")
}

// unit reads a unit text and checks that it measures the dimension.
func (d dimension) unit(text string) (unit, *ParseError) {
	u, err := parseUnit(text)
	if err != nil {
		if err.Hint == "" {
			err.Hint = d.hint()
		}
		return unit{}, err
	}
	if d.plain && !d.percent {
		return unit{}, d.fail(text, fmt.Sprintf("%s has no unit", d.phrase()))
	}
	if !d.fits(u) {
		return unit{}, d.fail(text, d.mismatch(text, u))
	}
	return u.unit, nil
}

// fits says whether the unit measures the dimension.
func (d dimension) fits(u compound) bool {
	switch {
	case d.name == Slope && u.of == (vector{angle: 2}):
		return true
	case d.percent:
		return u.of == (vector{percent: 2}) || u.of == vector{}
	}
	return u.of == d.of && u.weighed == d.weighed()
}

// weighed says whether a unit of the dimension contains a mass, canceled or not.
func (d dimension) weighed() bool {
	switch d.name {
	case Permeance, Permeability, VaporResistance, SpecificHeat, SpecificEnthalpy:
		return true
	}
	return d.of.mass != 0
}

// mismatch says what a unit measures instead.
func (d dimension) mismatch(text string, u compound) string {
	for _, other := range dimensions {
		if other.name != Slope && !other.plain && other.fits(u) {
			return fmt.Sprintf("%q is a unit of %s, not of %s", text, other.words(), d.words())
		}
	}
	return fmt.Sprintf("%q is not a unit of %s", text, d.words())
}

// toSI converts a reading in the unit. Only an absolute temperature has a zero of its own.
func (d dimension) toSI(v float64, u unit) float64 {
	if d.name == Temperature {
		return v*u.factor + u.zero
	}
	return v * u.factor
}

// fromSI is the inverse of toSI.
func (d dimension) fromSI(v float64, u unit) float64 {
	if d.name == Temperature {
		return (v - u.zero) / u.factor
	}
	return v / u.factor
}

// unknownUnit says that a word is no unit, and which one was probably meant.
func unknownUnit(whole, word string) *ParseError {
	known := []string{"square", "cubic"}
	for name := range units {
		known = append(known, name)
	}
	e := &ParseError{Text: whole, Message: fmt.Sprintf("%q is not a known unit", word)}
	if meant := Suggest(word, known); meant != "" && len(word) > 1 {
		e.Hint = fmt.Sprintf("did you mean %q?", meant)
	}
	return e
}
