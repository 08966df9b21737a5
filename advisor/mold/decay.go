package mold

import "math"

// Constants of the decay model.
const (
	hoursPerMonth = 720.0
	recoveryHours = 17520.0 // two years, for a full loss of activation
	decayHumidity = 95.0    // %, above which fungi activate
	warmestFitted = 30.0    // °C, end of the fitted range
)

// Decay is the brown rot of pine sapwood: an activation that builds up while the
// wood is damp, and after it the loss of mass (Viitanen et al. 2010, European
// Journal of Wood and Wood Products 68, 303–313; coefficients recalled). Fitted
// from 0 to 30 °C and 95 to 100 % relative humidity; warmer hours count as 30 °C.
// The zero value is sound wood. Like the mold index it does not cover wood wetted
// with liquid.
type Decay struct {
	activation, loss float64
}

// Activation returns how far the fungi are on their way to attack, 0 to 1.
func (d *Decay) Activation() float64 { return d.activation }

// MassLoss returns the share of the dry mass lost, 0 to 1. It never recovers.
func (d *Decay) MassLoss() float64 { return d.loss }

// Advance carries the state over one hour at t in °C and the relative humidity rh
// in the wood, a fraction; above 1 it counts as 1. A NaN makes both results NaN.
func (d *Decay) Advance(t, rh float64) {
	rh = min(100*rh, 100)
	if math.IsNaN(t) || math.IsNaN(rh) {
		d.activation += t + rh
		d.loss += t + rh
		return
	}
	t = min(t, warmestFitted)
	switch lag := decayLag(t, rh); {
	case !(t > 0 && rh > decayHumidity):
		d.activation = max(0, d.activation-1/recoveryHours)
	case lag > 0:
		d.activation = min(1, d.activation+1/lag)
		if d.activation == 1 {
			d.loss = min(1, d.loss+decayRate(t, rh)/100)
		}
	}
}

// decayLag returns the hours to full activation at 0 < t ≤ 30 °C and rh above
// 95 %. Close to freezing at the lowest humidity the fitted plane turns negative:
// no attack, and the hour changes nothing.
func decayLag(t, rh float64) float64 {
	return hoursPerMonth * (2.3*t + 0.035*rh - 0.024*t*rh) / (-42.9 + 0.14*t + 0.45*rh)
}

// decayRate returns the loss of mass in % per hour once activated.
func decayRate(t, rh float64) float64 {
	return max(0, -5.96e-2+1.96e-4*t+6.25e-4*rh)
}
