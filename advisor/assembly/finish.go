package assembly

import (
	"fmt"
	"strconv"
	"strings"

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
		if f.Count < 0 {
			r.problem(f.Pos, fmt.Sprintf("count %d of %q is below zero", f.Count, f.Part.Value), "")
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
		out.State = r.finishState(f)
		for k := range f.Coats {
			out.Coats = append(out.Coats, r.finishCoats(&f.Coats[k])...)
		}
		r.out.Finishes = append(r.out.Finishes, out)
	}
	nameFinishes(r.out.Finishes)
}

// nameFinishes names each finish by its part. Where several of a room have the
// same part, what differs between all of them stands behind it: the size, else how
// much there is, else the material, else its place among them.
func nameFinishes(list []ResolvedFinish) {
	alike := make(map[[2]string][]int)
	for i := range list {
		f := list[i].Finish
		list[i].Name = f.Part.Value
		key := [2]string{strings.ToLower(f.Room.Value), strings.ToLower(f.Part.Value)}
		alike[key] = append(alike[key], i)
	}
	for _, group := range alike {
		if len(group) == 1 {
			continue
		}
		for n, by := range tellApart(list, group) {
			f := &list[group[n]]
			f.Name = fmt.Sprintf("%s (%s)", f.Finish.Part.Value, by)
		}
	}
}

// tellApart gives for each finish of a group what the others do not have.
func tellApart(list []ResolvedFinish, group []int) []string {
	words := []func(*ResolvedFinish) string{
		func(f *ResolvedFinish) string { return f.Finish.Size.Value },
		func(f *ResolvedFinish) string { return f.Finish.Length.Value },
		func(f *ResolvedFinish) string { return f.Finish.Area.Value },
		func(f *ResolvedFinish) string {
			if f.Finish.Count == 0 {
				return ""
			}
			return fmt.Sprintf("%d of them", f.Finish.Count)
		},
		func(f *ResolvedFinish) string {
			if len(f.Materials) == 0 {
				return ""
			}
			return f.Materials[0].Name
		},
	}
	for _, by := range words {
		seen := make(map[string]bool)
		var names []string
		for _, i := range group {
			if name := strings.ReplaceAll(by(&list[i]), ",", ""); name != "" && !seen[name] {
				seen[name] = true
				names = append(names, name)
			}
		}
		if len(names) == len(group) {
			return names
		}
	}
	names := make([]string, len(group))
	for n := range group {
		names[n] = fmt.Sprintf("no. %d", n+1)
	}
	return names
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

// finishState says whether a finish stands; without a word it goes with the
// house, as assemblies do.
func (r *resolver) finishState(f *Finish) State {
	switch {
	case f.State != "":
		return f.State
	case r.out.House.Built != 0:
		return "existing"
	}
	return "proposed"
}

// finishCoats checks a run of coats and lists them by the first choice of each
// doubt.
func (r *resolver) finishCoats(run *CoatRun) []*kb.Material {
	counts, problem := countChoices(run.Count.Value)
	if problem != "" {
		r.problem(run.Count.Pos, problem, "for example 2, or a doubt such as 3-5")
	}
	var list []*kb.Material
	for i, id := range run.Coating.OneOf {
		if id.Value == None {
			continue
		}
		m := r.material(id)
		if m == nil {
			continue
		}
		if m.Form != kb.Coat {
			r.problem(id.Pos, "\""+m.ID+"\" is not a coating", "coats are primers, paints, washes and wallcoverings")
			continue
		}
		if i > 0 || len(counts) == 0 {
			continue
		}
		n, _ := strconv.Atoi(counts[0])
		for range n {
			list = append(list, m)
		}
	}
	return list
}

// rooms checks the rooms. A height that is left out is assumed.
func (r *resolver) rooms(h *House) {
	names := make(map[string]bool)
	for i := range h.Rooms {
		room := &h.Rooms[i]
		if names[room.Name.Value] {
			r.problem(room.Name.Pos, fmt.Sprintf("room %q given twice", room.Name.Value), "give each room its own name")
		}
		names[room.Name.Value] = true
		out := ResolvedRoom{Room: room, Height: r.assumed("room-height")}
		if area, ok := room.Area.SI(quantity.Area, r.problem); ok {
			out.Area = area
			r.within(room.Area, area, 0.1, 1e4, "floor area", "1 ft2 to 10,000 m2")
		}
		if room.Height.IsZero() {
			r.byDefault(path(room.Name.Value, "height"), r.words("room-height"), "room-height")
		} else if height, ok := room.Height.SI(quantity.Length, r.problem); ok {
			out.Height = height
			r.within(room.Height, height, 1, 20, "room height", "3.3 ft to 65 ft")
		}
		if !room.Moisture.IsZero() {
			if mass, ok := room.Moisture.SI(quantity.Mass, r.problem); ok {
				out.Moisture = mass
				r.within(room.Moisture, mass, 0, 1000, "moisture of a day", "0 to 1000 kg")
			}
		}
		r.out.Rooms = append(r.out.Rooms, out)
	}
}

// coldSurfaces checks the quantities of cold surfaces.
func (r *resolver) coldSurfaces(h *House) {
	for i := range h.ColdSurfaces {
		c := &h.ColdSurfaces[i]
		out := ResolvedCold{Surface: c}
		if !c.Air.IsZero() {
			if t, ok := c.Air.SI(quantity.Temperature, r.problem); ok {
				out.Inside, out.InsideSet = t, true
				r.within(c.Air, t, -30, 60, "temperature inside", "-22 F to 140 F")
			}
		}
		if !c.Insulation.IsZero() {
			if v, ok := c.Insulation.SI(quantity.ThermalResistance, r.problem); ok {
				out.Insulation = v
				r.within(c.Insulation, v, 0, 100, "insulation", "R-0 to R-560")
			}
		}
		if !c.Diameter.IsZero() {
			if v, ok := c.Diameter.SI(quantity.Length, r.problem); ok {
				out.Diameter = v
				r.within(c.Diameter, v, 1e-3, 10, "diameter", "1 mm to 10 m")
			}
		}
		r.out.Cold = append(r.out.Cold, out)
	}
}
