package mold

import (
	"fmt"
	"math"
)

const hoursPerWeek = 168.0

// DefaultDecline is the decline, relative to that of pine in the original model,
// of a material without a documented one: the published class "almost none"
// (Vereecken and Roels 2012, Table 5, citing Ojanen et al. 2010). The other
// published classes are 1, 0.5 and 0.25; all rest on few tests.
const DefaultDecline = 0.1

// Model holds the constants by which the index of one face grows and declines.
// Make one with [ForFace], [ForInterface] or [Original]; it is read only, so that
// many states may share it.
type Model struct {
	rate, ceiling constants
	decline       float64
	// Only the original model: its own k1 from M = 1, the curve of pine below 20 °C
	// without a floor, and the terms of wood species and surface.
	original                          bool
	spruce, spruceVisible, kilnDrying float64
}

// ForFace returns the model of a face of class c toward air.
func ForFace(c Class) *Model { return ForInterface(c, c) }

// ForInterface returns the model of a face of class examined that touches a face
// of class other: the rate and the critical humidity are those of the more
// sensitive of the two, the ceiling is that of the face examined.
func ForInterface(examined, other Class) *Model {
	return &Model{
		rate:    min(examined, other).constants(),
		ceiling: examined.constants(),
		decline: DefaultDecline,
	}
}

// Original returns the model of Hukka and Viitanen 1999 for sapwood of pine or
// spruce, with a resawn or an original kiln-dried surface, and with the full
// decline of that model.
func Original(spruce, kilnDried bool) *Model {
	m := &Model{
		rate:     VerySensitive.constants(),
		ceiling:  VerySensitive.constants(),
		decline:  1,
		original: true,
	}
	if spruce {
		m.spruce, m.spruceVisible = 0.14, 0.06
	}
	if kilnDried {
		m.kilnDrying = 0.33
	}
	return m
}

// WithDecline returns a copy of m with a documented decline relative to pine,
// 0 to 1.
func (m *Model) WithDecline(factor float64) (*Model, error) {
	if !(factor >= 0 && factor <= 1) {
		return nil, fmt.Errorf("mold decline factor %g is not between 0 and 1", factor)
	}
	changed := *m
	changed.decline = factor
	return &changed, nil
}

// CriticalHumidity returns the relative humidity, a fraction, from which growth is
// possible at t in °C. At and below 0 °C, and from 50 °C, it is 1, and there is no
// growth at all.
func (m *Model) CriticalHumidity(t float64) float64 {
	if !(t > 0 && t < 50) {
		return 1
	}
	return m.critical(t, m.rate.minHumidity) / 100
}

// Ceiling returns the index that growth approaches at constant t in °C and
// relative humidity rh, a fraction; 0 where nothing grows.
func (m *Model) Ceiling(t, rh float64) float64 {
	rh = min(100*rh, 100)
	if !m.favors(t, rh) {
		return 0
	}
	return m.highest(t, rh)
}

// favors reports whether the hour lets mold grow; rh in %.
func (m *Model) favors(t, rh float64) bool {
	return t > 0 && t < 50 && rh >= m.critical(t, m.rate.minHumidity)
}

// critical returns the critical relative humidity in % at 0 < t < 50 °C
// (Vereecken and Roels 2012, eq. 6): a cubic below 20 °C, lowest from there on.
func (m *Model) critical(t, lowest float64) float64 {
	if t >= 20 {
		return lowest
	}
	if m.original {
		return criticalPine(t)
	}
	return max(criticalPine(t), lowest)
}

// criticalPine is the cubic of the critical relative humidity of pine, %.
func criticalPine(t float64) float64 {
	return 100 + t*(-3.13+t*(0.160-0.00267*t))
}

// highest returns the ceiling of the index while the hour lets mold grow.
func (m *Model) highest(t, rh float64) float64 {
	critical := m.critical(t, m.ceiling.minHumidity)
	x := (critical - rh) / (critical - 100)
	return max(0, m.ceiling.a+x*(m.ceiling.b-m.ceiling.c*x))
}

// growth returns the rise of the index in an hour that lets mold grow
// (Vereecken and Roels 2012, eq. 7 and 8).
func (m *Model) growth(index, t, rh float64) float64 {
	k2 := 1 - math.Exp(2.3*(index-m.highest(t, rh)))
	if k2 <= 0 {
		return 0
	}
	return m.coefficient(index, t, rh) * k2 / (hoursPerWeek * m.weeksToFirst(t, rh))
}

// coefficient returns k1, the speed of growth relative to that of pine before
// index 1.
func (m *Model) coefficient(index, t, rh float64) float64 {
	switch {
	case index < 1:
		return m.rate.before
	case m.original:
		return 2 / (m.weeksToVisible(t, rh)/m.weeksToFirst(t, rh) - 1)
	default:
		return m.rate.after
	}
}

// weeksToFirst returns the weeks to index 1 on pine at constant t in °C and rh in
// % (Vereecken and Roels 2012, eq. 9).
func (m *Model) weeksToFirst(t, rh float64) float64 {
	return math.Exp(-0.68*math.Log(t) - 13.9*math.Log(rh) + m.spruce - m.kilnDrying + 66.02)
}

// weeksToVisible returns the weeks to index 3 on pine at constant t in °C and rh
// in % (Vereecken and Roels 2012, eq. 10).
func (m *Model) weeksToVisible(t, rh float64) float64 {
	return math.Exp(-0.74*math.Log(t) - 12.72*math.Log(rh) + m.spruceVisible + 61.50)
}
