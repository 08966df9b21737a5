package transient

import (
	"context"
	"math"
	"testing"

	"relath/advisor/moistair"
	"relath/advisor/sorption"
)

// Orders are those observed when the step is halved; 0.2 below 2 is allowed.
const leastOrder = 1.8

// smooth is a slab with coupled, nonlinear transport in a swing of its air, with
// films and without a jump at the start.
func smooth(t *testing.T, cells, hours int) Input {
	t.Helper()
	f, err := sorption.New(sorption.Data{
		Density: 600, SpecificHeat: 1500, Conductivity: 0.12, ConductivitySupplement: 2,
		Isotherm:   sorption.Isotherm{W80: 90, FreeSaturation: 500},
		Absorption: 0.004, Vapor: sorption.Vapor{DryCup: 3e-12, WetCup: 2e-11},
	})
	if err != nil {
		t.Fatal(err)
	}
	table, err := f.Tabulate()
	if err != nil {
		t.Fatal(err)
	}
	const period = 48
	air := func(mean, swing, humidity float64) Surface {
		s := Surface{
			Temperature: make(Series, period), VaporPressure: make(Series, period),
			HeatTransfer: Constant(8), VaporTransfer: Constant(3e-8),
		}
		for k := range period {
			wave := 1 - math.Cos(2*math.Pi*float64(k)/period)
			s.Temperature[k] = mean + swing*wave
			s.VaporPressure[k] = (humidity + 0.1*wave) * moistair.SaturationPressure(mean)
		}
		return s
	}
	return Input{
		Layers: []Layer{{
			Thickness: 0.04, Material: table, Cells: cells, Temperature: 15, Humidity: 0.6,
		}},
		Outside: air(15, 6, 0.6), Inside: air(15, -4, 0.6), Hours: hours, Tolerance: 1e-6,
		Probes: []Position{{Face: Middle}},
	}
}

// withFixedSteps runs the hours with a fixed number of steps each and returns the
// states at the end.
func withFixedSteps(t *testing.T, in Input, parts int) []place {
	t.Helper()
	in.Tolerance = 1e-9 // for Newton's method; the local error is not looked at
	m, err := Compile(in)
	if err != nil {
		t.Fatal(err)
	}
	w := new(Workspace)
	w.prepare(m)
	for hour := range in.Hours {
		w.beginHour(hour)
		for k := range parts {
			if _, ok := w.attempt(secondsPerHour/float64(parts), float64(k+1)/float64(parts)); !ok {
				t.Fatalf("step %d of hour %d is not solved", k, hour)
			}
			w.accept(secondsPerHour / float64(parts))
		}
	}
	return append([]place(nil), w.past[0]...)
}

// distance is the largest difference of temperature and of the coordinate.
func distance(a, b []place) (t, x float64) {
	for i := range a {
		t, x = max(t, math.Abs(a[i].t-b[i].t)), max(x, math.Abs(a[i].x-b[i].x))
	}
	return t, x
}

func TestOrderInTime(t *testing.T) {
	in := smooth(t, 16, 60)
	exact := withFixedSteps(t, in, 128)
	var lastT, lastX float64
	for _, parts := range []int{1, 2, 4, 8} {
		errorT, errorX := distance(withFixedSteps(t, in, parts), exact)
		if lastT > 0 {
			checkOrder(t, "temperature in time", lastT, errorT)
			checkOrder(t, "moisture in time", lastX, errorX)
		}
		lastT, lastX = errorT, errorX
	}
}

func checkOrder(t *testing.T, what string, coarse, fine float64) {
	t.Helper()
	order := math.Log2(coarse / fine)
	t.Logf("%s: error %.3g after %.3g, order %.2f", what, fine, coarse, order)
	if !(order >= leastOrder) {
		t.Errorf("order of %s is %.2f, not 2", what, order)
	}
}

func TestOrderInSpace(t *testing.T) {
	const hours = 60
	last := func(cells int) (temperature, humidity, content float64) {
		m, err := Compile(smooth(t, cells, hours))
		if err != nil {
			t.Fatal(err)
		}
		r, err := m.Run(context.Background(), new(Workspace))
		if err != nil || r.Status != Finished {
			t.Fatal(err)
		}
		return r.Probes[0].Temperature[hours-1], r.Probes[0].Humidity[hours-1], r.Layers[0].Content[hours-1]
	}
	exactT, exactH, exactW := last(256)
	var lastT, lastH, lastW float64
	for _, cells := range []int{16, 32, 64} {
		temperature, humidity, content := last(cells)
		errorT, errorH, errorW := math.Abs(temperature-exactT), math.Abs(humidity-exactH), math.Abs(content-exactW)
		if lastT > 0 {
			checkOrder(t, "temperature in space", lastT, errorT)
			checkOrder(t, "humidity in space", lastH, errorH)
			checkOrder(t, "content in space", lastW, errorW)
		}
		lastT, lastH, lastW = errorT, errorH, errorW
	}
}

// TestToleranceBoundsTheError: a tenth of the tolerance leaves a smaller error.
func TestToleranceBoundsTheError(t *testing.T) {
	const hours = 60
	content := func(tolerance float64) float64 {
		in := smooth(t, 16, hours)
		in.Tolerance = tolerance
		m, err := Compile(in)
		if err != nil {
			t.Fatal(err)
		}
		r, err := m.Run(context.Background(), new(Workspace))
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("tolerance %g: %d steps", tolerance, r.Effort.Steps)
		return r.Layers[0].Content[hours-1]
	}
	exact := content(1e-7)
	for _, tolerance := range []float64{1e-3, 1e-4, 1e-5} {
		if e := math.Abs(content(tolerance)/exact - 1); e > tolerance {
			t.Errorf("error of the content at tolerance %g is %g", tolerance, e)
		}
	}
}
