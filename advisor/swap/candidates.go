package swap

import (
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
)

// candidates lists the changes worth a try: every recipe at every place where
// its selector holds, and single materials that take the duties of a layer.
func (f *finder) candidates(opts Options) ([]candidate, []Rejection) {
	var list []candidate
	for _, r := range f.base.Recipes {
		if r.Part == "assembly" && f.ofKind(r) {
			list = append(list, f.places(r)...)
		}
	}
	singles, rejected := f.singles(opts)
	for _, s := range singles {
		if !slices.ContainsFunc(list, s.isPartOf) {
			list = append(list, s)
		}
	}
	if opts.Layer != "" {
		list = slices.DeleteFunc(list, func(c candidate) bool { return !f.touches(c, opts.Layer) })
	}
	if len(opts.Only) > 0 {
		list = slices.DeleteFunc(list, func(c candidate) bool { return !slices.Contains(opts.Only, f.idOf(c)) })
	}
	return list, rejected
}

// isPartOf says whether a recipe puts the single material of c in the same
// place: the recipe knows more of it.
func (c candidate) isPartOf(recipe candidate) bool {
	r := recipe.recipe
	return r != nil && recipe.at == c.at && slices.ContainsFunc(r.With, func(n kb.NewLayer) bool { return n.Material == c.material.ID })
}

// ofKind says whether a recipe is for this kind of assembly; one for another
// kind is no candidate and no rejection.
func (f *finder) ofKind(r *kb.Recipe) bool {
	for _, c := range r.Fits {
		if c.Fact == "kind" && f.tester.All([]kb.Condition{c}, f.subject()).Verdict == kb.No {
			return false
		}
	}
	return true
}

// touches says whether a candidate replaces, changes or follows the named
// layer.
func (f *finder) touches(c candidate, layer string) bool {
	for i := c.at; i < c.at+max(1, c.span()); i++ {
		if f.nameAt(i) == layer {
			return true
		}
	}
	return false
}

// places finds where a recipe applies.
func (f *finder) places(r *kb.Recipe) []candidate {
	var list []candidate
	layers := f.of.Described.Layers
	if len(r.Replaces) == 0 {
		for i := range layers {
			if part := f.partOf(i); part >= 0 && f.tester.Layer(r.After, f.subject(), part).Verdict == kb.Yes {
				list = append(list, candidate{recipe: r, title: r.Title, at: i})
			}
		}
		return list
	}
	for i := 0; i+len(r.Replaces) <= len(layers); i++ {
		if f.matches(r, i) {
			list = append(list, candidate{recipe: r, title: r.Title, at: i, length: len(r.Replaces)})
		}
	}
	return list
}

// matches says whether the run of a recipe begins at a described layer. A layer
// in doubt matches by its first choice.
func (f *finder) matches(r *kb.Recipe, at int) bool {
	for k, conditions := range r.Replaces {
		part := f.partOf(at + k)
		if part < 0 || f.tester.Layer(conditions, f.subject(), part).Verdict != kb.Yes {
			return false
		}
	}
	return true
}

// roles are the terms that say what a layer is in an assembly; a single
// material must share one with the layer it replaces. Not every sheathing of a
// wall can be the deck of a roof.
func roles(k assembly.Kind) []string {
	sheathing := "sheathing"
	if k == "roof" {
		sheathing = "roof-deck"
	}
	return []string{
		"cavity-fill", "cladding", "flooring", "lining", "paneling", "plastic-film", "responsive-retarder", "roofing",
		sheathing, "subfloor", "underlayment", "water-resistive-barrier",
	}
}

// singles lists materials that could stand in for one layer as they are: same
// role, same form, all duties of the old layer at their usual thickness. Only
// layers that are worth it are tried, or the one that is asked for.
func (f *finder) singles(opts Options) ([]candidate, []Rejection) {
	var list []candidate
	var rejected []Rejection
	for i := range f.of.Described.Layers {
		part := f.partOf(i)
		if part < 0 || opts.Layer != "" && f.nameAt(i) != opts.Layer {
			continue
		}
		p := f.of.Variants[0].Layers[part]
		if p.Cavity || p.Framed || opts.Layer == "" && (!f.troubled(part) || oldPlaster(p)) {
			continue
		}
		duties := f.keeps(p)
		for _, m := range f.base.Materials {
			if m.ID == p.Material.ID || m.Form != p.Material.Form || !shareRole(f.of.Kind, m, p.Material) || !likeBuilt(m, p.Material) {
				continue
			}
			if because := f.turnedDown(m, duties); because != "" {
				rejected = append(rejected, Rejection{Candidate: m.Name, ID: m.ID, Layer: p.Name, Because: []string{because}})
				continue
			}
			list = append(list, candidate{material: m, title: m.Name + " for " + p.Material.Name, at: i, length: 1})
		}
	}
	return list, rejected
}

// oldPlaster says whether a part is plaster on its lath that stands. It is mended
// and kept: another one in its place is tried only where somebody asks.
func oldPlaster(p *assembly.Part) bool {
	return p.State == "existing" && p.Material.Form == kb.Plaster && slices.Contains(p.Material.Terms, "wood-lath")
}

// likeBuilt says whether two materials are built alike: both are walls by
// themselves or neither, both bring their lath or neither.
func likeBuilt(a, b *kb.Material) bool {
	for _, term := range []string{"mass", "wood-lath"} {
		if slices.Contains(a.Terms, term) != slices.Contains(b.Terms, term) {
			return false
		}
	}
	return true
}

// keeps lists the duties that a single material must take over: those that the
// description gives the layer, and those of its offers that the layer is there
// for.
func (f *finder) keeps(p *assembly.Part) []string {
	duties := slices.Clone(p.Performs)
	for _, duty := range []string{"insulate", "shed-rain", "finish", "finish-wet", "carry-load"} {
		if !slices.Contains(duties, duty) && offers(p.Material, duty, p.Depth) {
			duties = append(duties, duty)
		}
	}
	return duties
}

// offers says whether a material takes a duty at a thickness [m].
func offers(m *kb.Material, duty string, depth float64) bool {
	const slack = 1e-4
	return slices.ContainsFunc(m.Duties, func(o kb.Offer) bool { return o.Duty == duty && o.FromSI <= depth+slack })
}

// turnedDown says why a material is no candidate before anything is computed.
func (f *finder) turnedDown(m *kb.Material, duties []string) string {
	if m.Advise == "no" {
		return "the base does not recommend it: its data are in doubt, it is a hazard, or it is no longer made"
	}
	for _, duty := range duties {
		if !offers(m, duty, m.Thickness.UsualSI) {
			return "it does not take the duty of the layer: " + f.base.Duty(duty).Title
		}
	}
	if _, ok := m.Working("permeance", kb.AnyMethod, 0); !ok {
		return "the base has no vapor permeance for it"
	}
	return ""
}

func shareRole(k assembly.Kind, a, b *kb.Material) bool {
	return slices.ContainsFunc(roles(k), func(r string) bool {
		return slices.Contains(a.Terms, r) && slices.Contains(b.Terms, r)
	})
}

// troubled says whether a part is worth replacing by itself: it chokes a
// drying path, holds glue, or is mold food at a cavity.
func (f *finder) troubled(part int) bool {
	facts := f.before.Variants[0].Layers[part].Facts
	choke := facts["choke"]
	food := facts["food"].Flag && facts["faces-cavity"].Flag
	return len(choke.Words) > 0 && choke.Words[0] != "neither" || facts["layer-adhesive"].Range.High > 0 || food
}
