package honesty_test

import (
	"relath/advisor/assembly"
	"relath/kb"
)

// materialsIn lists the materials of an assembly in all its variants.
func materialsIn(a *assembly.Assembly) []*kb.Material {
	seen := make(map[*kb.Material]bool)
	var list []*kb.Material
	add := func(m *kb.Material) {
		if m != nil && !seen[m] {
			seen[m] = true
			list = append(list, m)
		}
	}
	for _, v := range a.Variants {
		for _, p := range v.Layers {
			add(p.Material)
			for _, f := range p.Fills {
				add(f.Material)
			}
			for _, c := range append(append([]*kb.Material{}, p.CoatsIn...), p.CoatsOut...) {
				add(c)
			}
		}
	}
	return list
}
