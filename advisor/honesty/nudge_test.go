package honesty_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// A tenth is what values are nudged by.
const tenth = 1.1

// raised runs f while a value is a tenth larger.
func raised(v *kb.Value, f func()) {
	old := v.SI
	v.SI = old.Scale(tenth)
	if v.Curve != nil {
		curve := v.Curve.SI
		v.Curve.SI = make([]float64, len(curve))
		for i, x := range curve {
			v.Curve.SI[i] = tenth * x
		}
		defer func() { v.Curve.SI = curve }()
	}
	f()
	v.SI = old
}

// within runs f while the best value of a range is a tenth larger, or at its
// upper end if that is nearer; a value without a range is a tenth larger.
func within(r *quantity.Range, f func()) {
	old := *r
	if old.IsExact() {
		*r = old.Scale(tenth)
	} else {
		r.Best = min(tenth*old.Best, old.High)
	}
	f()
	*r = old
}

// nudges is a base that may be changed, with the labelled houses.
type nudges struct {
	*testing.T
	base    *kb.Base
	sources []source
}

func newNudges(t *testing.T) nudges {
	t.Helper()
	base, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	return nudges{t, base, houseFiles(t)}
}

// each runs f for every assembly with its analysis, and a function that reads
// the house and analyzes it again.
func (n nudges) each(f func(name string, before *analysis.Result, again func() *analysis.Result)) {
	for _, s := range n.sources {
		for i, a := range resolve(n, n.base, s).Assemblies {
			again := func() *analysis.Result { return analyze(n, n.base, resolve(n, n.base, s).Assemblies[i]) }
			f(s.name+", "+a.Name, again(), again)
		}
	}
}

// cite is a fact of an analysis that names an input.
type cite struct {
	what, id string
	e        analysis.Estimate
	read     func(*analysis.Variant) analysis.Estimate
}

// factsOf lists the facts of the first variant, of the assembly and then of its
// layers.
func factsOf(r *analysis.Result) []cite {
	v := r.Variants[0]
	var list []cite
	for _, id := range sortedIDs(v.Facts) {
		list = append(list, cite{id, id, v.Facts[id], func(v *analysis.Variant) analysis.Estimate { return v.Facts[id] }})
	}
	for i, l := range v.Layers {
		for _, id := range sortedIDs(l.Facts) {
			list = append(list, cite{l.Part.Name + ", " + id, id, l.Facts[id], func(v *analysis.Variant) analysis.Estimate { return v.Layers[i].Facts[id] }})
		}
	}
	return list
}

// TestNudgeDrivers moves every driver that a fact names by a tenth, within its
// range: the fact stays between the ends that the driver gives it.
func TestNudgeDrivers(t *testing.T) {
	n := newNudges(t)
	count := 0
	n.each(func(name string, before *analysis.Result, again func() *analysis.Result) {
		type driven struct {
			cite
			analysis.Driver
		}
		by := make(map[*quantity.Range][]driven)
		var order []*quantity.Range
		for _, f := range factsOf(before) {
			for _, d := range f.e.Drivers {
				if n.joined(d.Input) {
					continue
				}
				r := n.rangeOf(d.Input)
				if by[r] == nil {
					order = append(order, r)
				}
				by[r] = append(by[r], driven{f, d})
				count++
			}
		}
		for _, r := range order {
			within(r, func() {
				after := again().Variants[0]
				for _, d := range by[r] {
					best, now := d.e.Range.Best, d.read(after).Range.Best
					low, high := min(d.Low, d.High, best), max(d.Low, d.High, best)
					if slack := 1e-6 * math.Abs(best); now < low-slack || now > high+slack {
						t.Errorf("%s: %s goes to %g with a tenth more of %s, which is said to move it between %g and %g", name, d.what, now, inputWords(d.Input), low, high)
					}
				}
			})
		}
	})
	t.Logf("%d drivers", count)
	if count < 50 {
		t.Errorf("only %d drivers", count)
	}
}

// joined says whether the range of an input is not its own alone: that of a
// curve, or one that other sources of equal evidence widen.
func (n nudges) joined(in analysis.Input) bool {
	if in.Value == nil {
		return false
	}
	if in.Value.Curve != nil {
		return true
	}
	m := n.base.Material(in.Material)
	if m == nil {
		return true // a measured system
	}
	for _, method := range []string{kb.AnyMethod, kb.DryCup, kb.WetCup} {
		if w, ok := m.Working(in.Property, method, 0); ok && len(w.Widened) > 0 {
			return true
		}
	}
	return false
}

// rangeOf gives the range of the value or the default behind an input.
func (n nudges) rangeOf(in analysis.Input) *quantity.Range {
	if in.Value != nil {
		return &in.Value.SI
	}
	return &n.base.Assumption(in.Material).SI
}

// direction is how a fact moves when a value of a property rises: 1 up, −1
// down, 0 where it takes both ways.
func direction(fact string, v *kb.Value) float64 {
	heat := map[string]float64{"conductivity": 1, "thermal-resistance": -1}
	vapor := map[string]float64{
		"permeance": 1, "permeability": 1, "joint-permeance": 1, "vapor-resistance-factor": -1, "equivalent-air-layer": -1, "vapor-resistance": -1,
	}
	mass := map[string]float64{"density": 1, "area-density": 1, "adhesive-share": 1}
	switch fact {
	case "u-factor", "room-surface-humidity":
		return heat[v.Property]
	case "layer-resistance", "temperature-ratio":
		return -heat[v.Property]
	case "permeance-inward", "permeance-outward", "permeance", "permeance-dry", "permeance-wet", "tightest-inward-dry", "tightest-outward-dry":
		return vapor[v.Property]
	case "weight", "adhesive-mass", "layer-adhesive":
		return mass[v.Property]
	}
	return 0
}

