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
		if n := &w.nodes[i]; n.x >= sorption.MaxCoordinate && w.excess[i] > 0 {
			n.w += w.excess[i] * (n.x - sorption.MaxCoordinate)
			n.wX = w.excess[i]
		}
	}
}

// evaluateAir computes humidity and vapor pressure of a node and clears its water.
// Above the coordinate of saturation a solid stays saturated, while the air of a
// cavity may be supersaturated.
func (w *Workspace) evaluateAir(i int) {
	n := &w.nodes[i]
	saturation, slope := w.saturation.at(n.t)
	kelvin := n.t + moistair.ZeroCelsius
	ratio := referenceKelvin / kelvin
	var s, sX float64
	switch {
	case n.x < sorption.MaxCoordinate:
		sX = -math.Exp(-n.x)
		s = -sX - sorption.SuctionOffset
	case w.excess[i] == 0:
		s, sX = sorption.SuctionOffset*(sorption.MaxCoordinate-n.x), -sorption.SuctionOffset
	}
	n.phi = math.Exp(-s * ratio)
	n.phiT = n.phi * s * ratio / kelvin
	n.phiX = -n.phi * ratio * sX
	n.p = n.phi * saturation
	n.pT = n.phi*slope + n.phiT*saturation
	n.pX = n.phiX * saturation
	n.w, n.wT, n.wX = 0, 0, 0
}
