package steady

import (
	"math"
	"testing"

	"relath/advisor/moistair"
)

func TestCurve(t *testing.T) {
	curve := Curve{{0.2, 1}, {0.4, 3}, {0.8, 11}}
	for rh, want := range map[float64]float64{0: 1, 0.2: 1, 0.3: 2, 0.4: 3, 0.6: 7, 0.8: 11, 1: 11} {
		equal(t, "permeance", curve.At(rh), want, 1e-12)
	}
	equal(t, "permeance of one point", constant(5).At(0.9), 5, 0)
}

// isothermal returns a month of 20 °C on both sides at two humidities.
func isothermal(rhi, rhe float64) Month { return steadyMonth(20, rhi, 20, rhe) }

// A sheet whose permeance is 1000·RH − 100 beside one of 200, 60 % against 20 %:
// at 50 % the first has 400, so the plane between has 46.67 %, the mean in the
// first is 53.33 % and its permeance 433.3; by hand.
func TestPermeanceIsReadTwice(t *testing.T) {
	in := &Input{
		Layers: []Layer{
			{R: 1, Permeance: Curve{{0.2, 100e-12}, {0.8, 700e-12}}}, {R: 1, Permeance: constant(200e-12)},
		},
		Months: syntheticClimate(0),
	}
	psat := moistair.SaturationPressure(20)
	var w Workspace
	flow := must[Profile](t)(w.Profile(in, isothermal(0.6, 0.2))).Inflow
	want := 0.4 * psat / (1/433.3333333333e-12 + 1/200e-12)
	equal(t, "flow", flow, want, 1e-8*want)
}

// With the plane behind it wet, the same sheet has a mean of 80 % and a
// permeance of 700.
func TestPermeanceBesideWetPlane(t *testing.T) {
	in := &Input{
		Layers: []Layer{
			{R: 1, Permeance: Curve{{0.2, 100e-12}, {0.8, 700e-12}}}, {R: 1, Permeance: constant(200e-12)},
		},
		Months: syntheticClimate(0),
	}
	psat := moistair.SaturationPressure(20)
	var w Workspace
	inward, outward, err := w.DryingCapacity(in, isothermal(0.6, 0.2), 1, 1)
	if err != nil {
		t.Fatal(err)
	}
	equal(t, "inward", inward.Arriving, 0.4*psat*700e-12, 1e-15)
	equal(t, "outward", outward.Arriving, 0.8*psat*200e-12, 1e-15)
	// The way of the vapor has the same permeance.
	path := must[Path](t)(w.DryingPath(in, isothermal(0.6, 0.2), 1, Inward))
	equal(t, "resistance inward", path.Resistance, 1/700e-12, 1)
}

// Where the month condenses, the humidities of the first pass are those with the
// plane at saturation: written out for the first wet month of the one-plane wall
// with a sheathing of 100 at 50 % and 400 at 100 %.
func TestPermeanceInCondensingMonth(t *testing.T) {
	in := onePlane(1, 1)
	curve := Curve{{0.5, 100e-12}, {1, 400e-12}}
	in.Layers[2].Permeance = curve
	var years, profiles Workspace
	year := must[*Year](t)(years.Year(in))
	november := in.Months[10]
	if year.Start != 10 {
		t.Fatalf("start is %d, want 10", year.Start)
	}
	sat := must[Profile](t)(profiles.Profile(in, november)).Saturation
	zInside, zCladding := 0.64/moistair.AirPermeabilityISO13788, 0.2/moistair.AirPermeabilityISO13788
	outer := november.OutdoorP + (sat[2]-november.OutdoorP)*zCladding/(1/100e-12+zCladding)
	zSheathing := 1 / curve.At((1+outer/sat[3])/2)
	gain := (november.IndoorP-sat[2])/zInside - (sat[2]-november.OutdoorP)/(zSheathing+zCladding)
	equal(t, "gain", year.Gain[10][2], gain*november.seconds(), 1e-9)
}

