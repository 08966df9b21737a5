package climate

import (
	"hash/fnv"
	"math"
)

// random is a 64-bit xorshift generator with a final multiplication (Marsaglia
// 2003, Vigna 2016): written out here so that a place has the same year in every
// build of the program.
type random struct{ state uint64 }

// newRandom returns the series of one purpose at one place.
func newRandom(place, purpose string) *random {
	h := fnv.New64a()
	h.Write([]byte(place))
	h.Write([]byte{0})
	h.Write([]byte(purpose))
	return &random{state: h.Sum64() | 1}
}

// uniform returns a number in the open interval 0 to 1.
func (r *random) uniform() float64 {
	r.state ^= r.state >> 12
	r.state ^= r.state << 25
	r.state ^= r.state >> 27
	bits := r.state * 0x2545F4914F6CDD1D
	return (float64(bits>>11) + 0.5) / (1 << 53)
}

// normal returns a number of the standard normal distribution (Box and Muller).
func (r *random) normal() float64 {
	radius := math.Sqrt(-2 * math.Log(r.uniform()))
	return radius * math.Cos(2*math.Pi*r.uniform())
}

// persistent returns n values of a first-order autoregressive series of zero mean,
// unit variance and the given correlation from one value to the next.
func (r *random) persistent(n int, correlation float64) []float64 {
	innovation := math.Sqrt(1 - correlation*correlation)
	values := make([]float64, n)
	z := r.normal()
	for i := range values {
		z = correlation*z + innovation*r.normal()
		values[i] = z
	}
	return values
}
