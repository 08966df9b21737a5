package assembly

import (
	"relath/kb"
	"relath/kb/quantity"
)

// finishes checks the finish schedule.
func (r *resolver) finishes(h *House) {
	for i := range h.Finishes {
		f := &h.Finishes[i]
		out := ResolvedFinish{Finish: f}
		for _, id := range f.Material.OneOf {
			if id.Value == None {
				continue
			}
			if m := r.material(id); m != nil {
				out.Materials = append(out.Materials, m)
			}
		}
		if !f.Length.IsZero() {
			if v, ok := f.Length.SI(quantity.Length, r.problem); ok {
				out.Length = quantity.Exact(v)
			}
		}
		if !f.Area.IsZero() {
			out.Area, _ = f.Area.SI(quantity.Area, r.problem)
		}
		for _, run := range f.Coats {
			for _, id := range run.Coating.OneOf {
				if m := r.material(id); m != nil && m.Form != kb.Coat {
					r.problem(id.Pos, "\""+m.ID+"\" is not a coating", "coats are primers, paints, washes and wallcoverings")
				}
			}
		}
		r.out.Finishes = append(r.out.Finishes, out)
	}
}

// coldSurfaces checks the quantities of cold surfaces.
func (r *resolver) coldSurfaces(h *House) {
	for _, c := range h.ColdSurfaces {
		if !c.Air.IsZero() {
			if t, ok := c.Air.SI(quantity.Temperature, r.problem); ok {
				r.within(c.Air, t, -30, 60, "temperature inside", "-22 F to 140 F")
			}
		}
		if !c.Insulation.IsZero() {
			c.Insulation.SI(quantity.ThermalResistance, r.problem)
		}
		if !c.Diameter.IsZero() {
			c.Diameter.SI(quantity.Length, r.problem)
		}
	}
}
