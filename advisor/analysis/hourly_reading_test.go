package analysis

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"relath/kb"
)

// readWall is a wall with one reading in its sheathing.
func readWall(t *testing.T, base *kb.Base, percent float64, month int) *Result {
	t.Helper()
	wall := strings.Replace(openWall, "      - name: board", "      - {name: membrane, material: variable-retarder-polyamide, sealed: yes}\n      - name: board", 1)
	r := analyzed(t, base, wallText("des-moines-ia", wall)+fmt.Sprintf("    readings: [{layer: sheathing, wood-moisture: %.1f %%, date: 2026-%02d-14}]\n", percent, month))
	if err := AddHourly(context.Background(), base, Hourly{}, r); err != nil {
		t.Fatal(err)
	}
	return r
}

// TestHourlyReading: the moisture that the hours give for the month of a reading
// is, at the middle of the sheathing, near what all of it holds in that month by
// the books of the solver: the mean of the daily water by mass, within a tenth
// because a middle is no mean. The run begins in October. A reading off the range
// by more than the error of the meter is wetter or drier.
func TestHourlyReading(t *testing.T) {
	base := loadBase(t)
	var means [2]float64
	const sheathing = 3
	for i, month := range []int{1, 7} {
		r := readWall(t, base, 12, month)
		l := r.Variants[0].Layers[sheathing]
		density, _ := l.Part.Material.Density()
		first := map[int]int{1: 31 + 30 + 31, 7: 31 + 30 + 31 + 31 + 28 + 31 + 30 + 31 + 30}[month]
		for _, water := range r.Hourly.Detail.Parts[sheathing].Content[first : first+31] {
			means[i] += water / l.Part.Depth / density.Best / 31
		}
		e := l.Facts["wood-moisture-month"]
		const tenth = 0.1
		if !e.Known || math.Abs(e.Range.Best-means[i]) > tenth*means[i] || e.Range.Low > e.Range.Best || e.Range.High < e.Range.Best {
			t.Errorf("month %d: %+v, the sheathing holds %.4f", month, e.Range, means[i])
		}
		if month > 1 {
			continue
		}
		const meter, off = 2, 0.2 // percent
		for reading, word := range map[float64]string{
			100*e.Range.High + meter + off: "wetter", 100*e.Range.High + meter - off: "as-computed", 100*e.Range.Low - meter - off: "drier",
		} {
			again := readWall(t, base, reading, month).Variants[0].Layers
			if got := again[sheathing].Facts["wood-reading-hourly"].Words; len(got) != 1 || got[0] != word {
				t.Errorf("%.1f %% read: %v, want %s", reading, got, word)
			}
			if got := again[0].Facts["wood-reading-hourly"].Words; len(got) != 1 || got[0] != "none" {
				t.Errorf("another layer has a reading: %v", got)
			}
		}
	}
	if means[0] < means[1]*1.1 {
		t.Errorf("January %.4f, July %.4f: too near each other to tell the months apart", means[0], means[1])
	}
}
