package sorption

import (
	"math"
	"sort"
)

// monotone is a piecewise cubic Hermite interpolant that does not overshoot:
// Fritsch, F. N., Carlson, R. E.: Monotone Piecewise Cubic Interpolation, SIAM
// Journal on Numerical Analysis 17 (1980), pp. 238–246 (recalled).
type monotone struct{ x, y, slope []float64 }

// newMonotone interpolates y over strictly rising x, at least two of them.
func newMonotone(x, y []float64) monotone {
	n := len(x)
	secant := func(i int) float64 { return (y[i+1] - y[i]) / (x[i+1] - x[i]) }
	slope := make([]float64, n)
	slope[0], slope[n-1] = secant(0), secant(n-2)
	for i := 1; i < n-1; i++ {
		// The parabola through three points, exact for second degree.
		left, right := x[i]-x[i-1], x[i+1]-x[i]
		slope[i] = (right*secant(i-1) + left*secant(i)) / (left + right)
	}
	limitSlopes(x, y, slope)
	return monotone{x, y, slope}
}

// limitSlopes reduces the slopes at the ends of every interval to what keeps the
// cubic on it monotone, α² + β² ≤ 9 (Fritsch and Carlson, sec. 4).
func limitSlopes(x, y, slope []float64) {
	for i := range len(x) - 1 {
		secant := (y[i+1] - y[i]) / (x[i+1] - x[i])
		if secant == 0 {
			slope[i], slope[i+1] = 0, 0
			continue
		}
		alpha, beta := max(0, slope[i]/secant), max(0, slope[i+1]/secant)
		if length := math.Hypot(alpha, beta); length > 3 {
			alpha, beta = 3*alpha/length, 3*beta/length
		}
		slope[i], slope[i+1] = alpha*secant, beta*secant
	}
}

// at returns the value at x within the first and the last knot.
func (m monotone) at(x float64) float64 {
	i := sort.SearchFloat64s(m.x, x)
	i = min(max(i-1, 0), len(m.x)-2)
	h := m.x[i+1] - m.x[i]
	c := hermite(h, m.y[i], m.y[i+1], m.slope[i], m.slope[i+1])
	t := (x - m.x[i]) / h
	return c[0] + t*(c[1]+t*(c[2]+t*c[3]))
}

// hermite returns the coefficients in t = 0…1 of the cubic over an interval of
// length h with the given values and slopes at its ends.
func hermite(h, y0, y1, slope0, slope1 float64) [4]float64 {
	d0, d1 := h*slope0, h*slope1
	return [4]float64{y0, d0, 3*(y1-y0) - 2*d0 - d1, 2*(y0-y1) + d0 + d1}
}
