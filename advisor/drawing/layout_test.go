package drawing_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"relath/advisor/drawing"
)

// Things in a column keep their order and never touch; where there is room all
// stay within; whoever can have his wish has it.
func TestSpread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 40).Draw(t, "n")
		want, heights := make([]float64, n), make([]float64, n)
		sum := 0.0
		for i := range n {
			want[i] = rapid.Float64Range(0, 200).Draw(t, "want")
			heights[i] = rapid.Float64Range(1, 20).Draw(t, "height")
			sum += heights[i] + 2
		}
		got := drawing.Spread(want, heights, 2, 10, 10+sum)
		for i := range got {
			if i > 0 && got[i]-got[i-1] < (heights[i]+heights[i-1])/2+2-1e-9 {
				t.Fatalf("%d and %d overlap: %v", i-1, i, got)
			}
			if got[i]-heights[i]/2 < 10-1e-9 || got[i]+heights[i]/2 > 10+sum+1e-9 {
				t.Fatalf("%d is outside: %v", i, got)
			}
		}
	})
	got := drawing.Spread([]float64{5, 40}, []float64{4, 4}, 1, 0, 100)
	if got[0] != 5 || got[1] != 40 {
		t.Errorf("nobody is in the way, but %v", got)
	}
	// Two that want the same place stand about it evenly.
	got = drawing.Spread([]float64{50, 50}, []float64{4, 4}, 2, 0, 100)
	if got[0] != 47 || got[1] != 53 {
		t.Errorf("got %v, want 47 and 53", got)
	}
}

func TestFit(t *testing.T) {
	r := drawing.NewRuler()
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`([a-zé×]{1,30} ){0,12}`).Draw(t, "text")
		width := rapid.Float64Range(10, 60).Draw(t, "width")
		lines := r.Fit(text, 3, width, false)
		for _, l := range lines {
			if r.Width(l, 3, false) > width {
				t.Fatalf("%q is longer than %g", l, width)
			}
		}
		if got := strings.Join(strings.Fields(strings.Join(lines, "")), ""); got != strings.Join(strings.Fields(text), "") {
			t.Fatalf("letters are lost: %q of %q", got, text)
		}
	})
}

// The advance of a digit of the Go regular font is 1139 of 2048 units, as its
// table of horizontal metrics holds.
func TestRuler(t *testing.T) {
	r := drawing.NewRuler()
	if got, want := r.Width("0000", 2048, false), 4*1139.0; math.Abs(got-want) > 4 {
		t.Errorf("four digits are %g wide, want %g", got, want)
	}
	if r.Width("wide", 3, true) <= r.Width("wide", 3, false) {
		t.Error("bold is not wider")
	}
}

// A hatch stays in its box, is the same twice, and none is empty.
func TestHatchesStayInside(t *testing.T) {
	patterns := []drawing.Pattern{
		drawing.Diagonal, drawing.Pairs, drawing.Rubble, drawing.Dense, drawing.Dots, drawing.Sparse, drawing.Aggregate,
		drawing.Gravel, drawing.Earth, drawing.EndGrain, drawing.LongGrain, drawing.Plies, drawing.Strands, drawing.Fibers,
		drawing.Particles, drawing.Straw, drawing.Wave, drawing.Loose, drawing.Cross, drawing.Pile, drawing.Filled,
	}
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(patterns).Draw(t, "pattern")
		b := drawing.Box{X0: 10, Y0: 20}
		b.X1 = b.X0 + rapid.Float64Range(0.9, 60).Draw(t, "width")
		b.Y1 = b.Y0 + rapid.Float64Range(0.9, 60).Draw(t, "height")
		upright := rapid.Bool().Draw(t, "upright")
		items := drawing.Hatch(k, b, upright)
		if len(items) == 0 && b.X1-b.X0 > 6 && b.Y1-b.Y0 > 6 {
			t.Fatalf("%s is empty", k)
		}
		const rounded = 0.006
		for _, it := range items {
			for _, p := range it.Path.Points {
				if p.X < b.X0-rounded || p.X > b.X1+rounded || p.Y < b.Y0-rounded || p.Y > b.Y1+rounded {
					t.Fatalf("%s leaves its box at %v", k, p)
				}
			}
		}
	})
	if items := drawing.Hatch(drawing.Blank, drawing.Box{X1: 9, Y1: 9}, true); len(items) != 0 {
		t.Error("air is hatched")
	}
}
