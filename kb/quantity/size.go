package quantity

import (
	"fmt"
	"strconv"
	"strings"
)

// dressed gives the actual width in inches of dry dressed boards and dimension lumber for each nominal inch: American
// Softwood Lumber Standard PS 20, recalled. Thicknesses from 2 on follow the same numbers.
var dressed = map[int]float64{1: 0.75, 2: 1.5, 3: 2.5, 4: 3.5, 6: 5.5, 8: 7.25, 10: 9.25, 12: 11.25}

// thickest is the nominal thickness from which lumber is timber, with other sizes.
const thickest = 4

// ParseSize reads a cross section in meters: nominal lumber such as 2x6, which is 1-1/2 in by 5-1/2 in, or two lengths
// with units such as 9/16 in x 5-1/4 in. It returns a [*ParseError] as [Parse] does.
func ParseSize(text string) (thickness, width float64, err error) {
	const hint = "write a size like 2x6 or 9/16 in x 5-1/4 in"
	s, problem := clean(text)
	if problem != "" {
		return 0, 0, &ParseError{Text: text, Message: problem, Hint: hint}
	}
	a, b, ok := cutSize(s)
	if !ok {
		return 0, 0, &ParseError{Text: text, Message: "a size has two parts with an x between", Hint: hint}
	}
	if digits(a) == len(a) && digits(b) == len(b) {
		return nominal(text, a, b)
	}
	if n, problem := scanNumber(a); problem == "" && n.rest == "" {
		if m, problem := scanNumber(b); problem == "" {
			a += " " + m.rest
		}
	}
	if thickness, err = Parse(a, Length); err != nil {
		return 0, 0, err
	}
	if width, err = Parse(b, Length); err != nil {
		return 0, 0, err
	}
	return thickness, width, nil
}

// cutSize parts a size at its x, or at the sign for times, which reads as a star.
func cutSize(s string) (a, b string, ok bool) {
	for _, separator := range [...]string{"x", "X", "*", " by "} {
		if a, b, ok = strings.Cut(s, separator); ok {
			a, b = strings.TrimSpace(a), strings.TrimSpace(b)
			return a, b, a != "" && b != ""
		}
	}
	return "", "", false
}

// nominal gives the actual size of nominal lumber.
func nominal(text, a, b string) (thickness, width float64, err error) {
	first, errA := strconv.Atoi(a)
	second, errB := strconv.Atoi(b)
	t, okT := dressed[first]
	w, okW := dressed[second]
	if errA != nil || errB != nil || !okT || !okW || first > second || first > thickest {
		return 0, 0, &ParseError{
			Text:    text,
			Message: fmt.Sprintf("%sx%s is not a nominal size of lumber", a, b),
			Hint:    "write the smaller number first, 1 to 4 by 2 to 12 as in 2x6, or two lengths with units",
		}
	}
	return t * inch, w * inch, nil
}
