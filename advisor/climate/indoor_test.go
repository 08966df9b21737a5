package climate

import (
	"math"
	"testing"

	"relath/advisor/internal/checks"
	"relath/advisor/moistair"
)

func TestHumidityClasses(t *testing.T) {
	f := checks.Open(t, "climate-humidity-classes.csv")
	for _, row := range f.Rows() {
		class, err := NewHumidityClass(int(row.Float("class")))
		if err != nil {
			t.Fatal(err)
		}
		f.Check(t, row, "excess_pa", class.Excess(row.Float("outdoor_c")))
	}
	for _, number := range []int{0, 5, -1} {
		if _, err := NewHumidityClass(number); err == nil {
			t.Errorf("no error for humidity class %d", number)
		}
	}
}

// The upper limits of the classes are 2 g/m³ each, turned into pressure at 20 °C.
func TestHumidityClassIsTwoGramsPerCubicMeter(t *testing.T) {
	for class := HumidityClass(1); class <= 4; class++ {
		grams := class.Excess(0) / (moistair.GasConstantWaterVapor * 293.15) * 1000
		if math.Abs(grams-2*float64(class)) > 0.02 {
			t.Errorf("class %d is %g g/m³", class, grams)
		}
	}
}

func TestIndoorWithCooling(t *testing.T) {
	r := Indoor{Heating: Setting{20, 0.35}, Cooling: &Setting{23.5, 0.5}}
	for _, c := range []struct{ outdoor, temperature, humidity float64 }{
		{-20, 20, 0.35},
		{10, 20, 0.35},
		{(10 + 18.0 + 1.0/3) / 2, 21.75, 0.425},
		{18.0 + 1.0/3, 23.5, 0.5},
		{35, 23.5, 0.5},
	} {
		air := r.At(c.outdoor, 600)
		rh := air.VaporPressure / moistair.SaturationPressureOverWater(air.Temperature)
		if math.Abs(air.Temperature-c.temperature) > 1e-9 || math.Abs(rh-c.humidity) > 1e-9 {
			t.Errorf("outdoors %g °C: %g °C and %g, not %g and %g", c.outdoor, air.Temperature, rh, c.temperature, c.humidity)
		}
	}
}

func TestIndoorWithoutCooling(t *testing.T) {
	r := Indoor{Heating: Setting{20, 0.35}, Class: 2}
	winter := r.At(-5, 300)
	if winter != r.Heating.air() {
		t.Errorf("winter has %+v, not the heating values", winter)
	}
	summer := r.At(25, 2000)
	if want := 25 + 5.0/1.8; math.Abs(summer.Temperature-want) > 1e-9 || summer.VaporPressure != 2000 {
		t.Errorf("summer has %+v, not %g °C and 2000 Pa", summer, want)
	}
	mild := r.At(19, 1500)
	if want := 1500 + 540*(1-19.0/20); math.Abs(mild.VaporPressure-want) > 1e-9 {
		t.Errorf("at 19 °C outdoors %g Pa, not %g", mild.VaporPressure, want)
	}
	soaked := r.At(25, 9000)
	if soaked.VaporPressure != moistair.SaturationPressureOverWater(soaked.Temperature) {
		t.Errorf("indoor air is above saturation: %+v", soaked)
	}
}

func TestIndoorsFollowTheLastDay(t *testing.T) {
	y := generated(t, inventedPlace())
	r := Indoor{Heating: Setting{20, 0.35}, Cooling: &Setting{23.5, 0.5}}
	indoors := y.Indoors(r)
	for _, i := range []int{0, 10, 23, 24, 4000, HoursPerYear - 1} {
		te, pe := 0.0, 0.0
		for k := range 24 {
			h := y.Hours[(i-k+HoursPerYear)%HoursPerYear]
			te += h.Temperature / 24
			pe += h.VaporPressure / 24
		}
		want := r.At(te, pe)
		if math.Abs(indoors[i].Temperature-want.Temperature) > 1e-8 ||
			math.Abs(indoors[i].VaporPressure-want.VaporPressure) > 1e-6 {
			t.Errorf("%s: %+v, not %+v", stamp(i), indoors[i], want)
		}
	}
}
