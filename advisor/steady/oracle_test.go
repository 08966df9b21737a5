package steady

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"relath/advisor/moistair"
)

// obstacle is a month of an unsliced assembly of constant permeances for a slow
// solver: relaxation of one plane after the other, cut off at saturation
// (projected Gauss–Seidel), until nothing moves.
type obstacle struct {
	inward, outward []float64 // conductances of plane k to its neighbors
	vent            []float64
	sat, p          []float64
	wet             []bool
	pIn, pOut       float64
}

func newObstacle(in *Input, m Month) *obstacle {
	n := len(in.Layers)
	o := &obstacle{
		inward: make([]float64, n+1), outward: make([]float64, n+1), vent: make([]float64, n+1),
		sat: make([]float64, n+1), p: make([]float64, n+1), wet: make([]bool, n+1),
		pIn: m.IndoorP, pOut: m.OutdoorP,
	}
	total := in.Inside.R + in.Outside.R
	for _, layer := range in.Layers {
		total += layer.R
	}
	r := in.Inside.R
	for k := range n + 1 {
		o.sat[k] = moistair.SaturationPressureISO(m.IndoorT + (m.OutdoorT-m.IndoorT)*r/total)
		if k < n {
			r += in.Layers[k].R
			o.outward[k] = in.Layers[k].Permeance[0].Permeance
			o.inward[k+1] = o.outward[k]
			o.vent[k+1] = in.Layers[k].Vent
		}
	}
	// A surface without a vapor film has the pressure of the air.
	o.inward[0], o.outward[n] = filmConductance(in.Inside), filmConductance(in.Outside)
	return o
}

func filmConductance(f Film) float64 {
	if f.VaporResistance == 0 {
		return math.Inf(1)
	}
	return 1 / f.VaporResistance
}

func (o *obstacle) neighbors(k int) (before, after float64) {
	before, after = o.pIn, o.pOut
	if k > 0 {
		before = o.p[k-1]
	}
	if k < len(o.p)-1 {
		after = o.p[k+1]
	}
	return before, after
}

func (o *obstacle) relax(k int) float64 {
	switch {
	case math.IsInf(o.inward[k], 1):
		return o.pIn
	case math.IsInf(o.outward[k], 1):
		return o.pOut
	case o.wet[k]:
		return o.sat[k]
	}
	before, after := o.neighbors(k)
	sum := o.inward[k]*before + o.outward[k]*after + o.vent[k]*o.pOut
	return min(o.sat[k], sum/(o.inward[k]+o.outward[k]+o.vent[k]))
}

func (o *obstacle) solve() bool {
	for range 200000 {
		moved := 0.0
		for k := range o.p {
			p := o.relax(k)
			moved = max(moved, math.Abs(p-o.p[k]))
			o.p[k] = p
		}
		if moved < 1e-11 {
			return true
		}
	}
	return false
}

// gain returns the condensation at plane k.
func (o *obstacle) gain(k int) float64 {
	if math.IsInf(o.inward[k], 1) || math.IsInf(o.outward[k], 1) || o.p[k] < o.sat[k] {
		return 0
	}
	before, after := o.neighbors(k)
	return o.inward[k]*(before-o.p[k]) + o.outward[k]*(after-o.p[k]) + o.vent[k]*(o.pOut-o.p[k])
}

// run advances water through the month, split where a plane runs dry.
func (o *obstacle) run(t *testing.T, water []float64, left float64) {
	t.Helper()
	for left > 0 {
		for k := range water {
			o.wet[k] = water[k] > 0
		}
		if !o.solve() {
			t.Fatal("the slow solver does not settle")
		}
		span, first := left, -1
		for k, m := range water {
			if g := o.gain(k); m > 0 && g < 0 && m/-g < span {
				span, first = m/-g, k
			}
		}
		for k := range water {
			water[k] = max(0, water[k]+o.gain(k)*span)
			if water[k] < 1e-12 {
				water[k] = 0
			}
		}
		if first >= 0 {
			water[first] = 0
		}
		left -= span
	}
}

// The monthly method agrees with the slow solver for 2,000 random assemblies.
func TestOracle(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 3))
	var w Workspace
	wet, severalPlanes, splits := 0, 0, 0
	for i := range 2000 {
		in := randomInput(rng)
		year := must[*Year](t)(w.Year(in))
		if !year.Wet {
			checkOracleDry(t, in)
			continue
		}
		wet++
		water := make([]float64, len(in.Layers)+1)
		most := 0
		for j := range 12 {
			m := (year.Start + j) % 12
			before := slices.Clone(water)
			newObstacle(in, in.Months[m]).run(t, water, in.Months[m].seconds())
			planes := 0
			for k := range water {
				if !(math.Abs(water[k]-year.Water[m][k]) <= 1e-6*max(1, water[k])) {
					t.Fatalf("assembly %d, month %d, plane %d: %.9g kg/m², slow solver %.9g: %+v",
						i, m+1, k, year.Water[m][k], water[k], in)
				}
				if water[k] > 0 {
					planes++
				}
				if before[k] > 0 && water[k] == 0 {
					splits++
				}
			}
			most = max(most, planes)
		}
		if most > 1 {
			severalPlanes++
		}
	}
	if wet < 200 || severalPlanes < 50 || splits < 100 {
		t.Errorf("the random assemblies try too little: %d wet, %d on several planes, %d planes run dry",
			wet, severalPlanes, splits)
	}
}

// checkOracleDry fails the test if the slow solver finds water in any month.
func checkOracleDry(t *testing.T, in *Input) {
	t.Helper()
	for _, m := range in.Months {
		o := newObstacle(in, m)
		if !o.solve() {
			t.Fatal("the slow solver does not settle")
		}
		for k := range o.p {
			if g := o.gain(k); g > 1e-16 {
				t.Fatalf("slow solver condenses %g at plane %d of a dry assembly %+v", g, k, in)
			}
		}
	}
}
