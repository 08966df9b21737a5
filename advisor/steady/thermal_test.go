package steady

import (
	"math/rand/v2"
	"testing"

	"relath/advisor/internal/checks"
	"relath/advisor/moistair"
)

func TestInsideFilms(t *testing.T) {
	f := checks.Open(t, "steady-films-ashrae.csv")
	for _, row := range f.Rows() {
		flow := heatFlow(t, row)
		ordinary := must[float64](t)(InsideFilm(flow, Emittance90))
		f.Check(t, row, "r_090", ordinary)
		f.Check(t, row, "r_020", must[float64](t)(InsideFilm(flow, Emittance20)))
		f.Check(t, row, "r_005", must[float64](t)(InsideFilm(flow, Emittance05)))
		f.Check(t, row, "h_w_m2k", 1/ordinary)
	}
}

func TestInsideFilmsISO(t *testing.T) {
	f := checks.Open(t, "steady-films-iso.csv")
	for _, row := range f.Rows() {
		r := must[float64](t)(InsideFilmISO(heatFlow(t, row)))
		f.Check(t, row, "r_m2k_w", r)
		f.Check(t, row, "h_w_m2k", 1/r)
	}
}

func TestOutsideFilms(t *testing.T) {
	f := checks.Open(t, "steady-films-outside.csv")
	for _, row := range f.Rows() {
		r := map[string]float64{
			"winter": OutsideFilmWinter, "summer": OutsideFilmSummer, "iso": OutsideFilmISO,
		}[row.Text("case")]
		f.Check(t, row, "r_m2k_w", r)
		f.Check(t, row, "h_w_m2k", 1/r)
	}
}

func TestAirSpaceISO(t *testing.T) {
	for _, name := range []string{"steady-airspace-iso.csv", "steady-airspace-iso-table.csv"} {
		f := checks.Open(t, name)
		for _, row := range f.Rows() {
			d := row.Float("thickness_mm") / 1000
			f.Check(t, row, "horizontal", must[float64](t)(AirSpaceISO(d, Horizontal)))
			f.Check(t, row, "up", must[float64](t)(AirSpaceISO(d, Up)))
			f.Check(t, row, "down", must[float64](t)(AirSpaceISO(d, Down)))
		}
	}
}

func TestAirSpaceASHRAE(t *testing.T) {
	f := checks.Open(t, "steady-airspace-ashrae.csv")
	for _, row := range f.Rows() {
		for _, label := range []string{"thickness_mm", "flow", "dt_k"} {
			row.Text(label) // they say which row of the table it is
		}
		space := AirSpace{MeanT: row.Float("t_mean_c")}
		space.Convection = 1/row.Float("r_003") - radiation(0.03, space.MeanT)
		for column, emittance := range map[string]float64{
			"r_005": 0.05, "r_020": 0.20, "r_050": 0.50, "r_082": 0.82,
		} {
			space.Emittance = emittance
			f.Check(t, row, column, must[float64](t)(space.Resistance()))
		}
	}
}

func TestAirSpaceNarrow(t *testing.T) {
	f := checks.Open(t, "steady-airspace-narrow.csv")
	for _, row := range f.Rows() {
		h := must[float64](t)(NarrowConvection(row.Float("thickness_mm")/1000, row.Float("t_mean_c")))
		f.Check(t, row, "h_w_m2k", h)
	}
}

// Ordinary surfaces of 0.9 face to face have 0.82, the last column of ASHRAE
// Handbook—Fundamentals 2021, ch. 26, Table 3; a black body leaves the other
// emittance as it is.
func TestEffectiveEmittance(t *testing.T) {
	equal(t, "two ordinary surfaces", must[float64](t)(EffectiveEmittance(0.9, 0.9)), 0.82, 0.005)
	equal(t, "beside a black body", must[float64](t)(EffectiveEmittance(0.05, 1)), 0.05, 1e-12)
}

