package wood_test

import (
	"fmt"
	"testing"

	"relath/advisor/internal/checks"
	"relath/advisor/wood"
)

func TestEMC(t *testing.T) {
	for _, name := range []string{
		"wood-emc-table.csv", "wood-emc-table-recalled.csv",
		"wood-emc-equation.csv", "wood-emc-rounded.csv",
	} {
		f := checks.Open(t, name)
		for _, row := range f.Rows() {
			f.Check(t, row, "emc_percent", 100*wood.EMC(row.Float("t_c"), row.Float("rh_percent")/100))
		}
	}
}

func TestEquilibriumHumidity(t *testing.T) {
	f := checks.Open(t, "wood-emc-inverse.csv")
	for _, row := range f.Rows() {
		got := wood.EquilibriumHumidity(row.Float("t_c"), row.Float("emc_percent")/100)
		f.Check(t, row, "rh_percent", 100*got)
	}
}

func TestEMCGlass(t *testing.T) {
	f := checks.Open(t, "wood-emc-glass.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "emc_percent", 100*wood.EMCGlass(row.Float("t_c"), row.Float("rh_percent")/100))
	}
}

func TestEMCOutdoors(t *testing.T) {
	f := checks.Open(t, "wood-emc-outdoors.csv")
	for _, row := range f.Rows() {
		t.Log(row.Text("place"))
		sum := 0.0
		for month := 1; month <= 12; month++ {
			tc := row.Float(fmt.Sprintf("t_c_%d", month))
			sum += wood.EMC(tc, row.Float(fmt.Sprintf("rh_percent_%d", month))/100)
		}
		f.Check(t, row, "emc_percent", 100*sum/12)
	}
}

func TestCoefficient(t *testing.T) {
	for _, name := range []string{
		"wood-coefficients.csv", "wood-coefficients-reported.csv", "wood-coefficients-recalled.csv",
	} {
		f := checks.Open(t, name)
		for _, row := range f.Rows() {
			t.Log(row.Text("species"))
			saturation := row.Float("fiber_saturation_percent") / 100
			for _, way := range []string{"radial", "tangential"} {
				shrinkage := row.Float(way+"_shrinkage_percent") / 100
				f.Check(t, row, way+"_per_percent", wood.Coefficient(shrinkage, saturation)/100)
			}
		}
	}
}

func TestMovement(t *testing.T) {
	f := checks.Open(t, "wood-movement.csv")
	for _, row := range f.Rows() {
		t.Log(row.Text("species"), row.Text("cut"))
		coefficient := 100 * row.Float("per_percent")
		f.Check(t, row, "movement_mm", 1000*wood.Movement(0.083, coefficient, 0.06, 0.11))
	}
}

func TestConductivity(t *testing.T) {
	f := checks.Open(t, "wood-conductivity.csv")
	for _, row := range f.Rows() {
		content := row.Float("content_percent") / 100
		gravity := wood.SpecificGravity(row.Float("basic_gravity"),
			row.Float("volumetric_shrinkage_percent")/100, content)
		f.Check(t, row, "conductivity", wood.Conductivity(gravity, content))
	}
}

func TestConductivityAt12Percent(t *testing.T) {
	f := checks.Open(t, "wood-conductivity-equation.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "conductivity", wood.Conductivity(row.Float("gravity"), 0.12))
	}
	f = checks.Open(t, "wood-conductivity-species.csv")
	for _, row := range f.Rows() {
		t.Log(row.Text("species"))
		f.Check(t, row, "conductivity", wood.Conductivity(row.Float("gravity"), 0.12))
	}
}

func TestConductivityFromDensity(t *testing.T) {
	f := checks.Open(t, "wood-conductivity-ashrae.csv")
	for _, row := range f.Rows() {
		t.Log(row.Text("species"))
		gravity := row.Float("density_kg_m3") / 1000 / 1.12
		f.Check(t, row, "conductivity", wood.Conductivity(gravity, 0.12))
	}
	f = checks.Open(t, "wood-conductivity-wilkes.csv")
	for _, row := range f.Rows() {
		content := row.Float("content_percent") / 100
		gravity := row.Float("density_kg_m3") / 1000 / (1 + content)
		f.Check(t, row, "conductivity", wood.Conductivity(gravity, content))
	}
}

func TestHeatCapacity(t *testing.T) {
	for _, name := range []string{"wood-heat-capacity.csv", "wood-heat-capacity-equation.csv"} {
		f := checks.Open(t, name)
		for _, row := range f.Rows() {
			got := wood.HeatCapacity(row.Float("t_k")-273.15, row.Float("content_percent")/100)
			f.Check(t, row, "cp_j_kgk", got)
		}
	}
	f := checks.Open(t, "wood-heat-capacity-ashrae.csv")
	for _, row := range f.Rows() {
		f.Check(t, row, "cp_j_kgk", wood.HeatCapacity(row.Float("t_c"), row.Float("content_percent")/100))
	}
}
