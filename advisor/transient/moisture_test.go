package transient_test

import (
	"math"
	"testing"

	"relath/advisor/internal/checks"
	"relath/advisor/moistair"
	"relath/advisor/sorption"
	"relath/advisor/transient"
)

const perm = 57.2135e-12

// contentAt returns the moisture content of a material at a recorded state.
func contentAt(f sorption.Functions, celsius, humidity float64) float64 {
	kelvin := celsius + moistair.ZeroCelsius
	return f.Content(math.Pow(humidity, kelvin/(sorption.ReferenceTemperature+moistair.ZeroCelsius)))
}

// stepDepths are the places of the coupled step in m.
var stepDepths = []float64{
	0.0025, 0.005, 0.01, 0.015, 0.02, 0.025, 0.03, 0.04, 0.05, 0.06, 0.08, 0.1,
	0.25, 0.5, 1, 1.5, 2, 3, 4, 5, 8, 10, 15, 60,
}

func stepInput(t failer, hours int) transient.Input {
	layers, probes := split(tabulate(t, stepMaterial()), 6, 20, stepDepths...)
	return transient.Input{
		Layers: layers, Probes: probes, Hours: hours,
		Outside: film(30, 0.95, tight, 1e-3), Inside: film(20, 0.5, tight, 1e-3),
		Saturation: moistair.SaturationPressureISO,
	}
}

func TestCoupledStep(t *testing.T) {
	in := stepInput(t, 8760)
	r := run(t, in)
	probe := map[float64]int{}
	for i, depth := range stepDepths {
		probe[depth] = i
	}
	at := func(row checks.Row, depth float64) (celsius, humidity float64) {
		hour := int(row.Float("days"))*24 - 1
		c := r.Probes[probe[depth]]
		return c.Temperature[hour], c.Humidity[hour]
	}
	f := checks.Open(t, "transient-step-content.csv")
	for _, row := range f.Rows() {
		celsius, humidity := at(row, row.Float("x_mm")/1000)
		f.Check(t, row, "content", contentAt(stepMaterial(), celsius, humidity))
	}
	f = checks.Open(t, "transient-step-temperature.csv")
	for _, row := range f.Rows() {
		celsius, _ := at(row, row.Float("x_m"))
		f.Check(t, row, "temperature", celsius)
	}
	uptake := make([]float64, in.Hours+1)
	for h, vapor := range r.Sides[transient.Outside].Vapor {
		uptake[h+1] = uptake[h] + vapor
	}
	f = checks.Open(t, "transient-step-uptake.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "uptake", uptake[int(row.Float("days"))*24])
	}
	// Twice the time, √2 times the water.
	near(t, "uptake in 365 d over that in 7 d", uptake[8760]/uptake[168], math.Sqrt(365.0/7), 0.01*math.Sqrt(365.0/7))
	t.Logf("effort %+v, mass balance %.1e, heat balance %.1e", r.Effort, r.Mass.Relative(), r.Heat.Relative())
}

func TestDryingSlab(t *testing.T) {
	var depths []float64
	for _, mm := range []float64{2.5, 5, 10, 20, 30, 50, 75, 100, 125, 150, 170, 180, 190, 195, 200} {
		depths = append(depths, mm/1000)
	}
	layers, probes := split(tabulate(t, slabMaterial()), 6, 20, depths...)
	for i := range layers {
		layers[i].Humidity = 0.95
	}
	r := run(t, transient.Input{
		Layers: layers, Probes: probes, Hours: 1000,
		Outside: film(20, 0.45, tight, 1e-3), Inside: film(20, 0.65, tight, 1e-3),
	})
	f := checks.Open(t, "transient-drying-slab.csv")
	for _, row := range f.Rows() {
		for i, depth := range depths {
			if math.Abs(depth-row.Float("x_mm")/1000) < 1e-9 {
				humidity := r.Probes[i].Humidity[int(row.Float("hours"))-1]
				f.Check(t, row, "content", slabMaterial().Content(humidity))
			}
		}
	}
	f = checks.Open(t, "transient-drying-slab-mean.csv")
	for _, row := range f.Rows() {
		hour := int(row.Float("hours")) - 1
		mean := 0.0
		for _, layer := range r.Layers {
			mean += layer.Content[hour] / 0.2
		}
		f.Check(t, row, "mean", mean)
		f.Check(t, row, "flow", -r.Sides[transient.Outside].Vapor[hour]/3600)
	}
}

