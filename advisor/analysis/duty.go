package analysis

import (
	"fmt"
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
func (m *model) duties(out *Variant) {
	out.Covers = Covers(m.base, m.of, m.variant)
	var missing, open []string
	for _, c := range out.Covers {
		switch c.Verdict {
		case kb.No:
			missing = append(missing, c.Duty)
		case kb.Depends, kb.Unknown:
			open = append(open, c.Duty)
		}
	}
	out.Facts["duties-missing"], out.Facts["duties-open"] = word(missing...), word(open...)
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

// coverOf combines the layers for one duty. An offer that depends on something
// never makes a plain yes.
func coverOf(d *kb.Duty, v *assembly.Variant) Cover {
	c := Cover{Duty: d.ID, Verdict: kb.No, Asks: slices.Clone(d.Asks)}
	var asks []string
	for i, p := range v.Layers {
		switch takes(d, v, i) {
		case kb.Yes:
			c.By, c.Verdict = append(c.By, p.Name), kb.Yes
		case kb.Depends:
			c.By = append(c.By, p.Name)
			asks = append(asks, fmt.Sprintf("whether %s is accepted for it", p.Name))
		}
	}
	if len(c.By) == 0 {
		return c
	}
	if c.Verdict == kb.No {
		c.Verdict, c.Asks = kb.Depends, append(c.Asks, asks...)
	}
	switch {
	case d.Combine == "chain" && !chain(v):
		c.Verdict = kb.No
	case d.Needs == "sealed" && !anySealed(d, v):
		c.Verdict, c.Asks = kb.Depends, append(c.Asks, "whether its joints are sealed")
	case d.Verdict == kb.Depends:
		c.Verdict = kb.Depends
	}
	return c
}

// takes says whether a layer takes a duty: yes where the description gives it the
// duty, else as the material offers it. What only one layer does, such as
// bracing, must be described.
func takes(d *kb.Duty, v *assembly.Variant, i int) kb.Verdict {
	p := v.Layers[i]
	switch {
	case slices.Contains(p.Performs, d.ID):
		return kb.Yes
	case p.Cavity && d.ID == "shed-rain" && p.Air != "closed" && i > 0:
		return kb.Yes
	case p.Cavity || d.ID == "brace" || d.ID == "resist-fire":
		return kb.No
	case d.Combine == "series" && outsideFraming(v, i):
		return kb.No
	}
	verdict := kb.No
	for _, m := range slices.Concat(materialsOf(p), p.CoatsIn, p.CoatsOut) {
		for k := range m.Duties {
			o := &m.Duties[k]
			switch {
			case o.Duty != d.ID || !offered(o, p.Depth):
			case o.Verdict != string(kb.Depends):
				return kb.Yes
			default:
				verdict = kb.Depends
			}
		}
	}
	return verdict
}

// outsideFraming says whether a layer lies on the first side of a framed one: it
// slows no vapor of the room before the cold sheathing.
func outsideFraming(v *assembly.Variant, i int) bool {
	return slices.ContainsFunc(v.Layers[i+1:], func(p *assembly.Part) bool { return p.Framed })
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
		mass = mass || isMass(p)
	}
	return mass || clad && barrier
}

func anySealed(d *kb.Duty, v *assembly.Variant) bool {
	for i, p := range v.Layers {
		if p.Sealed && takes(d, v, i) != kb.No {
			return true
		}
		// Plaster and masonry are air barriers by themselves.
		if !p.Cavity && !p.Framed && (p.Material.Form == kb.Plaster || p.Material.Form == kb.Masonry) && takes(d, v, i) != kb.No {
			return true
		}
	}
	return false
}
