package rule

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"relath/advisor/analysis"
	"relath/kb"
	"relath/kb/quantity"
)

// Flips finds where the findings that depend on a range turn: the input that
// turns the answer by itself, all others at their best values, the answer at both
// ends of its range, and the value between them. A finding that no input turns
// by itself, or that turns on what only hourly runs see, keeps its hinge as it
// is. Errors are those of [analysis.Run].
func (t Tester) Flips(r *analysis.Result, found []Finding) error {
	probes := make([]*analysis.Probe, len(r.Variants))
	for i := range found {
		f := &found[i]
		if f.Hinge == nil || f.Hinge.Doubt != "" || f.Verdict != kb.Depends || f.Hinge.Flip != "" {
			continue
		}
		judge := t.judge(f.Rule)
		if judge.verdict == nil || t.hourly(f) {
			continue
		}
		at := strongest(verdictsOf(SubjectsOf(r), judge.verdict))
		if probes[at] == nil {
			var err error
			if probes[at], err = analysis.NewProbe(t.Base, r.Assembly, r.Variants[at].Of); err != nil {
				return err
			}
		}
		x := flipper{Tester: t, judge: judge, probe: probes[at], like: r.Variants[at], result: r}
		if err := x.find(f); err != nil {
			return err
		}
	}
	return nil
}

// hourly says whether a finding is open by what only hourly runs see.
func (t Tester) hourly(f *Finding) bool {
	return slices.ContainsFunc(f.Because, func(r Reason) bool {
		fact := t.Base.Fact(r.Fact)
		return r.Verdict == kb.Depends && fact != nil && strings.HasPrefix(fact.Model, "hourly")
	})
}

// judge answers the question of one rule or table.
type judge struct {
	verdict func(Subject) kb.Verdict // of its conditions
	yes     kb.Verdict               // the answer where they hold
	warns   bool                     // of a rule that speaks against what it finds
}

// judge gives the judge of a rule or table of the base.
func (t Tester) judge(id string) judge {
	for _, r := range t.Base.Rules {
		if r.ID == id {
			return judge{func(s Subject) kb.Verdict { return t.Verdict(r.When, s) }, yesOf(r), yesOf(r) == kb.No}
		}
	}
	for _, table := range t.Base.Tables {
		if table.ID == id {
			return judge{func(s Subject) kb.Verdict { return t.tableVerdict(table, s) }, kb.No, false}
		}
	}
	return judge{}
}

// flipper looks for the value at which one finding turns.
type flipper struct {
	Tester
	judge  judge
	probe  *analysis.Probe
	like   *analysis.Variant // the variant that is moved, as it was judged
	result *analysis.Result
}

// mostTried bounds the inputs that are tried for one finding, and steps the
// places of a range that are looked at before it is halved.
const (
	mostTried = 8
	steps     = 8
	halvings  = 12
)

// tried is an input that may turn a finding, with the reason it is behind.
type tried struct {
	moved  analysis.Moved
	reason *Reason
}

// find tries the inputs behind what is open: what drives a fact, the strongest
// first, and then what else it was computed from.
func (x *flipper) find(f *Finding) error {
	var list []tried
	for _, all := range []bool{false, true} {
		for i := range f.Because {
			reason := &f.Because[i]
			if reason.Verdict != kb.Depends || x.judge.warns && x.escalates(reason) {
				continue
			}
			for _, in := range x.behind(reason, all) {
				moved, ok := x.probe.Movable(in)
				if ok && !slices.ContainsFunc(list, func(o tried) bool { return o.moved.Input == moved.Input }) {
					list = append(list, tried{moved, reason})
				}
			}
		}
	}
	for _, one := range list[:min(len(list), mostTried)] {
		h, err := x.hinge(one.moved, one.reason)
		if err != nil {
			return err
		}
		if h != nil {
			f.Hinge, f.Decider = h, h.Name
			return nil
		}
	}
	const worthNaming = 3
	for _, one := range list[:min(len(list), worthNaming)] {
		f.Hinge.Together = append(f.Hinge.Together, x.named(one.moved.Input).Name)
	}
	return nil
}

// behind lists the inputs that drive the fact of a reason, or all behind it.
func (x *flipper) behind(reason *Reason, all bool) []analysis.Input {
	e := x.result.Variants[0].Facts[reason.Fact]
	for i := range x.like.Layers {
		if l := &x.like.Layers[i]; reason.Layer != "" && l.Part.Name == reason.Layer {
			e = l.Facts[reason.Fact]
		}
	}
	if all {
		return e.Inputs
	}
	var list []analysis.Input
	for i := range e.Drivers {
		list = append(list, e.Drivers[i].Input)
	}
	return list
}

// answerAt is the answer with the input at a place of its range, and the value of
// the fact of a reason there, in words.
func (x *flipper) answerAt(moved analysis.Moved, at float64, reason *Reason) (kb.Verdict, string, error) {
	v, err := x.probe.At(moved, at)
	if err != nil {
		return "", "", err
	}
	v.Facts["existing"] = x.like.Facts["existing"] // what stands may be judged as work
	s := SubjectOf(v)
	answer := answer(x.judge.verdict(s), x.judge.yes)
	layer := slices.IndexFunc(v.Layers, func(l analysis.LayerFacts) bool { return l.Part.Name == reason.Layer })
	value := ""
	if e, _, ok := x.lookup(reason.Fact, s, layer); ok && e.Known {
		value = x.title(reason.Fact) + " " + x.Value(reason.Fact, e)
	}
	return answer, value, nil
}

