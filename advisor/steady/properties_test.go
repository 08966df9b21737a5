package steady

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"relath/advisor/moistair"
)

// Water gained is vapor that came in less vapor that went out, in each month,
// to 1e-9 of what moved.
func TestMassBalance(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 5))
	var w Workspace
	wet := 0
	for i := range 3000 {
		in := extremeInput(rng)
		year := must[*Year](t)(w.Year(in))
		if year.Wet {
			wet++
		}
		for m := range 12 {
			gain := 0.0
			for _, g := range year.Gain[m] {
				gain += g
			}
			scale := math.Abs(year.Inflow[m]) + math.Abs(year.Outflow[m]) + year.Total(m)
			if !(math.Abs(gain-(year.Inflow[m]-year.Outflow[m])) <= 1e-9*scale) {
				t.Fatalf("assembly %d, month %d: gain %g, in %g, out %g: %+v",
					i, m+1, gain, year.Inflow[m], year.Outflow[m], in)
			}
		}
	}
	if wet < 500 {
		t.Errorf("only %d assemblies are wet", wet)
	}
}

// No plane exceeds saturation, no dry plane gives off water, and flows are
// those of the pressures.
func TestComplementarity(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 7))
	var w Workspace
	for i := range 3000 {
		in := extremeInput(rng)
		w.load(in, true)
		w.sat = resized(w.sat, len(w.planes))
		w.saturate(&in.Months[0], w.sat)
		w.setMonth(&in.Months[0], w.sat)
		for k := range w.planes {
			if rng.IntN(8) == 0 && w.net.canTouch(k) {
				w.net.hold(k)
			}
		}
		w.net.settle()
		for k := range w.planes {
			gain := w.net.gain(k)
			switch {
			case w.net.canTouch(k) && w.net.p[k] > w.sat[k]*(1+1e-9):
				t.Fatalf("assembly %d: plane %d is above saturation", i, k)
			case w.net.held[k] && w.net.p[k] != w.sat[k]:
				t.Fatalf("assembly %d: wet plane %d is not at saturation", i, k)
			case !w.net.held[k] && gain < 0:
				t.Fatalf("assembly %d: dry plane %d gives off water", i, k)
			}
		}
		for k, z := range w.net.z {
			drop := w.net.p[k] - w.net.p[k+1]
			equal(t, "flow times resistance", w.net.flow[k+1]*z, drop, 1e-9*(w.net.p[k]+w.net.p[k+1]))
		}
	}
}

// mirror turns assembly and climate around. Vents lead outdoors only, so there
// are none.
func mirror(in *Input) *Input {
	out := *in
	out.Layers = slices.Clone(in.Layers)
	slices.Reverse(out.Layers)
	out.Inside, out.Outside = in.Outside, in.Inside
	for i, m := range in.Months {
		out.Months[i] = Month{
			Days: m.Days, IndoorT: m.OutdoorT, IndoorP: m.OutdoorP,
			OutdoorT: m.IndoorT, OutdoorP: m.IndoorP,
		}
	}
	return &out
}

func TestMirror(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 9))
	var here, there Workspace
	for range 500 {
		in := isoInput(randomClimate(rng), randomLayers(rng, 0.01, 50)...)
		in.Unsliced = false
		if rng.IntN(2) == 0 {
			addCurve(rng, in.Layers)
		}
		back := mirror(in)
		a := must[Profile](t)(here.Profile(in, in.Months[0]))
		b := must[Profile](t)(there.Profile(back, back.Months[0]))
		n := len(in.Layers)
		for k := range n + 1 {
			equal(t, "mirrored temperature", b.Temperature[n-k], a.Temperature[k], 1e-9)
			equal(t, "mirrored pressure", b.Pressure[n-k], a.Pressure[k], 1e-7)
		}
		yearA, yearB := must[*Year](t)(here.Year(in)), must[*Year](t)(there.Year(back))
		last := len(yearA.Planes) - 1
		for m := range 12 {
			for k := range yearA.Planes {
				equal(t, "mirrored water", yearB.Water[m][last-k], yearA.Water[m][k], 1e-8)
			}
		}
	}
}

// split returns in with layer i as two halves.
func split(in *Input, i int) *Input {
	out := *in
	half := in.Layers[i]
	half.R /= 2
	half.Permeance = constant(2 * half.Permeance[0].Permeance)
	inner := half
	inner.Vent = 0
	out.Layers = slices.Concat(in.Layers[:i:i], []Layer{inner, half}, in.Layers[i+1:])
	return &out
}

