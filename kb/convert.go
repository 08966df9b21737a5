package kb

import (
	"math"
	"slices"

	"relath/kb/quantity"
)

// StillAirPermeability is the vapor permeability of still air by which vapor
// resistance factors and equivalent air layers are turned into permeance and
// back, in kg/(s m Pa): the constant of ISO 13788 (recalled). Sources that took
// 1.95E-10 differ by 2.5 %.
const StillAirPermeability = 2.0e-10

// isOfLayer says whether a property belongs to the layer as thick as the
// conditions of a value say, and follows its thickness where it is homogeneous.
func isOfLayer(property string) bool {
	switch property {
	case "permeance", "equivalent-air-layer", "thermal-resistance", "area-density":
		return true
	}
	return false
}

// FollowsThickness says whether a property of this material is scaled by the
// thickness of the layer.
func (m *Material) FollowsThickness(property string) bool {
	return m.Form.homogeneous() && isOfLayer(property)
}

// conversion turns one property into another. Given are the value x, the
// thickness d of the layer asked about and the thickness d0 at which the value
// holds, both in meters.
type conversion struct {
	from, to    string
	formula     string
	homogeneous bool // only where the property follows the thickness
	layer       bool // needs d
	stated      bool // needs d0
	of          func(x, d, d0 float64) float64
}

// conversions holds the definitions that tie properties together: permeance is
// permeability over thickness, the vapor resistance factor and the equivalent
// air layer compare with still air (ISO 12572, recalled), thermal resistance is
// thickness over conductivity (ISO 6946, recalled). Nothing else is converted.
var conversions = []conversion{
	{"permeance", "permeance", "permeance × stated thickness / thickness", true, true, true, func(x, d, d0 float64) float64 { return x * d0 / d }},
	{"permeability", "permeance", "permeability / thickness", true, true, false, func(x, d, _ float64) float64 { return x / d }},
	{"vapor-resistance-factor", "permeance", "2.0E-10 kg/(s m Pa) / (vapor resistance factor × thickness)", true, true, false, func(x, d, _ float64) float64 { return StillAirPermeability / (x * d) }},
	{"equivalent-air-layer", "permeance", "2.0E-10 kg/(s m Pa) / equivalent air layer × stated thickness / thickness", true, true, true, func(x, d, d0 float64) float64 { return StillAirPermeability / x * d0 / d }},
	{"equivalent-air-layer", "permeance", "2.0E-10 kg/(s m Pa) / equivalent air layer", false, false, false, func(x, _, _ float64) float64 { return StillAirPermeability / x }},
	{"permeance", "permeability", "permeance × stated thickness", true, false, true, func(x, _, d0 float64) float64 { return x * d0 }},
	{"vapor-resistance-factor", "permeability", "2.0E-10 kg/(s m Pa) / vapor resistance factor", true, false, false, func(x, _, _ float64) float64 { return StillAirPermeability / x }},
	{"equivalent-air-layer", "permeability", "2.0E-10 kg/(s m Pa) × stated thickness / equivalent air layer", true, false, true, func(x, _, d0 float64) float64 { return StillAirPermeability * d0 / x }},
	{"thermal-resistance", "thermal-resistance", "thermal resistance × thickness / stated thickness", true, true, true, func(x, d, d0 float64) float64 { return x * d / d0 }},
	{"conductivity", "thermal-resistance", "thickness / conductivity", true, true, false, func(x, d, _ float64) float64 { return d / x }},
	{"thermal-resistance", "conductivity", "stated thickness / thermal resistance", true, false, true, func(x, _, d0 float64) float64 { return d0 / x }},
	{"area-density", "area-density", "mass per area × thickness / stated thickness", true, true, true, func(x, d, d0 float64) float64 { return x * d / d0 }},
	{"density", "area-density", "density × thickness", true, true, false, func(x, d, _ float64) float64 { return x * d }},
}

// convertible says whether a property follows from another one.
func convertible(property string) bool {
	return slices.ContainsFunc(conversions, func(k conversion) bool { return k.to == property })
}

// convert turns a value into the property of the question; false where that
// cannot be done.
func (q question) convert(v *Value) (candidate, bool) {
	if v.Property == q.property && q.takesAsIs(v) {
		return candidate{value: v, si: v.SI, curve: v.points()}, true
	}
	for i := range conversions {
		k := &conversions[i]
		if k.from != v.Property || k.to != q.property || !q.allows(k, v) {
			continue
		}
		f := func(x float64) float64 { return k.of(x, q.thickness, v.At.ThicknessSI) }
		return candidate{value: v, si: v.SI, curve: v.points()}.through(f, k.formula)
	}
	return candidate{}, false
}

// takesAsIs says whether a value needs no scaling by thickness: a property of
// the substance, a sheet, a value without stated thickness, or one of the
// thickness asked for.
func (q question) takesAsIs(v *Value) bool {
	return !isOfLayer(v.Property) || !q.homogeneous ||
		q.thickness == 0 || v.At.ThicknessSI == 0 || sameSize(q.thickness, v.At.ThicknessSI)
}

// allows says whether everything that the conversion needs is known.
func (q question) allows(k *conversion, v *Value) bool {
	return k.homogeneous == q.homogeneous && (!k.layer || q.thickness > 0) && (!k.stated || v.At.ThicknessSI > 0)
}

// through applies a conversion, which may turn low into high. It is false where
// the result is not finite, such as the reciprocal of zero.
func (c candidate) through(f func(float64) float64, formula string) (candidate, bool) {
	si, ok := convertRange(c.si, f)
	if !ok {
		return candidate{}, false
	}
	curve := make([]Point, 0, len(c.curve))
	for _, p := range c.curve {
		at, ok := convertRange(p.SI, f)
		if !ok {
			return candidate{}, false
		}
		curve = append(curve, Point{RH: p.RH, SI: at})
	}
	c.si, c.curve, c.formula, c.steps = si, curve, formula, c.steps+1
	return c, true
}

// convertRange applies a monotone function to the three numbers of a range.
func convertRange(r quantity.Range, f func(float64) float64) (quantity.Range, bool) {
	low, best, high := f(r.Low), f(r.Best), f(r.High)
	if low > high {
		low, high = high, low
	}
	for _, x := range [...]float64{low, best, high} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return quantity.Range{}, false
		}
	}
	return quantity.Range{Low: low, Best: best, High: high}, true
}

// points gives the curve of a value as points, with the bounds of its spread.
func (v *Value) points() []Point {
	if v.Curve == nil {
		return nil
	}
	spread := quantity.Exact(1)
	if v.Curve.Spread != nil {
		spread = v.Curve.Spread.SI
	}
	points := make([]Point, len(v.Curve.RH))
	for i, rh := range v.Curve.RH {
		points[i] = Point{RH: rh, SI: spread.Scale(v.Curve.SI[i])}
	}
	return points
}
