package transient

import (
	"errors"
	"fmt"
	"math"
)

// Limits of an [Input].
const (
	// MaxLayers is the largest number of layers.
	MaxLayers = 200
	// MaxCells is the largest number of cells of a layer, times Refine.
	MaxCells = 20000
	// MaxHours is the longest run.
	MaxHours = 100 * 8784
	// MinTemperature and MaxTemperature bound air and initial temperatures, °C.
	MinTemperature = -60.0
	MaxTemperature = 100.0
)

func (in *Input) validate() error {
	switch {
	case len(in.Layers) == 0 || len(in.Layers) > MaxLayers:
		return fmt.Errorf("%d layers: from 1 to %d", len(in.Layers), MaxLayers)
	case in.Hours < 1 || in.Hours > MaxHours:
		return fmt.Errorf("%d hours: from 1 to %d", in.Hours, MaxHours)
	case in.Refine < 0:
		return fmt.Errorf("refine %d: at least 1, or 0 for 1", in.Refine)
	case !(in.Tolerance >= 0 && in.Tolerance <= 1):
		return fmt.Errorf("tolerance %g: above 0 and at most 1, or 0 for the default", in.Tolerance)
	}
	nodes := 0
	for i := range in.Layers {
		layer := &in.Layers[i]
		if err := layer.validate(max(1, in.Refine)); err != nil {
			return fmt.Errorf("layer %d %s: %w", i+1, layer.Name, err)
		}
		if layer.Sheet == nil {
			nodes++
		}
	}
	if nodes == 0 {
		return errors.New("at least one layer is a solid or a cavity")
	}
	return errors.Join(
		in.Outside.validate("outside"), in.Inside.validate("inside"), in.validatePlaces())
}

func (in *Input) validatePlaces() error {
	for i, s := range in.Sources {
		if err := in.validatePlace(s.At, Whole); err != nil {
			return fmt.Errorf("source %d: %w", i+1, err)
		}
		if err := s.Water.validate("water", 0, 1e6); err != nil {
			return fmt.Errorf("source %d: %w", i+1, err)
		}
	}
	for i, p := range in.Paths {
		if err := in.validatePlace(p.At, Middle); err != nil {
			return fmt.Errorf("air path %d: %w", i+1, err)
		}
		if err := errors.Join(validSide(p.From), p.Flow.validate("flow", 0, 1e3)); err != nil {
			return fmt.Errorf("air path %d: %w", i+1, err)
		}
	}
	for i, p := range in.Probes {
		if err := in.validatePlace(p, Middle); err != nil {
			return fmt.Errorf("probe %d: %w", i+1, err)
		}
	}
	return nil
}

func (in *Input) validatePlace(p Position, last Face) error {
	if p.Layer < 0 || p.Layer >= len(in.Layers) {
		return fmt.Errorf("layer index %d: from 0 to %d", p.Layer, len(in.Layers)-1)
	}
	if p.Face < OuterFace || p.Face > last {
		return fmt.Errorf("place %d of a layer: from %d to %d", p.Face, OuterFace, last)
	}
	return nil
}

func (l *Layer) validate(refine int) error {
	kinds := 0
	for _, given := range []bool{l.Material != nil, l.Cavity != nil, l.Sheet != nil} {
		if given {
			kinds++
		}
	}
	if kinds != 1 {
		return fmt.Errorf("%d kinds are given, not one of material, cavity and sheet", kinds)
	}
	if l.Sheet != nil {
		return nil // its permeance is checked where it is compiled
	}
	if err := errors.Join(
		within("thickness", l.Thickness, 1e-6, 1e3),
		within("initial temperature", l.Temperature, MinTemperature, MaxTemperature),
		within("initial humidity", l.Humidity, 0, 1),
	); err != nil {
		return err
	}
	if l.Cells < 0 || l.Cells > MaxCells/refine {
		return fmt.Errorf("%d cells: from 1 to %d, or 0", l.Cells, MaxCells/refine)
	}
	if l.Cavity == nil {
		return nil
	}
	return errors.Join(
		within("resistance", l.Cavity.Resistance, 1e-6, 1e3),
		within("vapor resistance", l.Cavity.VaporResistance, 1e3, 1e15),
		l.Cavity.Exchange.validate("air change rate", 0, 1e6),
		validSide(l.Cavity.From),
	)
}

func (s *Surface) validate(side string) error {
	if err := errors.Join(
		s.Temperature.validate("temperature", MinTemperature, MaxTemperature),
		s.VaporPressure.validate("vapor pressure", 0, 101325),
		s.HeatTransfer.validate("heat transfer coefficient", 0, 1e9),
		s.VaporTransfer.validate("vapor transfer coefficient", 0, 1),
		s.Sun.validate("sun", -1e4, 1e4),
		within("absorptance", s.Absorptance, 0, 1),
		s.LongWave.validate("long-wave gain", -1e4, 1e4),
		s.Rain.validate("rain", 0, 1e6),
	); err != nil {
		return fmt.Errorf("%s: %w", side, err)
	}
	return nil
}

// validate checks that all elements lie within limits; an empty series passes.
func (s Series) validate(what string, low, high float64) error {
	for k, x := range s {
		if err := within(what, x, low, high); err != nil {
			return fmt.Errorf("hour %d: %w", k, err)
		}
	}
	return nil
}

func within(what string, x, low, high float64) error {
	if !(x >= low && x <= high) || math.IsNaN(x) {
		return fmt.Errorf("%s %g: from %g to %g", what, x, low, high)
	}
	return nil
}

func validSide(s Side) error {
	if s != Outside && s != Inside {
		return fmt.Errorf("side %d: %d for outside or %d for inside", s, Outside, Inside)
	}
	return nil
}
