package report

import (
	"strings"
	"testing"

	"relath/advisor/analysis"
	"relath/kb/quantity"
)

// wetWall is a wall that is back to normal after so many days, 0 for never.
func wetWall(name string, days float64) beside {
	s := analysis.Span{Applies: true, Time: quantity.Exact(365 * 86400)}
	if days > 0 {
		s.Best, s.Time = true, quantity.Exact(days*86400)
	}
	return beside{name, &analysis.LeakResult{Cases: []analysis.LeakCase{{
		On: analysis.LeakDay{Month: 1, Day: 15}, Dry: s, Supplied: quantity.Exact(2), Kept: quantity.Exact(1), Residual: quantity.Exact(0.1),
		Spots: []analysis.LeakSpot{{Limit: 3, With: quantity.Exact(days / 10)}},
	}}}}
}

// The fastest wall comes first, one that is not dry within the year last, and it is
// first whenever it leaks only where it is dry within the year.
func TestLeakAnswer(t *testing.T) {
	never, slow, fast := wetWall("never", 0), wetWall("slow", 100), wetWall("fast", 10)
	dry := func(c *analysis.LeakCase) analysis.Span { return c.Dry }
	if got, want := ranked([]beside{never, slow, fast}, dry, 0), "fast after 10 days, slow after 100 days, never not within a year"; got != want {
		t.Errorf("%q, not %q", got, want)
	}
	if got := everFirst([]beside{never, slow, fast}); !strings.HasPrefix(got, "Fast ") {
		t.Errorf("first is %q", got)
	}
	if got := everFirst([]beside{never, never}); got != "" {
		t.Errorf("%q although none is dry within the year", got)
	}
	if got := takenWords([]beside{fast}, 0); !strings.Contains(got, "fast takes up 50 %") || !strings.Contains(got, "still has 10 %") {
		t.Error(got)
	}
	for i := range slow.of.Cases[0].Spots {
		slow.of.Cases[0].Spots[i].With = quantity.Exact(0)
	}
	if got := moldAnswer([]beside{slow, never}, 0); got != "The mold index stays at nothing." {
		t.Error(got)
	}
}
