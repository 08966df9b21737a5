package quantity

import (
	"fmt"
	"math"
	"strings"
)

// compound is a unit built from named ones. weighed says that a mass took part, even if it canceled: a permeability
// in kg/(s m Pa) reduces to a time, and that is how it is told from one.
type compound struct {
	unit
	weighed bool
}

// weighed says whether a mass is part of the unit; in a perm it has canceled.
func (u unit) weighed() bool { return u.of.mass != 0 || u.of == ofPermeance }

// parseUnit reads a unit: a name, or names with powers, products and quotients, as in ng/(Pa s m2), ft2*F*h/Btu, W/mK.
// Everything after a bar, up to the next bar, is below it: W/m K is W/(m K), which is how the field writes.
func parseUnit(text string) (compound, *ParseError) {
	if u, ok := unitNamed(text); ok {
		return compound{u, u.weighed()}, nil
	}
	product := compound{unit: unit{factor: 1}}
	for i, part := range strings.Split(text, "/") {
		part = strings.TrimSpace(part)
		if i == 0 && (part == "" || part == "1") {
			continue
		}
		inner, ok := brackets(part)
		if !ok {
			return compound{}, unknownUnit(text, part)
		}
		power := 1
		if i > 0 {
			power = -1
		}
		var err *ParseError
		if product, err = multiply(product, inner, power, text); err != nil {
			return compound{}, err
		}
	}
	return product, nil
}

// brackets takes one pair of round brackets from around a product, and refuses any other.
func brackets(part string) (string, bool) {
	if strings.HasPrefix(part, "(") && strings.HasSuffix(part, ")") {
		part = part[1 : len(part)-1]
	}
	return part, part != "" && !strings.ContainsAny(part, "()")
}

// multiply brings each factor of a product such as "Pa s m2" into c, above (power 1) or below (power -1) the bar.
func multiply(c compound, product string, power int, whole string) (compound, *ParseError) {
	words := factors(product)
	if len(words) == 0 {
		return compound{}, unknownUnit(whole, product)
	}
	for i := 0; i < len(words); i++ {
		word, square := words[i], 1
		if n := areaWord(word); n > 0 && i+1 < len(words) {
			i++
			word, square = words[i], n
		} else if i+1 < len(words) {
			if _, ok := unitNamed(word + " " + words[i+1]); ok {
				i++
				word += " " + words[i]
			}
		}
		parts, ok := factor(word)
		if !ok {
			return compound{}, unknownUnit(whole, word)
		}
		for _, p := range parts {
			if c, ok = c.times(p.unit, p.twice*power*square); !ok {
				return compound{}, &ParseError{Text: whole, Message: fmt.Sprintf("%q raises a unit to a power that no unit here has", whole)}
			}
		}
	}
	return c, nil
}

// areaWord gives the power that "sq" and "cu" put on the next word, and 0 for any other word.
func areaWord(word string) int {
	switch strings.ToLower(word) {
	case "sq", "sq.", "square":
		return 2
	case "cu", "cu.", "cubic":
		return 3
	}
	return 0
}

// factors splits a product at spaces, stars and the hyphens between two names: "perm-in", "Pa*s*m2".
func factors(product string) []string {
	var b strings.Builder
	for i := 0; i < len(product); i++ {
		c := product[i]
		if c == '*' || c == '-' && i+1 < len(product) && !isDigit(product[i+1]) {
			c = ' '
		}
		b.WriteByte(c)
	}
	return strings.Fields(b.String())
}

// power is a unit with twice its exponent.
type power struct {
	unit  unit
	twice int
}

// factor reads one word of a product: a name with an optional exponent (m2, s^0.5, m-2), or short SI names without
// a space between (mK, m2K).
func factor(word string) ([]power, bool) {
	if u, ok := unitNamed(word); ok {
		return []power{{u, 2}}, true
	}
	var all []power
	for word != "" {
		name := len(word) - len(strings.TrimLeftFunc(word, func(r rune) bool { return !strings.ContainsRune("0123456789.^-", r) }))
		twice, used, ok := exponentOf(word[name:])
		if !ok || name == 0 {
			return nil, false
		}
		parts, ok := names(word[:name])
		if !ok {
			return nil, false
		}
		parts[len(parts)-1].twice = twice
		all = append(all, parts...)
		word = word[name+used:]
	}
	return all, len(all) > 0
}

// exponentOf reads 2, ^2, 0.5 or -1 at the start of s and gives twice its value; no exponent counts as 1.
func exponentOf(s string) (twice, used int, ok bool) {
	if s == "" {
		return 2, 0, true
	}
	rest := strings.TrimPrefix(s, "^")
	sign := 1
	if r, negative := strings.CutPrefix(rest, "-"); negative {
		rest, sign = r, -1
	}
	switch {
	case strings.HasPrefix(rest, "0.5"):
		return sign, len(s) - len(rest) + 3, true
	case digits(rest) == 1 && rest[0] != '0':
		return sign * 2 * int(rest[0]-'0'), len(s) - len(rest) + 1, true
	}
	return 0, 0, false
}

// names splits letters into unit names: one name of the table, or short SI names written together as in W/mK.
func names(letters string) ([]power, bool) {
	if u, ok := unitNamed(letters); ok {
		return []power{{u, 2}}, true
	}
	var all []power
	for letters != "" {
		name := ""
		for _, short := range [...]string{"kg", "Pa", "m", "s", "h", "d", "K"} {
			if strings.HasPrefix(letters, short) {
				name = short
				break
			}
		}
		if name == "" || len(all) == 4 {
			return nil, false
		}
		all = append(all, power{units[name], 2})
		letters = letters[len(name):]
	}
	return all, len(all) > 0
}

// times multiplies c by the power of a unit, given as twice the exponent.
func (c compound) times(u unit, twice int) (compound, bool) {
	of, ok := c.of.plus(u.of, twice)
	f := c.factor * math.Pow(u.factor, float64(twice)/2)
	return compound{
		unit:    unit{of: of, factor: f},
		weighed: c.weighed || u.weighed(),
	}, ok && f > 0 && !math.IsInf(f, 0)
}
