package moistair

import "math"

// Newton's method stops after a step below newtonTolerance in K, far inside the
// 0.001 K that the dew point promises. It needs two to four steps;
// maxNewtonSteps only bounds it.
const (
	newtonTolerance = 1e-5
	maxNewtonSteps  = 20
)

// DewPoint returns the temperature in °C at which air of vapor pressure p in Pa
// is saturated, within 0.001 K: the inverse of [SaturationPressure], thus the
// frost point below the triple point. It is NaN where the result lies outside
// −100 to 200 °C, so too for p ≤ 0.
func DewPoint(p float64) float64 {
	if !(p > 0) {
		return math.NaN()
	}
	logP := math.Log(p)
	if logP > logPressureIce(TriplePoint+ZeroCelsius) {
		// Between the two branches at the triple point lies a hair of pressure
		// that neither reaches.
		return math.Max(invert(logP, logPressureWater, slopeWater), TriplePoint)
	}
	return invert(logP, logPressureIce, slopeIce)
}

// DewPointOverWater returns the temperature in °C at which air of vapor
// pressure p in Pa is saturated over liquid water, supercooled below 0 °C,
// within 0.001 K: the inverse of [SaturationPressureOverWater], and the dew
// point that weather records print. It is NaN where the result lies outside
// −100 to 200 °C, so too for p ≤ 0.
func DewPointOverWater(p float64) float64 {
	if !(p > 0) {
		return math.NaN()
	}
	return invert(math.Log(p), logPressureWater, slopeWater)
}

// invert returns the temperature in °C at which logPressure is logP. ln p is
// almost linear in 1/T, so Newton's method in 1/T converges from any start
// within the range.
func invert(logP float64, logPressure, slope func(float64) float64) float64 {
	if math.IsInf(logP, 0) || logP < logPressure(minTemperature+ZeroCelsius)-1e-6 ||
		logP > logPressure(maxTemperature+ZeroCelsius)+1e-6 {
		return math.NaN()
	}
	k := ZeroCelsius
	for range maxNewtonSteps {
		// With u = 1/T: du = (ln p − f)/(df/du), and df/du = −T² df/dT.
		u := 1/k - (logP-logPressure(k))/(k*k*slope(k))
		next := 1 / u
		done := math.Abs(next-k) < newtonTolerance
		k = next
		if done {
			break
		}
	}
	return withinRange(k - ZeroCelsius)
}
