package moistair

import "math"

// wetBulbTolerance is the width in K of the last bracket of the wet bulb.
const wetBulbTolerance = 1e-5

// WetBulb returns the thermodynamic wet-bulb temperature in °C of air at t in
// °C with the humidity ratio w at the total pressure in Pa, within 0.001 K
// (ASHRAE Handbook—Fundamentals 2021, ch. 1, eq. 33 and 35 solved for t*). From
// 0 °C the wick is wet; only where no wet wick balances it is ice. Air at or
// above saturation has its own temperature as wet bulb. It is NaN outside −100
// to 200 °C, for w < 0, for pressure ≤ 0, and where the wet bulb lies below
// −100 °C.
func WetBulb(t, w, pressure float64) float64 {
	if !(t >= minTemperature && t <= maxTemperature && w >= 0 && pressure > 0) {
		return math.NaN()
	}
	if w >= HumidityRatio(SaturationPressure(t), pressure) {
		return t
	}
	if t >= 0 && balanceWater(t, 0, pressure) <= w {
		return bisectWetBulb(t, w, pressure, 0, t, balanceWater)
	}
	if balanceIce(t, minTemperature, pressure) > w {
		return math.NaN()
	}
	return bisectWetBulb(t, w, pressure, minTemperature, math.Min(t, 0), balanceIce)
}

// bisectWetBulb finds between low and high the wet bulb at which balance gives
// w. Balance rises with the wet bulb.
func bisectWetBulb(t, w, pressure, low, high float64,
	balance func(t, wet, pressure float64) float64,
) float64 {
	for high-low > wetBulbTolerance {
		middle := low + (high-low)/2
		// Above the boiling point the balance is NaN: too high as well.
		if balance(t, middle, pressure) <= w {
			low = middle
		} else {
			high = middle
		}
	}
	return low + (high-low)/2
}

// balanceWater returns the humidity ratio of air at t whose wet bulb over
// liquid water is wet (eq. 33).
func balanceWater(t, wet, pressure float64) float64 {
	saturated := HumidityRatio(SaturationPressure(wet), pressure)
	return ((2501-2.326*wet)*saturated - 1.006*(t-wet)) / (2501 + 1.86*t - 4.186*wet)
}

// balanceIce returns the humidity ratio of air at t whose wet bulb over ice is
// wet (eq. 35).
func balanceIce(t, wet, pressure float64) float64 {
	saturated := HumidityRatio(SaturationPressure(wet), pressure)
	return ((2830-0.24*wet)*saturated - 1.006*(t-wet)) / (2830 + 1.86*t - 2.1*wet)
}
