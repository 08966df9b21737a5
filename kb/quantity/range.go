package quantity

import (
	"fmt"
	"math"
	"strings"
)

// Range is a value with its credible bounds, in the SI unit of its dimension: Low <= Best <= High, all finite.
type Range struct {
	Low, Best, High float64
}

// NewRange makes a range. It is an error when a bound is not finite or the three are out of order.
func NewRange(low, best, high float64) (Range, error) {
	for _, v := range [...]float64{low, best, high} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return Range{}, fmt.Errorf("range %g, %g, %g: every bound must be finite", low, best, high)
		}
	}
	if low > best || best > high {
		return Range{}, fmt.Errorf("range %g, %g, %g: the order must be low, best, high", low, best, high)
	}
	return Range{low, best, high}, nil
}

// Exact is the range of a value without spread.
func Exact(v float64) Range { return Range{v, v, v} }

// IsExact says whether the range has no spread.
func (r Range) IsExact() bool { return r.Low == r.High }

// Contains says whether v lies in the range, bounds included.
func (r Range) Contains(v float64) bool { return r.Low <= v && v <= r.High }

// Scale multiplies the range by a factor; a negative factor swaps the bounds.
func (r Range) Scale(f float64) Range {
	s := Range{r.Low * f, r.Best * f, r.High * f}
	if f < 0 {
		s.Low, s.High = s.High, s.Low
	}
	return s
}

// Union is the smallest range that holds both; it keeps the best value of r.
func (r Range) Union(o Range) Range {
	return Range{math.Min(r.Low, o.Low), r.Best, math.Max(r.High, o.High)}
}

// ParseRange reads "0.7 to 0.8 perm", "3-5 in", "[0.7, 0.8] perm" or a single value. Best is the middle of the two
// bounds, for callers that know no better value.
func ParseRange(text string, d Dimension) (Range, error) {
	s, problem := clean(text)
	if problem == "" {
		if strings.HasPrefix(s, "[") {
			return parseBounds(text, d)
		}
		if low, high, ok := splitRange(s); ok {
			return boundsOf(text, low, high, d)
		}
	}
	v, err := Parse(text, d)
	if err != nil {
		return Range{}, err
	}
	return Exact(v), nil
}

// parseBounds reads a list of exactly two values as a range.
func parseBounds(text string, d Dimension) (Range, error) {
	list, err := ParseList(text, d)
	if err != nil {
		return Range{}, err
	}
	if len(list) != 2 {
		return Range{}, &ParseError{Text: text, Message: "a range has two values, low and high"}
	}
	return between(text, list[0], list[1])
}

// between makes the range of two bounds with its middle as the best value.
func between(text string, low, high float64) (Range, error) {
	if low > high {
		return Range{}, &ParseError{Text: text, Message: "the low end of a range comes first"}
	}
	return Range{low, low + (high-low)/2, high}, nil
}

// splitRange finds the two ends of a cleaned text.
func splitRange(s string) (low, high string, ok bool) {
	for _, separator := range [...]string{" to ", " - "} {
		if low, high, ok = strings.Cut(s, separator); ok {
			return strings.TrimSpace(low), strings.TrimSpace(high), true
		}
	}
	n, problem := scanNumber(s)
	if problem != "" || len(n.rest) < 2 || n.rest[0] != '-' || !isDigit(n.rest[1]) && n.rest[1] != '.' {
		return "", "", false
	}
	return strings.TrimSpace(s[:len(s)-len(n.rest)]), n.rest[1:], true
}

// boundsOf reads the two ends; a low end without a unit takes the unit of the high end.
func boundsOf(text, low, high string, d Dimension) (Range, error) {
	if n, problem := scanNumber(low); problem == "" && n.rest == "" {
		if m, problem := scanNumber(high); problem == "" && m.rest != "" {
			low += " " + m.rest
		}
	}
	from, err := Parse(low, d)
	if err != nil {
		return Range{}, err
	}
	to, err := Parse(high, d)
	if err != nil {
		return Range{}, err
	}
	return between(text, from, to)
}

// ParseList reads several values with one unit after them: "10, 30, 50 %", "110 210 400 ng/(Pa s m2)", each with or
// without square brackets around the numbers. Fractions are not read in a list.
func ParseList(text string, d Dimension) ([]float64, error) {
	def, ok := d.define()
	if !ok {
		return nil, &ParseError{Text: text, Message: fmt.Sprintf("%q is not a dimension", string(d))}
	}
	s, problem := clean(text)
	if problem != "" {
		return nil, def.fail(text, problem)
	}
	numbers, unitText, problem := scanList(s)
	if problem != "" {
		return nil, def.fail(text, problem)
	}
	if unitText == "" && !def.plain {
		return nil, def.fail(text, "a unit is missing")
	}
	for i, v := range numbers {
		si, err := FromUnit(v, unitText, d)
		if err != nil {
			return nil, err
		}
		numbers[i] = si
	}
	return numbers, nil
}

// scanList reads decimal numbers with commas or spaces between, and gives the text after them.
func scanList(s string) (numbers []float64, rest, problem string) {
	s, bracket := strings.CutPrefix(s, "[")
	for {
		s = strings.TrimLeft(s, " ")
		body, negative := strings.CutPrefix(s, "-")
		n, problem := scanDecimal(body)
		if problem != "" {
			return nil, "", problem
		}
		if negative {
			n.value = -n.value
		}
		numbers = append(numbers, n.value)
		s = n.rest
		if after, comma := strings.CutPrefix(s, ","); comma {
			s = after
			continue
		}
		if s == "" || !isDigit(s[0]) && s[0] != '-' && s[0] != '.' {
			break
		}
	}
	if bracket {
		after, closed := strings.CutPrefix(s, "]")
		if !closed {
			return nil, "", "the closing bracket of a list is missing"
		}
		s = after
	}
	return numbers, strings.TrimSpace(s), ""
}
