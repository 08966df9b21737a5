package swap

import (
	"slices"
	"strings"

	"relath/advisor/assembly"
	"relath/kb"
)

// noGlue is how a user says that nothing with glue may be put in.
const noGlue = "adhesive"

// leftOut says why a proposal is no part of any plan under the options, or "".
func (f *finder) leftOut(p *Proposal, opts PlanOptions) string {
	c := f.candidateOf(p)
	first, last := c.at, c.at+c.span()
	for i := first; i < last; i++ {
		if slices.Contains(opts.Keep, f.nameAt(i)) {
			return "the " + f.nameAt(i) + " is kept as it is"
		}
	}
	if opts.Reno && (c.span() == 0 && c.at < f.roomSide() || c.span() > 0 && first < f.roomSide()) {
		return "what stays behind the room side stays"
	}
	var no, unlisted []string
	for _, s := range scenes(f.before, p.After) {
		for _, m := range freshMaterials(c, s.fresh) {
			if refused(m, opts.No) {
				no = append(no, m.Name)
			}
			if opts.Available && !opts.Costing.Lists(m) {
				unlisted = append(unlisted, m.Name)
			}
		}
	}
	switch {
	case len(no) > 0:
		return "nothing of the kind is wanted: " + strings.Join(distinct(no), ", ")
	case len(unlisted) > 0:
		return "the price book does not have it: " + strings.Join(distinct(unlisted), ", ")
	}
	return ""
}

func distinct(list []string) []string {
	var out []string
	for _, x := range list {
		out = append(out, without([]string{x}, out)...)
	}
	return out
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
