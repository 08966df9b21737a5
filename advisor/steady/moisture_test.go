package steady

import (
	"math"
	"testing"

	"relath/advisor/internal/checks"
	"relath/advisor/moistair"
)

// example8 is the wall of ASHRAE Handbook—Fundamentals 2021, ch. 27, Example 8.
func example8() *Input {
	return ashraeInput(
		Layer{R: 0.08, Permeance: constant(290 * nanogram)},
		Layer{R: 1.90, Permeance: constant(1700 * nanogram)},
		Layer{R: 0.11, Permeance: constant(29 * nanogram)},
		Layer{R: 0.18, Permeance: constant(2010 * nanogram)},
	)
}

// example9 is the wall of Example 9; its sheathing is soaked between planes 3
// and 4.
func example9() *Input {
	return ashraeInput(
		Layer{R: 0.079, Permeance: constant(290 * nanogram)},
		Layer{R: 0, Permeance: constant(0.435 * nanogram)},
		Layer{R: 1.900, Permeance: constant(1700 * nanogram)},
		Layer{R: 0.055, Permeance: constant(29 * nanogram)},
		Layer{R: 1.000, Permeance: constant(72.5 * nanogram)},
		Layer{R: 0.010, Permeance: constant(185 * nanogram)},
	)
}

func winter() Month { return steadyMonth(21, 0.40, -6.6, 0.50) }
func summer() Month { return steadyMonth(25, 0.70, 23, 0.70) }

func TestExample8Profile(t *testing.T) {
	for _, name := range []string{"steady-example8.csv", "steady-example8-printed.csv"} {
		f := checks.Open(t, name)
		in := ashraeInput()
		for _, row := range f.Rows() {
			if row.Has("r_m2k_w") {
				permeance := constant(row.Float("permeance_ng") * nanogram)
				in.Layers = append(in.Layers, Layer{R: row.Float("r_m2k_w"), Permeance: permeance})
			}
		}
		var w Workspace
		profile := must[Profile](t)(w.Profile(in, winter()))
		for _, row := range f.Rows() {
			k := int(row.Float("plane"))
			f.Check(t, row, "t_c", profile.Temperature[k])
			f.Check(t, row, "psat_pa", profile.Saturation[k])
			f.Check(t, row, "p_pa", profile.Pressure[k])
		}
	}
}

func TestPinned(t *testing.T) {
	type pinned struct {
		in           *Input
		month        Month
		inner, outer int
	}
	cases := map[string]pinned{
		"example-8":        {example8(), winter(), 2, 2},
		"example-9-winter": {example9(), winter(), 3, 4},
		"example-9-summer": {example9(), summer(), 3, 4},
	}
	for _, name := range []string{"steady-pinned.csv", "steady-pinned-printed.csv"} {
		f := checks.Open(t, name)
		for _, row := range f.Rows() {
			c := cases[row.Text("case")]
			var w Workspace
			flow := must[Pinned](t)(w.Pin(c.in, c.month, c.inner, c.outer))
			in, out := flow.Arrive[c.inner], flow.Leave[c.outer]
			f.Check(t, row, "in_ng", in/nanogram)
			f.Check(t, row, "out_ng", out/nanogram)
			f.Check(t, row, "gain_ng", (in-out)/nanogram)
			f.Check(t, row, "gain_30_days_g_m2", (in-out)*c.month.seconds()*1000)
			// Here no other plane is above saturation, so the drying capacity is
			// the same flow.
			inward, outward, err := w.DryingCapacity(c.in, c.month, c.inner, c.outer)
			if err != nil {
				t.Fatal(err)
			}
			equal(t, "arriving outward", outward.Arriving, out, 1e-9*math.Abs(out))
			equal(t, "arriving inward", inward.Arriving, -in, 1e-9*math.Abs(in))
		}
	}
}

func TestExample9Faces(t *testing.T) {
	f := checks.Open(t, "steady-example9-faces.csv")
	months := map[string]Month{"winter": winter(), "summer": summer()}
	for _, row := range f.Rows() {
		var w Workspace
		profile := must[Profile](t)(w.Profile(example9(), months[row.Text("season")]))
		f.Check(t, row, "t_inner_c", profile.Temperature[3])
		f.Check(t, row, "t_outer_c", profile.Temperature[4])
		f.Check(t, row, "psat_inner_pa", profile.Saturation[3])
		f.Check(t, row, "psat_outer_pa", profile.Saturation[4])
	}
}