// Air above saturation counts as saturated: between 150 % and 20 % the mean in
// the sheet is 60 %, where it has 500; by hand.
func TestPermeanceInSupersaturatedAir(t *testing.T) {
	in := &Input{
		Layers: []Layer{{R: 1, Permeance: Curve{{0.2, 100e-12}, {0.8, 700e-12}}}},
		Months: syntheticClimate(0),
	}
	var w Workspace
	flow := must[Profile](t)(w.Profile(in, isothermal(1.5, 0.2))).Inflow
	want := 1.3 * moistair.SaturationPressure(20) * 500e-12
	equal(t, "flow", flow, want, 1e-8*want)
}

// In a year without condensation each month stands alone: its flow is that of
// its profile, whatever the months before it. A flat curve is a constant.
func TestPermeanceOfEachMonth(t *testing.T) {
	in := isoInput(syntheticClimate(200),
		airLayer(0.1, 1), Layer{R: 2, Permeance: Curve{{0.3, 20e-12}, {0.6, 400e-12}}}, airLayer(0.1, 0.2))
	in.Unsliced = false
	var years, profiles Workspace
	year := must[*Year](t)(years.Year(in))
	if year.Wet {
		t.Fatal("the wall gets wet")
	}
	for m, month := range in.Months {
		want := must[Profile](t)(profiles.Profile(in, month)).Inflow * month.seconds()
		equal(t, "inflow", year.Inflow[m], want, 1e-9*math.Abs(want)+1e-15)
	}
	plain, flat := onePlane(1, 1), onePlane(1, 1)
	plain.Unsliced, flat.Unsliced = false, false
	for i := range flat.Layers {
		w := flat.Layers[i].Permeance[0].Permeance
		flat.Layers[i].Permeance = Curve{{0.1, w}, {0.9, w}}
	}
	want := must[*Year](t)(years.Year(plain)).Peak
	equal(t, "peak with flat curves", must[*Year](t)(profiles.Year(flat)).Peak, want, 1e-12)
}

// Behind a cladding that lets nothing through, a vent in series with the sheet
// before the gap carries everything outdoors: 1/(1/W + 1/V).
func TestVentPastTightCladding(t *testing.T) {
	in := &Input{
		Layers: []Layer{
			{R: 1, Permeance: constant(300e-12)},
			{R: 0.1, Permeance: constant(1e-8), Vent: 900e-12},
			{R: 0.1, Permeance: constant(0)},
		},
		Months: syntheticClimate(0),
	}
	month := isothermal(0.6, 0.2)
	var w Workspace
	profile := must[Profile](t)(w.Profile(in, month))
	want := (month.IndoorP - month.OutdoorP) / (1/300e-12 + 1/1e-8 + 1/900e-12)
	equal(t, "inflow", profile.Inflow, want, 1e-5*want)
	equal(t, "outflow", profile.Outflow, want, 1e-5*want)

	path := must[Path](t)(w.DryingPath(in, month, 1, Outward))
	equal(t, "resistance", path.Resistance, 1/1e-8+1/900e-12, 1e-5*path.Resistance)
	_, outward, err := w.DryingCapacity(in, month, 1, 1)
	if err != nil {
		t.Fatal(err)
	}
	want = (moistair.SaturationPressure(20) - month.OutdoorP) / path.Resistance
	equal(t, "drying capacity", outward.Arriving, want, 1e-9*want)
}

// A slab that is dry at its faces can condense within: saturation pressure sags
// below the straight line of vapor pressure.
func TestSlicesFindCondensationInside(t *testing.T) {
	months := [12]Month{}
	for i := range months {
		months[i] = steadyMonth(20, 0.85, -10, 0.9)
	}
	in := isoInput(months, airLayer(4, 1))
	var w Workspace
	if must[*Year](t)(w.Year(in)).Wet {
		t.Error("condensation on a plane that does not exist")
	}
	in.Unsliced = false
	year := must[*Year](t)(w.Year(in))
	if !year.Wet || year.CarryOver == 0 {
		t.Error("no condensation inside the slab")
	}
	if len(year.Planes) != 17 || year.Planes[8] != (Plane{Layer: 0, Fraction: 0.5}) || year.Planes[16] != (Plane{Layer: 1}) {
		t.Errorf("planes are %v, want 16 slices", year.Planes)
	}
	// Every month condenses, so the balance starts in January and never dries.
	if year.Start != 0 || year.PeakMonth != 11 {
		t.Errorf("start %d, peak month %d; want 0, 11", year.Start, year.PeakMonth)
	}
}

