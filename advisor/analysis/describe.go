package analysis

import (
	"slices"
	"strings"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// word is a fact of words that are known.
func word(words ...string) Estimate {
	words = slices.Clone(words)
	slices.Sort(words)
	return Estimate{Known: true, Words: slices.Compact(words)}
}

// given is a word that may not be given.
func given(text, missing string) Estimate {
	if text == "" {
		return Estimate{Missing: missing}
	}
	return word(text)
}

func flag(v bool) Estimate { return Estimate{Known: true, Flag: v} }

func measured(r quantity.Range) Estimate { return Estimate{Known: true, Range: r} }

// describeWhole states what the description says about the assembly.
func (m *model) describeWhole(f Facts) {
	a, h := m.of, m.of.House
	f["kind"] = word(string(a.Kind))
	f["outer-side"] = word(string(a.Between[0]))
	f["inner-side"] = word(string(a.Between[1]))
	zone, regime := zoneOf(h.Zone)
	f["zone"] = given(zone, "the climate zone is not given")
	f["regime"] = given(regime, "the moisture regime is not given")
	f["zone-confirmed"] = flag(h.Confirmed)
	f["edition"] = given(h.Edition, "the adopted edition of the code is not given")
	f["state"] = given(h.State, "the state is not given")
	f["existing"] = flag(m.untouched())
	for _, year := range []struct {
		fact string
		year int
	}{{"built-before-1930", 1930}, {"built-before-1950", 1950}, {"built-before-1978", 1978}, {"built-before-1990", 1990}} {
		f[year.fact] = m.builtBefore(year.year)
	}
	f["cooled"] = flag(h.Cooling != nil)
	f["tightness"] = word(h.Tightness)
	f["rain"] = word(string(a.Rain))
	f["needs"] = word(a.Needs...)
	f["above-grade"] = flag(a.Between[0] != "ground")
	f["wet-room"] = flag(a.Between[0] == "wet-room" || a.Between[1] == "wet-room")
	f["vented-attic-side"] = flag(a.Between[0] == "attic" || a.Between[0] == "crawl")
	const steep = 3.0 / 12
	f["steep-roof"] = flag(a.Kind == "roof" && a.Slope >= steep)
	m.describeGround(f)
	m.describeSpace(f)
	m.describeStructure(f)
	m.describeCladding(f)
}

// zoneOf splits 5A into its number and its moisture regime; Marine 4 is 4C.
func zoneOf(zone string) (number, regime string) {
	number = strings.TrimRight(zone, "ABC")
	regime = strings.TrimPrefix(zone, number)
	if zone == "4C" {
		return zone, regime
	}
	return number, regime
}

// untouched says whether the assembly stands and no layer of it is proposed.
func (m *model) untouched() bool {
	return !slices.ContainsFunc(m.variant.Layers, func(p *assembly.Part) bool { return p.State == "proposed" })
}

func (m *model) builtBefore(year int) Estimate {
	built := m.of.House.House.Built
	if built == 0 {
		if !m.untouched() && m.of.State == "proposed" {
			return flag(false)
		}
		return Estimate{Missing: "the year the house was built is not given"}
	}
	return flag(built < year)
}

// describeStructure states framing, masonry, fill and bracing.
func (m *model) describeStructure(f Facts) {
	framed, mass, empty, full, insulated, braced := false, false, false, true, false, false
	depth := 0.0
	for _, p := range m.variant.Layers {
		braced = braced || slices.Contains(p.Performs, "brace")
		if p.Cavity {
			continue
		}
		if !p.Framed {
			mass = mass || isMass(p)
			insulated = insulated || isInsulation(p.Material)
			continue
		}
		framed = true
		depth = max(depth, p.Depth)
		air, fill := fillsOf(p)
		empty = empty || !fill
		full = full && fill && !air
		insulated = insulated || fill
	}
	isWall := m.of.Kind == "wall" || m.of.Kind == "basement-wall" || m.of.Kind == "partition"
	f["framed"] = flag(framed && !(mass && isWall))
	f["mass-wall"] = flag(mass)
	f["bay-empty"] = flag(framed && empty)
	f["bay-full"] = flag(framed && full)
	f["insulated"] = flag(insulated)
	f["braced-by-layer"] = flag(braced)
	f["framing-depth"] = Estimate{Missing: "no framing"}
	if framed {
		f["framing-depth"] = measured(quantity.Exact(depth))
	}
}

// fillsOf says whether a framed part holds air and whether it holds fill.
func fillsOf(p *assembly.Part) (air, fill bool) {
	for _, x := range p.Fills {
		air = air || x.Material == nil
		fill = fill || x.Material != nil
	}
	return air, fill
}

// describeCladding states the gap behind the cladding, whether the code lists
// it as vented, and what the sheathing is.
func (m *model) describeCladding(f Facts) {
	layers := m.variant.Layers
	gap, depth := "none", 0.0
	first := layers[0]
	clad := isCladding(first)
	if clad && len(layers) > 1 && layers[1].Cavity {
		gap, depth = string(layers[1].Air), layers[1].Depth
	}
	f["cladding-gap"] = word(gap)
	// The clear air space that the code asks for behind brick (IRC Table
	// R703.8.4, nominal 1 in).
	const brickGap = 0.0254 * 0.95
	vented := "no"
	switch {
	case clad && hasTerm(first.Material, "vented-cladding-listed") && (!hasTerm(first.Material, "brick-veneer") || depth >= brickGap):
		vented = "yes"
	case gap == "vented" || gap == "ventilated":
		vented = "ask"
	}
	f["cladding-vented-by-code"] = word(vented)
	f["sheathing-terms"] = Estimate{Known: true}
	for i := m.core - 1; i >= 0; i-- {
		if p := layers[i]; !p.Cavity && !p.Framed && p.Material.Form != kb.Sheet {
			if i > 0 || !clad {
				f["sheathing-terms"] = word(p.Material.Terms...)
			}
			break
		}
	}
}