// conductions returns the walls of the conduction check files and the index of
// the layer with framing.
func conductions() map[string]Conduction {
	return map[string]Conduction{
		// ASHRAE Handbook—Fundamentals 2021, ch. 27, Example 3.
		"wood-frame": {Inside: 0.12, Outside: 0.03, Layers: []ThermalLayer{
			{R: 0.08}, {R: 2.30, FramingR: 0.77, FramingShare: 0.25}, {R: 0.70}, {R: 0.11},
		}},
		// Scottish Executive, worked examples of U-value calculations.
		"timber-frame": {Inside: 0.130, Outside: 0.040, Layers: []ThermalLayer{
			{R: 0.100}, {R: 3.333, FramingR: 1.077, FramingShare: 0.095}, {R: 0.146}, {R: 0.090}, {R: 0.132},
		}},
	}
}

// path returns the conduction with one path through its framed layer only.
func path(c Conduction, framing bool) Conduction {
	layers := append([]ThermalLayer(nil), c.Layers...)
	for i, layer := range layers {
		if framing && layer.FramingShare > 0 {
			layers[i].R = layer.FramingR
		}
		layers[i].FramingShare = 0
	}
	c.Layers = layers
	return c
}

func TestConduction(t *testing.T) {
	for _, name := range []string{"steady-conduction.csv", "steady-conduction-printed.csv"} {
		f := checks.Open(t, name)
		for _, row := range f.Rows() {
			c := conductions()[row.Text("case")]
			parallel := must[float64](t)(c.ParallelPath())
			isothermal := must[float64](t)(c.IsothermalPlanes())
			combined := must[Combined](t)(c.Combined())
			got := map[string]float64{
				"framing_path_r": must[float64](t)(path(c, true).ParallelPath()),
				"cavity_path_r":  must[float64](t)(path(c, false).ParallelPath()),
				"parallel_r":     parallel, "parallel_u": 1 / parallel,
				"isothermal_r": isothermal, "isothermal_u": 1 / isothermal,
				"stud_layer_r": c.Layers[1].average(),
				"combined_r":   combined.R, "combined_u": 1 / combined.R,
				"error_percent": 100 * combined.Error,
			}
			for column, value := range got {
				if f.Name == "steady-conduction-printed.csv" && (column == "combined_r" || column == "combined_u" || column == "error_percent") {
					continue
				}
				if row.Has(column) {
					f.Check(t, row, column, value)
				}
			}
		}
	}
}

func TestConductionOthers(t *testing.T) {
	// Example 4: the printed U takes a web of 0.09.
	block := ThermalLayer{R: 2.60, FramingR: 0.09, FramingShare: 0.19}
	example4 := Conduction{Inside: 0.12, Outside: 0.03, Layers: []ThermalLayer{{R: 0.045}, block}}
	resistance := map[string]float64{
		"example-1": must[float64](t)(Conduction{Inside: 0.120, Outside: 0.030, Layers: []ThermalLayer{
			{R: 0.107}, {R: 0.011}, {R: 0.07}, {R: 4.29}, {R: 0.079},
		}}.ParallelPath()),
		"example-4-average": block.average(),
		"example-4":         must[float64](t)(example4.IsothermalPlanes()),
		// Example 6: 9.4 of 41 m² at 1.162 W/(m²·K), the rest at 0.287.
		"example-6": must[float64](t)(Conduction{Layers: []ThermalLayer{
			{R: 1 / 0.287, FramingR: 1 / 1.162, FramingShare: 9.4 / 41},
		}}.ParallelPath()),
	}
	f := checks.Open(t, "steady-conduction-others.csv")
	for _, row := range f.Rows() {
		r := resistance[row.Text("case")]
		if row.Has("r_m2k_w") {
			f.Check(t, row, "r_m2k_w", r)
		}
		f.Check(t, row, "u_w_m2k", 1/r)
	}
}

func randomConduction(rng *rand.Rand) Conduction {
	c := Conduction{Inside: 0.05 + 0.2*rng.Float64(), Outside: 0.02 + 0.05*rng.Float64()}
	for range 1 + rng.IntN(6) {
		layer := ThermalLayer{R: 0.01 + 4*rng.Float64()}
		if rng.IntN(2) == 0 {
			layer.FramingR, layer.FramingShare = 0.01+2*rng.Float64(), 0.4*rng.Float64()
		}
		c.Layers = append(c.Layers, layer)
	}
	return c
}

