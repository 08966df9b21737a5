package quantity

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestNewRange(t *testing.T) {
	if r, err := NewRange(1, 2, 3); err != nil || r != (Range{1, 2, 3}) {
		t.Errorf("got %v, %v", r, err)
	}
	inf, nan := math.Inf(1), math.NaN()
	for _, c := range [][3]float64{{2, 1, 3}, {1, 3, 2}, {3, 2, 1}, {nan, 1, 2}, {1, nan, 2}, {1, 2, nan}, {-inf, 1, 2}, {1, 2, inf}} {
		if r, err := NewRange(c[0], c[1], c[2]); err == nil {
			t.Errorf("%v gives %v", c, r)
		}
	}
}

func anyRange(t *rapid.T, name string) Range {
	low := rapid.Float64Range(-1e6, 1e6).Draw(t, name+" low")
	best := low + rapid.Float64Range(0, 1e6).Draw(t, name+" to best")
	return Range{low, best, best + rapid.Float64Range(0, 1e6).Draw(t, name+" to high")}
}

func TestRangeProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, o := anyRange(t, "r"), anyRange(t, "o")
		f := rapid.Float64Range(-10, 10).Draw(t, "factor")
		u, s := r.Union(o), r.Scale(f)
		for _, v := range []float64{r.Low, r.Best, r.High, o.Low, o.Best, o.High} {
			if !u.Contains(v) {
				t.Errorf("the union %v misses %g", u, v)
			}
		}
		if u.Best != r.Best {
			t.Errorf("the union %v lost the best value of %v", u, r)
		}
		if s.Low > s.Best || s.Best > s.High {
			t.Errorf("%v times %g is out of order: %v", r, f, s)
		}
		if s.Best != r.Best*f {
			t.Errorf("%v times %g has the best value %g", r, f, s.Best)
		}
		if !r.Contains(r.Best) || r.Contains(math.Nextafter(r.High, math.Inf(1))) || r.Contains(math.Nextafter(r.Low, math.Inf(-1))) {
			t.Errorf("the bounds of %v do not hold", r)
		}
		if e := Exact(r.Best); !e.IsExact() || e.Best != r.Best || !e.Contains(r.Best) {
			t.Errorf("exact %g is %v", r.Best, e)
		}
	})
}
