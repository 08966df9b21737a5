package quantity

import (
	"fmt"
	"strings"
)

// units behind the prefixes of the trade.
const (
	rValueUnit        = "ft2*F*h/Btu"
	rValuePerInchUnit = "ft2*F*h/(Btu*in)"
	uFactorUnit       = "Btu/(h*ft2*F)"
	rsiUnit           = "m2*K/W"
)

// prefixed reads R-13, R-3.7/in, RSI-2.3 and U-0.06 and gives the amount and the unit that the prefix stands for.
func prefixed(s string) (amount, unitText string, ok bool) {
	for _, p := range [...]struct{ prefix, unit string }{{"RSI", rsiUnit}, {"R", rValueUnit}, {"U", uFactorUnit}} {
		if len(s) <= len(p.prefix) || !strings.EqualFold(s[:len(p.prefix)], p.prefix) {
			continue
		}
		amount = strings.TrimLeft(s[len(p.prefix):], " ")
		amount = strings.TrimPrefix(amount, "-")
		if amount == "" || !isDigit(amount[0]) && amount[0] != '.' {
			continue
		}
		for _, inch := range [...]string{"/in", "/inch"} {
			if before, found := strings.CutSuffix(amount, inch); found && p.prefix == "R" {
				return before, rValuePerInchUnit, true
			}
		}
		return amount, p.unit, true
	}
	return "", "", false
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
		if !d.fits(compound{first.unit, first.unit.weighed()}) {
			return 0, d.fail(s, d.mismatch(first.text, compound{first.unit, first.unit.weighed()}))
		}
		small := second.value.value * second.unit.factor
		if first.value.value < 0 || small < 0 || small >= first.unit.factor {
			return 0, d.fail(s, fmt.Sprintf("the part in %q must be from 0 to less than one %q", second.text, first.text))
		}
		return first.value.value*first.unit.factor + small, nil
	}
	return 0, d.fail(s, fmt.Sprintf("%q after %q is not a way to write one value", second.text, first.text))
}
