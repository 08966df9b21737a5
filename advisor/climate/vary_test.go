package climate

import (
	"math"
	"slices"
	"strings"
	"testing"
)

func TestWetterYear(t *testing.T) {
	y := generated(t, inventedPlace())
	wetter := y.Wetter()
	for i := range y.Hours {
		a, b := &y.Hours[i], &wetter.Hours[i]
		want := min(1, a.RelativeHumidity()+0.05)
		if a.Temperature != b.Temperature || math.Abs(b.RelativeHumidity()-want) > 1e-12 {
			t.Fatalf("%s: %g instead of %g", stamp(i), b.RelativeHumidity(), want)
		}
	}
	if len(wetter.Notes) != len(y.Notes)+1 {
		t.Error("the wetter year does not say that it is")
	}
}

func TestColderYear(t *testing.T) {
	y := generated(t, inventedPlace())
	colder := y.Colder()
	for i := range y.Hours {
		a, b := &y.Hours[i], &colder.Hours[i]
		if math.Abs(a.Temperature-2-b.Temperature) > 1e-12 || math.Abs(b.RelativeHumidity()-a.RelativeHumidity()) > 1e-12 {
			t.Fatalf("%s: %g °C at %g from %g °C at %g", stamp(i), b.Temperature, b.RelativeHumidity(),
				a.Temperature, a.RelativeHumidity())
		}
		if b.VaporPressure >= a.VaporPressure || a.Global != b.Global || a.Rain != b.Rain {
			t.Fatalf("%s: %+v from %+v", stamp(i), b, a)
		}
	}
}

func TestVariantsLeaveTheYearAlone(t *testing.T) {
	y, untouched := generated(t, inventedPlace()), generated(t, inventedPlace())
	y.Wetter()
	y.Colder()
	y.ScaleRain([12]float64{})
	if !slices.EqualFunc(y.Hours, untouched.Hours, sameHour) || !slices.Equal(y.Notes, untouched.Notes) {
		t.Error("a variant changed the year that it was made from")
	}
}

// sameHour compares two hours bit by bit, an unknown wind direction too.
func sameHour(a, b Hour) bool {
	bothUnknown := math.IsNaN(a.WindDirection) && math.IsNaN(b.WindDirection)
	if bothUnknown {
		a.WindDirection, b.WindDirection = 0, 0
	}
	return a == b
}

func TestScaleRain(t *testing.T) {
	y := generated(t, inventedPlace())
	for i := range y.Hours {
		y.Hours[i].Rain += y.Hours[i].Snow
	}
	var amounts [12]float64
	for m := range amounts {
		amounts[m] = 40 + float64(m)
	}
	scaled := y.ScaleRain(amounts)
	for m, amount := range amounts {
		if got := scaled.MonthStatistics(m).Rain; math.Abs(got-amount) > 1e-9 {
			t.Errorf("month %d has %g, not %g kg/m²", m+1, got, amount)
		}
	}
	for i := range y.month(3) {
		y.month(3)[i].Rain = 0
	}
	scaled = y.ScaleRain(amounts)
	if scaled.MonthStatistics(3).Rain != 0 || !strings.Contains(strings.Join(scaled.Notes, "\n"), "month 4 has no hour with rain") {
		t.Errorf("a month without rain is not reported: %q", scaled.Notes)
	}
}
