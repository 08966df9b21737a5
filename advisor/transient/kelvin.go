package transient

import (
	"math"

	"relath/advisor/sorption"
)

const (
	kelvinIntervals = 256
	kelvinPerUnit   = kelvinIntervals / (sorption.MaxCoordinate - sorption.MinCoordinate)
)

// kelvin holds what the coordinate stands for at the reference temperature, as
// cubics over equal intervals: suction over ρ_w·R_v·T and relative humidity. Two
// exponentials per node and iteration would take a fifth of a run.
type kelvin struct {
	suction, humidity [kelvinIntervals][4]float64
}

func newKelvin() *kelvin {
	k := new(kelvin)
	for i := range kelvinIntervals {
		var suction, humidity [4]float64
		for j := range suction {
			x := sorption.MinCoordinate + (float64(i)+float64(j)/3)/kelvinPerUnit
			suction[j] = math.Exp(-x) - sorption.SuctionOffset
			humidity[j] = math.Exp(-suction[j])
		}
		k.suction[i], k.humidity[i] = throughThirds(suction), throughThirds(humidity)
	}
	return k
}

// at returns both at a coordinate between the ends of the tables.
func (k *kelvin) at(x float64) (suction, humidity float64) {
	u := (x - sorption.MinCoordinate) * kelvinPerUnit
	i := min(int(u), kelvinIntervals-1)
	u -= float64(i)
	s, h := &k.suction[i], &k.humidity[i]
	return s[0] + u*(s[1]+u*(s[2]+u*s[3])), h[0] + u*(h[1]+u*(h[2]+u*h[3]))
}
