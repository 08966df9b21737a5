package transient_test

import (
	"context"
	"math"

	"relath/advisor/moistair"
	"relath/advisor/sorption"
	"relath/advisor/transient"
)

// failer is a test or a rapid test.
type failer interface {
	Helper()
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}

func tabulate(t failer, f sorption.Functions) *sorption.Table {
	t.Helper()
	table, err := f.Tabulate()
	if err != nil {
		t.Fatalf("material: %v", err)
	}
	return table
}

// linear is a material with constant coefficients and a linear isotherm
// w = capacity·φ.
func linear(conductivity, heat, capacity, permeability float64) sorption.Functions {
	return sorption.Functions{
		Density: heat / 1000, SpecificHeat: 1000, DryConductivity: conductivity,
		FreeSaturation: capacity,
		Content:        func(phi float64) float64 { return capacity * phi },
		Permeability:   func(float64) float64 { return permeability },
	}
}

// inert is a material for heat alone: nothing of its water counts or moves.
func inert(t failer, conductivity, heat float64) *sorption.Table {
	t.Helper()
	return tabulate(t, linear(conductivity, heat, 1e-9, 1e-18))
}

func run(t failer, in transient.Input) *transient.Result {
	t.Helper()
	m, err := transient.Compile(in)
	if err != nil {
		t.Fatalf("compile: %v", err)
	}
	r, err := m.Run(context.Background(), new(transient.Workspace))
	if err != nil {
		t.Fatalf("run: %v", err)
	}
	check(t, r)
	return r
}

// check demands what holds for every run: it ends, and its balances close.
func check(t failer, r *transient.Result) {
	t.Helper()
	if r.Status != transient.Finished {
		t.Fatalf("the run ended after %d hours", r.Hours)
	}
	checkBalance(t, "mass", r.Mass, 1e-12+1e-9*r.Mass.Before)
	checkBalance(t, "heat", r.Heat, 1e-6)
}

// checkBalance demands a balance within 1E−6 of what flowed. Where next to nothing
// flowed, rounding may remain.
func checkBalance(t failer, what string, b transient.Balance, rounding float64) {
	t.Helper()
	if !(b.Relative() <= 1e-6) && math.Abs(b.Error) > rounding {
		t.Errorf("%s balance is off by %.2g of the throughput: %+v", what, b.Relative(), b)
	}
}

func near(t failer, what string, got, want, allowed float64) {
	t.Helper()
	if !(math.Abs(got-want) <= allowed) {
		t.Errorf("%s is %.9g, not %.9g within %g", what, got, want, allowed)
	}
}

// film is air at a constant state behind a film.
func film(celsius, humidity, heat, vapor float64) transient.Surface {
	return transient.Surface{
		Temperature:   transient.Constant(celsius),
		VaporPressure: transient.Constant(humidity * moistair.SaturationPressure(celsius)),
		HeatTransfer:  transient.Constant(heat),
		VaporTransfer: transient.Constant(vapor),
	}
}

// sealed is a face that nothing crosses.
var sealed = transient.Surface{}

// tight is a heat transfer coefficient that holds a face at air temperature.
const tight = 1e7
