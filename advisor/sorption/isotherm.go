package sorption

import (
	"errors"
	"fmt"
)

// twoPointHumidity is the humidity of the lower point of the two-point form.
const twoPointHumidity = 0.8

// compile returns the moisture content in kg/m³ over relative humidity and the
// free saturation.
func (s Isotherm) compile(density float64) (func(humidity float64) float64, float64, error) {
	points, err := s.points(density)
	if err != nil {
		return nil, 0, err
	}
	saturation := s.FreeSaturation
	if n := len(points); n > 0 && points[n-1].Humidity == 1 {
		if saturation != 0 {
			return nil, 0, errors.New("free saturation is given twice, as a value and as the point at humidity 1")
		}
		saturation = points[n-1].Value
		points = points[:n-1]
	}
	if err := positive("free saturation", saturation); err != nil {
		return nil, 0, err
	}
	if saturation > WaterDensity {
		return nil, 0, fmt.Errorf("free saturation %g kg/m³ is more than the density of water", saturation)
	}
	if len(points) == 0 {
		return twoPoint(twoPointHumidity, s.W80, saturation)
	}
	return tabulated(points, saturation)
}

// points returns the table in kg/m³, or nothing for the two-point form.
func (s Isotherm) points(density float64) ([]Point, error) {
	forms := 0
	for _, given := range []bool{len(s.ByMass) > 0, len(s.ByVolume) > 0, s.W80 != 0} {
		if given {
			forms++
		}
	}
	if forms != 1 {
		return nil, fmt.Errorf("%d forms are given, not one of a table by mass, a table by volume and w80", forms)
	}
	factor, points := 1.0, s.ByVolume
	if len(s.ByMass) > 0 {
		factor, points = density, s.ByMass
	}
	scaled := make([]Point, len(points))
	last := Point{}
	for i, p := range points {
		if !(p.Humidity > last.Humidity && p.Humidity <= 1) {
			return nil, fmt.Errorf("humidity %g after %g: humidities rise from above 0 to at most 1", p.Humidity, last.Humidity)
		}
		if !(p.Value > last.Value) {
			return nil, fmt.Errorf("moisture content %g after %g: moisture contents rise from above 0", p.Value, last.Value)
		}
		last = p
		scaled[i] = Point{p.Humidity, p.Value * factor}
	}
	return scaled, nil
}

// twoPoint returns the form w = w_f·(b−1)·φ/(b−φ) through a point and free
// saturation (Künzel 1995, recalled, where the point lies at 80 %).
func twoPoint(humidity, content, saturation float64) (func(float64) float64, float64, error) {
	if err := positive("moisture content", content); err != nil {
		return nil, 0, err
	}
	if content >= humidity*saturation {
		return nil, 0, fmt.Errorf(
			"moisture content %g kg/m³ at %g %% relative humidity: at most that share of free saturation %g kg/m³",
			content, 100*humidity, saturation)
	}
	b := humidity * (saturation - content) / (humidity*saturation - content)
	return func(phi float64) float64 {
		return saturation * (b - 1) * phi / (b - phi)
	}, saturation, nil
}

// tabulated returns a monotone cubic through the origin and the points, and the
// two-point form beyond the last of them.
func tabulated(points []Point, saturation float64) (func(float64) float64, float64, error) {
	last := points[len(points)-1]
	tail, _, err := twoPoint(last.Humidity, last.Value, saturation)
	if err != nil {
		return nil, 0, err
	}
	x, y := []float64{0}, []float64{0}
	for _, p := range points {
		x, y = append(x, p.Humidity), append(y, p.Value)
	}
	inner := newMonotone(x, y)
	return func(phi float64) float64 {
		if phi > last.Humidity {
			return tail(phi)
		}
		return inner.at(phi)
	}, saturation, nil
}
