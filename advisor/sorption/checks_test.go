package sorption_test

import (
	"testing"

	"relath/advisor/internal/checks"
	"relath/advisor/sorption"
)

func TestTwoPoint(t *testing.T) {
	f := checks.Open(t, "sorption-two-point.csv")
	for _, row := range f.Rows() {
		d := board()
		d.Isotherm = sorption.Isotherm{W80: row.Float("w80"), FreeSaturation: row.Float("saturation")}
		f.Check(t, row, "content", functions(t, d).Content(row.Float("humidity")))
	}
}

func TestKelvin(t *testing.T) {
	f := checks.Open(t, "sorption-kelvin.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "suction_mpa", sorption.Suction(row.Float("humidity"), 20)/1e6)
	}
}

func TestKelvinPublished(t *testing.T) {
	f := checks.Open(t, "sorption-kelvin-published.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "humidity_percent", 100*sorption.HumidityAtSuction(row.Float("suction_pa"), 20))
	}
}

func TestDiffusivity(t *testing.T) {
	f := checks.Open(t, "sorption-diffusivity.csv")
	for _, row := range f.Rows() {
		d := sorption.Diffusivity(row.Float("absorption"), row.Float("saturation"))
		f.Check(t, row, "diffusivity", d(row.Float("content")))
	}
}

// TestCupsAgainstCurves: measured curves averaged over the humidities of the two
// cup tests, then rebuilt from the two averages alone.
func TestCupsAgainstCurves(t *testing.T) {
	columns := []string{"p10", "p30", "p50", "p70", "p90"}
	f := checks.Open(t, "sorption-cups.csv")
	for _, row := range f.Rows() {
		var points []sorption.Point
		for i, column := range columns {
			points = append(points, sorption.Point{Humidity: 0.1 + 0.2*float64(i), Value: row.Float(column)})
		}
		curve, err := sorption.Linear(points)
		if err != nil {
			t.Fatal(err)
		}
		cups, err := sorption.Cups(mean(curve, 0, 0.5), mean(curve, 0.5, 1))
		if err != nil {
			t.Fatal(err)
		}
		t.Log(row.Text("material"))
		for i, column := range columns {
			f.Check(t, row, column, cups(points[i].Humidity))
		}
	}
}

// mean is the mean of a function between a and b by the midpoint rule.
func mean(function func(float64) float64, a, b float64) float64 {
	const n = 20000
	sum := 0.0
	for i := range n {
		sum += function(a + (b-a)*(float64(i)+0.5)/n)
	}
	return sum / n
}