func TestSliceCount(t *testing.T) {
	for r, want := range map[float64]int{0: 1, 0.1: 1, 0.25: 1, 0.26: 2, 0.3: 2, 0.5: 2, 0.75: 3, 3.5: 14, 3.51: 15} {
		if got := sliceCount(r); got != want {
			t.Errorf("a layer of %g has %d slices, want %d", r, got, want)
		}
	}
}

// Condensation from October to March and nothing to dry it: the balance starts
// in October and peaks in its last wet month, which the months after it keep.
func TestYearWithoutDrying(t *testing.T) {
	var months [12]Month
	for i := range months {
		months[i] = Month{Days: 30, IndoorT: 20, OutdoorT: 0, IndoorP: 1500, OutdoorP: 300}
		if i >= 3 && i <= 8 {
			months[i].IndoorP, months[i].OutdoorP = moistair.SaturationPressureISO(2.2), 650
		}
	}
	var w Workspace
	year := must[*Year](t)(w.Year(isoInput(months, airLayer(1, 1), airLayer(0.1, 100))))
	if year.Start != 9 || year.PeakMonth != 2 || year.CarryOver < 0.9*year.Peak || year.Peak == 0 {
		t.Errorf("start %d, peak %g in month %d, carry-over %g; want 9, 2 and most carried over",
			year.Start, year.Peak, year.PeakMonth, year.CarryOver)
	}
}

// Weak condensation in April and a long wet season from October to December:
// started in April the balance would end wet in March, yet September is dry, so
// it runs from October and dries within the year.
func TestYearStartsAfterDryMonth(t *testing.T) {
	wet, weak, dry, drier := 1500.0, 800.0, 690.0, 100.0
	indoor := [12]float64{dry, dry, dry, weak, drier, drier, drier, drier, drier, wet, wet, wet}
	var months [12]Month
	for i := range months {
		months[i] = Month{Days: 30, IndoorT: 20, OutdoorT: 0, IndoorP: indoor[i], OutdoorP: 300}
	}
	in := isoInput(months, airLayer(1, 1), airLayer(0.1, 10))
	var w Workspace
	year := must[*Year](t)(w.Year(in))
	if year.Start != 9 || year.CarryOver != 0 {
		t.Errorf("start %d, carry-over %g; want 9, 0", year.Start, year.CarryOver)
	}
	if year.Total(2) == 0 || year.Total(3) <= year.Total(2) || year.Total(8) != 0 {
		t.Errorf("water %g in March, %g in April, %g in September", year.Total(2), year.Total(3), year.Total(8))
	}
	// The months in which it is dry have the flow of the dry wall.
	flow := must[Profile](t)(w.Profile(in, months[8])).Inflow * months[8].seconds()
	year = must[*Year](t)(w.Year(in))
	equal(t, "flow in September", year.Inflow[8], flow, 1e-12)
	equal(t, "condensation", year.Condensation(1),
		year.Gain[9][1]+year.Gain[10][1]+year.Gain[11][1]+year.Gain[3][1], 1e-12)
}

