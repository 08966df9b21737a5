package analysis

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"path"
	"strconv"

	"relath/advisor/assembly"
	"relath/advisor/climate"
	"relath/advisor/transient"
	"relath/kb"
)

// Create opens a new file of an export; a name may hold folders apart by slashes.
type Create func(name string) (io.WriteCloser, error)

// ExportHourly writes the run of the best values of the first variant as plain
// tables, so that another program can repeat it. Comma separated, SI units in the
// heads.
func ExportHourly(ctx context.Context, base *kb.Base, a *assembly.Assembly, o Hourly, create Create) error {
	o.bestOnly = true
	l, missing, err := loadsOf(base, a, o)
	if err != nil {
		return err
	}
	v := &hourlyVariant{of: &Variant{Of: a.Variants[0]}, missing: missing}
	if err := v.prepare(base, a, l, o); err != nil {
		return err
	}
	if v.missing != "" {
		return askError("nothing to export: %s", v.missing)
	}
	return v.runs[0].export(ctx, create, "run")
}

// ExportLeak writes the runs of the best values of a leak, undisturbed and wetted,
// each into a folder of its own.
func ExportLeak(ctx context.Context, base *kb.Base, a *assembly.Assembly, o Leak, create Create) error {
	o.bestOnly = true
	s, err := newLeakStudy(base, a, a.Variants[0], o)
	if err != nil {
		return err
	}
	if s.out.Missing != "" {
		return askError("nothing to export: %s", s.out.Missing)
	}
	if err := s.compile(); err != nil {
		return err
	}
	if err := s.runs[0].export(ctx, create, "undisturbed"); err != nil {
		return err
	}
	for k, d := range s.wishes.On {
		if err := s.wet[0][k].export(ctx, create, "wetted-"+d.String()); err != nil {
			return err
		}
	}
	return nil
}

// export runs a model and writes its tables into a folder.
func (run *hourlyRun) export(ctx context.Context, create Create, folder string) error {
	result, err := run.solve(ctx, new(transient.Workspace))
	if err != nil {
		return err
	}
	for _, t := range []struct {
		name string
		rows func(*table)
	}{
		{"settings.csv", run.writeSettings},
		{"layers.csv", run.writeLayers},
		{"grid.csv", run.writeGrid},
		{"functions.csv", run.writeFunctions},
		{"boundary.csv", run.writeBoundary},
		{"sources.csv", run.writeSources},
		{"places.csv", run.writePlaces},
		{"results.csv", func(t *table) { run.writeResults(t, result) }},
	} {
		if err := writeTable(create, path.Join(folder, t.name), t.rows); err != nil {
			return err
		}
	}
	return nil
}

// table writes rows of words and numbers; the first error stays.
type table struct {
	csv *csv.Writer
	row []string
}

