package analysis

import (
	"relath/kb/quantity"
)

// classes states the tightest layer on each side of the core and the vapor
// retarder class that follows. A facing or a foam in the bay counts too.
func (m *model) classes(f Facts, layers []LayerFacts) {
	for _, side := range []struct {
		name, tightest, class string
	}{{"outside", "tightest-outward-dry", "retarder-class-outside"}, {"inside", "tightest-inward-dry", "retarder-class-inside"}} {
		dry, wet, lacks := m.tightest(layers, side.name)
		if lacks != "" {
			f[side.tightest] = Estimate{Missing: lacks}
			f[side.class] = Estimate{Missing: lacks}
			if side.name == "inside" {
				f["retarder-responsive"] = Estimate{Missing: lacks}
			}
			continue
		}
		f[side.tightest] = measured(dry)
		f[side.class] = classWords(dry)
		if side.name == "inside" {
			f["retarder-responsive"] = responsive(dry, wet)
		}
	}
}

// tightest gives the dry and wet cup permeance of the tightest layer of a
// side. A side without layers has no retarder: its permeance is that of air.
func (m *model) tightest(layers []LayerFacts, side string) (dry, wet quantity.Range, lacks string) {
	const air = 1e-6
	dry, wet = quantity.Exact(air), quantity.Exact(air)
	for i, l := range layers {
		at := m.sideOf(i)
		if at != side && !(at == "bay" && m.bayRetards(i)) || m.rainScreen(i) {
			continue
		}
		d := l.Facts["permeance-dry"]
		if !d.Known {
			return dry, wet, d.Missing
		}
		if d.Range.Best < dry.Best {
			dry, wet = d.Range, l.Facts["permeance-wet"].Range
		}
	}
	return dry, wet, ""
}

// bayRetards says whether the bay holds a facing or a foam that counts as a
// retarder: some fill of at most 10 perms.
func (m *model) bayRetards(i int) bool {
	for _, e := range m.elements {
		if e.part == i && e.known && e.fill >= 0 && e.vapor.at(dryCupHumidity).Best <= 10*onePerm {
			return true
		}
	}
	return false
}

// rainScreen says whether a part is cladding in front of a gap that exchanges
// air with the weather: it is no vapor retarder of the wall behind it.
func (m *model) rainScreen(i int) bool {
	layers := m.variant.Layers
	return i == 0 && len(layers) > 1 && !layers[0].Cavity && !layers[0].Framed &&
		hasTerm(layers[0].Material, "cladding", "brick-veneer") && layers[1].Cavity && layers[1].Air != "closed"
}