// The limits bracket the combined method; the order of layers does not matter;
// a resistance in series never lowers the total.
func TestConductionProperties(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for range 500 {
		c := randomConduction(rng)
		combined := must[Combined](t)(c.Combined())
		if combined.Lower > combined.Upper*(1+1e-12) {
			t.Fatalf("isothermal planes %g above parallel path %g: %+v", combined.Lower, combined.Upper, c)
		}
		if combined.R < combined.Lower*(1-1e-12) || combined.R > combined.Upper*(1+1e-12) {
			t.Fatalf("combined %g outside of its limits: %+v", combined.R, c)
		}
		mirrored := Conduction{Inside: c.Outside, Outside: c.Inside}
		for i := range c.Layers {
			mirrored.Layers = append(mirrored.Layers, c.Layers[len(c.Layers)-1-i])
		}
		back := must[Combined](t)(mirrored.Combined())
		equal(t, "mirrored resistance", back.R, combined.R, 1e-12*combined.R)
		more := Conduction{Inside: c.Inside, Outside: c.Outside, Layers: append([]ThermalLayer{{R: rng.Float64()}}, c.Layers...)}
		if r := must[Combined](t)(more.Combined()); r.Upper < combined.Upper || r.Lower < combined.Lower {
			t.Fatalf("a layer in series lowers the resistance of %+v", c)
		}
	}
}

// Two layers with framing that cross leave four paths; written out by hand.
func TestConductionCrossingFraming(t *testing.T) {
	c := Conduction{Inside: 0.1, Layers: []ThermalLayer{
		{R: 2, FramingR: 1, FramingShare: 0.25}, {R: 1, FramingR: 0.5, FramingShare: 0.1},
	}}
	u := 0.75*0.9/3.1 + 0.75*0.1/2.6 + 0.25*0.9/2.1 + 0.25*0.1/1.6
	equal(t, "resistance", must[float64](t)(c.ParallelPath()), 1/u, 1e-12)
}

func TestVaporRelations(t *testing.T) {
	f := checks.Open(t, "steady-vapor-relations.csv")
	for _, row := range f.Rows() {
		air, w := row.Float("air_e10")*1e-10, row.Float("permeance_ng")*nanogram
		sd := must[float64](t)(EquivalentAirLayer(w, air))
		mu := must[float64](t)(ResistanceFactor(w*row.Float("thickness_m"), air))
		f.Check(t, row, "sd_m", sd)
		f.Check(t, row, "mu", mu)
		equal(t, "permeance back from s_d", must[float64](t)(PermeanceOfAirLayer(sd, air)), w, 1e-12*w)
		equal(t, "μ·d", mu*row.Float("thickness_m"), sd, 1e-12*sd)
	}
}

func TestFilmAirLayers(t *testing.T) {
	f := checks.Open(t, "steady-film-air-layers.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "sd_m", must[float64](t)(InsideFilmAirLayer(heatFlow(t, row))))
	}
	wind := checks.Open(t, "steady-film-air-layers-wind.csv")
	for _, row := range wind.Rows() {
		wind.Check(t, row, "sd_m", must[float64](t)(OutsideFilmAirLayer(row.Float("wind_m_s"))))
	}
}

func TestVentedGap(t *testing.T) {
	f := checks.Open(t, "steady-vented-gap.csv")
	for _, row := range f.Rows() {
		row.Text("changes_per_hour")
		airflow := row.Float("airflow_kg_s_m2")
		f.Check(t, row, "r_m2k_w", must[float64](t)(VentResistance(airflow)))
		f.Check(t, row, "permeance_ng", must[float64](t)(VentPermeance(airflow, 101325))/nanogram)
	}
}

func TestLeakDeposit(t *testing.T) {
	f := checks.Open(t, "steady-leak-deposit.csv")
	for _, row := range f.Rows() {
		excess := row.Float("rhi")*moistair.SaturationPressure(row.Float("ti_c")) -
			moistair.SaturationPressure(row.Float("plane_c"))
		permeance := must[float64](t)(VentPermeance(row.Float("airflow_kg_s_m2"), 101325))
		f.Check(t, row, "deposit_g_m2_day", permeance*excess*perDay)
		f.Check(t, row, "one_perm_g_m2_day", perm*excess*perDay)
	}
}
