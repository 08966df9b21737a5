package transient_test

import (
	"math"
	"math/cmplx"
	"testing"

	"relath/advisor/internal/checks"
	"relath/advisor/sorption"
	"relath/advisor/transient"
)

// split returns layers of one material whose inner faces lie at the given depths,
// and probes there.
func split(material *sorption.Table, cells int, celsius float64, depths ...float64) ([]transient.Layer, []transient.Position) {
	var layers []transient.Layer
	var probes []transient.Position
	before := 0.0
	for i, depth := range depths {
		layers = append(layers, transient.Layer{
			Material: material, Thickness: depth - before, Cells: cells,
			Temperature: celsius, Humidity: 0.5,
		})
		probes = append(probes, transient.Position{Layer: i, Face: transient.InnerFace})
		before = depth
	}
	return layers, probes
}

func TestHeatStep(t *testing.T) {
	depths := []float64{0.05, 0.1, 0.2, 0.5, 1, 3, 12}
	layers, probes := split(inert(t, 1, 1e6), 16, 0, depths...)
	r := run(t, transient.Input{
		Layers: layers, Probes: probes, Outside: film(10, 0.5, tight, 0), Inside: sealed, Hours: 30 * 24,
	})
	f := checks.Open(t, "transient-heat-step.csv")
	for _, row := range f.Rows() {
		hour := int(row.Float("days")) * 24
		for i, depth := range depths {
			if depth == row.Float("x_m") {
				f.Check(t, row, "rise_k", r.Probes[i].Temperature[hour-1])
			}
		}
	}
}

func TestHeatFilm(t *testing.T) {
	depths := []float64{0.05, 0.1, 0.3, 1, 5}
	layers, probes := split(inert(t, 1, 2e6), 16, 0, depths...)
	probes = append(probes, transient.Position{})
	r := run(t, transient.Input{
		Layers: layers, Probes: probes, Outside: film(1, 0.5, 10, 0), Inside: sealed, Hours: 7 * 24,
		Tolerance: 1e-4,
	})
	f := checks.Open(t, "transient-heat-film.csv")
	for _, row := range f.Rows() {
		probe := map[float64]int{0: len(probes) - 1, 0.05: 0, 0.1: 1}[row.Float("x_m")]
		f.Check(t, row, "rise", r.Probes[probe].Temperature[int(row.Float("hours"))-1])
	}
}

// slabHours is L²/a of the slabs in h, so that Fo 0.05 is one hour.
const slabHours = 20

func TestSlabHeat(t *testing.T) {
	const conductivity, heat = 1, 1e6
	half := math.Sqrt(slabHours * 3600 * conductivity / heat)
	f := checks.Open(t, "transient-slab.csv")
	for _, row := range f.Rows() {
		air := film(1, 0.5, row.Float("bi")*conductivity/half, 0)
		hour := int(math.Round(row.Float("fo") * slabHours))
		r := run(t, transient.Input{
			Layers:  []transient.Layer{{Material: inert(t, conductivity, heat), Thickness: 2 * half, Humidity: 0.5, Cells: 40}},
			Probes:  []transient.Position{{Face: transient.Middle}},
			Outside: air, Inside: air, Hours: hour, Tolerance: 1e-5,
		})
		f.Check(t, row, "center", 1-r.Probes[0].Temperature[hour-1])
		f.Check(t, row, "mean", 1-r.Heat.In/(2*half*heat))
	}
}

func TestSlabHeatFixed(t *testing.T) {
	const hours = 100 // L²/a
	half := math.Sqrt(hours * 3600 * 1e-6)
	air := film(1, 0.5, tight, 0)
	f := checks.Open(t, "transient-slab-fixed.csv")
	for _, row := range f.Rows() {
		r := run(t, transient.Input{
			Layers:  []transient.Layer{{Material: inert(t, 1, 1e6), Thickness: 2 * half, Humidity: 0.5, Cells: 60}},
			Outside: air, Inside: air, Hours: int(math.Round(row.Float("fo") * hours)), Tolerance: 1e-5,
		})
		f.Check(t, row, "mean", 1-r.Heat.In/(2*half*1e6))
	}
}

// day is the length of the day of the periodic tests in hours: a tenth of an hour
// is drawn out to an hour, so that straight lines between full hours follow the
// swing within 0.006 %. The materials are as much slower.
const day = 240

// swing is a face whose air swings by 1 K around 0 °C with a period in hours.
func swing(period int, heat float64) transient.Surface {
	s := film(0, 0.5, heat, 0)
	s.Temperature = make(transient.Series, period)
	for k := range s.Temperature {
		s.Temperature[k] = math.Cos(2 * math.Pi * float64(k) / float64(period))
	}
	return s
}

// amplitude returns the first harmonic of the last period of a course as the
// complex amplitude of cos(2πt/period), element k at the time k+shift.
func amplitude(course []float64, period int, shift float64) complex128 {
	sum := complex(0, 0)
	for k := len(course) - period; k < len(course); k++ {
		angle := 2 * math.Pi * (float64(k) + shift) / float64(period)
		sum += complex(course[k]*2/float64(period), 0) * cmplx.Exp(complex(0, -angle))
	}
	return sum
}