func writeTable(create Create, name string, rows func(*table)) error {
	f, err := create(name)
	if err != nil {
		return err
	}
	t := &table{csv: csv.NewWriter(f)}
	rows(t)
	t.csv.Flush()
	if err := t.csv.Error(); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

func (t *table) words(cells ...string) *table {
	t.row = append(t.row, cells...)
	return t
}

// numbers writes numbers so that reading them gives the same bits.
func (t *table) numbers(cells ...float64) *table {
	for _, x := range cells {
		t.row = append(t.row, strconv.FormatFloat(x, 'g', -1, 64))
	}
	return t
}

func (t *table) end() {
	_ = t.csv.Write(t.row) // kept by the writer, see writeTable
	t.row = t.row[:0]
}

func (run *hourlyRun) writeSettings(t *table) {
	in := run.model.Input()
	t.words("setting", "value").end()
	put := func(name string, v float64) { t.words(name).numbers(v).end() }
	put("hours", float64(in.Hours))
	put("first hour of the year, from 0", startHour)
	put("boundary series repeat after, h", climate.HoursPerYear)
	put("tolerance", in.Tolerance)
	put("refine", float64(max(1, in.Refine)))
	put("solar absorptance outside", in.Outside.Absorptance)
	put("latent heat, J/kg", transient.LatentHeat)
	put("density of air, kg/m3", transient.AirDensity)
	put("heat capacity of air, J/(kg K)", transient.AirHeatCapacity)
}

func (run *hourlyRun) writeLayers(t *table) {
	t.words("layer", "name", "kind", "material", "thickness (m)", "initial temperature (C)", "initial humidity (1)",
		"density (kg/m3)", "specific heat (J/(kg K))", "dry conductivity (W/(m K))", "conductivity slope (W/(m K) per kg/m3)",
		"free saturation (kg/m3)", "redistribution share (1)", "resistance (m2 K/W)", "vapor resistance (s m2 Pa/kg)",
		"air changes from outside (1/h)").end()
	for i, l := range run.model.Input().Layers {
		p := run.of.places[i]
		kind, material := "sheet", ""
		if m := run.of.materialOf(run.of.elements[run.of.bodies[p.body].element]); m != nil {
			material = m.ID
		}
		switch {
		case l.Cavity != nil:
			kind = "cavity"
		case l.Material != nil:
			kind = "solid"
		case p.coat != 0:
			kind = "coat"
		}
		t.numbers(float64(i)).words(l.Name, kind, material).numbers(l.Thickness, l.Temperature, l.Humidity)
		if l.Material != nil {
			f := &l.Material.Functions
			t.numbers(f.Density, f.SpecificHeat, f.DryConductivity, f.ConductivitySlope, f.FreeSaturation, f.Redistribution)
		} else {
			t.words("", "", "", "", "", "")
		}
		if c := l.Cavity; c != nil {
			t.numbers(c.Resistance, c.VaporResistance, at(c.Exchange, 0)).end()
			continue
		}
		t.words("", "", "").end()
	}
}

func (run *hourlyRun) writeGrid(t *table) {
	t.words("layer", "depth from the outer face (m)", "width (m)").end()
	for _, n := range run.model.Nodes() {
		t.numbers(float64(n.Layer), n.Depth, n.Width).end()
	}
}

func (run *hourlyRun) writeFunctions(t *table) {
	t.words("layer", "humidity at 20 C (1)", "content (kg/m3)", "permeability (kg/(m s Pa)), of sheets permeance (kg/(m2 s Pa))",
		"liquid diffusivity of suction (m2/s)", "conductivity (W/(m K))").end()
	for i, l := range run.model.Input().Layers {
		if l.Sheet != nil {
			for _, p := range l.Sheet.Permeance {
				t.numbers(float64(i), p.Humidity).words("").numbers(p.Value).words("", "").end()
			}
		}
		if l.Material != nil {
			for _, k := range l.Material.Knots() {
				t.numbers(float64(i), k.Humidity, k.Content, k.Permeability, k.Diffusivity, k.Conductivity).end()
			}
		}
	}
}

// at is element k of a series that repeats.
func at(s transient.Series, k int) float64 {
	if len(s) == 0 {
		return 0
	}
	return s[k%len(s)]
}

func (run *hourlyRun) writeBoundary(t *table) {
	in := run.model.Input()
	t.words("hour after the start")
	for _, side := range []string{"outside", "inside"} {
		for _, what := range []string{
			"temperature (C)", "vapor pressure (Pa)", "heat transfer (W/(m2 K))", "vapor transfer (kg/(m2 s Pa))",
			"sun (W/m2)", "long wave (W/m2)", "rain from this hour to the next (kg/m2)",
		} {
			t.words(side + " " + what)
		}
	}
	t.end()
	for k := range min(climate.HoursPerYear, in.Hours) {
		t.numbers(float64(k))
		for _, s := range []*transient.Surface{&in.Outside, &in.Inside} {
			t.numbers(at(s.Temperature, k), at(s.VaporPressure, k), at(s.HeatTransfer, k), at(s.VaporTransfer, k),
				at(s.Sun, k), at(s.LongWave, k), at(s.Rain, k))
		}
		t.end()
	}
}

func (run *hourlyRun) writeSources(t *table) {
	t.words("layer", "place", "hour after the start", "water from this hour to the next (kg/m2)").end()
	in := run.model.Input()
	for _, s := range in.Sources {
		for k := range in.Hours {
			if water := at(s.Water, k); water != 0 {
				t.numbers(float64(s.At.Layer)).words(faceName(s.At.Face)).numbers(float64(k), water).end()
			}
		}
	}
}

// faceName names a place in a layer.
func faceName(f transient.Face) string {
	switch f {
	case transient.OuterFace:
		return "outer face"
	case transient.InnerFace:
		return "inner face"
	case transient.Middle:
		return "middle"
	}
	return "whole"
}

func (run *hourlyRun) writePlaces(t *table) {
	t.words("place", "layer", "face").end()
	for i, p := range run.model.Input().Probes {
		t.numbers(float64(i), float64(p.Layer)).words(faceName(p.Face)).end()
	}
}

func (run *hourlyRun) writeResults(t *table, r *transient.Result) {
	t.words("hour after the start")
	var columns [][]float64
	add := func(head string, course []float64) {
		t.words(head)
		columns = append(columns, course)
	}
	for i, l := range r.Layers {
		if l.Content != nil {
			add(fmt.Sprintf("content of layer %d (kg/m2)", i), l.Content)
		}
	}
	for i, c := range r.Probes {
		add(fmt.Sprintf("temperature at place %d (C)", i), c.Temperature)
		add(fmt.Sprintf("humidity at place %d (1)", i), c.Humidity)
	}
	for side, name := range []string{"outside", "inside"} {
		add("face "+name+" temperature (C)", r.Faces[side].Temperature)
		add("face "+name+" humidity (1)", r.Faces[side].Humidity)
		add("heat from "+name+" with latent heat (J/m2)", r.Sides[side].Heat)
		add("vapor from "+name+" (kg/m2)", r.Sides[side].Vapor)
	}
	add("radiation absorbed outside (J/m2)", r.Sides[transient.Outside].Gain)
	add("heat by air exchange (J/m2)", r.Air.Heat)
	add("vapor by air exchange (kg/m2)", r.Air.Vapor)
	add("rain and leaks (kg/m2)", r.Supplied)
	add("rain not taken (kg/m2)", r.Runoff)
	add("drained (kg/m2)", r.Drained)
	t.end()
	for k := range r.Hours {
		t.numbers(float64(k + 1))
		for _, c := range columns {
			t.numbers(c[k])
		}
		t.end()
	}
}
