package transient

import (
	"math"

	"relath/advisor/moistair"
	"relath/advisor/sorption"
)

const referenceKelvin = sorption.ReferenceTemperature + moistair.ZeroCelsius

// evaluate computes what follows from the states of the nodes.
func (w *Workspace) evaluate() {
	for i := range w.nodes {
		w.evaluateAir(i)
	}
	for k := range w.slabs {
		s := &w.slabs[k]
		table := w.table(s)
		nodes := w.nodes[s.first : s.last()+1]
		values := w.values[s.firstSlot : s.firstSlot+len(nodes)]
		for i := range nodes {
			n, v := &nodes[i], &values[i]
			table.At(n.x, v)
			n.w += s.volume[i] * v.Content
			n.wX += s.volume[i] * v.ContentSlope
		}
	}
	for _, g := range w.gaps {
		n := &w.nodes[g.node]
		n.w, n.wT, n.wX = g.storage*n.p, g.storage*n.pT, g.storage*n.pX
	}
	for i := range w.nodes {
		n := &w.nodes[i]
		switch {
		case w.excess[i] == 0:
		case n.x >= saturated:
			n.w += w.excess[i] * (n.x - saturated)
			n.wX = w.excess[i]
		case n.x < lowest:
			n.w += w.excess[i] * (n.x - lowest)
			n.wX = w.excess[i]
		}
	}
}

// evaluateAir computes humidity and vapor pressure of a node and clears its water.
// A solid stays saturated above the coordinate of saturation. The coordinate of
// the air in a cavity is its relative humidity, which may exceed 1.
func (w *Workspace) evaluateAir(i int) {
	n := &w.nodes[i]
	saturation, slope := w.saturation.at(n.t)
	n.w, n.wT, n.wX = 0, 0, 0
	switch {
	case w.excess[i] == 0:
		n.phi, n.phiT, n.phiX = n.x, 0, 1
	case n.x >= saturated:
		n.phi, n.phiT, n.phiX = 1, 0, 0
	case n.x < lowest:
		n.phi, n.phiT, n.phiX = 0, 0, 0
	default:
		ratio := referenceKelvin / (n.t + moistair.ZeroCelsius)
		suction, humidity := w.kelvin.at(n.x)
		// φ = exp(−s·ratio) is the humidity at the reference temperature times an
		// exponential near 1, for which a few terms of its series do.
		if z := suction * (ratio - 1); z > -0.15 && z < 0.15 {
			n.phi = humidity * (1 - z*(1-z*(1.0/2-z*(1.0/6-z*(1.0/24)))))
		} else {
			n.phi = math.Exp(-suction * ratio)
		}
		n.phiT = n.phi * suction * ratio * ratio * (1 / referenceKelvin)
		n.phiX = n.phi * ratio * (suction + sorption.SuctionOffset)
	}
	n.p = n.phi * saturation
	n.pT = n.phi*slope + n.phiT*saturation
	n.pX = n.phiX * saturation
}
