package steady

import (
	"math"
	"strings"
	"testing"
)

// broken returns functions that each spoil one quantity of an input with x, and
// the words that the error must hold.
func broken(x float64) map[string]func(*Input) {
	return map[string]func(*Input){
		"layer 2: thermal resistance":     func(in *Input) { in.Layers[1].R = x },
		"layer 2: permeance":              func(in *Input) { in.Layers[1].Permeance = constant(x) },
		"layer 2: relative humidity":      func(in *Input) { in.Layers[1].Permeance = Curve{{x, 1e-10}} },
		"layer 2: vent permeance":         func(in *Input) { in.Layers[1].Vent = x },
		"inside film: thermal resistance": func(in *Input) { in.Inside.R = x },
		"outside film: vapor resistance":  func(in *Input) { in.Outside.VaporResistance = x },
		"month 3: number of days":         func(in *Input) { in.Months[2].Days = x },
		"month 3: indoor vapor pressure":  func(in *Input) { in.Months[2].IndoorP = x },
		"month 3: outdoor vapor pressure": func(in *Input) { in.Months[2].OutdoorP = x },
		"month 3: indoor temperature":     func(in *Input) { in.Months[2].IndoorT = 300 * x },
		"month 3: outdoor temperature":    func(in *Input) { in.Months[2].OutdoorT = 300 * x },
	}
}

func TestValidateNumbers(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, -1e-300, 1e300} {
		for words, spoil := range broken(x) {
			if x == -1e-300 && strings.Contains(words, "temperature") {
				continue
			}
			in := onePlane(1, 1)
			spoil(in)
			var w Workspace
			_, yearErr := w.Year(in)
			for _, err := range []error{in.Validate(), yearErr} {
				if err == nil || !strings.Contains(err.Error(), words) {
					t.Errorf("%s of %g: error is %v", words, x, err)
				}
			}
			month := in.Months[2]
			_, profileErr := w.Profile(in, month)
			_, pinErr := w.Pin(in, month, 2)
			_, _, dryingErr := w.DryingCapacity(in, month, 2, 2)
			_, pathErr := w.DryingPath(in, month, 2, Inward)
			_, dryingYearErr := w.DryingYear(in, 2, 2)
			for _, err := range []error{profileErr, pinErr, dryingErr, pathErr, dryingYearErr} {
				if err == nil {
					t.Errorf("%s of %g: a method accepts it", words, x)
				}
			}
		}
	}
}

func TestValidateShape(t *testing.T) {
	cases := map[string]func(*Input){
		"number of layers is 0":       func(in *Input) { in.Layers = nil },
		"number of layers is 501":     func(in *Input) { in.Layers = make([]Layer, 501) },
		"permeance has no point":      func(in *Input) { in.Layers[0].Permeance = nil },
		"do not rise":                 func(in *Input) { in.Layers[0].Permeance = Curve{{0.5, 1e-10}, {0.5, 2e-10}} },
		"needs a layer outside of it": func(in *Input) { in.Layers[3].Vent = 1e-10 },
		"unknown saturation formula":  func(in *Input) { in.Saturation = 7 },
		"layers and films together": func(in *Input) {
			*in = *isoInput(in.Months, airLayer(0, 1))
			in.Inside.R, in.Outside.R = 0, 0
		},
	}
	for words, spoil := range cases {
		in := onePlane(1, 1)
		spoil(in)
		if err := in.Validate(); err == nil || !strings.Contains(err.Error(), words) {
			t.Errorf("error is %v, want %q", err, words)
		}
	}
	if err := onePlane(1, 1).Validate(); err != nil {
		t.Errorf("a sound input is refused: %v", err)
	}
}

func TestPlaneErrors(t *testing.T) {
	in := onePlane(1, 1)
	var w Workspace
	for _, plane := range []int{-1, 5, 0, 4} { // the surfaces have no vapor film
		if _, err := w.Pin(in, in.Months[0], plane); err == nil {
			t.Errorf("plane %d is accepted", plane)
		}
		if _, _, err := w.DryingCapacity(in, in.Months[0], plane, plane); err == nil {
			t.Errorf("plane %d is accepted for drying", plane)
		}
	}
	for _, plane := range []int{-1, 5} {
		if _, err := w.DryingPath(in, in.Months[0], plane, Inward); err == nil {
			t.Errorf("plane %d is accepted for a path", plane)
		}
	}
	if _, _, err := w.DryingCapacity(in, in.Months[0], 3, 2); err == nil {
		t.Error("a soaked layer from outside to inside is accepted")
	}
}

