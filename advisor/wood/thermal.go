package wood

import "math"

// Conductivity returns the thermal conductivity across the grain in W/(m·K),
// near 24 °C, from the specific gravity at the moisture content (Wood Handbook
// FPL-GTR-282, eq. 4-17; eq. 4-15 of FPL-GTR-190). Species deviate by up to 20 %;
// it rises 2 to 3 % per 10 K, and along the grain it is 1.5 to 2.8 times as
// large. It is fitted for a gravity above 0.3, and NaN unless gravity > 0 and
// 0 ≤ content ≤ 0.25.
func Conductivity(gravity, content float64) float64 {
	if !(gravity > 0 && content >= 0 && content <= 0.25) {
		return math.NaN()
	}
	return gravity*(0.1941+0.4064*content) + 0.01864
}

// HeatCapacity returns the heat capacity in J/(kg·K) of wood with its water at t
// in °C, per kg of the two together: that of dry wood and water in their shares,
// and a term for the bond between them (Wood Handbook FPL-GTR-190, eq. 4-16 to
// 4-18). It is meant for 7 to 147 °C (recalled) and extrapolated below. It is NaN
// unless −60 ≤ t ≤ 150 and 0 ≤ content ≤ 0.30.
func HeatCapacity(t, content float64) float64 {
	if !(t >= -60 && t <= 150 && content >= 0 && content <= FiberSaturation) {
		return math.NaN()
	}
	k, percent := t+273.15, 100*content
	dry := 0.1031 + 0.003867*k
	bond := percent * (-0.06191 + 2.36e-4*k - 1.33e-4*percent)
	return 1000 * ((dry+4.18*content)/(1+content) + bond)
}
