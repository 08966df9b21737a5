package steady

import (
	"testing"

	"relath/advisor/internal/checks"
	"relath/advisor/moistair"
)

func TestMoldRatio(t *testing.T) {
	f := checks.Open(t, "steady-mold-ratio.csv")
	for _, row := range f.Rows() {
		m := int(row.Float("month")) - 1
		for column, excess := range map[string]float64{"excess_540_pa": 540, "excess_810_pa": 810} {
			if !row.Has(column) {
				continue
			}
			required, ok, err := syntheticClimate(excess)[m].RequiredRatio(MoldLimitRH, ISO13788)
			if !ok || err != nil {
				t.Fatalf("month %d: no ratio, error %v", m+1, err)
			}
			f.Check(t, row, column, required.Ratio)
		}
	}
}

func TestMoldRulingMonth(t *testing.T) {
	f := checks.Open(t, "steady-mold-ruling.csv")
	for _, row := range f.Rows() {
		months := syntheticClimate(row.Float("excess_pa"))
		ruling := must[RequiredRatio](t)(RulingRatio(&months, MoldLimitRH, ISO13788))
		f.Check(t, row, "month", float64(ruling.Month+1))
		f.Check(t, row, "surface_c", ruling.Temperature)
		f.Check(t, row, "ratio", ruling.Ratio)
		// The layers of the one-plane wall have 3.75 m²·K/W.
		f.Check(t, row, "wall_ratio", must[float64](t)(SurfaceRatio(MoldFilm, 3.75+OutsideFilmISO)))
	}
}

// A surface with just the required ratio has just the limit.
func TestRequiredRatioMeetsLimit(t *testing.T) {
	for _, formula := range []Saturation{ASHRAE, ISO13788} {
		for _, limit := range []float64{MoldLimitRH, 1} {
			month := steadyMonth(20, 0.45, -5, 0.8)
			required, ok, err := month.RequiredRatio(limit, formula)
			if !ok || err != nil {
				t.Fatalf("no ratio, error %v", err)
			}
			surface := must[InnerSurface](t)(month.InnerSurface(required.Ratio, formula))
			equal(t, "relative humidity", surface.RH, limit, 1e-5)
			equal(t, "temperature", surface.Temperature, required.Temperature, 1e-9)
			other := 0.05
			thickness := must[float64](t)(ThicknessForRatio(required.Ratio, 0.04, 1/0.13, other))
			back := must[float64](t)(SurfaceRatio(0.13, other+thickness/0.04))
			equal(t, "ratio of the insulated surface", back, required.Ratio, 1e-12)
		}
	}
}

func TestNoRatioRequired(t *testing.T) {
	warm := steadyMonth(20, 0.5, 25, 0.5)
	if _, ok, err := warm.RequiredRatio(MoldLimitRH, ASHRAE); ok || err != nil {
		t.Errorf("a month warmer outdoors requires a ratio: %v, error %v", ok, err)
	}
	months := [12]Month{}
	for i := range months {
		months[i] = warm
	}
	ruling := must[RequiredRatio](t)(RulingRatio(&months, MoldLimitRH, ASHRAE))
	if ruling.Month != -1 {
		t.Errorf("month %d rules where none should", ruling.Month)
	}
	humid := steadyMonth(20, 0.85, 0, 0.8)
	if required, ok, _ := humid.RequiredRatio(MoldLimitRH, ASHRAE); !ok || required.Ratio <= 1 {
		t.Errorf("room air above the limit requires a ratio of %g, want above 1", required.Ratio)
	}
}

func tank(t *testing.T, row checks.Row, inside float64) ColdSurface {
	t.Helper()
	return ColdSurface{
		Air: 27, Inside: inside, Film: 6.8,
		DewPoint: moistair.DewPoint(row.Float("rh") * moistair.SaturationPressure(27)),
	}
}

func TestColdFlat(t *testing.T) {
	f := checks.Open(t, "steady-cold-flat.csv")
	for _, row := range f.Rows() {
		cold := tank(t, row, 4)
		f.Check(t, row, "dew_c", cold.DewPoint)
		thickness := must[float64](t)(cold.FlatThickness(0.043))
		f.Check(t, row, "thickness_mm", 1000*thickness)
		equal(t, "resistance", must[float64](t)(cold.Resistance()), thickness/0.043, 1e-12)
	}
	printed := checks.Open(t, "steady-cold-flat-printed.csv")
	for _, row := range printed.Rows() {
		printed.Check(t, row, "thickness_mm", 1000*must[float64](t)(tank(t, row, 4).FlatThickness(0.043)))
	}
}

func TestColdPipe(t *testing.T) {
	f := checks.Open(t, "steady-cold-pipe.csv")
	for _, row := range f.Rows() {
		cold := tank(t, row, 4.4)
		f.Check(t, row, "flat_mm", 1000*must[float64](t)(cold.FlatThickness(0.043)))
		f.Check(t, row, "pipe_168_mm", 1000*must[float64](t)(cold.PipeThickness(0.043, 0.1683/2)))
		f.Check(t, row, "pipe_22_mm", 1000*must[float64](t)(cold.PipeThickness(0.043, 0.022/2)))
	}
}

// Around a very thick pipe the insulation is flat.
func TestThickPipeIsFlat(t *testing.T) {
	cold := ColdSurface{Air: 27, DewPoint: 21, Inside: 4, Film: 6.8}
	flat := must[float64](t)(cold.FlatThickness(0.043))
	equal(t, "thickness", must[float64](t)(cold.PipeThickness(0.043, 100)), flat, 1e-3*flat)
}

func TestDuctDrop(t *testing.T) {
	f := checks.Open(t, "steady-duct-drop.csv")
	for _, row := range f.Rows() {
		duct := Duct{
			Flux: row.Float("flux_w_m2"), Perimeter: row.Float("perimeter_m"), Length: row.Float("length_m"),
			Velocity: row.Float("velocity_m_s"), Area: row.Float("area_m2"),
			Density: row.Float("density_kg_m3"), Heat: row.Float("heat_j_kgk"),
		}
		f.Check(t, row, "drop_k", must[float64](t)(duct.TemperatureDrop()))
	}
}
