package swap

import (
	"fmt"
	"slices"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// scene is one way the assembly may be built, before and after a swap.
type scene struct {
	before, after *analysis.Variant
	fresh         []*assembly.Part // that were not there before
}

// scenes pairs the variants before and after that settle their common doubts
// alike; a swap may take a doubt out with its layer.
func scenes(before, after *analysis.Result) []scene {
	had := make([]map[string]bool, len(before.Variants))
	chosen := make([]map[string]string, len(before.Variants))
	for i, b := range before.Variants {
		had[i], chosen[i] = make(map[string]bool), choices(before, b)
		for _, p := range b.Of.Layers {
			had[i][identity(p)] = true
		}
	}
	var list []scene
	for _, a := range after.Variants {
		settled, names := choices(after, a), make([]string, len(a.Of.Layers))
		for k, p := range a.Of.Layers {
			names[k] = identity(p)
		}
		for i, b := range before.Variants {
			if agree(chosen[i], settled) {
				list = append(list, scene{b, a, freshParts(a.Of, names, had[i])})
			}
		}
	}
	return list
}

// choices gives how a variant settles each doubt, by the words for the doubt.
func choices(r *analysis.Result, v *analysis.Variant) map[string]string {
	settled := make(map[string]string)
	for _, s := range v.Of.Settled {
		settled[r.Assembly.Doubts[s.Doubt].Where] = s.Choice
	}
	return settled
}

func agree(a, b map[string]string) bool {
	for where, choice := range a {
		if other, ok := b[where]; ok && other != choice {
			return false
		}
	}
	return true
}

// subjects are the assembly after a swap, in every way it may be built, with
// the facts of the work.
func (f *finder) subjects(c candidate, all []scene) []rule.Subject {
	list := make([]rule.Subject, len(all))
	for i, s := range all {
		list[i] = rule.SubjectOf(s.after)
		list[i].Work = f.work(c, s)
	}
	return list
}

// work states what a swap does: the facts of scope work.
func (f *finder) work(c candidate, s scene) analysis.Facts {
	gone, fresh := goneParts(c, s), s.fresh
	return analysis.Facts{
		"part":                   words("assembly"),
		"removes":                words(termsOf(goneMaterials(c, gone))...),
		"adds":                   words(termsOf(freshMaterials(c, fresh))...),
		"removes-duties":         words(dutiesLost(c, gone)...),
		"opens":                  words(opens(c, s)),
		"fills-empty-bay":        flag(s.before.Facts["bay-empty"].Flag && !s.after.Facts["bay-empty"].Flag),
		"insulates":              flag(insulates(s.before.Facts, s.after.Facts)),
		"tightens":               flag(tightens(s)),
		"disturbs-existing":      flag(slices.ContainsFunc(gone, func(p *assembly.Part) bool { return p.State == "existing" })),
		"added-weight":           difference(s.before.Facts["weight"], s.after.Facts["weight"]),
		"added-thickness-inside": known(quantity.Exact(depthInside(s.after, fresh) - depthInside(s.before, gone))),
	}
}

func words(list ...string) analysis.Estimate {
	slices.Sort(list)
	return analysis.Estimate{Known: true, Words: slices.Compact(list)}
}

func flag(v bool) analysis.Estimate { return analysis.Estimate{Known: true, Flag: v} }

func known(r quantity.Range) analysis.Estimate { return analysis.Estimate{Known: true, Range: r} }

// difference is after less before; both move with the same materials, so the
// ends are taken apart.
func difference(before, after analysis.Estimate) analysis.Estimate {
	if !before.Known || !after.Known {
		return analysis.Estimate{Missing: "before or after is not known"}
	}
	d := []float64{after.Range.Low - before.Range.Low, after.Range.High - before.Range.High}
	best := after.Range.Best - before.Range.Best
	return known(quantity.Range{Low: min(d[0], d[1], best), Best: best, High: max(d[0], d[1], best)})
}

// goneParts lists the parts that a candidate takes out or coats.
func goneParts(c candidate, s scene) []*assembly.Part {
	var list []*assembly.Part
	for _, p := range s.before.Of.Layers {
		if p.Layer >= c.at && p.Layer < c.at+c.span() && !(c.keepsLayers() && stays(p, s.after)) {
			list = append(list, p)
		}
	}
	return list
}

// keepsLayers says whether a recipe leaves layers of its run as they are.
func (c candidate) keepsLayers() bool {
	return c.recipe != nil && slices.ContainsFunc(c.recipe.With, func(n kb.NewLayer) bool { return n.Keep == "layer" })
}

// stays says whether a part is there after a change as it was.
func stays(p *assembly.Part, after *analysis.Variant) bool {
	return slices.ContainsFunc(after.Of.Layers, func(q *assembly.Part) bool { return identity(p) == identity(q) })
}

// freshParts lists the parts that were not there before: of another material,
// depth, fill, coat or name.
func freshParts(v *assembly.Variant, names []string, had map[string]bool) []*assembly.Part {
	var list []*assembly.Part
	for i, p := range v.Layers {
		if !had[names[i]] {
			list = append(list, p)
		}
	}
	return list
}

// identity tells parts apart by what they are made of.
func identity(p *assembly.Part) string {
	text := fmt.Sprintf("%s/%s/%g", p.Name, p.Air, p.Depth)
	if p.Material != nil {
		text += "/" + p.Material.ID
	}
	for _, fill := range p.Fills {
		if fill.Material != nil {
			text += fmt.Sprintf("/%s %g", fill.Material.ID, fill.Depth)
		}
	}
	for _, coats := range [][]*kb.Material{p.CoatsOut, p.CoatsIn} {
		text += "|"
		for _, c := range coats {
			text += "/" + c.ID
		}
	}
	return text
}

// goneMaterials lists what is taken out: of a change of coats only the coats
// that come off.
func goneMaterials(c candidate, parts []*assembly.Part) []*kb.Material {
	if !c.coatsOnly() {
		return materialsOf(parts)
	}
	var list []*kb.Material
	for _, p := range parts {
		if c.recipe.Coats.Keep == "yes" {
			continue
		}
		if len(c.recipe.Coats.In) > 0 {
			list = append(list, p.CoatsIn...)
		}
		if len(c.recipe.Coats.Out) > 0 {
			list = append(list, p.CoatsOut...)
		}
	}
	return list
}

// freshMaterials lists what is put in: of a change of coats only the coats that
// the recipe puts on.
func freshMaterials(c candidate, parts []*assembly.Part) []*kb.Material {
	all := materialsOf(parts)
	if !c.coatsOnly() {
		return all
	}
	put := slices.Concat(c.recipe.Coats.In, c.recipe.Coats.Out)
	return slices.DeleteFunc(all, func(m *kb.Material) bool {
		return !slices.ContainsFunc(put, func(n kb.NewCoat) bool { return n.Coating == m.ID })
	})
}

// materialsOf lists the materials of parts, their fills and their coats.
// Framing is left out: no swap takes it out or puts it in.
func materialsOf(parts []*assembly.Part) []*kb.Material {
	var list []*kb.Material
	for _, p := range parts {
		if !p.Cavity && !p.Framed {
			list = append(list, p.Material)
		}
		for _, fill := range p.Fills {
			if fill.Material != nil {
				list = append(list, fill.Material)
			}
		}
		list = append(append(list, p.CoatsOut...), p.CoatsIn...)
	}
	return list
}

func termsOf(materials []*kb.Material) []string {
	var list []string
	for _, m := range materials {
		list = append(list, m.Terms...)
	}
	return list
}

// dutiesLost lists the duties that what is taken out was described to perform;
// a layer whose coats change keeps its own.
func dutiesLost(c candidate, parts []*assembly.Part) []string {
	var list []string
	if c.coatsOnly() {
		return nil
	}
	for _, p := range parts {
		list = append(list, p.Performs...)
	}
	return list
}

// opens says from which side layers come off.
func opens(c candidate, s scene) string {
	if c.length == 0 || c.coatsOnly() {
		return "nothing"
	}
	for i, p := range s.before.Of.Layers {
		if p.Layer >= c.at && p.Layer < c.at+c.span() && !(c.keepsLayers() && stays(p, s.after)) {
			if slices.Contains(s.before.Layers[i].Facts["side"].Words, "outside") {
				return "outside"
			}
			return "inside"
		}
	}
	return "nothing"
}

// insulates says whether R is raised by more than a twentieth or an insulation
// layer is added.
func insulates(before, after analysis.Facts) bool {
	const more = 1.05
	u, v := before["u-factor"], after["u-factor"]
	if u.Known && v.Known && u.Range.Best > more*v.Range.Best {
		return true
	}
	for _, id := range []string{"exterior-insulation", "cavity-insulation", "interior-insulation"} {
		if after[id].Range.Best > more*before[id].Range.Best+1e-6 {
			return true
		}
	}
	return false
}

// tightens says whether an air barrier is gained.
func tightens(s scene) bool {
	stopsAir := func(v *analysis.Variant) bool {
		c, _ := coverOf(v.Covers, "stop-air")
		return c.Verdict == kb.Yes
	}
	return !stopsAir(s.before) && stopsAir(s.after)
}

// depthInside sums the thickness of those parts that lie inside of the bay or
// the mass wall.
func depthInside(v *analysis.Variant, some []*assembly.Part) float64 {
	sum := 0.0
	for i, p := range v.Of.Layers {
		if slices.Contains(some, p) && slices.Contains(v.Layers[i].Facts["side"].Words, "inside") {
			sum += p.Depth
		}
	}
	return sum
}
