package lint

import (
	"relath/kb"
	"relath/kb/strict"
)

// bounds are where figures of building materials lie, in SI. They are wide: a
// slip of the decimal point or of the unit falls out, an unusual material does
// not. A permeability above that of still air, or a resistance factor below 1,
// cannot be.
var bounds = []struct {
	property  string
	low, high float64
}{
	{"absorption-coefficient", 0, 5},
	{"adhesive-share", 0, 1},
	{"area-density", 0.005, 300},
	{"conductivity", 0.005, 450},
	{"critical-humidity", 0.5, 1},
	{"density", 5, 12000},
	{"emittance", 0, 1},
	{"flame-spread", 0, 5000},
	{"free-saturation", 0, 1000},
	{"joint-share", 0, 1},
	{"mineral-share", 0, 1},
	{"moisture-content-80", 0, 400},
	{"moisture-excluding-effectiveness", 0, 1},
	{"permeability", 0, 2.1e-10},
	{"porosity", 0, 1},
	{"solar-absorptance", 0, 1},
	{"sorption", 0, 5},
	{"sorption-desorption", 0, 5},
	{"specific-heat", 100, 5000},
	{"vapor-resistance-factor", 1, 1e7},
	{"wax-share", 0, 1},
}

func checkPlausible(b *kb.Base, say report) {
	values(b, func(v *kb.Value) {
		for _, k := range bounds {
			if v.Property == k.property && (v.SI.Low < k.low || v.SI.High > k.high) {
				say(v.Pos, "%s from %.3g to %.3g SI lies outside %.3g to %.3g", v.Property, v.SI.Low, v.SI.High, k.low, k.high)
			}
		}
	})
}

// waterDensity in kg/m³ is what a pore can hold at most.
const waterDensity = 1000

// checkAbsorption orders water at 80 % humidity, free saturation and pores.
func checkAbsorption(b *kb.Base, say report) {
	for _, m := range b.Materials {
		at80, from, ok80 := moistureAt80(m)
		free, okFree := m.Working("free-saturation", kb.AnyMethod, 0)
		porosity, okPores := m.Working("porosity", kb.AnyMethod, 0)
		if ok80 && okFree && free.SI.Best > 0 && at80 >= free.SI.Best {
			say(from, "%q holds %.3g kg/m3 at 80 %% humidity, not less than %.3g at free saturation (line %d)", m.ID, at80, free.SI.Best, free.Value.Pos.Line)
		}
		if okFree && okPores && free.SI.Best > porosity.SI.High*waterDensity {
			say(free.Value.Pos, "free saturation %.3g kg/m3 of %q does not fit into a porosity of %.3g", free.SI.Best, m.ID, porosity.SI.High)
		}
	}
}

// moistureAt80 gives the water at 80 % humidity in kg/m³ and where it stands:
// as given, or the isotherm times the density.
func moistureAt80(m *kb.Material) (float64, strict.Pos, bool) {
	if w, ok := m.Working("moisture-content-80", kb.AnyMethod, 0); ok {
		return w.SI.Best, w.Value.Pos, true
	}
	w, ok := m.Working("sorption", kb.AsCurve, 0)
	density, known := m.Density()
	if !ok || !known {
		return 0, strict.Pos{}, false
	}
	return w.At(0.8).Best * density.Best, w.Value.Pos, true
}

// Solid matter in kg/m³: plastics and waxes from 800, heavy minerals to 4500;
// metals state no porosity. The printed porosity is rounded to half a percent.
const (
	lightestSolid   = 800
	heaviestSolid   = 4500
	porosityRounded = 0.005
)

// checkPores computes the density of the solid matter.
func checkPores(b *kb.Base, say report) {
	for _, m := range b.Materials {
		porosity, ok := m.Working("porosity", kb.AnyMethod, 0)
		density, known := m.Density()
		if !ok || !known {
			continue
		}
		lightest := density.Low / min(1, 1-porosity.SI.Low+porosityRounded)
		heaviest := density.High / max(1e-9, 1-porosity.SI.High-porosityRounded)
		if heaviest < lightestSolid || lightest > heaviestSolid {
			say(porosity.Value.Pos, "porosity %.3g and density %.4g kg/m3 of %q need solid matter of %.4g to %.4g kg/m3", porosity.SI.Best, density.Best, m.ID, lightest, heaviest)
		}
	}
}

func checkThickness(b *kb.Base, say report) {
	for _, m := range b.Materials {
		t := m.Thickness
		for _, x := range append([]float64{t.UsualSI}, t.SoldSI...) {
			if x > 0 && (x < t.LeastSI || t.MostSI > 0 && x > t.MostSI) {
				say(m.Pos, "%q: a thickness of %.4g m lies outside %.4g to %.4g m", m.ID, x, t.LeastSI, t.MostSI)
			}
		}
		if t.MostSI > 0 && t.LeastSI > t.MostSI {
			say(m.Pos, "%q: the least thickness is above the most", m.ID)
		}
	}
}

// checkScales holds each property to what it scales with.
func checkScales(b *kb.Base, say report) {
	for _, m := range b.Materials {
		for i := range m.Values {
			v := &m.Values[i]
			p := b.Property(v.Property)
			switch {
			case p == nil:
			case p.Scales == "coat" && m.Form != kb.Coat:
				say(v.Pos, "%s is about one coat, %q has the form %s", v.Property, m.ID, m.Form)
			case p.Scales == "layer" && m.FollowsThickness(v.Property) && !saysThickness(v):
				say(v.Pos, "%s of %q needs the thickness that it holds for, or a note why it needs none: at: {thickness: ...}", v.Property, m.ID)
			}
		}
	}
}

// saysThickness says whether a value states its thickness, or in words why it
// holds for any: a facing, joints that leak more than the board.
func saysThickness(v *kb.Value) bool {
	return v.At.Thickness.Value != "" || v.Note != "" || v.At.State != "" || v.Evidence == kb.Practice
}

// checkDoubles finds a value that stands twice.
func checkDoubles(b *kb.Base, say report) {
	for _, m := range b.Materials {
		for i := range m.Values {
			for j := range i {
				if isDouble(&m.Values[i], &m.Values[j]) {
					say(m.Values[i].Pos, "%s of %q stands twice (first in line %d)", m.Values[i].Property, m.ID, m.Values[j].Pos.Line)
				}
			}
		}
	}
}

func isDouble(a, b *kb.Value) bool {
	return a.Property == b.Property && a.Source == b.Source && a.Locator == b.Locator && a.SI == b.SI && (a.Curve == nil) == (b.Curve == nil) &&
		a.At.Method == b.At.Method && a.At.ThicknessSI == b.At.ThicknessSI && a.At.DensitySI == b.At.DensitySI &&
		a.At.TemperatureSI == b.At.TemperatureSI && a.At.State == b.At.State && a.At.Direction == b.At.Direction &&
		a.At.Coats == b.At.Coats && a.At.Humidity.Value == b.At.Humidity.Value
}
