package swap

import (
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
)

// noGlue is how a user says that nothing with glue may be put in.
const noGlue = "adhesive"

// admits says whether a proposal may be part of a plan under the options.
func (f *finder) admits(p *Proposal, opts PlanOptions) bool {
	c := f.candidateOf(p)
	first, last := c.at, c.at+c.span()
	for i := first; i < last; i++ {
		if slices.Contains(opts.Keep, f.nameAt(i)) {
			return false
		}
	}
	if opts.Reno && (c.span() == 0 && c.at < f.roomSide() || c.span() > 0 && first < f.roomSide()) {
		return false
	}
	if len(opts.No) == 0 {
		return true
	}
	for _, s := range scenes(f.before, p.After) {
		for _, m := range freshMaterials(c, freshParts(s)) {
			if refused(m, opts.No) {
				return false
			}
		}
	}
	return true
}

// refused says whether a material is one that must not be put in.
func refused(m *kb.Material, no []string) bool {
	if slices.Contains(no, m.ID) || slices.Contains(no, m.Family) {
		return true
	}
	share, known := m.Working("adhesive-share", kb.AnyMethod, 0)
	return slices.Contains(no, noGlue) && known && share.SI.High > 0
}

// roomSide is the first described layer of the room side: the boards and
// plaster that can be taken off or coated without opening what lies behind.
func (f *finder) roomSide() int {
	layers := f.of.Variants[0].Layers
	at := len(layers)
	for at > 0 && isLining(layers[at-1]) {
		at--
	}
	if at == len(layers) {
		return len(f.of.Described.Layers)
	}
	return layers[at].Layer
}

func isLining(p *assembly.Part) bool {
	return !p.Cavity && !p.Framed && (p.Material.Form == kb.Board || p.Material.Form == kb.Plaster)
}
