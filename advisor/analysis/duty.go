package analysis

import (
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
)

// Cover says which layers take a duty and how surely.
type Cover struct {
	Duty    string
	By      []string // names of layers
	Verdict kb.Verdict
	Asks    []string
}

// duties states which required duties are not covered and which depend.
func (m *model) duties(f Facts) {
	var missing, open []string
	for _, c := range Covers(m.base, m.of, m.variant) {
		switch c.Verdict {
		case kb.No:
			missing = append(missing, c.Duty)
		case kb.Depends, kb.Unknown:
			open = append(open, c.Duty)
		}
	}
	f["duties-missing"], f["duties-open"] = word(missing...), word(open...)
}

// Covers says for every duty that the assembly must have who takes it.
func Covers(base *kb.Base, a *assembly.Assembly, v *assembly.Variant) []Cover {
	var list []Cover
	for _, duty := range required(base, a, v) {
		d := base.Duty(duty)
		if d == nil {
			continue
		}
		list = append(list, coverOf(d, v))
	}
	return list
}

// required lists the duties of the kind, those asked for, and those that
// layers are described to perform, in the order of the registry.
func required(base *kb.Base, a *assembly.Assembly, v *assembly.Variant) []string {
	want := make(map[string]bool)
	for _, r := range base.Requirements {
		if !slices.Contains(r.Kind, string(a.Kind)) {
			continue
		}
		if len(r.Between) > 0 && !slices.Contains(r.Between, string(a.Between[0])) && !slices.Contains(r.Between, string(a.Between[1])) {
			continue
		}
		for _, d := range r.Duties {
			want[d] = true
		}
	}
	for _, d := range a.Needs {
		want[d] = true
	}
	for _, p := range v.Layers {
		for _, d := range p.Performs {
			want[d] = true
		}
	}
	var list []string
	for _, d := range base.Duties {
		if want[d.ID] {
			list = append(list, d.ID)
		}
	}
	return list
}

// coverOf combines the layers for one duty.
func coverOf(d *kb.Duty, v *assembly.Variant) Cover {
	c := Cover{Duty: d.ID, Verdict: kb.No, Asks: d.Asks}
	for i, p := range v.Layers {
		if takes(d, v, i) {
			c.By = append(c.By, p.Name)
		}
	}
	if len(c.By) == 0 {
		return c
	}
	c.Verdict = kb.Yes
	switch d.Combine {
	case "chain":
		if !chain(v) {
			c.Verdict = kb.No
		}
	case "one":
		if d.Needs == "sealed" && !anySealed(d, v) {
			c.Verdict, c.Asks = kb.Depends, append(c.Asks, "whether its joints are sealed")
		}
	}
	if d.Verdict == kb.Depends && c.Verdict == kb.Yes {
		c.Verdict = kb.Depends
	}
	return c
}

// takes says whether a layer takes a duty: it offers it, and for duties that
// only one layer does, the description gives it the duty or has it at hand.
func takes(d *kb.Duty, v *assembly.Variant, i int) bool {
	p := v.Layers[i]
	if slices.Contains(p.Performs, d.ID) {
		return true
	}
	if p.Cavity {
		return d.ID == "shed-rain" && p.Air != "closed" && i > 0
	}
	if d.ID == "brace" || d.ID == "resist-fire" {
		return false
	}
	for _, m := range append(materialsOf(p), append(p.CoatsIn, p.CoatsOut...)...) {
		if slices.Contains(offersOf(m, p.Depth), d.ID) {
			return true
		}
	}
	return false
}

// chain holds the weather side to cladding and a water-resistive barrier; the
// drained gap and the flashing are asked for, not seen in a section. Solid
// masonry sheds rain by its mass.
func chain(v *assembly.Variant) bool {
	clad, barrier, mass := false, false, false
	for _, p := range v.Layers {
		if p.Cavity || p.Framed {
			continue
		}
		clad = clad || hasTerm(p.Material, "cladding", "roofing", "brick-veneer", "adhered-veneer", "cement-plaster", "lime-plaster")
		barrier = barrier || hasTerm(p.Material, "water-resistive-barrier", "roofing")
		mass = mass || p.Material.Form == kb.Masonry && !hasTerm(p.Material, "brick-veneer")
	}
	return mass || clad && barrier
}

func anySealed(d *kb.Duty, v *assembly.Variant) bool {
	for i, p := range v.Layers {
		if p.Sealed && takes(d, v, i) {
			return true
		}
		// Plaster and masonry are air barriers by themselves.
		if !p.Cavity && !p.Framed && (p.Material.Form == kb.Plaster || p.Material.Form == kb.Masonry) && takes(d, v, i) {
			return true
		}
	}
	return false
}