// TestSlabMoisture is TestSlabHeat for linear moisture behind vapor films.
func TestSlabMoisture(t *testing.T) {
	saturation := moistair.SaturationPressure(20)
	const capacity, permeability = 50.0, 1e-11
	diffusivity := permeability * saturation / capacity
	half := math.Sqrt(slabHours * 3600 * diffusivity)
	material := tabulate(t, linear(1e4, 1e6, capacity, permeability))
	f := checks.Open(t, "transient-slab.csv")
	for _, row := range f.Rows() {
		air := film(20, 0.6, tight, row.Float("bi")*permeability/half)
		hour := int(math.Round(row.Float("fo") * slabHours))
		r := run(t, transient.Input{
			Layers:  []transient.Layer{{Material: material, Thickness: 2 * half, Temperature: 20, Humidity: 0.4, Cells: 40}},
			Probes:  []transient.Position{{Face: transient.Middle}},
			Outside: air, Inside: air, Hours: hour, Tolerance: 1e-5,
		})
		f.Check(t, row, "center", (0.6-r.Probes[0].Humidity[hour-1])/0.2)
		f.Check(t, row, "mean", (0.6-r.Layers[0].Content[hour-1]/(2*half*capacity))/0.2)
	}
}

// soak is rain that the face cannot take up.
func soak(s transient.Surface) transient.Surface {
	s.Rain = transient.Constant(1000)
	return s
}

// uptake returns the rain taken up until each full hour.
func uptake(r *transient.Result) []float64 {
	sum := make([]float64, r.Hours+1)
	for h := range r.Hours {
		sum[h+1] = sum[h] + r.Supplied[h] - r.Runoff[h]
	}
	return sum
}

func TestUptake(t *testing.T) {
	d := sorption.Data{
		Density: 1700, SpecificHeat: 850, Conductivity: 0.7,
		Isotherm:   sorption.Isotherm{W80: 18, FreeSaturation: 190},
		Absorption: 0.17, Vapor: sorption.Vapor{DryCup: 1e-18},
	}
	functions, err := sorption.New(d)
	if err != nil {
		t.Fatal(err)
	}
	r := run(t, transient.Input{
		Layers:  []transient.Layer{{Material: tabulate(t, functions), Thickness: 0.5, Temperature: 20, Cells: 200}},
		Outside: soak(film(20, 0.5, 10, 0)), Inside: sealed, Hours: 24,
	})
	f := checks.Open(t, "transient-uptake.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "uptake", uptake(r)[int(row.Float("hours"))])
	}
	t.Logf("%+v", r.Effort)
}

func TestUptakeConstant(t *testing.T) {
	functions := linear(1, 1e6, 200, 1e-18)
	functions.Diffusivity = func(float64) float64 { return 1e-8 }
	functions.Redistribution = 1
	r := run(t, transient.Input{
		Layers:  []transient.Layer{{Material: tabulate(t, functions), Thickness: 0.6, Temperature: 20, Cells: 240}},
		Outside: soak(film(20, 0.5, 10, 0)), Inside: sealed, Hours: 100,
	})
	f := checks.Open(t, "transient-uptake-constant.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "uptake", uptake(r)[int(row.Float("hours"))])
	}
}

// thinBoard is a board of 11 mm behind 1 perm inside and 10 perms outside, at 20 °C
// and 50 % on both sides.
func thinBoard(t failer, capacity, humidity float64, hours int) transient.Input {
	sheet := func(permeance float64) transient.Layer {
		return transient.Layer{Sheet: &transient.Sheet{Permeance: []sorption.Point{{Humidity: 0.5, Value: permeance}}}}
	}
	air := film(20, 0.5, tight, 1e-3)
	return transient.Input{
		Layers: []transient.Layer{
			sheet(10 * perm),
			{
				Thickness: 0.011, Material: tabulate(t, linear(100, 1e6, capacity, 1e-9)),
				Temperature: 20, Humidity: humidity,
			},
			sheet(perm),
		},
		Outside: air, Inside: air, Hours: hours, Saturation: moistair.SaturationPressureISO,
	}
}

// pool is a material that gives up its water, content in kg/m³, at almost 100 %
// relative humidity.
func pool(conductivity, content, permeability float64) sorption.Functions {
	f := linear(conductivity, 1e4, content+1, permeability)
	f.Content = func(phi float64) float64 { return phi + content*math.Pow(phi, 10000) }
	return f
}

func TestWetLayer(t *testing.T) {
	in := thinBoard(t, 117, 1, 24*40)
	in.Layers[1].Material = tabulate(t, pool(100, 2/0.011, 1e-9))
	r := run(t, in)
	f := checks.Open(t, "transient-wet-layer.csv")
	for _, row := range f.Rows() {
		lost := 0.0
		f.Check(t, row, "flow_g_m2_day", -1000*24*(r.Sides[0].Vapor[200]+r.Sides[1].Vapor[200]))
		for h := range r.Hours {
			lost -= r.Sides[0].Vapor[h] + r.Sides[1].Vapor[h]
			if lost >= 2 {
				f.Check(t, row, "days_for_2_kg", float64(h+1)/24)
				break
			}
		}
	}
}

func TestFallingStage(t *testing.T) {
	const hours = 24 * 20
	r := run(t, thinBoard(t, 117, 0.9, hours))
	first, last := r.Layers[1].Content[0]/(117*0.011)-0.5, r.Layers[1].Content[hours-1]/(117*0.011)-0.5
	f := checks.Open(t, "transient-falling-stage.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "time_constant_days", (hours-1)/24.0/math.Log(first/last))
	}
}

