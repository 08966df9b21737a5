package analysis

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"io"
	"math"
	"strconv"
	"testing"

	"relath/advisor/climate"
)

// memory collects the files of an export.
type memory map[string]*bytes.Buffer

func (m memory) create(name string) (io.WriteCloser, error) {
	m[name] = new(bytes.Buffer)
	return nopCloser{m[name]}, nil
}

type nopCloser struct{ io.Writer }

func (nopCloser) Close() error { return nil }

// rows reads a table, the head first; every row is as long as the head.
func (m memory) rows(t *testing.T, name string) [][]string {
	t.Helper()
	f, ok := m[name]
	if !ok {
		t.Fatalf("no table %s", name)
	}
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 1 {
		t.Fatalf("%s: %v", name, err)
	}
	return rows
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// The tables of a run hold what another program needs to repeat it, and the same
// results as the facts.
func TestExportHoldsTheRun(t *testing.T) {
	base := loadBase(t)
	a := resolve(t, base, wallText("des-moines-ia", openWall)).Assemblies[0]
	files := memory{}
	if err := ExportHourly(context.Background(), base, a, Hourly{Years: 1}, files.create); err != nil {
		t.Fatal(err)
	}
	layers, grid := files.rows(t, "run/layers.csv"), files.rows(t, "run/grid.csv")
	thickness := make(map[string]float64)
	for _, row := range grid[1:] {
		thickness[row[0]] += number(t, row[2])
	}
	sheathing := ""
	for _, row := range layers[1:] {
		if want := number(t, row[4]); row[2] != "sheet" && row[2] != "coat" && math.Abs(thickness[row[0]]-want) > 1e-12 {
			t.Errorf("the grid of layer %s is %g m thick, the layer %g", row[0], thickness[row[0]], want)
		}
		if row[1] == "sheathing" {
			sheathing = row[0]
		}
	}
	boundary, results := files.rows(t, "run/boundary.csv"), files.rows(t, "run/results.csv")
	if len(boundary) != climate.HoursPerYear+1 || len(results) != climate.HoursPerYear+1 {
		t.Errorf("%d rows of weather, %d of results", len(boundary), len(results))
	}
	highest := 0.0
	for column, head := range results[0] {
		if head != "content of layer "+sheathing+" (kg/m2)" {
			continue
		}
		for _, row := range results[1:] {
			highest = max(highest, number(t, row[column])/thickness[sheathing])
		}
	}
	r := hourlyOf(t, base, a, Hourly{Years: 1, bestOnly: true})
	if want := r.Variants[0].Layers[3].Facts["moisture-highest"].Range.Best; math.Abs(highest-want) > 1e-9*want {
		t.Errorf("highest content of the sheathing %g kg/m³, the fact says %g", highest, want)
	}
	if rows := files.rows(t, "run/sources.csv"); len(rows) != 1 {
		t.Errorf("a run without leak has %d rows of sources", len(rows)-1)
	}
}

// The sources of a leak are its water.
func TestExportHoldsTheLeak(t *testing.T) {
	base := loadBase(t)
	a := resolve(t, base, wallText("des-moines-ia", openWall)).Assemblies[0]
	files := memory{}
	if err := ExportLeak(context.Background(), base, a, Leak{On: []LeakDay{{10, 1}}}, files.create); err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	rows := files.rows(t, "wetted-10-01/sources.csv")
	for _, row := range rows[1:] {
		sum += number(t, row[3])
	}
	if len(rows) != 7 || math.Abs(sum-2) > 1e-12 {
		t.Errorf("%d hours with %g kg/m², want 6 with 2", len(rows)-1, sum)
	}
	if len(files.rows(t, "undisturbed/sources.csv")) != 1 {
		t.Error("the undisturbed run has sources")
	}
}

// An export that cannot be written, or of an assembly without an answer, says so.
func TestExportFails(t *testing.T) {
	base := loadBase(t)
	a := resolve(t, base, wallText("des-moines-ia", openWall)).Assemblies[0]
	full := errors.New("disk full")
	err := ExportHourly(context.Background(), base, a, Hourly{Years: 1}, func(string) (io.WriteCloser, error) { return nil, full })
	if !errors.Is(err, full) {
		t.Errorf("error %v", err)
	}
	a.House.Place = nil
	var asked *AskError
	if err := ExportHourly(context.Background(), base, a, Hourly{}, memory{}.create); !errors.As(err, &asked) {
		t.Errorf("error %v", err)
	}
}
