package steady

import "testing"

// benchmarkInput is a wall of ten layers in a cold climate whose sheathing gets
// wet in winter and dries in summer.
func benchmarkInput(curves bool) *Input {
	perms := func(n float64) Curve { return constant(n * perm) }
	in := &Input{
		Inside:  Film{R: 0.12, VaporResistance: 1 / InsideFilmPermeance},
		Outside: Film{R: 0.03, VaporResistance: 1 / OutsideFilmPermeance},
		Months:  syntheticClimate(810),
		Layers: []Layer{
			{Permeance: perms(8)},
			{Permeance: perms(8)},
			{R: 0.08, Permeance: perms(50)},
			{Permeance: perms(12)},
			{R: 3.35, Permeance: perms(30)},
			{R: 0.11, Permeance: perms(1)},
			{Permeance: perms(20)},
			{R: 0.17, Permeance: perms(120), Vent: 4e-9},
			{R: 0.11, Permeance: perms(1)},
			{Permeance: perms(8)},
		},
	}
	if curves {
		in.Layers[3].Permeance = Curve{{0.3, 53e-12}, {0.5, 240e-12}, {0.7, 610e-12}, {0.9, 2000e-12}}
		in.Layers[5].Permeance = Curve{{0.1, 2.4e-12}, {0.3, 56e-12}, {0.5, 110e-12}, {0.7, 210e-12}, {0.9, 380e-12}}
		in.Layers[6].Permeance = perms(0.5)
	}
	return in
}

func benchmarkYear(b *testing.B, in *Input, wet bool) {
	var w Workspace
	y, err := w.Year(in)
	if err != nil {
		b.Fatal(err)
	}
	if y.Wet != wet {
		b.Fatalf("condensation is %v, not %v", y.Wet, wet)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := w.Year(in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkYear(b *testing.B) {
	b.Run("wet", func(b *testing.B) { benchmarkYear(b, benchmarkInput(false), true) })
	b.Run("wet-unsliced", func(b *testing.B) {
		in := benchmarkInput(false)
		in.Unsliced = true
		benchmarkYear(b, in, true)
	})
	b.Run("wet-curves", func(b *testing.B) { benchmarkYear(b, benchmarkInput(true), true) })
	b.Run("wet-iso", func(b *testing.B) {
		in := benchmarkInput(false)
		in.Saturation = ISO13788
		benchmarkYear(b, in, true)
	})
	b.Run("dry", func(b *testing.B) {
		in := benchmarkInput(false)
		in.Layers[3].Permeance = Curve{{RH: 0.5, Permeance: 3e-12}}
		benchmarkYear(b, in, false)
	})
}

func BenchmarkDryingYear(b *testing.B) {
	in := benchmarkInput(false)
	var w Workspace
	b.ReportAllocs()
	for b.Loop() {
		if _, err := w.DryingYear(in, 5, 6); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkParallelPath(b *testing.B) {
	c := Conduction{Inside: 0.12, Outside: 0.03, Layers: []ThermalLayer{
		{R: 0.08}, {R: 2.30, FramingR: 0.77, FramingShare: 0.25}, {R: 0.70}, {R: 0.11},
	}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := c.ParallelPath(); err != nil {
			b.Fatal(err)
		}
	}
}
