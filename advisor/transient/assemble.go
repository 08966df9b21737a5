package transient

// flow is what comes from the air of a side to a node: heat in W/m² with the
// latent heat of the vapor, vapor in kg/(s·m²), both with their slopes by the
// state of the node, and absorbed radiation in W/m².
type flow struct {
	node       int
	heat       [3]float64 // value, slope by t, slope by x
	vapor      [3]float64
	gain       float64
	last, hour bookings
}

// bookings are the amounts of a flow in one step, in J/m² and kg/m².
type bookings struct{ heat, vapor, gain float64 }

func (w *Workspace) placeFlows() {
	w.flows[Outside].node, w.flows[Inside].node = 0, w.Model.nodes-1
	for i := range w.exchanges {
		w.flows[2+i].node = w.exchanges[i].node
	}
}

// assemble fills the rows for a step: storage minus b times the flows minus what
// is already known, b being the step times the factor of the formula, known the
// share gamma of the last step.
func (w *Workspace) assemble(dt, b, gamma float64) {
	for i := range w.rows {
		n, r, c := &w.nodes[i], &w.rows[i], w.capacity[i]
		r.diagonal = [4]float64{c, 0, n.wT, n.wX}
		r.right[0] = gamma*w.heated[i] - c*(n.t-w.past[0][i].t)
		r.right[1] = gamma*w.gained[i] + dt*w.poured[i] - (n.w - w.books[i])
	}
	for _, g := range w.gaps {
		// The vapor in the air of a cavity keeps its latent heat.
		n, r := &w.nodes[g.node], &w.rows[g.node]
		r.diagonal[0] += w.latent * n.wT
		r.diagonal[1] += w.latent * n.wX
		r.right[0] -= w.latent * (n.w - w.books[g.node])
	}
	for k := range w.slabs {
		w.addSlab(k, b)
	}
	for i := range w.links {
		w.addLink(&w.links[i], b)
	}
	w.measureFlows()
	for i := range w.flows {
		w.addFlow(&w.flows[i], b)
	}
}

// addSlab adds the flows between the nodes of a solid layer: conduction and vapor
// by the mean coefficients of the two nodes, liquid by the flux potential.
func (w *Workspace) addSlab(k int, b float64) {
	s := &w.slabs[k]
	functions := &w.table(s).Functions
	conductivity, slope := functions.DryConductivity, functions.ConductivitySlope
	liquid, latent := w.liquid[k], w.latent
	nodes := w.nodes[s.first : s.last()+1]
	values := w.values[s.firstSlot : s.firstSlot+len(nodes)]
	faces := w.faces[s.first:s.last()]
	for i, inverse := range s.inverse {
		left, right := &nodes[i], &nodes[i+1]
		u, v := &values[i], &values[i+1]
		c := b * inverse
		drop, difference := left.p-right.p, left.t-right.t
		permeance := c * 0.5 * (u.Permeability + v.Permeability)
		conductance := c * (conductivity + 0.5*slope*(u.Content+v.Content))
		vapor := permeance * drop
		bend := 0.5 * c * slope * difference
		f := &faces[i]
		f.mass = vapor + c*liquid*(u.Liquid-v.Liquid)
		f.heat = conductance*difference + latent*vapor
		massT, massX := permeance*left.pT, permeance*left.pX+0.5*c*u.PermeabilitySlope*drop
		f.left = [4]float64{
			conductance + latent*massT, latent*massX + bend*u.ContentSlope,
			massT, massX + c*liquid*u.LiquidSlope,
		}
		massT, massX = -permeance*right.pT, 0.5*c*v.PermeabilitySlope*drop-permeance*right.pX
		f.right = [4]float64{
			latent*massT - conductance, latent*massX + bend*v.ContentSlope,
			massT, massX - c*liquid*v.LiquidSlope,
		}
	}
}

// addLink adds the flow between two nodes that are no cell apart.
func (w *Workspace) addLink(l *link, b float64) {
	left, right := &w.nodes[l.left], &w.nodes[l.left+1]
	permeance, slope := l.sheet.conductance(l.vaporResistance, 0.5*(left.phi+right.phi))
	permeance, slope = b*permeance, 0.5*b*slope
	conductance, latent := b/l.resistance, w.latent
	drop := left.p - right.p
	vapor := permeance * drop
	f := &w.faces[l.left]
	f.mass = vapor
	f.heat = conductance*(left.t-right.t) + latent*vapor
	massT, massX := permeance*left.pT+slope*drop*left.phiT, permeance*left.pX+slope*drop*left.phiX
	f.left = [4]float64{conductance + latent*massT, latent * massX, massT, massX}
	massT, massX = slope*drop*right.phiT-permeance*right.pT, slope*drop*right.phiX-permeance*right.pX
	f.right = [4]float64{latent*massT - conductance, latent * massX, massT, massX}
}

// measureFlows computes the flows from the air of both sides.
func (w *Workspace) measureFlows() {
	for side := range w.weather {
		w.measureEnd(Side(side))
	}
	for i := range w.exchanges {
		e, f := &w.exchanges[i], &w.flows[2+i]
		n, air := &w.nodes[e.node], &w.weather[e.from]
		heat, vapor := w.exchange[i]*AirHeatCapacity, w.exchange[i]*AirVaporRatio
		f.vapor = [3]float64{vapor * (air.pressure - n.p), -vapor * n.pT, -vapor * n.pX}
		f.heat = [3]float64{heat * (air.temperature - n.t), -heat, 0}
		f.addLatent(w.latent)
	}
}

// measureEnd computes the flow from the air of a side through its film, and
// through the coats and the part of a cavity that come before the first node. The
// humidity of a coat is the mean of the node and of the air at its temperature.
func (w *Workspace) measureEnd(side Side) {
	air, f, l := &w.weather[side], &w.flows[side], &w.ends[side]
	n := &w.nodes[f.node]
	*f = flow{node: f.node, gain: air.gain, last: f.last, hour: f.hour}
	if air.heat > 0 {
		u := 1 / (1/air.heat + l.resistance)
		f.heat = [3]float64{u * (air.temperature - n.t), -u, 0}
	}
	if air.vapor > 0 {
		saturation, slope := w.saturation.at(n.t)
		outer, outerT := air.pressure/saturation, -air.pressure/saturation*slope/saturation
		if outer > 1 {
			outer, outerT = 1, 0
		}
		u, du := l.sheet.conductance(1/air.vapor+l.vaporResistance, 0.5*(n.phi+outer))
		drop := air.pressure - n.p
		f.vapor = [3]float64{
			u * drop,
			0.5*du*drop*(n.phiT+outerT) - u*n.pT,
			0.5*du*drop*n.phiX - u*n.pX,
		}
	}
	f.addLatent(w.latent)
}

// addLatent adds the latent heat of the vapor to the heat.
func (f *flow) addLatent(latent float64) {
	for i := range f.heat {
		f.heat[i] += latent * f.vapor[i]
	}
}

func (w *Workspace) addFlow(f *flow, b float64) {
	r := &w.rows[f.node]
	r.right[0] += b * (f.heat[0] + f.gain)
	r.right[1] += b * f.vapor[0]
	r.diagonal[0] -= b * f.heat[1]
	r.diagonal[1] -= b * f.heat[2]
	r.diagonal[2] -= b * f.vapor[1]
	r.diagonal[3] -= b * f.vapor[2]
}
