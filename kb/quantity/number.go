package quantity

import (
	"math"
	"strconv"
	"strings"
)

// number is a number as written, before any unit.
type number struct {
	value    float64
	fraction bool   // written with a fraction bar: 7/16, 5-1/2
	whole    bool   // written with digits alone
	rest     string // the text that follows, without leading spaces
}

// scanNumber reads a number at the start of s: 19, 0.75, .5, 1e-10, 7/16, 5-1/2, 5 1/2, each with an optional minus.
func scanNumber(s string) (n number, problem string) {
	body, negative := strings.CutPrefix(s, "-")
	if startsFraction(body) {
		n, problem = scanFraction(body)
	} else if n, problem = scanDecimal(body); problem == "" && n.whole {
		n, problem = scanMixed(n)
	}
	if problem != "" {
		return number{}, problem
	}
	if negative {
		n.value = -n.value
	}
	return n, separatorProblem(n)
}

// startsFraction says whether s begins with digits, a bar and a digit.
func startsFraction(s string) bool {
	top := digits(s)
	return top > 0 && strings.HasPrefix(s[top:], "/") && digits(s[top+1:]) > 0
}

// scanMixed adds the fraction of 5-1/2 or 5 1/2 to a whole number that has been read.
func scanMixed(whole number) (number, string) {
	tail := strings.TrimLeft(strings.TrimPrefix(whole.rest, "-"), " ")
	if !startsFraction(tail) {
		return whole, ""
	}
	part, problem := scanFraction(tail)
	switch {
	case problem != "":
		return number{}, problem
	case part.value >= 1:
		return number{}, "the fraction after a whole number must be less than one"
	}
	part.value += whole.value
	return part, ""
}

// scanFraction reads 7/16.
func scanFraction(s string) (number, string) {
	top, problem := scanDecimal(s[:digits(s)])
	if problem != "" {
		return number{}, problem
	}
	s = s[digits(s)+1:]
	bottom, problem := scanDecimal(s[:digits(s)])
	if problem != "" {
		return number{}, problem
	}
	if bottom.value == 0 {
		return number{}, "the fraction has a zero below the bar"
	}
	return number{value: top.value / bottom.value, fraction: true, rest: strings.TrimLeft(s[digits(s):], " ")}, ""
}

// scanDecimal reads digits with an optional decimal part and an optional exponent.
func scanDecimal(s string) (number, string) {
	end := digits(s)
	whole := s[:end]
	if strings.HasPrefix(s[end:], ".") {
		decimals := digits(s[end+1:])
		if decimals == 0 {
			return number{}, "a number is missing or not complete"
		}
		end += 1 + decimals
	}
	switch {
	case end == 0:
		return number{}, "a number is missing"
	case len(whole) > 1 && whole[0] == '0':
		return number{}, "a number does not start with a zero before another digit"
	}
	mantissa := s[:end]
	end += exponent(s[end:])
	v, err := strconv.ParseFloat(s[:end], 64)
	if err != nil || math.IsInf(v, 0) {
		return number{}, "the number is too large"
	}
	if v == 0 && strings.ContainsAny(mantissa, "123456789") {
		return number{}, "the number is too close to zero"
	}
	return number{value: v, whole: end == len(whole), rest: strings.TrimLeft(s[end:], " ")}, ""
}

// exponent gives the length of e-10 or E+3 at the start of s.
func exponent(s string) int {
	if s == "" || s[0] != 'e' && s[0] != 'E' {
		return 0
	}
	sign := 1
	if strings.HasPrefix(s[1:], "-") || strings.HasPrefix(s[1:], "+") {
		sign = 2
	}
	n := digits(s[sign:])
	if n == 0 {
		return 0
	}
	return sign + n
}

// separatorProblem refuses what follows a number only by mistake.
func separatorProblem(n number) string {
	if n.rest == "" {
		return ""
	}
	switch {
	case n.rest[0] == ',' && digits(n.rest[1:]) == 3:
		return "a thousands separator is not allowed; write 1200, not 1,200"
	case n.rest[0] == ',':
		return "a comma is not allowed in a number; write 0.5, not 0,5"
	case n.rest[0] == '_':
		return "an underscore is not allowed in a number"
	case n.rest[0] == '.':
		return "a number has one decimal point"
	}
	return ""
}
