package lint

import (
	"slices"

	"relath/kb"
	"relath/kb/quantity"
)

// agreed is the factor by which vapor figures of one material may differ before
// the entry must say which one counts. Good cup tests of one board differ by
// about half (round robins cited in ISO 12572, recalled).
const agreed = 2.0

// thermallyAgreed is the same for thermal figures.
const thermallyAgreed = 1.25

// alone gives the answer that a single value of a material gives.
func alone(m *kb.Material, v kb.Value, property, method string) (kb.Working, bool) {
	one := *m
	one.Values, one.Choose = []kb.Value{v}, nil
	return one.Working(property, method, 0)
}

// checkVapor compares all figures of a material as permeance of its usual
// thickness, for each cup.
func checkVapor(b *kb.Base, say report) {
	for _, m := range b.Materials {
		for _, method := range []string{kb.DryCup, kb.WetCup} {
			compare(m, quantity.Permeance, method, agreed, say)
		}
	}
}

// checkThermal compares thermal figures as resistance of the usual thickness.
func checkThermal(b *kb.Base, say report) {
	for _, m := range b.Materials {
		compare(m, quantity.ThermalResistance, kb.AnyMethod, thermallyAgreed, say)
	}
}

// shown writes a range in inch-pound and SI units.
func shown(r quantity.Range, d quantity.Dimension) string {
	if r.IsExact() {
		return quantity.FormatBoth(r.Best, d)
	}
	return quantity.FormatRange(r, d, quantity.InchPound)
}

// figure is a value as the answer to a question.
type figure struct {
	value *kb.Value
	kb.Working
}

// compare reports the two figures of a question that lie farthest apart, when
// that is more than the factor allowed and nothing in the entry speaks of it: a
// choice for one of their properties or a note on one of them.
//
// The property has the name of its dimension.
func compare(m *kb.Material, d quantity.Dimension, method string, factor float64, say report) {
	var lowest, highest figure
	count := 0
	for i := range m.Values {
		v := &m.Values[i]
		w, ok := alone(m, *v, string(d), method)
		if !ok || !counts(m, v) {
			continue
		}
		f := figure{v, w}
		if count == 0 || w.SI.High < lowest.SI.High {
			lowest = f
		}
		if count == 0 || w.SI.Low > highest.SI.Low {
			highest = f
		}
		count++
	}
	if count == 0 || highest.SI.Low <= factor*lowest.SI.High || explained(m, lowest.value, highest.value) {
		return
	}
	say(highest.value.Pos, "%s %s of %q from %s is %s, from %s (line %d) %s: choose one and say why",
		d, words(method), m.ID, highest.value.Property, shown(highest.SI, d),
		lowest.value.Property, lowest.value.Pos.Line, shown(lowest.SI, d))
}

func words(method string) string {
	if method == kb.AnyMethod {
		return "of the usual thickness"
	}
	return "by " + method
}

// counts leaves out what is kept beside on purpose: practice, high doubt,
// values of another state, direction or temperature, and sheets of another
// thickness, which are not scaled.
func counts(m *kb.Material, v *kb.Value) bool {
	if !m.FollowsThickness("permeance") && v.At.ThicknessSI > 0 && m.Thickness.UsualSI > 0 {
		if ratio := v.At.ThicknessSI / m.Thickness.UsualSI; ratio < 0.7 || ratio > 1.4 {
			return false
		}
	}
	return v.Withdrawn == "" && v.Evidence != kb.Practice && v.Doubt == "" &&
		v.At.State == "" && v.At.Direction == "" && v.At.Temperature.Value == "" && v.At.Density.Value == "" && v.At.Coats == 0
}

// explained says whether the entry speaks of a disagreement.
func explained(m *kb.Material, pair ...*kb.Value) bool {
	for _, v := range pair {
		if v.Note != "" || slices.ContainsFunc(m.Choose, func(c kb.Choice) bool { return c.Property == v.Property }) {
			return true
		}
	}
	return false
}

// rounding is what two roundings of one figure may differ by.
const rounding = 1.02

