package transient

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"relath/advisor/moistair"
	"relath/advisor/sorption"
)

func TestSaturationTable(t *testing.T) {
	for _, formula := range []func(float64) float64{
		moistair.SaturationPressure, moistair.SaturationPressureISO, moistair.SaturationPressureOverWater,
	} {
		table, err := newSaturation(formula)
		if err != nil {
			t.Fatal(err)
		}
		for celsius := -60.0; celsius <= 100; celsius += 0.0937 {
			p, slope := table.at(celsius)
			allowed := 1e-6
			if celsius > 0 && celsius < 1 {
				allowed = 1e-4 // the triple point bends the formula of ASHRAE
			}
			if want := formula(celsius); math.Abs(p-want) > allowed*want {
				t.Errorf("saturation pressure at %g is %g, not %g", celsius, p, want)
			}
			want := (formula(celsius+1e-4) - formula(celsius-1e-4)) / 2e-4
			if math.Abs(celsius) > 0.2 && math.Abs(slope-want) > 40*allowed*want {
				t.Errorf("slope at %g is %g, not %g", celsius, slope, want)
			}
		}
		if p, _ := table.at(500); !(p > 0) || math.IsInf(p, 0) {
			t.Errorf("saturation pressure far above the table is %g", p)
		}
	}
	if _, err := newSaturation(func(t float64) float64 { return t }); err == nil {
		t.Error("a negative saturation pressure is taken")
	}
}

func TestKelvinTable(t *testing.T) {
	table := newKelvin()
	for x := lowest; x <= sorption.MaxCoordinate; x += 0.0173 {
		suction, humidity := table.at(x)
		wantS := math.Exp(-x) - sorption.SuctionOffset
		if math.Abs(suction-wantS) > 1e-7*(wantS+sorption.SuctionOffset) {
			t.Errorf("suction at %g is %g, not %g", x, suction, wantS)
		}
		if want := math.Exp(-wantS); math.Abs(humidity-want) > 1e-7*want+1e-8 {
			t.Errorf("humidity at %g is %g, not %g", x, humidity, want)
		}
	}
}

func TestSheet(t *testing.T) {
	a, err := newSheet([]sorption.Point{{Humidity: 0.3, Value: 1e-10}, {Humidity: 0.7, Value: 5e-10}})
	if err != nil {
		t.Fatal(err)
	}
	b, err := newSheet([]sorption.Point{{Value: 0}})
	if err != nil {
		t.Fatal(err)
	}
	for humidity, want := range map[float64]float64{-1: 1e-10, 0.3: 1e-10, 0.5: 3e-10, 0.9: 5e-10, 2: 5e-10} {
		if p, _ := a.at(humidity); math.Abs(p-want) > 1e-6*want {
			t.Errorf("permeance at %g is %g, not %g", humidity, p, want)
		}
		p, slope := a.series(a).conductance(1e9, humidity)
		if want := 1 / (1e9 + 2/want); math.Abs(p-want) > 1e-6*want {
			t.Errorf("permeance of two sheets and a resistance at %g is %g, not %g", humidity, p, want)
		}
		if humidity == 0.5 && !(slope > 0) {
			t.Errorf("slope is %g", slope)
		}
	}
	if p, _ := b.at(0.5); p != minPermeance {
		t.Errorf("permeance of foil is %g", p)
	}
	if _, err := newSheet([]sorption.Point{{Value: -1}}); err == nil {
		t.Error("a negative permeance is taken")
	}
	if _, err := newSheet(nil); err == nil {
		t.Error("a sheet without permeance is taken")
	}
}

