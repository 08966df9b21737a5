package analysis

import (
	"fmt"
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// coated is the vapor side of a solid part: the material with the coats of
// both faces.
type coated struct {
	curve   vaporCurve
	inputs  []Input
	lacks   string
	system  *kb.System // the measured system used, nil for none
	covered int        // coats that the system covers
}

// vaporOf gives the permeance of a part with its coats. A measured system of
// substrate and coats beats the sum of its parts; further coats act in series
// with it. Where the layer has joints they act beside boards and coats:
// M = M_joint + (1 − share)/(1/M_board + Σ 1/M_coat).
func vaporOf(base *kb.Base, p *assembly.Part) coated {
	var c coated
	curve, values, ok := permeanceOf(p.Material, p.Depth)
	if !ok {
		c.lacks = fmt.Sprintf("permeance of %s (%s)", p.Name, p.Material.Name)
		return c
	}
	c.note(p.Name, p.Material.ID, "permeance", values)
	for _, coats := range [][]*kb.Material{p.CoatsOut, p.CoatsIn} {
		if !c.face(base, p, coats, &curve) {
			return c
		}
	}
	c.curve = c.joints(p, curve)
	return c
}

// face adds the coats of one face to the curve. A system measured on another
// sample may read more open than its first coats in series; a coat never lowers
// the resistance, so then those count.
func (c *coated) face(base *kb.Base, p *assembly.Part, coats []*kb.Material, curve *vaporCurve) bool {
	if len(coats) == 0 {
		return true
	}
	system, covered := nearestSystem(base, p, coats)
	if system != nil {
		if w, ok := system.Working("permeance", kb.AnyMethod); ok {
			fewer := *curve
			if !new(coated).face(base, p, coats[:covered-1], &fewer) {
				fewer = *curve
			}
			c.note(p.Name, system.ID, "permeance", valuesOf(w))
			c.system, c.covered = system, covered
			*curve = combine([]vaporCurve{fewer, asCurve(w)}, func(m []float64) float64 { return min(m[0], m[1]) })
		} else {
			covered = 0
		}
	}
	for _, coat := range coats[covered:] {
		film, values, ok := permeanceOf(coat, 0)
		if !ok {
			c.lacks = fmt.Sprintf("permeance of %s on %s", coat.Name, p.Name)
			return false
		}
		c.note(p.Name, coat.ID, "permeance", values)
		*curve = combine([]vaporCurve{*curve, film}, series)
	}
	return true
}

func asCurve(w kb.Working) vaporCurve {
	if len(w.Curve) > 0 {
		return w.Curve
	}
	return constant(w.SI)
}

// nearestSystem finds the measured system with the same substrate that covers
// the most of the coats, counted from the substrate.
func nearestSystem(base *kb.Base, p *assembly.Part, coats []*kb.Material) (*kb.System, int) {
	var best *kb.System
	for _, s := range base.Systems {
		if s.Substrate != p.Material.ID || len(s.Coats) > len(coats) || len(s.Coats) == 0 {
			continue
		}
		if best != nil && len(s.Coats) <= len(best.Coats) {
			continue
		}
		if slices.EqualFunc(s.Coats, coats[:len(s.Coats)], func(id string, m *kb.Material) bool { return id == m.ID }) {
			best = s
		}
	}
	if best == nil {
		return nil, 0
	}
	return best, len(best.Coats)
}

// joints puts the joints of boards and laps beside the coated boards.
func (c *coated) joints(p *assembly.Part, boards vaporCurve) vaporCurve {
	joint, ok := p.Material.Working("joint-permeance", kb.AnyMethod, p.Depth)
	if !ok || p.Sealed {
		return boards
	}
	share, hasShare := p.Material.Working("joint-share", kb.AnyMethod, p.Depth)
	c.note(p.Name, p.Material.ID, "joint-permeance", valuesOf(joint))
	open := quantity.Exact(0)
	if hasShare {
		c.note(p.Name, p.Material.ID, "joint-share", valuesOf(share))
		open = share.SI
	}
	return combine([]vaporCurve{boards, constant(joint.SI), constant(open)}, func(m []float64) float64 {
		return m[1] + (1-m[2])*m[0]
	})
}

// note adds values to the inputs.
func (c *coated) note(layer, material, property string, values []*kb.Value) {
	for _, v := range values {
		c.inputs = append(c.inputs, Input{Layer: layer, Material: material, Property: property, Value: v})
	}
}