// hinge gives the hinge of an input that turns the answer by itself, nil for one
// that does not. The first turn is that of the lower value of the input.
func (x *flipper) hinge(moved analysis.Moved, reason *Reason) (*Hinge, error) {
	ends := [2]float64{-1, 1}
	if byCup := cupped(reason.Fact); moved.Reads(-1, byCup) > moved.Reads(1, byCup) {
		ends = [2]float64{1, -1}
	}
	var turns []Turn
	for _, at := range ends {
		verdict, value, err := x.answerAt(moved, at, reason)
		if err != nil {
			return nil, err
		}
		turns = append(turns, Turn{At: x.reads(moved, at, reason), Answer: verdict, Value: value})
	}
	if turns[0].Answer == turns[1].Answer {
		return nil, nil
	}
	h := x.named(moved.Input)
	h.Name += x.reading(moved, reason)
	h.Turns = turns
	at, back, err := x.flip(moved, ends, turns[0].Answer, reason)
	if err != nil {
		return nil, err
	}
	if h.Back = back; !back {
		h.Flip = x.about(moved, at, reason)
	}
	return h, nil
}

// flip finds the place at which the answer turns between the ends: the one step
// in which it changes is halved again and again. It turns back where there are
// several.
func (x *flipper) flip(moved analysis.Moved, ends [2]float64, first kb.Verdict, reason *Reason) (at float64, back bool, err error) {
	place := func(share float64) float64 { return ends[0] + (ends[1]-ends[0])*share }
	answer := func(share float64) (kb.Verdict, error) {
		v, _, err := x.answerAt(moved, place(share), reason)
		return v, err
	}
	changes, low, last := 0, 0.0, first
	for i := 1; i <= steps; i++ {
		v, err := answer(float64(i) / steps)
		if err != nil {
			return 0, false, err
		}
		if v != last {
			changes, low, last = changes+1, float64(i-1)/steps, v
		}
	}
	if changes != 1 {
		return 0, true, nil
	}
	high := low + 1.0/steps
	for range halvings {
		middle := (low + high) / 2
		v, err := answer(middle)
		if err != nil {
			return 0, false, err
		}
		if v == first {
			low = middle
		} else {
			high = middle
		}
	}
	return place((low + high) / 2), false, nil
}

// cupped says whether a fact goes by the dry cup.
func cupped(fact string) bool {
	return strings.HasPrefix(fact, "retarder-") || strings.HasSuffix(fact, "-dry") || fact == "responsive"
}

// reads words what an input reads at a place of its range.
func (x *flipper) reads(moved analysis.Moved, at float64, reason *Reason) string {
	return quantity.Format(moved.Reads(at, cupped(reason.Fact)), x.dimensionOf(moved.Input), x.System)
}

// about words the same to two digits.
func (x *flipper) about(moved analysis.Moved, at float64, reason *Reason) string {
	v, d := moved.Reads(at, cupped(reason.Fact)), x.dimensionOf(moved.Input)
	shown, _ := quantity.Display(v, d, x.System)
	if shown == 0 || d == quantity.Temperature {
		return quantity.Format(v, d, x.System)
	}
	const digits = 2
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(shown)))-digits+1)
	return quantity.Format(v*math.Round(shown/unit)*unit/shown, d, x.System)
}

// reading says how an input is read, where that makes a difference: a permeance
// that changes with humidity.
func (x *flipper) reading(moved analysis.Moved, reason *Reason) string {
	switch {
	case x.dimensionOf(moved.Input) != quantity.Permeance || moved.Reads(0, true) == moved.Reads(0, false):
		return ""
	case cupped(reason.Fact):
		return " by the dry cup"
	}
	return " at 50 % humidity"
}

// dimensionOf gives the dimension in which an input is read.
func (t Tester) dimensionOf(in analysis.Input) quantity.Dimension {
	if a := t.Base.Assumption(in.Material); a != nil && in.Value == nil {
		return a.Dim
	}
	if p := t.Base.Property(in.Property); p != nil {
		return p.Dimension
	}
	return ""
}

// named makes a hinge of an input without its turns.
func (t Tester) named(in analysis.Input) *Hinge {
	h := &Hinge{Layer: in.Layer, Property: in.Property, Material: in.Material}
	a := t.Base.Assumption(in.Material)
	switch {
	case a == nil:
		h.Name = t.propertyOf(in) + " of " + in.Layer + " (" + t.nameOf(in.Material) + ")"
		return h
	case t.Base.Assumption(in.Property) != nil: // a reading in the place of a default
		h.Name = t.Base.Assumption(in.Property).Title + ", as read"
	default:
		h.Name = a.Title
	}
	h.Assumption, h.Material, h.Property = a.ID, "", ""
	return h
}

// between words where a row of counts turns: "2 and 3"; empty for other
// choices, and where it turns more than once.
func between(turns []Turn) string {
	at := ""
	for i := 1; i < len(turns); i++ {
		if turns[i].Answer == turns[i-1].Answer {
			continue
		}
		low, errLow := strconv.Atoi(turns[i-1].At)
		high, errHigh := strconv.Atoi(turns[i].At)
		if at != "" || errLow != nil || errHigh != nil || high != low+1 {
			return ""
		}
		at = turns[i-1].At + " and " + turns[i].At
	}
	return at
}
