package assembly

import (
	"fmt"

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
			out.Length, _ = f.Length.SI(quantity.Length, r.problem)
		}
		if !f.Area.IsZero() {
			out.Area, _ = f.Area.SI(quantity.Area, r.problem)
		}
		if !f.Size.IsZero() {
			r.size(f, &out)
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

// size reads the cross section of a finish, or its thickness alone.
func (r *resolver) size(f *Finish, out *ResolvedFinish) {
	var err error
	if out.Thickness, out.Width, err = quantity.ParseSize(f.Size.Value); err == nil {
		return
	}
	if out.Thickness, err = quantity.Parse(f.Size.Value, quantity.Length); err != nil {
		r.problem(f.Size.Pos, fmt.Sprintf("size %q is no cross section", f.Size.Value), "for example 9/16 in x 5-1/4 in, 1x6, or a thickness such as 3/4 in")
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