func TestWetSurface(t *testing.T) {
	functions := linear(1, 1e6, 500, 1e-9)
	r := run(t, transient.Input{
		Layers:  []transient.Layer{{Material: tabulate(t, functions), Thickness: 0.02, Temperature: 20, Humidity: 1}},
		Outside: soak(film(20, 0.5, 8, 5.6e-8)), Inside: sealed, Hours: 48,
		Saturation: moistair.SaturationPressureISO,
	})
	f := checks.Open(t, "transient-wet-surface.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "temperature", r.Faces[transient.Outside].Temperature[47])
		f.Check(t, row, "flow_g_m2_h", -1000*r.Sides[transient.Outside].Vapor[47])
	}
}

func TestSealedExchange(t *testing.T) {
	layer := func(capacity, thickness, humidity float64) transient.Layer {
		return transient.Layer{
			Material: tabulate(t, linear(1, 1e6, capacity, 1e-10)), Thickness: thickness,
			Temperature: 20, Humidity: humidity,
		}
	}
	r := run(t, transient.Input{
		Layers:  []transient.Layer{layer(100, 0.02, 0.9), layer(40, 0.03, 0.3)},
		Probes:  []transient.Position{{Layer: 0}, {Layer: 0, Face: transient.InnerFace}, {Layer: 1, Face: transient.InnerFace}},
		Outside: sealed, Inside: sealed, Hours: 24 * 40,
	})
	f := checks.Open(t, "transient-sealed.csv")
	for _, row := range f.Rows() {
		for _, probe := range r.Probes {
			// Wetting warms and drying cools, but the mean temperature stays.
			f.Check(t, row, "humidity", probe.Humidity[r.Hours-1])
		}
	}
	near(t, "water at the start", r.Mass.Before, 0.02*90+0.03*12, 1e-6)
	near(t, "water at the end", r.Mass.After, r.Mass.Before, 1e-9)
}

// TestSoakedSheathing: layers of given resistance and permeance around a board
// that is saturated throughout.
func TestSoakedSheathing(t *testing.T) {
	layer := func(resistance, permeance float64) transient.Layer {
		const thickness = 0.02
		return transient.Layer{
			Thickness: thickness, Temperature: 10, Humidity: 0.5,
			Material: tabulate(t, linear(thickness/resistance, 1e4, 0.05, permeance*1e-12*thickness)),
		}
	}
	board := layer(0.055, 29)
	board.Material, board.Humidity = tabulate(t, pool(0.02/0.055, 900, 29e-12*0.02)), 1
	film := func(celsius, humidity, resistance, permeance float64) transient.Surface {
		return film(celsius, humidity, 1/resistance, permeance*1e-12)
	}
	f := checks.Open(t, "transient-soaked-sheathing.csv")
	for _, row := range f.Rows() {
		row.Text("season")
		const days = 10
		r := run(t, transient.Input{
			Layers: []transient.Layer{
				layer(0.010, 185), layer(1.000, 72.5), board, layer(1.900, 1700),
				{Sheet: &transient.Sheet{Permeance: []sorption.Point{{Humidity: 0.5, Value: 0.435e-12}}}},
				layer(0.079, 290),
			},
			Outside: film(row.Float("outside_c"), row.Float("outside_rh"), 0.030, 57000),
			Inside:  film(row.Float("inside_c"), row.Float("inside_rh"), 0.120, 9200),
			Hours:   days * 24,
		})
		// In winter some water condenses in the middle of the polystyrene and counts
		// as drained, so the drying is what leaves through the faces.
		last := days*24 - 1
		f.Check(t, row, "net_g_m2", -1000*30*24*(r.Sides[0].Vapor[last]+r.Sides[1].Vapor[last]))
	}
}

func TestBuffering(t *testing.T) {
	air := film(20, 0.33, tight, 1e-4)
	air.VaporPressure = make(transient.Series, 24)
	saturation := moistair.SaturationPressureISO(20)
	for h := range air.VaporPressure {
		air.VaporPressure[h] = 0.33 * saturation
		if h < 8 {
			air.VaporPressure[h] = 0.75 * saturation
		}
	}
	const days = 30
	r := run(t, transient.Input{
		Layers: []transient.Layer{{
			Material: tabulate(t, linear(1e4, 1e6, 50, 1e-11)), Thickness: 0.03,
			Temperature: 20, Humidity: 0.47, Cells: 40,
		}},
		Outside: air, Inside: sealed, Hours: days * 24, Held: true,
		Saturation: moistair.SaturationPressureISO,
	})
	f := checks.Open(t, "transient-buffering.csv")
	for _, row := range f.Rows() {
		sum := 0.0
		for h := range 8 {
			sum += 1000 * r.Sides[transient.Outside].Vapor[(days-1)*24+h]
		}
		f.Check(t, row, "uptake_g_m2", sum)
	}
}
