package quantity

import (
	"fmt"
	"strings"
)

// prefix is a letter of the trade before a number, with the unit that it stands for.
type prefix struct {
	letters, unit, name string
}

// prefixes in the order in which they are tried.
var prefixes = [...]prefix{
	{"RSI", "m2*K/W", "an RSI-value"},
	{"R", "ft2*F*h/Btu", "an R-value"},
	{"U", "Btu/(h*ft2*F)", "a U-factor"},
}

// rPerInch is R-3.7/in.
var rPerInch = prefix{"R", "ft2*F*h/(Btu*in)", "an R-value per inch"}

// prefixedText is a number that follows a prefix.
type prefixedText struct {
	prefix
	amount string
}

// prefixed splits R-13, R-3.7/in, RSI-2.3 and U-0.06.
func prefixed(s string) (prefixedText, bool) {
	for _, p := range prefixes {
		if len(s) <= len(p.letters) || !strings.EqualFold(s[:len(p.letters)], p.letters) {
			continue
		}
		amount := strings.TrimPrefix(strings.TrimLeft(s[len(p.letters):], " "), "-")
		if amount == "" || !isDigit(amount[0]) && amount[0] != '.' {
			continue
		}
		for _, inch := range [...]string{"/in", "/inch"} {
			if before, found := strings.CutSuffix(amount, inch); found && p.letters == "R" {
				return prefixedText{rPerInch, before}, true
			}
		}
		return prefixedText{p, amount}, true
	}
	return prefixedText{}, false
}

// prefixedValue reads the number behind a prefix.
func (d dimension) prefixedValue(s string, p prefixedText) (float64, *ParseError) {
	n, problem := scanNumber(p.amount)
	switch {
	case problem != "":
		return 0, d.fail(s, problem)
	case n.rest != "":
		return 0, d.fail(s, fmt.Sprintf("%q after %s is not understood", n.rest, p.name))
	}
	u, err := parseUnit(p.unit)
	if err != nil || !d.fits(u) {
		return 0, d.fail(s, fmt.Sprintf("%s is not %s", p.name, d.phrase()))
	}
	return d.toSI(n.value, u.unit), nil
}

// pairs lists the units that are written one after the other, larger first: 2 ft 6 in, 3 lb 4 oz, 1 day 12 h.
var pairs = [...]struct{ large, small string }{
	{"ft", "in"},
	{"lb", "oz"},
	{"day", "h"},
	{"h", "min"},
	{"min", "s"},
}

// part is a number with its unit.
type part struct {
	text  string
	value number
	unit  unit
}

// pair splits a text such as 2 ft 6 in, 2'-6" or 1 day 12 h into its two parts.
func pair(s string) (first, second part, ok bool) {
	n, problem := scanNumber(s)
	if problem != "" || n.fraction {
		return part{}, part{}, false
	}
	end := 0
	for end < len(n.rest) && (isLetter(n.rest[end]) || n.rest[end] == '\'') {
		end++
	}
	large := n.rest[:end]
	rest := strings.TrimLeft(strings.TrimPrefix(strings.TrimLeft(n.rest[end:], " ."), "-"), " ")
	m, problem := scanNumber(rest)
	if end == 0 || problem != "" || m.rest == "" {
		return part{}, part{}, false
	}
	u, known := unitNamed(large)
	v, alsoKnown := unitNamed(m.rest)
	if !known || !alsoKnown || u.of != v.of {
		return part{}, part{}, false
	}
	return part{large, n, u}, part{m.rest, m, v}, true
}

// sum adds the two parts of a pair.
func (d dimension) sum(s string, first, second part) (float64, *ParseError) {
	for _, p := range pairs {
		if first.unit != units[p.large] || second.unit != units[p.small] {
			continue
		}
		if u := (compound{first.unit, first.unit.weighed()}); !d.fits(u) {
			return 0, d.fail(s, d.mismatch(first.text, u))
		}
		small := second.value.value * second.unit.factor
		if first.value.value < 0 || small < 0 || small >= first.unit.factor {
			return 0, d.fail(s, fmt.Sprintf("the part in %q must be from 0 to less than one %q", second.text, first.text))
		}
		return first.value.value*first.unit.factor + small, nil
	}
	return 0, d.fail(s, fmt.Sprintf("%q after %q is not a way to write one value", second.text, first.text))
}
