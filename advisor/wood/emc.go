package wood

import "math"

// The table behind the equilibrium formulas runs from coldest to warmest, °C:
// 30 to 270 °F.
const (
	coldest = (30 - 32) / 1.8
	warmest = (270 - 32) / 1.8
)

// EMC returns the equilibrium moisture content of wood in air of t in °C and
// relative humidity rh (Hailwood–Horrobin form, Wood Handbook FPL-GTR-282,
// eq. 4-5). It stands for Sitka spruce, midway between taking up and giving off
// water; species differ considerably at high humidity, and hysteresis at 50 % is
// 0.01 to 0.04.
//
// Below −1.1 °C (30 °F), the coldest of the handbook's table, the value for −1.1 °C
// holds, since the polynomials bend the wrong way there; rh above 1 counts as 1.
// It is NaN above 132.2 °C and for rh < 0.
func EMC(t, rh float64) float64 {
	t, ok := tabulated(t)
	if !ok || !(rh >= 0) {
		return math.NaN()
	}
	rh = min(rh, 1)
	w := 349 + t*(1.29+t*0.0135)
	k := 0.805 + t*(0.000736-t*0.00000273)
	k1 := 6.27 - t*(0.00938+t*0.000303)
	k2 := 1.91 + t*(0.0407-t*0.000293)

	free := k * rh
	bound := k1 * free * (1 + 2*k2*free) / (1 + k1*free*(1+k2*free))
	return 18 / w * (free/(1-free) + bound)
}

// tabulated returns t held at the coldest of the table, and whether there is an
// answer at t.
func tabulated(t float64) (float64, bool) {
	return max(t, coldest), t <= warmest
}

// EquilibriumHumidity returns the relative humidity of air of t in °C in
// equilibrium with wood of the moisture content; the inverse of [EMC], within
// 1E−9. It is NaN above 132.2 °C, for content < 0 and above the content of
// saturated air.
func EquilibriumHumidity(t, content float64) float64 {
	if !(content >= 0 && content <= EMC(t, 1)) {
		return math.NaN()
	}
	low, high := 0.0, 1.0
	for high-low > 1e-10 {
		middle := (low + high) / 2
		if EMC(t, middle) < content {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

// Constants of the form of Glass and others 2014.
const (
	glassA = -0.000612
	glassB = 2.43
	glassC = 0.0577
	glassD = 0.430
	// criticalWater is the critical temperature of water in K.
	criticalWater = 647.1
)

// EMCGlass returns the equilibrium moisture content of wood in air of t in °C and
// relative humidity rh by the form of Glass and others 2014 (Wood Handbook
// FPL-GTR-282, eq. 4-6), which has a closed inverse. It lies above [EMC], by
// 0.002 at 20 °C and 50 % and by 0.011 at 95 %: do not mix the two. The range of
// temperatures is that of EMC. It is NaN unless 0 ≤ rh < 1; toward saturation it
// rises without bound.
func EMCGlass(t, rh float64) float64 {
	t, ok := tabulated(t)
	if !ok || !(rh >= 0 && rh < 1) {
		return math.NaN()
	}
	scale, power := glassTerms(t)
	return math.Pow(scale*math.Log1p(-rh), power)
}

// EquilibriumHumidityGlass returns the relative humidity of air of t in °C in
// equilibrium with wood of the moisture content (Wood Handbook FPL-GTR-282,
// eq. 4-7); the exact inverse of [EMCGlass]. It is NaN above 132.2 °C and for
// content < 0.
func EquilibriumHumidityGlass(t, content float64) float64 {
	t, ok := tabulated(t)
	if !ok || !(content >= 0) {
		return math.NaN()
	}
	scale, power := glassTerms(t)
	return -math.Expm1(math.Pow(content, 1/power) / scale)
}

// glassTerms returns the factor before the logarithm and the power of eq. 4-6.
func glassTerms(t float64) (scale, power float64) {
	k := t + 273.15
	scale = glassA * k * math.Pow(1-k/criticalWater, glassB)
	return scale, glassC * math.Pow(k, glassD)
}