// onePlane is a wall that condenses between insulation and sheathing; factors
// scale the equivalent air layers inside and outside of the insulation.
func onePlane(inside, outside float64) *Input {
	return isoInput(syntheticClimate(540),
		airLayer(0.06, 0.5*inside), airLayer(3.5, 0.14),
		airLayer(0.09, 2.0*outside), airLayer(0.10, 0.2*outside))
}

func TestMonthlyOnePlane(t *testing.T) {
	f := checks.Open(t, "steady-monthly-one-plane.csv")
	in := onePlane(1, 1)
	var years, profiles, pins Workspace
	year := must[*Year](t)(years.Year(in))
	for _, row := range f.Rows() {
		m := int(row.Float("month")) - 1
		month := in.Months[m]
		f.Check(t, row, "gain_g_m2", 1000*year.Gain[m][2])
		f.Check(t, row, "water_g_m2", 1000*year.Water[m][2])
		if row.Has("pe_pa") {
			profile := must[Profile](t)(profiles.Profile(in, month))
			f.Check(t, row, "pe_pa", month.OutdoorP)
			f.Check(t, row, "pi_pa", month.IndoorP)
			f.Check(t, row, "t_c", profile.Temperature[2])
			f.Check(t, row, "psat_pa", profile.Saturation[2])
		}
		if row.Has("rate") {
			f.Check(t, row, "rate", must[Pinned](t)(pins.Pin(in, month, 2)).Gain(2))
		}
	}
	if year.Start != 10 || year.PeakMonth != 2 || year.PeakPlane != 2 || year.CarryOver != 0 {
		t.Errorf("start %d, peak month %d, peak plane %d, carry-over %g; want 10, 2, 2, 0",
			year.Start, year.PeakMonth, year.PeakPlane, year.CarryOver)
	}
	// Dry in October: p is 947.1 Pa, below saturation (same source).
	profile := must[Profile](t)(profiles.Profile(in, in.Months[9]))
	equal(t, "October pressure", profile.Pressure[2], 947.1, 0.051)
}

// twoPlanes is a wall that condenses at planes 2 and 4.
func twoPlanes() *Input {
	return isoInput(syntheticClimate(810),
		airLayer(0.06, 0.20), airLayer(1.0, 0.05), airLayer(0.10, 1.5),
		airLayer(0.80, 0.05), airLayer(0.03, 2.0))
}

func TestMonthlyTwoPlanes(t *testing.T) {
	f := checks.Open(t, "steady-monthly-two-planes.csv")
	in := twoPlanes()
	var years, profiles Workspace
	year := must[*Year](t)(years.Year(in))
	for _, row := range f.Rows() {
		m := int(row.Float("month")) - 1
		profile := must[Profile](t)(profiles.Profile(in, in.Months[m]))
		f.Check(t, row, "t2_c", profile.Temperature[2])
		f.Check(t, row, "t4_c", profile.Temperature[4])
		f.Check(t, row, "psat2_pa", profile.Saturation[2])
		f.Check(t, row, "psat4_pa", profile.Saturation[4])
		f.Check(t, row, "gain2_g_m2", 1000*year.Gain[m][2])
		f.Check(t, row, "gain4_g_m2", 1000*year.Gain[m][4])
		f.Check(t, row, "water2_g_m2", 1000*year.Water[m][2])
		f.Check(t, row, "water4_g_m2", 1000*year.Water[m][4])
	}
	if year.CarryOver != 0 {
		t.Errorf("carry-over is %g, not 0", year.CarryOver)
	}
}

func TestMonthlyCorners(t *testing.T) {
	f := checks.Open(t, "steady-monthly-corners.csv")
	for _, row := range f.Rows() {
		var w Workspace
		in := onePlane(row.Float("inside_factor"), row.Float("outside_factor"))
		f.Check(t, row, "peak_g_m2", 1000*must[*Year](t)(w.Year(in)).Peak)
	}
}

