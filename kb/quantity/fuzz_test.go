package quantity

import (
	"errors"
	"math"
	"testing"
)

func FuzzParse(f *testing.F) {
	for i, text := range []string{
		"5-1/2 in", `2'-6 1/2"`, "R-13", "0.7 perm", "ng/(Pa s m2)", "35 %", "3-5 in", "[1, 2] %", "2x6", "1e-10 kg/(m s Pa)",
		"√", "1/", "-", "5 m^-", "'", "°", "5 sq", "1/2/3", "½½", "R--1", "1 % RH RH", "5 s0.5", "1e", "((", "0x1p-2 m", "\xff",
	} {
		f.Add(text, i)
	}
	all := Dimensions()
	f.Fuzz(func(t *testing.T, text string, i int) {
		d := all[int(uint(i)%uint(len(all)))]
		v, err := Parse(text, d)
		sound(t, text, d, err, v)
		if r, err := ParseRange(text, d); err == nil {
			sound(t, text, d, nil, r.Low, r.Best, r.High)
			if r.Low > r.Best || r.Best > r.High {
				t.Errorf("%q as %s is the range %v", text, d, r)
			}
		} else {
			sound(t, text, d, err)
		}
		list, err := ParseList(text, d)
		sound(t, text, d, err, list...)
		a, b, err := ParseSize(text)
		sound(t, text, Length, err, a, b)
	})
}

// sound checks that an outcome is either an error with a message or values within the limits of the dimension.
func sound(t *testing.T, text string, d Dimension, err error, values ...float64) {
	t.Helper()
	var p *ParseError
	if err != nil {
		if !errors.As(err, &p) || p.Message == "" {
			t.Errorf("%q as %s: error %v says nothing", text, d, err)
		}
		return
	}
	def, _ := d.define()
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) || v < def.low || v > def.top {
			t.Errorf("%q as %s is %g", text, d, v)
		}
	}
}
