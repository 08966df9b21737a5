package rule

import (
	"math"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/kb"
	"relath/kb/quantity"
)

// Subject is what conditions are tested on: the facts of one variant, and the
// facts of the work when a swap is judged.
type Subject struct {
	Facts  analysis.Facts
	Layers []analysis.LayerFacts
	Work   analysis.Facts // nil when nothing is done
}

// SubjectOf makes a subject of a variant.
func SubjectOf(v *analysis.Variant) Subject { return Subject{Facts: v.Facts, Layers: v.Layers} }

// SubjectsOf makes a subject of each variant.
func SubjectsOf(r *analysis.Result) []Subject {
	list := make([]Subject, len(r.Variants))
	for i, v := range r.Variants {
		list[i] = SubjectOf(v)
	}
	return list
}

// Answer is how a list of conditions went.
type Answer struct {
	Verdict kb.Verdict
	Because []Reason
	Layer   string // name of the layer that a some-layer condition found
}

// Tester tests conditions against the facts that the base registers, and words
// the reasons in a system of units.
type Tester struct {
	Base   *kb.Base
	System quantity.System
	Mute   bool // verdicts alone: reasons are not worded
}

// All tests conditions that must all hold.
func (t Tester) All(conditions []kb.Condition, s Subject) Answer {
	return t.all(conditions, s, -1)
}

// Over tests conditions that must all hold over the subjects, at least one: the
// ways an assembly may be built. When their answers differ it depends. The
// reasons are those of the subject in which the conditions come closest.
func (t Tester) Over(conditions []kb.Condition, subjects []Subject) Answer {
	verdicts := verdictsOf(subjects, func(s Subject) kb.Verdict { return t.Verdict(conditions, s) })
	a := t.All(conditions, subjects[strongest(verdicts)])
	a.Verdict = join(verdicts)
	return a
}

// Layer tests conditions about one layer of the subject.
func (t Tester) Layer(conditions []kb.Condition, s Subject, layer int) Answer {
	return t.all(conditions, s, layer)
}

func (t Tester) all(conditions []kb.Condition, s Subject, layer int) Answer {
	a := Answer{Verdict: kb.Yes}
	for i := range conditions {
		one := t.one(&conditions[i], s, layer)
		a.Verdict = and(a.Verdict, one.Verdict)
		a.Because = append(a.Because, one.Because...)
		if a.Layer == "" {
			a.Layer = one.Layer
		}
	}
	return a
}

// one tests a single condition.
func (t Tester) one(c *kb.Condition, s Subject, layer int) Answer {
	switch c.Join {
	case "all":
		return t.all(c.Nested, s, layer)
	case "any":
		return t.any(c.Nested, s, layer)
	case "not":
		a := t.all(c.Nested, s, layer)
		return Answer{Verdict: not(a.Verdict), Because: t.turned(a.Because)}
	case "some-layer":
		return t.some(c.Nested, s)
	case "no-layer":
		a := t.some(c.Nested, s)
		return Answer{Verdict: not(a.Verdict), Because: t.turned(a.Because)}
	case "every-layer":
		return t.every(c.Nested, s)
	}
	return t.leaf(c, s, layer)
}

// any keeps the reasons of what holds best.
func (t Tester) any(conditions []kb.Condition, s Subject, layer int) Answer {
	a := Answer{Verdict: kb.No}
	var all []Reason
	for i := range conditions {
		one := t.one(&conditions[i], s, layer)
		all = append(all, one.Because...)
		if joined := or(a.Verdict, one.Verdict); joined != a.Verdict {
			a = one
			a.Verdict = joined
		}
	}
	if a.Verdict == kb.No {
		a.Because = all
	}
	return a
}

// some looks for a layer for which all conditions hold.
func (t Tester) some(conditions []kb.Condition, s Subject) Answer {
	a := Answer{Verdict: kb.No}
	for i := range s.Layers {
		one := t.all(conditions, s, i)
		if joined := or(a.Verdict, one.Verdict); joined != a.Verdict {
			a = Answer{Verdict: joined, Because: one.Because, Layer: s.Layers[i].Part.Name}
		}
	}
	if a.Verdict == kb.No {
		r := Reason{Verdict: kb.No}
		if !t.Mute {
			r.Text = "no layer with " + t.phrases(conditions)
		}
		a.Because = []Reason{r}
	}
	return a
}

