package index_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"relath/index"
	"relath/kb/quantity"
)

// perm in kg/(s m2 Pa): NIST SP 811 (2008), Appendix B, gives 5.72135e-11 for
// the perm at 0 °C.
const perm = 5.72135e-11

func TestParseFilter(t *testing.T) {
	base := embedded(t)
	for _, c := range []struct {
		property, text string
		want           index.Filter
	}{
		{"", "permeance > 5 perm", index.Filter{Property: "permeance", Op: index.Over, Bound: 5 * perm, Written: "5 perm"}},
		{"permeance", ">5 perm", index.Filter{Property: "permeance", Op: index.Over, Bound: 5 * perm, Written: "5 perm"}},
		{"", "permeance>=1 perm wet", index.Filter{Property: "permeance", Op: index.AtLeast, Bound: perm, Written: "1 perm", Method: "wet-cup"}},
		{"", "permeance ≤ 0.1 perm dry cup", index.Filter{Property: "permeance", Op: index.AtMost, Bound: 0.1 * perm, Written: "0.1 perm", Method: "dry-cup"}},
		{"", "perm rating under 1 perm", index.Filter{Property: "permeance", Op: index.Under, Bound: perm, Written: "1 perm"}},
		{"", "vapor permeance at least 10 perms", index.Filter{Property: "permeance", Op: index.AtLeast, Bound: 10 * perm, Written: "10 perms"}},
		{"", "adhesive-share < 2 %", index.Filter{Property: "adhesive-share", Op: index.Under, Bound: 0.02, Written: "2 %"}},
		{"R-value", "over 0.5 m2K/W", index.Filter{Property: "thermal-resistance", Op: index.Over, Bound: 0.5, Written: "0.5 m2K/W"}},
		{"density", "at most 100 kg/m3", index.Filter{Property: "density", Op: index.AtMost, Bound: 100, Written: "100 kg/m3"}},
		{"", "equivalent-air-layer < 0.5 m", index.Filter{Property: "equivalent-air-layer", Op: index.Under, Bound: 0.5, Written: "0.5 m"}},
		{"mu", "<= 10", index.Filter{Property: "vapor-resistance-factor", Op: index.AtMost, Bound: 10, Written: "10"}},
	} {
		got, err := index.ParseFilter(base, c.property, c.text)
		if err != nil {
			t.Errorf("%q %q: %v", c.property, c.text, err)
			continue
		}
		if math.Abs(got.Bound-c.want.Bound) > 1e-4*c.want.Bound {
			t.Errorf("%q %q: bound %g, not %g", c.property, c.text, got.Bound, c.want.Bound)
		}
		got.Bound = c.want.Bound
		if got != c.want {
			t.Errorf("%q %q: %+v, not %+v", c.property, c.text, got, c.want)
		}
		again, err := index.ParseFilter(base, "", got.String())
		if err != nil || again.String() != got.String() {
			t.Errorf("%q is not read back: %v, %v", got, again, err)
		}
	}
}

func TestFilterErrors(t *testing.T) {
	base := embedded(t)
	for _, c := range []struct {
		property, text string
		column         int
		contains       string
	}{
		{"", "permance > 5 perm", 1, `did you mean "permeance"?`},
		{"", "  permance > 5 perm", 3, `"permance" is not a property`},
		{"", "> 5 perm", 1, "a property is missing"},
		{"", "permeance 5 perm", 1, "a comparison is missing"},
		{"", "", 1, "a comparison is missing"},
		{"", "permeance > 5", 13, "a unit is missing"},
		{"", "permeance > 5 in", 13, `"in" is a unit of length, not of permeance`},
		{"", "permeance >", 12, "a value is missing"},
		{"", "permeance > 5 purm", 13, `did you mean "perm"?`},
		{"", "permeance > -5 perm", 13, "negative"},
		{"", "permeance > 1 perm > 2 perm", 13, ""},
		{"permeance", "5 perm", 1, "a comparison is missing"},
		{"permeance", "permeance > 5 perm", 1, "a comparison comes first"},
		{"permance", ">5 perm", 1, `did you mean "permeance"?`},
		{"", "density > 100 kg/m3 wet", 11, "density has no dry or wet cup"},
		{"", "½ > 5 perm", 1, `"½" is not a property`},
		{"", "ééé permeance > 5 perm", 1, "is not a property"},
		{"", strings.Repeat("permeance ", 50) + "> 5 perm", 0, "no filter"},
		{"", "permeance > 5 perm\xff", 0, "no filter"},
	} {
		_, err := index.ParseFilter(base, c.property, c.text)
		var bad *index.InputError
		if !errors.As(err, &bad) {
			t.Errorf("%q %q: error %v", c.property, c.text, err)
			continue
		}
		if bad.Column != c.column || !strings.Contains(err.Error(), c.contains) {
			t.Errorf("%q %q: column %d, not %d: %v", c.property, c.text, bad.Column, c.column, err)
		}
	}
}

