package sorption

import (
	"errors"
	"fmt"
	"math"
)

// compile returns the permeability over relative humidity.
func (v Vapor) compile() (func(humidity float64) float64, error) {
	switch {
	case len(v.Curve) > 0:
		return Linear(v.Curve)
	case v.DryCup == 0 && v.WetCup == 0:
		return nil, errors.New("no curve and no cup value is given")
	case v.DryCup == 0:
		return constant(v.WetCup)
	case v.WetCup == 0:
		return constant(v.DryCup)
	}
	return Cups(v.DryCup, v.WetCup)
}

// Linear returns the linear interpolation of positive values at rising
// humidities from 0 to 1, held at the first and the last point outside of them.
func Linear(points []Point) (func(humidity float64) float64, error) {
	if len(points) == 0 {
		return nil, errors.New("no point is given")
	}
	for i, p := range points {
		if !(p.Humidity >= 0 && p.Humidity <= 1) {
			return nil, fmt.Errorf("humidity %g: humidities lie between 0 and 1", p.Humidity)
		}
		if i > 0 && p.Humidity <= points[i-1].Humidity {
			return nil, fmt.Errorf("humidity %g after %g: humidities rise", p.Humidity, points[i-1].Humidity)
		}
		if err := positive("value", p.Value); err != nil {
			return nil, err
		}
	}
	points = append([]Point(nil), points...)
	return func(phi float64) float64 {
		if phi <= points[0].Humidity {
			return points[0].Value
		}
		for i := 1; i < len(points); i++ {
			if phi <= points[i].Humidity {
				a, b := points[i-1], points[i]
				return a.Value + (b.Value-a.Value)*(phi-a.Humidity)/(b.Humidity-a.Humidity)
			}
		}
		return points[len(points)-1].Value
	}, nil
}

// Cups returns the exponential a·exp(k·φ) whose mean over 0 to 50 % relative
// humidity is the dry-cup value and whose mean over 50 to 100 % the wet-cup
// value, so that both tests are reproduced: k = 2·ln(wet/dry),
// a = dry·(k/2)/(exp(k/2) − 1).
//
// The form is ours. It is used where no curve was measured, because it is
// positive for any pair of cups and close to the curves of wood products.
func Cups(dry, wet float64) (func(humidity float64) float64, error) {
	if err := errors.Join(positive("dry-cup value", dry), positive("wet-cup value", wet)); err != nil {
		return nil, err
	}
	half := math.Log(wet / dry)
	a := dry
	if math.Abs(half) > 1e-9 {
		a = dry * half / math.Expm1(half)
	}
	return func(phi float64) float64 { return a * math.Exp(2*half*phi) }, nil
}

func constant(x float64) (func(humidity float64) float64, error) {
	if err := positive("cup value", x); err != nil {
		return nil, err
	}
	return func(float64) float64 { return x }, nil
}
