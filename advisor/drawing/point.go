package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// MarshalText writes a point as "x,y" in hundredths of a millimeter, so that
// the lines of a picture stay short where a picture is written as data.
func (p Point) MarshalText() ([]byte, error) {
	return []byte(number(p.X) + "," + number(p.Y)), nil
}

// UnmarshalText reads what MarshalText wrote.
func (p *Point) UnmarshalText(text []byte) error {
	a, b, ok := strings.Cut(string(text), ",")
	x, errX := strconv.ParseFloat(a, 64)
	y, errY := strconv.ParseFloat(b, 64)
	if !ok || errX != nil || errY != nil {
		return fmt.Errorf("point %q is not of the form x,y", text)
	}
	p.X, p.Y = x, y
	return nil
}

// number writes a length with at most two decimals.
func number(v float64) string {
	return strconv.FormatFloat(round(v), 'f', -1, 64)
}

// round keeps hundredths of a millimeter, finer than any printer draws.
func round(v float64) float64 {
	r := math.Round(v*100) / 100
	if r == 0 {
		return 0 // not minus zero
	}
	return r
}

// At makes a point in hundredths of a millimeter.
func At(x, y float64) Point { return Point{round(x), round(y)} }