// Shares of plain resistances in series: 1, 2 and 5 of 8 inward; the last layer
// and the film, 3 and 1 of 4, outward.
func TestDryingPath(t *testing.T) {
	in := &Input{
		Layers: []Layer{
			{R: 1, Permeance: constant(1e-9 / 2)}, {R: 1, Permeance: constant(1e-9 / 5)}, {R: 1, Permeance: constant(1e-9 / 3)},
		},
		Inside: Film{R: 0.1, VaporResistance: 1e9}, Outside: Film{R: 0.1, VaporResistance: 1e9},
		Months: syntheticClimate(0),
	}
	var w Workspace
	inward := must[Path](t)(w.DryingPath(in, in.Months[0], 2, Inward))
	equal(t, "resistance inward", inward.Resistance, 8e9, 1)
	for i, want := range []float64{2. / 8, 5. / 8, 0} {
		equal(t, "share inward", inward.Shares[i], want, 1e-12)
	}
	equal(t, "film inward", inward.Film, 1./8, 1e-12)
	if inward.Choke != 1 || inward.ChokeShare != 5./8 {
		t.Errorf("choke layer is %d with %g, want 1 with 0.625", inward.Choke, inward.ChokeShare)
	}
	outward := must[Path](t)(w.DryingPath(in, in.Months[0], 2, Outward))
	equal(t, "share outward", outward.Shares[2], 3./4, 1e-12)
	equal(t, "film outward", outward.Film, 1./4, 1e-12)

	// A vent of the resistance 4 behind the second layer halves what is outside
	// of it: 5 and 2, shared as 3 to 1.
	in.Layers[1].Vent = 1e-9 / 4
	vented := must[Path](t)(w.DryingPath(in, in.Months[0], 1, Outward))
	equal(t, "resistance with a vent", vented.Resistance, 7e9, 1)
	for i, want := range []float64{0, 5. / 7, 2. / 7 * 3 / 4} {
		equal(t, "share with a vent", vented.Shares[i], want, 1e-12)
	}
	equal(t, "film with a vent", vented.Film, 2./7/4, 1e-12)

	surface := must[Path](t)(w.DryingPath(onePlane(1, 1), in.Months[0], 0, Inward))
	if surface.Resistance != 0 || surface.Choke != -1 {
		t.Errorf("at the surface resistance %g and choke layer %d, want 0 and -1", surface.Resistance, surface.Choke)
	}
}

// Room air wets a cold plane: with 20 °C and 60 % against a wet plane below the
// dew point the capacity inward is negative, and beyond a wetter plane nothing
// of it arrives.
func TestDryingCapacityInward(t *testing.T) {
	in := onePlane(1, 1)
	var w Workspace
	winter := in.Months[0]
	inward, outward, err := w.DryingCapacity(in, winter, 2, 2)
	if err != nil {
		t.Fatal(err)
	}
	if outward.Landing != 0 || outward.Plane != -1 {
		t.Errorf("%g lands outward on plane %d, want none", outward.Landing, outward.Plane)
	}
	want := -(winter.IndoorP - must[Profile](t)(w.Profile(in, winter)).Saturation[2]) * moistair.AirPermeabilityISO13788 / 0.64
	equal(t, "inward", inward.Arriving, want, 1e-9*math.Abs(want))
	if inward.Landing != 0 || inward.Plane != -1 {
		t.Errorf("%g lands on plane %d, want none", inward.Landing, inward.Plane)
	}
	// In summer a wet outer plane sends vapor inward that lands on a cool sheet.
	cool := Month{Days: 30, IndoorT: 18, IndoorP: 1000, OutdoorT: 35, OutdoorP: 2500}
	tight := isoInput(syntheticClimate(0), airLayer(0.1, 50), airLayer(2, 0.1), airLayer(0.1, 1), airLayer(0.1, 0.5))
	inward, _, err = w.DryingCapacity(tight, cool, 3, 3)
	if err != nil {
		t.Fatal(err)
	}
	if inward.Plane != 1 {
		t.Errorf("vapor lands on plane %d, want 1", inward.Plane)
	}
	equal(t, "landing", inward.Landing, inward.Leaving-inward.Arriving, 1e-15)
}

// Of the synthetic climate seven months are below 10 °C and only July is above
// 18.33 °C.
func TestSeasonMeans(t *testing.T) {
	months := syntheticClimate(0)
	var value [12]float64
	for i := range value {
		value[i] = float64(i + 1)
	}
	s := SeasonMeans(&months, &value)
	equal(t, "heating days", s.HeatingDays, 31+28+31+30+31+30+31, 0)
	equal(t, "cooling days", s.CoolingDays, 31, 0)
	equal(t, "year days", s.YearDays, 365, 0)
	equal(t, "heating", s.Heating, (31*1+28*2+31*3+30*4+31*10+30*11+31*12)/212.0, 1e-12)
	equal(t, "cooling", s.Cooling, 7, 1e-12)
	equal(t, "year", s.Year, (31*(1+3+5+7+8+10+12)+28*2+30*(4+6+9+11))/365.0, 1e-12)

	months[6].OutdoorT = 15
	if s := SeasonMeans(&months, &value); s.CoolingDays != 0 || s.Cooling != 0 {
		t.Errorf("a year without summer has %g cooling days with a mean of %g", s.CoolingDays, s.Cooling)
	}
}
