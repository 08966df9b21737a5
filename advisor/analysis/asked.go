package analysis

import "relath/kb"

// asked is what the conditions of a base ask of the facts that cost the most to
// bracket. A run whose ranges nobody reads looks no further than they do.
type asked struct {
	humidities []float64 // limits to which the humidity at food faces is held
	ranged     bool      // its range is compared or shown for itself
	shares     bool      // some condition is about the share of a layer
	drying     bool      // some condition is about what dries
}

func askedOf(base *kb.Base) *asked {
	a := &asked{}
	humidity := moistureFacts()[planeHumidity]
	if f := base.Fact(humidity); f != nil {
		a.ranged = f.Screen != ""
	}
	base.Conditions(func(c *kb.Condition) {
		switch c.Fact {
		case humidity:
			a.humidities = append(a.humidities, c.LimitSI.Best)
		case "share-outward", "share-inward":
			a.shares = true
		case "drying-capacity", "drying-outward", "drying-inward":
			a.drying = true
		}
	})
	return a
}

// ofShares says whether the range of the shares of the layers matters.
func (a *asked) ofShares() bool { return a == nil || a.shares }

// ofDrying says whether the range of what dries matters.
func (a *asked) ofDrying() bool { return a == nil || a.drying }

// apart is by how much of itself a value must be past a limit to be past it for
// every condition, which round a little.
const apart = 0.02

// settled says whether no condition answers otherwise when the humidity goes
// further up than so far, or down with the sign −1.
func (a *asked) settled(humidity, sign float64) bool {
	if a == nil || a.ranged {
		return false
	}
	for _, limit := range a.humidities {
		if sign*(humidity-limit) <= apart*limit {
			return false
		}
	}
	return true
}
