package swap

import (
	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// work states what a swap does: the facts of scope work.
func (f *finder) work(p *Proposal, c candidate, after *assembly.Assembly) analysis.Facts {
	before, now := f.before.Variants[0], p.After.Variants[0]
	gone, fresh := f.gone(c), fresh(f.of.Variants[0].Layers, after.Variants[0].Layers)
	facts := analysis.Facts{
		"part":                   words("assembly"),
		"removes":                words(termsOf(gone)...),
		"adds":                   words(termsOf(fresh)...),
		"removes-duties":         words(performedBy(gone)...),
		"opens":                  words(f.opens(c)),
		"fills-empty-bay":        flag(before.Facts["bay-empty"].Flag && !now.Facts["bay-empty"].Flag),
		"insulates":              flag(insulates(before.Facts, now.Facts)),
		"tightens":               flag(tightens(f.covers, analysis.Covers(f.base, after, after.Variants[0]))),
		"disturbs-existing":      flag(stands(gone)),
		"added-weight":           difference(before.Facts["weight"], now.Facts["weight"]),
		"added-thickness-inside": known(quantity.Exact(depthInside(after.Variants[0].Layers, fresh) - depthInside(f.of.Variants[0].Layers, gone))),
	}
	return facts
}

func words(list ...string) analysis.Estimate { return analysis.Estimate{Known: true, Words: list} }

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

// gone lists the parts that a candidate takes out or coats.
func (f *finder) gone(c candidate) []*assembly.Part {
	var list []*assembly.Part
	for i := c.at; i < c.at+c.length; i++ {
		if part := f.partOf(i); part >= 0 {
			list = append(list, f.of.Variants[0].Layers[part])
		}
	}
	return list
}

// fresh lists the parts that were not there before: another material, fill,
// coat or name.
func fresh(before, after []*assembly.Part) []*assembly.Part {
	had := make(map[string]bool)
	for _, p := range before {
		had[print(p)] = true
	}
	var list []*assembly.Part
	for _, p := range after {
		if !had[print(p)] {
			list = append(list, p)
		}
	}
	return list
}

// print identifies a part by what it is made of.
func print(p *assembly.Part) string {
	text := p.Name + "/" + wordsOf(p)
	for _, fill := range p.Fills {
		if fill.Material != nil {
			text += "/" + fill.Material.ID
		}
	}
	for _, c := range append(append([]*kb.Material{}, p.CoatsOut...), p.CoatsIn...) {
		text += "/" + c.ID
	}
	return text
}

// termsOf lists the terms of parts, their fills and their coats.
func termsOf(parts []*assembly.Part) []string {
	var list []string
	for _, p := range parts {
		if p.Cavity {
			continue
		}
		if !p.Framed {
			list = append(list, p.Material.Terms...)
		}
		for _, fill := range p.Fills {
			if fill.Material != nil {
				list = append(list, fill.Material.Terms...)
			}
		}
		for _, c := range append(append([]*kb.Material{}, p.CoatsOut...), p.CoatsIn...) {
			list = append(list, c.Terms...)
		}
	}
	return list
}

func performedBy(parts []*assembly.Part) []string {
	var list []string
	for _, p := range parts {
		list = append(list, p.Performs...)
	}
	return list
}

func stands(parts []*assembly.Part) bool {
	for _, p := range parts {
		if p.State == "existing" {
			return true
		}
	}
	return false
}

// opens says from which side layers come off.
func (f *finder) opens(c candidate) string {
	if c.length == 0 || c.recipe != nil && c.recipe.Coats != nil && len(c.recipe.With) == 0 {
		return "nothing"
	}
	part := f.partOf(c.at)
	if part < 0 {
		return "nothing"
	}
	side := f.before.Variants[0].Layers[part].Facts["side"]
	if len(side.Words) > 0 && side.Words[0] == "outside" {
		return "outside"
	}
	return "inside"
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
func tightens(before, after []analysis.Cover) bool {
	return verdictOf(before, "stop-air") != kb.Yes && verdictOf(after, "stop-air") == kb.Yes
}

func verdictOf(covers []analysis.Cover, duty string) kb.Verdict {
	for _, c := range covers {
		if c.Duty == duty {
			return c.Verdict
		}
	}
	return kb.Unknown
}

// depthInside sums the thickness of those parts that lie inside of the last
// framed part.
func depthInside(all, some []*assembly.Part) float64 {
	last := -1
	for i, p := range all {
		if p.Framed {
			last = i
		}
	}
	sum := 0.0
	for i, p := range all {
		for _, q := range some {
			if p == q && i > last {
				sum += p.Depth
			}
		}
	}
	return sum
}
