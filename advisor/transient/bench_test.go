package transient_test

import (
	"context"
	"math"
	"testing"

	"relath/advisor/transient"
)

// errors compares the contents of a run with those of a refined one: the largest
// error of a layer's mean over the run and of any of its hours, relative, over the
// layers of the wall but the insulation. Its few grams per m² hang on half a cell
// at the sheathing, so its largest error is given in kg/m².
func errors(r, refined *transient.Result) (mean, hour, insulated float64) {
	for i := range r.Layers {
		sum, sumRefined, worst, absolute := 0.0, 0.0, 0.0, 0.0
		for h, got := range r.Layers[i].Content {
			want := refined.Layers[i].Content[h]
			sum, sumRefined = sum+got, sumRefined+want
			worst = max(worst, math.Abs(got/want-1))
			absolute = max(absolute, math.Abs(got-want))
		}
		switch {
		case sumRefined == 0:
		case i == insulation:
			insulated = absolute
		default:
			mean = max(mean, math.Abs(sum/sumRefined-1))
			hour = max(hour, worst)
		}
	}
	return mean, hour, insulated
}

func refined(t failer, hours int) *transient.Result {
	t.Helper()
	in := wall(t, hours)
	in.Refine, in.Tolerance = 3, 1e-4
	return run(t, in)
}

// TestGridAndSteps: nothing that is reported hangs on the grid or the steps.
func TestGridAndSteps(t *testing.T) {
	const hours = 1500 // the leak is at hour 336
	want := refined(t, hours)
	for _, test := range []struct{ tolerance, mean, hour, insulated, temperature, humidity float64 }{
		{0.1, 0.01, 0.02, 1e-3, 0.8, 0.02},
		{transient.DefaultTolerance, 0.01, 0.015, 1e-3, 0.4, 0.01},
		{0.005, 0.01, 0.01, 1e-3, 0.2, 0.01},
	} {
		in := wall(t, hours)
		in.Tolerance = test.tolerance
		r := run(t, in)
		mean, hour, insulated := errors(r, want)
		if mean > test.mean || hour > test.hour || insulated > test.insulated {
			t.Errorf("tolerance %g: mean off by %.2g, an hour by %.2g, the insulation by %.2g kg/m²",
				test.tolerance, mean, hour, insulated)
		}
		for i := 1; i < len(r.Probes); i++ { // behind the veneer, whose face jumps with the rain
			for h := range hours {
				near(t, "temperature", r.Probes[i].Temperature[h], want.Probes[i].Temperature[h], test.temperature)
				near(t, "humidity", r.Probes[i].Humidity[h], want.Probes[i].Humidity[h], test.humidity)
			}
		}
	}
}

// BenchmarkYear runs the wall over a year at three tolerances and reports how far
// its contents are off those of the run with three times the cells and a
// tolerance of 1E−4.
func BenchmarkYear(b *testing.B) {
	want := refined(b, 8760)
	for _, test := range []struct {
		name      string
		tolerance float64
	}{{"mean", 0.1}, {"default", transient.DefaultTolerance}, {"hour", 0.005}} {
		b.Run(test.name, func(b *testing.B) {
			in := wall(b, 8760)
			in.Tolerance = test.tolerance
			m, err := transient.Compile(in)
			if err != nil {
				b.Fatal(err)
			}
			w := new(transient.Workspace)
			var r *transient.Result
			b.ReportAllocs()
			for b.Loop() {
				if r, err = m.Run(context.Background(), w); err != nil {
					b.Fatal(err)
				}
			}
			mean, hour, _ := errors(r, want)
			b.ReportMetric(100*mean, "%mean")
			b.ReportMetric(100*hour, "%hour")
			b.ReportMetric(float64(r.Effort.Iterations), "iterations")
		})
	}
}

// BenchmarkCells shows that the time grows with the cells.
func BenchmarkCells(b *testing.B) {
	for _, refine := range []int{1, 2, 4} {
		in := wall(b, 1000)
		in.Refine = refine
		m, err := transient.Compile(in)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(string(rune('0'+refine))+"x", func(b *testing.B) {
			w := new(transient.Workspace)
			for b.Loop() {
				if _, err := m.Run(context.Background(), w); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkCompile(b *testing.B) {
	in := wall(b, 8760)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := transient.Compile(in); err != nil {
			b.Fatal(err)
		}
	}
}