// every holds all conditions to all layers.
func (t Tester) every(conditions []kb.Condition, s Subject) Answer {
	a := Answer{Verdict: kb.Yes}
	for i := range s.Layers {
		one := t.all(conditions, s, i)
		a.Verdict = and(a.Verdict, one.Verdict)
		a.Because = append(a.Because, one.Because...)
	}
	return a
}

// turned swaps yes and no in reasons that a negation uses.
func (t Tester) turned(list []Reason) []Reason {
	out := slices.Clone(list)
	for i := range out {
		out[i].Verdict = not(out[i].Verdict)
		out[i].negated = !out[i].negated
		if f := t.Base.Fact(out[i].Fact); f != nil && f.Type == "quantity" {
			out[i].Unlikely = !out[i].Unlikely
		}
	}
	return out
}

// leaf tests one fact.
func (t Tester) leaf(c *kb.Condition, s Subject, layer int) Answer {
	e, where, ok := t.lookup(c.Fact, s, layer)
	r := Reason{Fact: c.Fact, Layer: where, Mark: e.Evidence, Verdict: leafVerdict(c, e, ok)}
	known := ok && e.Known
	switch {
	case c.Known == "yes" && e.Known:
		return Answer{Verdict: r.Verdict} // what is asked of it says more
	case known && c.Known == "" && c.Flag == "" && len(c.Words) == 0:
		r.test = c
		r.Unlikely = compared(quantity.Exact(e.Range.Best), c) == kb.No
	}
	if !t.Mute {
		r.Text = t.leafText(c, e, known)
	}
	return Answer{Verdict: r.Verdict, Because: []Reason{r}}
}

// leafText words what a condition compares.
func (t Tester) leafText(c *kb.Condition, e analysis.Estimate, known bool) string {
	switch {
	case c.Known != "" && e.Known:
		return t.title(c.Fact) + " is known"
	case c.Known != "":
		return t.title(c.Fact) + " is not known"
	case !known:
		return missing(t.title(c.Fact), e)
	case c.Flag != "":
		return t.flagText(c, e)
	case len(c.Words) > 0:
		return t.wordText(c, e)
	}
	return t.limitText(c, e)
}

// lookup finds a fact: of the layer, of the work, or of the assembly.
func (t Tester) lookup(id string, s Subject, layer int) (e analysis.Estimate, where string, ok bool) {
	f := t.Base.Fact(id)
	if f == nil {
		return e, "", false
	}
	switch f.Scope {
	case "layer":
		if layer < 0 || layer >= len(s.Layers) {
			return e, "", false
		}
		e, ok = s.Layers[layer].Facts[id]
		return e, s.Layers[layer].Part.Name, ok
	case "work":
		if s.Work == nil {
			return analysis.Estimate{Known: true, Range: quantity.Exact(0)}, "", true
		}
		e, ok = s.Work[id]
		return e, "", ok
	}
	e, ok = s.Facts[id]
	return e, "", ok
}

// flagged says whether a flag stands as wanted; one that differs over the
// ranges depends.
func flagged(e analysis.Estimate, want bool) kb.Verdict {
	if e.Mixed {
		return kb.Depends
	}
	return truth(e.Flag == want)
}

// worded says whether a fact has one of the words; a fact that may be one of
// several depends unless all or none of them are wanted.
func worded(e analysis.Estimate, want []string) kb.Verdict {
	hits := 0
	for _, w := range e.Words {
		if slices.Contains(want, w) {
			hits++
		}
	}
	switch {
	case hits == 0:
		return kb.No
	case e.Mixed && hits < len(e.Words):
		return kb.Depends
	}
	return kb.Yes
}

// compared holds a range to a limit: wholly on one side, or depends.
func compared(r quantity.Range, c *kb.Condition) kb.Verdict {
	limit := c.LimitSI.Best
	round := slack * math.Abs(limit)
	if strings.HasPrefix(c.Limit, "R-") {
		round = labelSlack * math.Abs(limit)
	}
	holds := func(v float64) bool {
		switch c.Op {
		case "over":
			return v > limit
		case "under":
			return v < limit
		case "at-least":
			return v >= limit-round
		}
		return v <= limit+round
	}
	low, high := holds(r.Low), holds(r.High)
	switch {
	case low && high:
		return kb.Yes
	case !low && !high:
		return kb.No
	}
	return kb.Depends
}

// slack lets a figure that was computed from rounded inches count as the figure
// itself. An R-value is compared with what a label prints and computed from a
// conductivity of two digits: 2 in of a foam board of 0.029 W/(m·K), labeled
// R-10, comes to.
const (
	slack      = 0.005
	labelSlack = 0.01
)