// TestNudgeDirections moves every value that such a fact cites: the fact moves
// as the value must move it, or not at all where another value decides; of the
// values behind a fact at least one moves it.
func TestNudgeDirections(t *testing.T) {
	n := newNudges(t)
	checked := make(map[string]int)
	n.each(func(name string, before *analysis.Result, again func() *analysis.Result) {
		facts := factsOf(before)
		behind, moves := make([]int, len(facts)), make([]int, len(facts))
		by := make(map[*kb.Value][]int)
		var order []*kb.Value
		for i, f := range facts {
			for _, in := range f.e.Inputs {
				if in.Value == nil || direction(f.id, in.Value) == 0 || slices.Contains(by[in.Value], i) {
					continue
				}
				if by[in.Value] == nil {
					order = append(order, in.Value)
				}
				by[in.Value] = append(by[in.Value], i)
				if in.Value.SI.Best != 0 {
					behind[i]++
				}
			}
		}
		for _, v := range order {
			raised(v, func() {
				after := again().Variants[0]
				for _, i := range by[v] {
					f, sign := facts[i], direction(facts[i].id, v)
					now := f.read(after).Range
					for _, moved := range []float64{now.Low - f.e.Range.Low, now.Best - f.e.Range.Best, now.High - f.e.Range.High} {
						if sign*moved < -1e-9*math.Abs(f.e.Range.Best) {
							t.Errorf("%s: %s moves by %g with a tenth more of %s, %s", name, f.what, moved, v.Property, v.Pos.File)
						}
						if moved != 0 {
							moves[i]++
						}
					}
				}
			})
		}
		for i, f := range facts {
			if behind[i] == 0 || f.e.Range.IsExact() {
				continue
			}
			checked[f.id]++
			if moves[i] == 0 {
				t.Errorf("%s: none of %d values behind %s moves it", name, behind[i], f.what)
			}
		}
	})
	t.Logf("%v", checked)
	for _, id := range []string{"u-factor", "layer-resistance", "permeance-inward", "permeance-outward", "permeance", "permeance-dry", "permeance-wet", "weight", "adhesive-mass"} {
		if checked[id] < 5 {
			t.Errorf("%s is checked in %d places", id, checked[id])
		}
	}
}

// TestNudgeUncited moves values that no fact of an answer cites, of each
// material in the assembly one of each property and some of other materials:
// nothing moves.
func TestNudgeUncited(t *testing.T) {
	n := newNudges(t)
	random := rand.New(rand.NewPCG(7, 1926))
	n.each(func(name string, r *analysis.Result, again func() *analysis.Result) {
		before := n.answer(r)
		cited := citedBy(r)
		values := oneOfEach(shuffled(random, uncited(materialsIn(r.Assembly), cited)))
		values = append(values, shuffled(random, uncited(n.base.Materials, cited))[:4]...)
		for _, v := range values {
			raised(v, func() {
				differ(t, name+", with a tenth more of "+v.Property+" "+v.Value.Value+v.Range.Value+" of "+v.Pos.File, n.answer(again()), before)
			})
		}
	})
}

// answer is all that an analysis says.
func (n nudges) answer(r *analysis.Result) string {
	var d dump
	d.result(r)
	d.findings("finding", rule.Evaluate(tester(n.base), r))
	return d.String()
}

// sortedIDs gives the ids of facts in order.
func sortedIDs(facts analysis.Facts) []string {
	ids := make([]string, 0, len(facts))
	for id := range facts {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}

// citedBy lists the values that some fact names among its inputs.
func citedBy(r *analysis.Result) map[*kb.Value]bool {
	cited := make(map[*kb.Value]bool)
	note := func(facts analysis.Facts) {
		for _, e := range facts {
			for _, in := range e.Inputs {
				cited[in.Value] = true
			}
		}
	}
	for _, v := range r.Variants {
		note(v.Facts)
		for _, l := range v.Layers {
			note(l.Facts)
		}
	}
	return cited
}

func uncited(materials []*kb.Material, cited map[*kb.Value]bool) []*kb.Value {
	var list []*kb.Value
	for _, m := range materials {
		for i := range m.Values {
			if v := &m.Values[i]; !cited[v] {
				list = append(list, v)
			}
		}
	}
	return list
}

func shuffled(random *rand.Rand, list []*kb.Value) []*kb.Value {
	random.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
	return list
}

// oneOfEach keeps the first value of each property of each material that an
// analysis of an assembly may read.
func oneOfEach(list []*kb.Value) []*kb.Value {
	read := []string{
		"conductivity", "thermal-resistance", "permeance", "permeability", "vapor-resistance-factor", "equivalent-air-layer",
		"joint-permeance", "joint-share", "density", "area-density", "adhesive-share", "sorption", "moisture-content-80", "free-saturation",
	}
	seen := make(map[string]bool)
	return slices.DeleteFunc(list, func(v *kb.Value) bool {
		key := v.Pos.File + " " + v.Property
		if seen[key] || !slices.Contains(read, v.Property) {
			return true
		}
		seen[key] = true
		return false
	})
}