// A filter holds surely where it holds at every point of the range, possibly
// where it holds at some, and fails where it holds at none.
func TestOutcomeFollowsFromTheRange(t *testing.T) {
	base := embedded(t)
	ix := opened(t)
	checked := 0
	rapid.Check(t, func(r *rapid.T) {
		f := index.Filter{
			Property: rapid.SampledFrom([]string{"permeance", "density", "conductivity", "adhesive-share"}).Draw(r, "property"),
			Op:       rapid.SampledFrom([]index.Op{index.Over, index.AtLeast, index.Under, index.AtMost}).Draw(r, "op"),
		}
		m := base.Materials[rapid.IntRange(0, len(base.Materials)-1).Draw(r, "material")]
		w, ok := m.Working(f.Property, "", 0)
		if !ok {
			return
		}
		f.Bound = rapid.SampledFrom([]float64{w.SI.Low, w.SI.Best, w.SI.High, w.SI.Low * 0.9, w.SI.High * 1.1}).Draw(r, "bound")
		some, all := false, true
		for i := range 101 {
			v := w.SI.Low + (w.SI.High-w.SI.Low)*float64(i)/100
			if i == 100 {
				v = w.SI.High
			}
			holds := map[index.Op]bool{index.Over: v > f.Bound, index.AtLeast: v >= f.Bound, index.Under: v < f.Bound, index.AtMost: v <= f.Bound}[f.Op]
			some, all = some || holds, all && holds
		}
		found, err := ix.Search(index.Query{Filters: []index.Filter{f}})
		if err != nil {
			r.Fatal(err)
		}
		got := index.Fails
		for _, h := range found.Hits {
			if h.ID == m.ID {
				got = h.Checks[0].Outcome
			}
		}
		want := index.Fails
		switch {
		case all:
			want = index.Surely
		case some:
			want = index.Possibly
		}
		checked++
		if got != want {
			r.Fatalf("%s %s %s %g over %+v: %s, not %s", m.ID, f.Property, f.Op, f.Bound, w.SI, got, want)
		}
	})
	if checked == 0 {
		t.Fatal("no material had a value")
	}
}

// Whatever bytes come as a filter, there is a filter with a finite bound or an
// error that says where.
func FuzzParseFilter(f *testing.F) {
	base := embedded(f)
	for _, seed := range []string{
		"permeance > 5 perm", "permeance >= 1 perm wet", "R-value over R-13", "density at most 100 kg/m3", "permance>5", ">", "≥≤", "a > 1e999 perm",
		"permeance > 5-1/2 perm", "permeance < NaN perm", "permeance > 5 perm\xff\xfe", "at least ", " over  5 in",
	} {
		f.Add("", seed)
		f.Add("permeance", seed)
	}
	f.Fuzz(func(t *testing.T, property, text string) {
		got, err := index.ParseFilter(base, property, text)
		var bad *index.InputError
		switch {
		case err == nil:
			about := base.Property(got.Property)
			if about == nil || math.IsNaN(got.Bound) || math.IsInf(got.Bound, 0) {
				t.Fatalf("%q %q: %+v", property, text, got)
			}
			if _, err := quantity.Parse(got.Written, about.Dimension); err != nil {
				t.Fatalf("%q %q: bound %q: %v", property, text, got.Written, err)
			}
		case !errors.As(err, &bad):
			t.Fatalf("%q %q: error of another type: %v", property, text, err)
		case bad.Column > len([]rune(text))+1:
			t.Fatalf("%q %q: column %d", property, text, bad.Column)
		}
	})
}