func TestScalarErrors(t *testing.T) {
	cold := ColdSurface{Air: 27, DewPoint: 21, Inside: 4, Film: 6.8}
	duct := Duct{Flux: 44, Perimeter: 3, Length: 20, Velocity: 15, Area: 0.54, Density: 1.2, Heat: 1006}
	wall := Conduction{Inside: 0.12, Outside: 0.03, Layers: []ThermalLayer{{R: 2, FramingR: 1, FramingShare: 0.25}}}
	functions := map[string]func(x float64) (float64, error){
		"air space":           func(x float64) (float64, error) { return AirSpaceISO(x, Horizontal) },
		"emittance":           func(x float64) (float64, error) { return EffectiveEmittance(0.9, x) },
		"convection":          func(x float64) (float64, error) { return AirSpace{Convection: x, Emittance: 0.8}.Resistance() },
		"narrow":              func(x float64) (float64, error) { return NarrowConvection(x, 10) },
		"vent permeance":      func(x float64) (float64, error) { return VentPermeance(x, 101325) },
		"total pressure":      func(x float64) (float64, error) { return VentPermeance(0.1, x) },
		"vent resistance":     VentResistance,
		"air layer":           func(x float64) (float64, error) { return EquivalentAirLayer(x, 2e-10) },
		"air":                 func(x float64) (float64, error) { return EquivalentAirLayer(1e-10, x) },
		"permeance":           func(x float64) (float64, error) { return PermeanceOfAirLayer(x, 2e-10) },
		"factor":              func(x float64) (float64, error) { return ResistanceFactor(x, 2e-10) },
		"wind":                OutsideFilmAirLayer,
		"surface ratio":       func(x float64) (float64, error) { return SurfaceRatio(x, 1) },
		"rest":                func(x float64) (float64, error) { return SurfaceRatio(0.13, x) },
		"thickness for ratio": func(x float64) (float64, error) { return ThicknessForRatio(x, 0.04, 7.7, 0.1) },
		"conductivity":        func(x float64) (float64, error) { return cold.FlatThickness(x) },
		"radius":              func(x float64) (float64, error) { return cold.PipeThickness(0.04, x) },
		"cold film":           func(x float64) (float64, error) { c := cold; c.Film = x; return c.Resistance() },
		"velocity":            func(x float64) (float64, error) { d := duct; d.Velocity = x; return d.TemperatureDrop() },
		"inside film":         func(x float64) (float64, error) { c := wall; c.Inside = x; return c.ParallelPath() },
		"framing share": func(x float64) (float64, error) {
			return Conduction{Layers: []ThermalLayer{{R: 2, FramingR: 1, FramingShare: x}}}.IsothermalPlanes()
		},
		"framing": func(x float64) (float64, error) {
			return Conduction{Layers: []ThermalLayer{{R: 2, FramingR: x, FramingShare: 0.2}}}.ParallelPath()
		},
		"limit": func(x float64) (float64, error) {
			r, _, err := winter().RequiredRatio(x, ASHRAE)
			return r.Ratio, err
		},
		"ratio": func(x float64) (float64, error) {
			s, err := winter().InnerSurface(x, ASHRAE)
			return s.RH, err
		},
	}
	for name, function := range functions {
		for _, x := range []float64{math.NaN(), -1, -0.001, math.Inf(1), 1e300} {
			if got, err := function(x); err == nil {
				t.Errorf("%s of %g is accepted and gives %g", name, x, got)
			}
		}
	}
}

func TestOtherErrors(t *testing.T) {
	saturated := ColdSurface{Air: 20, DewPoint: 20, Inside: 4, Film: 7}
	warm := ColdSurface{Air: 27, DewPoint: 10, Inside: 12, Film: 7}
	if _, err := saturated.Resistance(); err == nil {
		t.Error("saturated air is accepted")
	}
	equal(t, "insulation of a surface above the dew point", must[float64](t)(warm.PipeThickness(0.04, 0.05)), 0, 0)
	for name, err := range map[string]error{
		"inside film":     second(InsideFilm(9, Emittance90)),
		"emittance":       second(InsideFilm(Horizontal, 9)),
		"inside film ISO": second(InsideFilmISO(9)),
		"air space":       second(AirSpaceISO(0.02, 9)),
		"film air layer":  second(InsideFilmAirLayer(9)),
		"combined":        Conduction{}.Validate(),
		"bridged":         Conduction{Layers: bridged(11)}.Validate(),
		"layers":          Conduction{Layers: make([]ThermalLayer, 501)}.Validate(),
	} {
		if err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if err := (Conduction{Layers: bridged(10)}).Validate(); err != nil {
		t.Errorf("ten layers with framing are refused: %v", err)
	}
	if sd := must[float64](t)(EquivalentAirLayer(0, 2e-10)); !math.IsInf(sd, 1) {
		t.Errorf("equivalent air layer of no permeance is %g, want +Inf", sd)
	}
}

func second(_ float64, err error) error { return err }

func bridged(n int) []ThermalLayer {
	layers := make([]ThermalLayer, n)
	for i := range layers {
		layers[i] = ThermalLayer{R: 1, FramingR: 0.5, FramingShare: 0.1}
	}
	return layers
}