func TestBlockClimate(t *testing.T) {
	f := checks.Open(t, "steady-block-climate.csv")
	in := onePlane(1, 1)
	in.Inside.R = MoldFilm // as the rule has it
	for _, row := range f.Rows() {
		te := row.Float("te_c")
		month := Month{
			Days: row.Float("days"), IndoorT: 20, OutdoorT: te,
			IndoorP:  0.5 * moistair.SaturationPressureISO(20),
			OutdoorP: 0.8 * moistair.SaturationPressureISO(te),
		}
		var w Workspace
		profile := must[Profile](t)(w.Profile(in, month))
		f.Check(t, row, "pe_pa", month.OutdoorP)
		f.Check(t, row, "pi_pa", month.IndoorP)
		f.Check(t, row, "t_c", profile.Temperature[2])
		f.Check(t, row, "psat_pa", profile.Saturation[2])
		rate := must[Pinned](t)(w.Pin(in, month, 2)).Gain(2)
		f.Check(t, row, "rate", rate)
		f.Check(t, row, "gain_g_m2", 1000*rate*month.seconds())
	}
}

func TestBlockDrying(t *testing.T) {
	f := checks.Open(t, "steady-block-drying.csv")
	in := onePlane(1, 1)
	for _, row := range f.Rows() {
		// The rule states the pressure of the plane, so both sides have its
		// saturation temperature here.
		temperature := moistair.DewPointISO(row.Float("p_plane_pa"))
		month := Month{
			Days: row.Float("days"), IndoorT: temperature, OutdoorT: temperature,
			IndoorP: row.Float("p_air_pa"), OutdoorP: row.Float("p_air_pa"),
		}
		var w Workspace
		rate := -must[Pinned](t)(w.Pin(in, month, 2)).Gain(2)
		f.Check(t, row, "rate", rate)
		f.Check(t, row, "loss_g_m2", 1000*rate*month.seconds())
	}
}

// Typical layers: two coats of alkyd paint 3 m together, cement plaster μ 25,
// expanded polystyrene μ 40, concrete μ 100, acrylic paint 0.5 m.
func TestOrderOfMagnitude(t *testing.T) {
	f := checks.Open(t, "steady-order-of-magnitude.csv")
	for _, row := range f.Rows() {
		in := isoInput(syntheticClimate(0),
			airLayer(0, 3), airLayer(0.02, 0.5), airLayer(2.6, 4), airLayer(0.10, 16),
			airLayer(0.025, 0.6), airLayer(0, 0.5))
		month := steadyMonth(row.Float("ti_c"), row.Float("rhi"), row.Float("te_c"), row.Float("rhe"))
		var w Workspace
		gain := must[Pinned](t)(w.Pin(in, month, 3)).Gain(3)
		f.Check(t, row, "log10_g_m2h", math.Log10(gain*1000*3600))
	}
}

func TestDryingCapacity(t *testing.T) {
	f := checks.Open(t, "steady-drying-capacity.csv")
	in := &Input{
		Inside:     Film{R: 0.12, VaporResistance: 1 / (160 * perm)},
		Outside:    Film{R: 0.03, VaporResistance: 1 / (1000 * perm)},
		Saturation: ISO13788, Months: syntheticClimate(0),
		Layers: []Layer{
			{R: 0.08, Permeance: constant(40 * perm)},
			{R: 2.3, Permeance: constant(30 * perm)},
			{R: 0.11, Permeance: constant(0.7 * perm)},
			{R: 0.10, Permeance: constant(40 * perm)},
		},
	}
	month := Month{
		Days: 31, IndoorT: 20, IndoorP: 0.35 * moistair.SaturationPressureISO(20),
		OutdoorT: -6.3, OutdoorP: 304,
	}
	for _, row := range f.Rows() {
		var w Workspace
		naive := must[Pinned](t)(w.Pin(in, month, 1)).Leave[1]
		f.Check(t, row, "naive_g_m2_day", naive*perDay)
		_, outward, err := w.DryingCapacity(in, month, 1, 1)
		if err != nil {
			t.Fatal(err)
		}
		f.Check(t, row, "leaving_g_m2_day", outward.Leaving*perDay)
		f.Check(t, row, "arriving_g_m2_day", outward.Arriving*perDay)
		if outward.Plane != 2 {
			t.Errorf("the rest lands on plane %d, not 2", outward.Plane)
		}
		equal(t, "landing", outward.Landing, outward.Leaving-outward.Arriving, 1e-9*outward.Leaving)
	}
}