// dense returns the matrix and the right side that rows and faces stand for.
func dense(rows []row, faces []face) (*mat.Dense, *mat.VecDense) {
	n := 2 * len(rows)
	a, b := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
	add := func(i, j int, sign float64, m [4]float64) {
		for k, x := range m {
			a.Set(2*i+k/2, 2*j+k%2, a.At(2*i+k/2, 2*j+k%2)+sign*x)
		}
	}
	for i := range rows {
		add(i, i, 1, rows[i].diagonal)
		b.SetVec(2*i, rows[i].right[0])
		b.SetVec(2*i+1, rows[i].right[1])
	}
	for i, f := range faces {
		add(i, i, 1, f.left)
		add(i, i+1, 1, f.right)
		add(i+1, i, -1, f.left)
		add(i+1, i+1, -1, f.right)
		for k, x := range []float64{f.heat, f.mass} {
			b.SetVec(2*i+k, b.AtVec(2*i+k)-x)
			b.SetVec(2*i+2+k, b.AtVec(2*i+2+k)+x)
		}
	}
	return a, b
}

func TestSolveAgainstDense(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := make([]row, rapid.IntRange(1, 12).Draw(t, "nodes"))
		faces := make([]face, len(rows)-1)
		draw := func(low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, "x") }
		for i := range rows {
			rows[i] = row{
				diagonal: [4]float64{draw(6, 9), draw(-1, 1), draw(-1, 1), draw(6, 9)},
				right:    [2]float64{draw(-9, 9), draw(-9, 9)},
			}
		}
		for i := range faces {
			faces[i] = face{
				heat: draw(-1, 1), mass: draw(-1, 1),
				left:  [4]float64{draw(0, 1), draw(-0.5, 0.5), draw(-0.5, 0.5), draw(0, 1)},
				right: [4]float64{draw(-1, 0), draw(-0.5, 0.5), draw(-0.5, 0.5), draw(-1, 0)},
			}
		}
		a, b := dense(rows, faces)
		var want mat.VecDense
		if err := want.SolveVec(a, b); err != nil {
			t.Fatal(err)
		}
		if !solve(rows, faces) {
			t.Fatal("not solved")
		}
		for i := range rows {
			for k, got := range rows[i].right {
				if w := want.AtVec(2*i + k); math.Abs(got-w) > 1e-9*(1+math.Abs(w)) {
					t.Errorf("unknown %d of node %d is %g, not %g", k, i, got, w)
				}
			}
		}
	})
	if solve(make([]row, 2), make([]face, 1)) {
		t.Error("a matrix of zeros is solved")
	}
}

// construction is one of every kind of layer, sheet, load and path.
func construction(t *testing.T) Input {
	t.Helper()
	material := func(d sorption.Data) *sorption.Table {
		f, err := sorption.New(d)
		if err != nil {
			t.Fatal(err)
		}
		table, err := f.Tabulate()
		if err != nil {
			t.Fatal(err)
		}
		return table
	}
	solid := func(thickness, w80, saturation, absorption float64) Layer {
		return Layer{
			Thickness: thickness, Cells: 6, Temperature: 12, Humidity: 0.7,
			Material: material(sorption.Data{
				Density: 800, SpecificHeat: 1000, Conductivity: 0.2, ConductivitySupplement: 3,
				Isotherm:   sorption.Isotherm{W80: w80, FreeSaturation: saturation},
				Absorption: absorption, Vapor: sorption.Vapor{DryCup: 1e-12, WetCup: 2e-11},
			}),
		}
	}
	sheet := Layer{Sheet: &Sheet{Permeance: []sorption.Point{
		{Humidity: 0.2, Value: 1e-11}, {Humidity: 0.95, Value: 2e-9},
	}}}
	side := func(celsius float64) Surface {
		return Surface{
			Temperature: Constant(celsius), VaporPressure: Constant(0.7 * moistair.SaturationPressure(celsius)),
			HeatTransfer: Constant(10), VaporTransfer: Constant(5e-8),
			Sun: Constant(100), Absorptance: 0.5, LongWave: Constant(-20),
		}
	}
	return Input{
		Layers: []Layer{
			sheet, solid(0.05, 20, 200, 0.1),
			{
				Thickness: 0.02, Temperature: 5, Humidity: 0.8,
				Cavity: &Cavity{Resistance: 0.15, VaporResistance: 1e8, Exchange: Constant(20)},
			},
			sheet, solid(0.01, 90, 600, 0.002), solid(0.1, 1, 5, 0), sheet, solid(0.02, 30, 300, 0.01), sheet,
		},
		Outside: side(-3), Inside: side(22), Hours: 48,
		Sources: []Source{{At: Position{Layer: 4, Face: Whole}, Water: Constant(0.01)}},
		Paths:   []AirPath{{At: Position{Layer: 4, Face: InnerFace}, From: Inside, Flow: Constant(1e-4)}},
		Probes:  []Position{{Layer: 4}},
	}
}