// checkCups holds dry against wet, in the working values and within each
// source, and looks for isotherms that fall.
func checkCups(b *kb.Base, say report) {
	for _, m := range b.Materials {
		dry, okDry := m.Working("permeance", kb.DryCup, 0)
		wet, okWet := m.Working("permeance", kb.WetCup, 0)
		if okDry && okWet && statesMethod(dry.Value) && statesMethod(wet.Value) && dry.SI.Best > rounding*wet.SI.Best {
			say(dry.Value.Pos, "working permeance of %q: dry cup %s is above wet cup %s (line %d)", m.ID,
				shown(dry.SI, quantity.Permeance), shown(wet.SI, quantity.Permeance), wet.Value.Pos.Line)
		}
		checkPairs(m, say)
	}
	values(b, func(v *kb.Value) {
		if v.Curve == nil || v.Property != "sorption" && v.Property != "sorption-desorption" {
			return
		}
		if !slices.IsSorted(v.Curve.SI) {
			say(v.Curve.Values.Pos, "the isotherm falls with rising humidity")
		}
	})
}

// statesMethod says whether a value belongs to one cup for certain.
func statesMethod(v *kb.Value) bool {
	return v.At.Method == kb.DryCup || v.At.Method == kb.WetCup || v.Curve != nil
}

// checkPairs compares dry and wet of one source and one set of conditions.
func checkPairs(m *kb.Material, say report) {
	for i := range m.Values {
		dry := &m.Values[i]
		if dry.At.Method != kb.DryCup {
			continue
		}
		for j := range m.Values {
			wet := &m.Values[j]
			same := wet.At
			same.Method, same.Thickness.Pos = kb.DryCup, dry.At.Thickness.Pos
			if wet.At.Method != kb.WetCup || wet.Property != dry.Property || wet.Source != dry.Source || same != dry.At {
				continue
			}
			a, _ := alone(m, *dry, "permeance", kb.DryCup)
			b, _ := alone(m, *wet, "permeance", kb.WetCup)
			if a.SI.Best > rounding*b.SI.Best {
				say(dry.Pos, "%s of %q from source %q: the dry cup is more open than the wet one (line %d)", dry.Property, m.ID, dry.Source, wet.Pos.Line)
			}
		}
	}
}

// checkSpreads asks what a spread rests on. Curves of equal evidence and the
// same conditions span a range already: a spread on one of them counts the
// difference of products twice.
func checkSpreads(b *kb.Base, say report) {
	values(b, func(v *kb.Value) {
		if v.Curve != nil && v.Curve.Spread != nil && v.Curve.Spread.Note == "" {
			say(v.Pos, "the spread of %s has no note: say which products it covers", v.Property)
		}
	})
	for _, m := range b.Materials {
		w, ok := m.Working("permeance", kb.AsCurve, 0)
		if ok && w.Value.Curve.Spread != nil && len(w.Widened) > 0 {
			say(w.Value.Pos, "%q has a spread and further curves (line %d) that widen it again", m.ID, w.Widened[0].Pos.Line)
		}
	}
}

// checkCoated compares a system with its substrate.
func checkCoated(b *kb.Base, say report) {
	for _, s := range b.Systems {
		substrate := b.Material(s.Substrate)
		if substrate == nil {
			continue
		}
		for _, method := range []string{kb.DryCup, kb.WetCup} {
			coated, okCoated := s.Working("permeance", method)
			bare, okBare := substrate.Working("permeance", method, s.ThicknessSI)
			if okCoated && okBare && coated.SI.Best > rounding*bare.SI.High {
				say(coated.Value.Pos, "system %q by %s is more open (%s) than bare %q (%s)", s.ID, method,
					shown(coated.SI, quantity.Permeance), s.Substrate, shown(bare.SI, quantity.Permeance))
			}
		}
	}
}

// checkAdvise looks at the vapor values that the program would work with.
func checkAdvise(b *kb.Base, say report) {
	for _, m := range b.Materials {
		w, ok := m.Working("permeance", kb.AnyMethod, 0)
		if ok && w.Doubt && m.Advise != "no" {
			say(m.Pos, "vapor values of %q are all of high doubt: advise is \"no\"", m.ID)
		}
	}
}

// checkChoices looks at what entries prefer.
func checkChoices(b *kb.Base, say report) {
	for _, m := range b.Materials {
		for i := range m.Choose {
			c := &m.Choose[i]
			w, ok := m.Working(c.Property, c.Method, 0)
			if !ok || w.Value.Property != c.Property || w.Value.Source != c.Source {
				continue
			}
			weak := func(v *kb.Value) bool { return v.Doubt == "high" || v.Evidence == kb.Practice }
			if weak(w.Value) && slices.ContainsFunc(w.Beside, func(v *kb.Value) bool { return v.Property == c.Property && !weak(v) }) {
				say(c.Pos, "%q chooses a value of high doubt or of common practice for %s although a better one exists", m.ID, c.Property)
			}
		}
	}
}
