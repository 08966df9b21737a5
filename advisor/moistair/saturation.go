package moistair

import "math"

// The ASHRAE saturation formulas are used from minTemperature to
// maxTemperature, °C.
const (
	minTemperature = -100.0
	maxTemperature = 200.0
)

// SaturationPressure returns the saturation pressure in Pa at t in °C: over
// ice up to the triple point, over liquid water above it (ASHRAE
// Handbook—Fundamentals 2021, ch. 1, eq. 5 and 6). It is NaN outside −100 to
// 200 °C. At the triple point the two branches differ by 6E−9 of their value.
func SaturationPressure(t float64) float64 {
	if !(t >= minTemperature && t <= maxTemperature) {
		return math.NaN()
	}
	if t <= TriplePoint {
		return math.Exp(logPressureIce(t + ZeroCelsius))
	}
	return math.Exp(logPressureWater(t + ZeroCelsius))
}

// SaturationPressureOverWater returns the saturation pressure in Pa over liquid
// water at t in °C, supercooled below 0 °C: the water branch of
// [SaturationPressure] extended. The relative humidity of weather records
// refers to it at every temperature. It is NaN outside −100 to 200 °C; at
// −20 °C it is 0.3 % below the Magnus formula of WMO No. 8.
func SaturationPressureOverWater(t float64) float64 {
	if !(t >= minTemperature && t <= maxTemperature) {
		return math.NaN()
	}
	return math.Exp(logPressureWater(t + ZeroCelsius))
}

// logPressureIce returns ln of the saturation pressure in Pa over ice at the
// absolute temperature k in K (ASHRAE Handbook—Fundamentals 2021, ch. 1, eq. 5).
func logPressureIce(k float64) float64 {
	return -5.6745359e3/k + 6.3925247 +
		k*(-9.677843e-3+k*(6.2215701e-7+k*(2.0747825e-9-k*9.484024e-13))) +
		4.1635019*math.Log(k)
}

// slopeIce returns the derivative of logPressureIce, 1/K.
func slopeIce(k float64) float64 {
	return 5.6745359e3/(k*k) - 9.677843e-3 +
		k*(2*6.2215701e-7+k*(3*2.0747825e-9-k*4*9.484024e-13)) +
		4.1635019/k
}

// logPressureWater returns ln of the saturation pressure in Pa over liquid
// water at the absolute temperature k in K (ASHRAE Handbook—Fundamentals 2021,
// ch. 1, eq. 6).
func logPressureWater(k float64) float64 {
	return -5.8002206e3/k + 1.3914993 +
		k*(-4.8640239e-2+k*(4.1764768e-5-k*1.4452093e-8)) +
		6.5459673*math.Log(k)
}

// slopeWater returns the derivative of logPressureWater, 1/K.
func slopeWater(k float64) float64 {
	return 5.8002206e3/(k*k) - 4.8640239e-2 +
		k*(2*4.1764768e-5-k*3*1.4452093e-8) +
		6.5459673/k
}

// The saturation formula of ISO 13788: p = isoReference·exp(a·t/(b + t)).
const (
	isoReference = 610.5
	isoWaterA    = 17.269
	isoWaterB    = 237.3
	isoIceA      = 21.875
	isoIceB      = 265.5
)

// SaturationPressureISO returns the saturation pressure in Pa at t in °C by the
// formula of ISO 13788: over liquid water from 0 °C, over ice below. It is NaN
// outside −100 to 200 °C; the standard uses it for climates, from about −30 to
// 50 °C.
func SaturationPressureISO(t float64) float64 {
	if !(t >= minTemperature && t <= maxTemperature) {
		return math.NaN()
	}
	if t >= 0 {
		return isoReference * math.Exp(isoWaterA*t/(isoWaterB+t))
	}
	return isoReference * math.Exp(isoIceA*t/(isoIceB+t))
}

// DewPointISO returns the temperature in °C whose saturation pressure by
// ISO 13788 is p in Pa: the exact inverse of [SaturationPressureISO]. It is NaN
// where the result lies outside −100 to 200 °C, so too for p ≤ 0.
func DewPointISO(p float64) float64 {
	if !(p > 0) {
		return math.NaN()
	}
	x := math.Log(p / isoReference)
	a, b := isoWaterA, isoWaterB
	if x < 0 {
		a, b = isoIceA, isoIceB
	}
	if !(x < a) {
		return math.NaN()
	}
	return withinRange(b * x / (a - x))
}

// withinRange returns t where the saturation formulas hold, else NaN.
func withinRange(t float64) float64 {
	// A hair of slack, so that the limits survive a round trip.
	const slack = 1e-6
	if !(t >= minTemperature-slack && t <= maxTemperature+slack) {
		return math.NaN()
	}
	return t
}
