package moistair_test

import (
	"math"
	"testing"

	"relath/advisor/internal/checks"
	"relath/advisor/moistair"
)

const pressure = moistair.StandardPressure

func TestSaturationTable3(t *testing.T) {
	f := checks.Open(t, "moistair-saturation-table3.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "p_pa", moistair.SaturationPressure(row.Float("t_c")))
	}
}

func TestSaturationEquations(t *testing.T) {
	f := checks.Open(t, "moistair-saturation-equations.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "ashrae_pa", moistair.SaturationPressure(row.Float("t_c")))
		f.Check(t, row, "iso_pa", moistair.SaturationPressureISO(row.Float("t_c")))
	}
}

func TestSaturationBesideOtherFormulas(t *testing.T) {
	for _, name := range []string{"moistair-saturation-wmo.csv", "moistair-saturation-din.csv"} {
		f := checks.Open(t, name)
		for _, row := range f.Rows() {
			f.Check(t, row, "p_pa", moistair.SaturationPressure(row.Float("t_c")))
		}
	}
}

func TestISOAgainstASHRAE(t *testing.T) {
	f := checks.Open(t, "moistair-iso-against-ashrae.csv")
	for _, row := range f.Rows() {
		tc := row.Float("t_c")
		ratio := moistair.SaturationPressureISO(tc) / moistair.SaturationPressure(tc)
		f.Check(t, row, "difference_percent", 100*(ratio-1))
	}
}

func TestGolden(t *testing.T) {
	f := checks.Open(t, "moistair-golden.csv")
	for _, row := range f.Rows() {
		tc := row.Float("t_c")
		saturation := moistair.SaturationPressure(tc)
		p := row.Float("rh") * saturation
		w := moistair.HumidityRatio(p, pressure)
		f.Check(t, row, "psat_pa", saturation)
		f.Check(t, row, "pv_pa", p)
		f.Check(t, row, "dew_c", moistair.DewPoint(p))
		f.Check(t, row, "w_kg_kg", w)
		f.Check(t, row, "h_j_kg", moistair.Enthalpy(tc, w))
		f.Check(t, row, "wet_bulb_c", moistair.WetBulb(tc, w, pressure))
	}
}

func TestGoldenInchPound(t *testing.T) {
	const (
		paPerPSI      = 6894.757
		paPerInHg     = 3386.389
		grainsPerUnit = 7000
		jkgPerBtuLb   = 2326
		// The inch-pound enthalpy is zero for dry air at 0 °F.
		datumBtuLb = 0.240 * 32
	)
	f := checks.Open(t, "moistair-golden-ip.csv")
	for _, row := range f.Rows() {
		tc := (row.Float("t_f") - 32) / 1.8
		saturation := moistair.SaturationPressure(tc)
		p := row.Float("rh") * saturation
		w := moistair.HumidityRatio(p, 14.696*paPerPSI)
		f.Check(t, row, "psat_psi", saturation/paPerPSI)
		f.Check(t, row, "psat_inhg", saturation/paPerInHg)
		f.Check(t, row, "pv_inhg", p/paPerInHg)
		f.Check(t, row, "dew_f", moistair.DewPoint(p)*1.8+32)
		f.Check(t, row, "w_gr_lb", w*grainsPerUnit)
		f.Check(t, row, "h_btu_lb", moistair.Enthalpy(tc, w)/jkgPerBtuLb+datumBtuLb)
	}
}

func TestSaturatedHumidityRatio(t *testing.T) {
	f := checks.Open(t, "moistair-saturated-humidity-ratio.csv")
	for _, row := range f.Rows() {
		p := moistair.SaturationPressure(row.Float("t_c"))
		f.Check(t, row, "w_kg_kg", moistair.HumidityRatio(p, pressure))
	}
}