func TestSplitLayer(t *testing.T) {
	rng := rand.New(rand.NewPCG(10, 11))
	var whole, parts Workspace
	for range 500 {
		in := randomInput(rng)
		in.Unsliced = false
		i := rng.IntN(len(in.Layers))
		// A sheet, or a layer whose slices are those of its halves. A sheet at a
		// surface without a vapor film is none: water is not looked for on that
		// surface, but it is between the halves, which are as cold.
		in.Layers[i].R = 0.5 * float64(rng.IntN(4))
		if in.Inside.VaporResistance == 0 && (i == 0 || i == len(in.Layers)-1) {
			in.Layers[i].R = 0.5
		}
		halves := split(in, i)
		a := must[Profile](t)(whole.Profile(in, in.Months[0]))
		b := must[Profile](t)(parts.Profile(halves, in.Months[0]))
		for k := range a.Pressure {
			at := k
			if k > i {
				at++
			}
			equal(t, "pressure", b.Pressure[at], a.Pressure[k], 1e-9*a.Pressure[k])
			equal(t, "temperature", b.Temperature[at], a.Temperature[k], 1e-9)
		}
		yearA, yearB := must[*Year](t)(whole.Year(in)), must[*Year](t)(parts.Year(halves))
		equal(t, "peak", yearB.Peak, yearA.Peak, 1e-8)
		equal(t, "carry-over", yearB.CarryOver, yearA.CarryOver, 1e-8)
	}
}

// A layer in series never lets more vapor through and never lowers the
// resistance of a way.
func TestSeriesNeverLowers(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 13))
	var w Workspace
	for range 500 {
		in := randomInput(rng)
		month := in.Months[0]
		flow := must[Profile](t)(w.Profile(in, month)).Inflow
		way := must[Path](t)(w.DryingPath(in, month, 0, Outward)).Resistance
		more := *in
		at := rng.IntN(len(in.Layers) + 1)
		more.Layers = slices.Insert(slices.Clone(in.Layers), at, airLayer(0, 2*rng.Float64()+0.01))
		after := must[Profile](t)(w.Profile(&more, month)).Inflow
		if math.Abs(after) > math.Abs(flow)*(1+1e-12) {
			t.Fatalf("flow grows from %g to %g with a sheet at %d: %+v", flow, after, at, in)
		}
		if r := must[Path](t)(w.DryingPath(&more, month, 0, Outward)).Resistance; r < way*(1-1e-12) {
			t.Fatalf("resistance falls from %g to %g with a sheet at %d: %+v", way, r, at, in)
		}
	}
}

// A workspace gives the same bytes after it has served other inputs.
func TestWorkspaceReuse(t *testing.T) {
	rng := rand.New(rand.NewPCG(14, 15))
	var used Workspace
	for range 300 {
		in := extremeInput(rng)
		var fresh Workspace
		a, b := must[*Year](t)(used.Year(in)), must[*Year](t)(fresh.Year(in))
		for m := range 12 {
			if !slices.Equal(a.Water[m], b.Water[m]) || !slices.Equal(a.Gain[m], b.Gain[m]) {
				t.Fatalf("a used workspace differs for %+v", in)
			}
		}
		if a.Inflow != b.Inflow || a.Outflow != b.Outflow || a.Peak != b.Peak || a.PeakPlane != b.PeakPlane {
			t.Fatalf("a used workspace differs for %+v", in)
		}
		if _, err := used.DryingYear(in, 1, 1); err != nil {
			t.Fatal(err)
		}
	}
}

// Several planes together dry as each does by itself, to the last digit.
func TestDryingCapacities(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 17))
	var w, alone Workspace
	for range 300 {
		in := extremeInput(rng)
		var planes []int
		for j := 1; j < len(in.Layers); j++ {
			planes = append(planes, j)
		}
		met := 0
		err := w.DryingCapacities(in, planes, func(j int, a *Arriving) {
			met++
			want := must[DryingYear](t)(alone.DryingYear(in, j, j))
			for m := range 12 {
				if a.Inward[m] != want.Inward[m].Arriving || a.Outward[m] != want.Outward[m].Arriving {
					t.Fatalf("plane %d differs for %+v", j, in)
				}
			}
		})
		if err != nil || met != len(planes) {
			t.Fatalf("%d of %d planes, %v", met, len(planes), err)
		}
	}
}

func TestNoAllocation(t *testing.T) {
	in := benchmarkInput(true)
	var w Workspace
	allocations := testing.AllocsPerRun(20, func() {
		if _, err := w.Year(in); err != nil {
			t.Fatal(err)
		}
		if _, err := w.DryingYear(in, 5, 6); err != nil {
			t.Fatal(err)
		}
		if _, err := w.DryingPath(in, in.Months[0], 5, Outward); err != nil {
			t.Fatal(err)
		}
	})
	if allocations != 0 {
		t.Errorf("%g allocations, want none", allocations)
	}
}

// The table stays close to the formulas it stands for.
func TestSaturationTable(t *testing.T) {
	formulas := map[Saturation]func(float64) float64{
		ASHRAE: moistair.SaturationPressure, ISO13788: moistair.SaturationPressureISO,
	}
	for s, formula := range formulas {
		table := newSaturationTable(s)
		for i := range 190001 {
			temperature := MinTemperature + float64(i)*0.001
			allowed := 3e-8
			if temperature > -40 {
				allowed = 7e-9 // the jump of the ASHRAE formulas at the triple point is 6e-9
			}
			if off := math.Abs(table.pressure(temperature)/formula(temperature) - 1); !(off < allowed) {
				t.Fatalf("formula %d at %g °C is off by %g, allowed %g", s, temperature, off, allowed)
			}
		}
	}
}