// TestJacobian compares the matrix of a step with differences of its right side.
func TestJacobian(t *testing.T) {
	m, err := Compile(construction(t))
	if err != nil {
		t.Fatal(err)
	}
	w := new(Workspace)
	w.prepare(m)
	w.beginHour(0)
	w.setWeather(1)
	for i := range w.nodes {
		w.nodes[i].t += 3 * math.Sin(float64(7*i))
		w.nodes[i].x += 0.8 * math.Sin(float64(5*i))
		if w.excess[i] == 0 {
			w.nodes[i].x = 0.83
		}
	}
	w.nodes[10].x = sorption.MaxCoordinate + 0.3 // above saturation
	w.evaluate()
	w.setCapacity()
	const dt = 900.0
	matrix := func() (*mat.Dense, *mat.VecDense) {
		w.evaluate()
		w.assemble(dt, dt, 0)
		return dense(w.rows, w.faces)
	}
	a, _ := matrix()
	for j := range 2 * len(w.nodes) {
		unknown, step := &w.nodes[j/2].t, 1e-5
		if j%2 == 1 {
			unknown, step = &w.nodes[j/2].x, 1e-6
		}
		at := *unknown
		*unknown = at + step
		_, above := matrix()
		*unknown = at - step
		_, below := matrix()
		*unknown = at
		for i := range 2 * len(w.nodes) {
			want := (below.AtVec(i) - above.AtVec(i)) / (2 * step)
			size := math.Abs(a.At(i, i)) + math.Abs(a.At(i, i^1))
			if got := a.At(i, j); math.Abs(got-want) > 2e-4*math.Abs(want)+1e-7*size {
				t.Errorf("row %d column %d is %g, not %g", i, j, got, want)
			}
		}
	}
}

func TestNotConvergedIsReported(t *testing.T) {
	m, err := Compile(construction(t))
	if err != nil {
		t.Fatal(err)
	}
	full, err := m.Run(context.Background(), new(Workspace))
	if err != nil || full.Status != Finished {
		t.Fatal(err, full.Status)
	}
	// A saturation pressure that is no number from the second day on.
	broken := *m
	outside := broken.input.Outside
	outside.Temperature = make(Series, 48)
	for k := range outside.Temperature {
		outside.Temperature[k] = -3
		if k > 24 {
			outside.Temperature[k] = math.NaN()
		}
	}
	broken.input.Outside = outside
	r, err := broken.Run(context.Background(), new(Workspace))
	if err != nil {
		t.Fatal(err)
	}
	if r.Status != NotConverged || r.Hours != 24 {
		t.Fatalf("status %d after %d hours, not %d after 24", r.Status, r.Hours, NotConverged)
	}
	for h := range r.Hours {
		if got, want := r.Layers[1].Content[h], full.Layers[1].Content[h]; got != want {
			t.Errorf("content at hour %d is %g, not %g", h, got, want)
		}
	}
	if len(r.Layers[1].Content) != 24 || len(r.Probes[0].Humidity) != 24 || len(r.Sides[0].Heat) != 24 ||
		len(r.Faces[1].Temperature) != 24 || len(r.Air.Vapor) != 24 || len(r.Drained) != 24 {
		t.Error("a course is longer than the hours that were solved")
	}
	if math.IsNaN(r.Mass.Error + r.Heat.Error + r.Mass.After + r.Heat.After) {
		t.Errorf("balances are %+v and %+v", r.Mass, r.Heat)
	}
}

func TestContextEndsARun(t *testing.T) {
	m, err := Compile(construction(t))
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if r, err := m.Run(ctx, new(Workspace)); err != context.Canceled || r != nil {
		t.Errorf("result %v, error %v", r, err)
	}
}