// lag returns how many hours of a day of 24 an amplitude comes late.
func lag(a complex128) float64 { return -cmplx.Phase(a) * 24 / (2 * math.Pi) }

func transfer(resistance float64) float64 {
	if resistance == 0 {
		return tight
	}
	return 1 / resistance
}

func TestPeriodic(t *testing.T) {
	const conductivity, thickness = 1.5, 0.2
	f := checks.Open(t, "transient-periodic.csv")
	for _, row := range f.Rows() {
		outside, inside := row.Float("outside_resistance"), row.Float("inside_resistance")
		r := run(t, transient.Input{
			Layers: []transient.Layer{{
				Material: inert(t, conductivity, 1.8e6*day/24), Thickness: thickness, Humidity: 0.5, Cells: 40,
			}},
			Outside: swing(day, transfer(outside)), Inside: film(0, 0.5, transfer(inside), 0),
			Hours: 6 * day, Tolerance: 1e-4,
		})
		// Amounts of an hour are those of its middle.
		flow := amplitude(r.Sides[transient.Inside].Heat, day, 0.5) / -3600
		steady := 1 / (outside + inside + thickness/conductivity)
		f.Check(t, row, "transmittance", cmplx.Abs(flow))
		f.Check(t, row, "decrement", cmplx.Abs(flow)/steady)
		f.Check(t, row, "shift_h", lag(flow))
	}
}

func TestPeriodicSurface(t *testing.T) {
	f := checks.Open(t, "transient-periodic-surface.csv")
	for _, row := range f.Rows() {
		layers, _ := split(inert(t, 1.5, 1.8e6*day/24), 20, 0, 0.1, 0.5, 2)
		r := run(t, transient.Input{
			Layers: layers, Outside: swing(day, transfer(row.Float("resistance"))), Inside: sealed,
			Hours: 12 * day, Tolerance: 1e-4,
		})
		a := amplitude(r.Faces[transient.Outside].Temperature, day, 1)
		f.Check(t, row, "amplitude", cmplx.Abs(a))
		f.Check(t, row, "lag_h", lag(a))
	}
}

func TestPeriodicDepth(t *testing.T) {
	f := checks.Open(t, "transient-periodic-depth.csv")
	for _, row := range f.Rows() {
		period := row.Float("period_h") * day / 24
		material := inert(t, 1e6*row.Float("diffusivity"), 1e6*day/24)
		layers, probes := split(material, 40, 0, row.Float("x_m"), 0.5, 2)
		r := run(t, transient.Input{
			Layers: layers, Probes: probes, Outside: swing(int(period), tight), Inside: sealed,
			Hours: 12 * int(period), Tolerance: 1e-5,
		})
		a := amplitude(r.Probes[0].Temperature, int(period), 1)
		f.Check(t, row, "amplitude", cmplx.Abs(a))
		f.Check(t, row, "lag_h", lag(a))
	}
}

// conductionTimeSeries returns the share of a pulse of the outdoor air that
// reaches the inside in each of the 24 hours after it, in percent. The pulse is a
// triangle of two hours, what a single value between zeros is when interpolated.
func conductionTimeSeries(t *testing.T, wall string) [24]float64 {
	t.Helper()
	slab := func(mm, conductivity, density, heat float64) transient.Layer {
		return transient.Layer{
			Thickness: mm / 1000, Material: inert(t, conductivity, density*heat), Humidity: 0.5, Cells: 16,
		}
	}
	siding, stucco := slab(12.7, 0.09, 592, 1170), slab(25.4, 0.72, 1856, 840)
	gypsum, plywood := slab(15.9, 0.16, 800, 1090), slab(15.9, 0.12, 544, 1210)
	fiberboard, batt := slab(12.7, 0.07, 400, 1300), slab(89.4, 0.0894/1.94, 19, 960)
	layers := map[string][]transient.Layer{
		"11": {siding, plywood, batt, gypsum},
		"13": {stucco, fiberboard, batt, gypsum},
	}[wall]
	const pulse = 2
	outside := film(0, 0.5, 1/0.04, 0)
	outside.Temperature = make(transient.Series, 24)
	outside.Temperature[pulse] = 1
	const days = 5
	r := run(t, transient.Input{
		Layers: layers, Outside: outside, Inside: film(0, 0.5, 1/0.12, 0), Hours: days * 24, Tolerance: 1e-6,
	})
	var share [24]float64
	sum := 0.0
	for n := range share {
		// Element k belongs to full hour k+1.
		share[n] = r.Faces[transient.Inside].Temperature[(days-2)*24+pulse+n-1]
		sum += share[n]
	}
	for n := range share {
		share[n] *= 100 / sum
	}
	return share
}

func TestConductionTimeSeries(t *testing.T) {
	for _, name := range []string{
		"transient-conduction-time-series-exact.csv",
		"transient-conduction-time-series-published.csv",
	} {
		f := checks.Open(t, name)
		for _, wall := range []string{"11", "13"} {
			share := conductionTimeSeries(t, wall)
			for _, row := range f.Rows() {
				if row.Text("wall") == wall {
					f.Check(t, row, "percent", share[int(row.Float("hour"))])
				}
			}
		}
	}
}