// humidityRatioAt returns the humidity ratio at which air at t has the wet bulb
// wet, found from WetBulb by bisection.
func humidityRatioAt(t, wet, pressure float64) float64 {
	low, high := 0.0, 1.0
	for range 60 {
		middle := (low + high) / 2
		if moistair.WetBulb(t, middle, pressure) < wet {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// checkState compares what the charts of Example 1 and of the altitudes print.
func checkState(t *testing.T, f *checks.File, row checks.Row) (vaporPressure float64) {
	t.Helper()
	tc, total := row.Float("t_c"), row.Float("pressure_pa")
	w := humidityRatioAt(tc, row.Float("wet_bulb_c"), total)
	p := moistair.VaporPressureFromHumidityRatio(w, total)
	f.Check(t, row, "w_g_kg", 1000*w)
	f.Check(t, row, "h_kj_kg", moistair.Enthalpy(tc, w)/1000)
	f.Check(t, row, "rh_percent", 100*p/moistair.SaturationPressure(tc))
	f.Check(t, row, "v_m3_kg", moistair.SpecificVolume(tc, w, total))
	return p
}

func TestExample1(t *testing.T) {
	f := checks.Open(t, "moistair-example1.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "dew_c", moistair.DewPoint(checkState(t, f, row)))
	}
}

func TestAltitude(t *testing.T) {
	f := checks.Open(t, "moistair-altitude.csv")
	for _, row := range f.Rows() {
		checkState(t, f, row)
	}
}

func TestExample3(t *testing.T) {
	f := checks.Open(t, "moistair-example3.csv")
	for _, row := range f.Rows() {
		tc := row.Float("t_c")
		w := moistair.HumidityRatio(row.Float("rh")*moistair.SaturationPressure(tc), pressure)
		f.Check(t, row, "h_kj_kg", moistair.Enthalpy(tc, w)/1000)
		f.Check(t, row, "w_g_kg", 1000*w)
		if row.Has("v_m3_kg") {
			f.Check(t, row, "v_m3_kg", moistair.SpecificVolume(tc, w, pressure))
		}
	}
}

func TestLatentHeat(t *testing.T) {
	f := checks.Open(t, "moistair-latent-heat.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "h_kj_kg", moistair.LatentHeatVaporization(row.Float("t_c"))/1000)
	}
}

func TestWaterAndIceHeat(t *testing.T) {
	f := checks.Open(t, "moistair-water-ice-heat.csv")
	for _, row := range f.Rows() {
		tc := row.Float("t_c")
		fusion := moistair.HeatOfFusion + (moistair.HeatCapacityWater-moistair.HeatCapacityIce)*tc
		heat := map[string]float64{
			"water":       moistair.HeatCapacityWater * tc,
			"fusion":      fusion,
			"sublimation": moistair.LatentHeatVaporization(tc) + fusion,
		}[row.Text("quantity")]
		f.Check(t, row, "h_kj_kg", heat/1000)
	}
}

func TestDewPoint(t *testing.T) {
	f := checks.Open(t, "moistair-dew-point.csv")
	for _, row := range f.Rows() {
		tc, rh := row.Float("t_c"), row.Float("rh")
		got := moistair.DewPoint(rh * moistair.SaturationPressure(tc))
		if row.Text("formula") == "iso" {
			got = moistair.DewPointISO(rh * moistair.SaturationPressureISO(tc))
		}
		f.Check(t, row, "dew_c", got)
	}
}

func TestDewPointCorrelation(t *testing.T) {
	f := checks.Open(t, "moistair-dew-point-correlation.csv")
	for _, row := range f.Rows() {
		p := row.Float("rh") * moistair.SaturationPressure(row.Float("t_c"))
		f.Check(t, row, "dew_c", moistair.DewPoint(p))
	}
}

// TestIceAndWater pins which phase relative humidity refers to below 0 °C:
// sensors and weather records to liquid water, saturation at surfaces to ice.
func TestIceAndWater(t *testing.T) {
	f := checks.Open(t, "moistair-ice-and-water.csv")
	for _, row := range f.Rows() {
		tc := row.Float("t_c")
		water := moistair.SaturationPressureOverWater(tc)
		f.Check(t, row, "water_pa", water)
		f.Check(t, row, "water_g_m3", 1000*moistair.VaporConcentration(tc, water))
		if !row.Has("ice_pa") {
			continue
		}
		ice := moistair.SaturationPressure(tc)
		f.Check(t, row, "ice_pa", ice)
		f.Check(t, row, "ice_g_m3", 1000*moistair.VaporConcentration(tc, ice))
		f.Check(t, row, "rh_water_percent", row.Float("rh_ice_percent")*ice/water)
		f.Check(t, row, "rh_ice_percent", row.Float("rh_water_percent")*water/ice)
	}
}

func TestAirPermeability(t *testing.T) {
	f := checks.Open(t, "moistair-air-permeability.csv")
	for _, row := range f.Rows() {
		tc := row.Float("t_c")
		f.Check(t, row, "en_15026", moistair.AirPermeability(tc, pressure))
		f.Check(t, row, "iso_12572", moistair.AirPermeabilitySchirmer(tc, pressure))
	}
}

func TestAirPermeabilityASHRAE(t *testing.T) {
	f := checks.Open(t, "moistair-air-permeability-ashrae.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "permeance_ng", 1e12*moistair.AirPermeability(23, pressure)/row.Float("thickness_m"))
	}
}

func TestOnePerm(t *testing.T) {
	f := checks.Open(t, "moistair-one-perm.csv")
	for _, row := range f.Rows() {
		permeance := row.Float("permeance_ng") * 1e-12
		f.Check(t, row, "sd_m", moistair.AirPermeabilityISO13788/permeance)
	}
}

// TestAirPermeabilityWithPressure: both formulas are inverse to the pressure.
func TestAirPermeabilityWithPressure(t *testing.T) {
	for _, permeability := range []func(t, pressure float64) float64{
		moistair.AirPermeability, moistair.AirPermeabilitySchirmer,
	} {
		ratio := permeability(10, pressure/2) / permeability(10, pressure)
		if math.Abs(ratio-2) > 1e-12 {
			t.Errorf("half the pressure multiplies the permeability by %g, not 2", ratio)
		}
	}
}
