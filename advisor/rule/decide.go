package rule

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/kb"
	"relath/kb/quantity"
)

// Hinge is the input that a finding turns on, and how it turns.
type Hinge struct {
	Name       string // in words
	Layer      string // name of the layer, or empty
	Doubt      string // coats, coating, material or fill, where the description leaves it open
	Choices    []string
	Assumption string // id of a default of ours
	Property   string // of a material of the base
	Material   string // its id
	Fact       string // what is not known, or known of a layer in a range only
	Turns      []Turn
	Flip       string   // where the answer turns, about: "1.2 perm", of counts "2 and 3"; or empty
	Unsought   bool     // where it turns is not sought: each try is a run of years hour by hour
	Together   []string // inputs of which none turns the answer by itself, the strongest first, in words
	Back       bool     // it turns there and back again, so that no one value is the flip
}

// Turn is the answer of a finding at one setting of its hinge.
type Turn struct {
	At     string     // the choice, or the end of the range in words
	Answer kb.Verdict // of the question that the finding answers
	Value  string     // of the fact at that end, in words, or empty
}

// decide names the input that decides a finding that depends: the doubt that
// turns it, else of the drivers of the fact that straddles its limit the
// strongest that turns it alone, else the strongest.
func (t Tester) decide(f *Finding, r *analysis.Result, verdicts []kb.Verdict, yes kb.Verdict) {
	if t.Mute || f.Verdict != kb.Depends && f.Verdict != kb.Unknown {
		return
	}
	if h, text := turningDoubt(r, verdicts, yes); h != nil {
		f.Decider, f.Hinge = text, h
		return
	}
	for i := range f.Because {
		reason := &f.Because[i]
		if reason.Verdict != kb.Depends && reason.Verdict != kb.Unknown {
			continue
		}
		f.Unlikely = f.Unlikely || reason.Verdict == kb.Depends && reason.Unlikely
		if f.Decider == "" {
			f.Hinge = t.hingeOf(reason, r, yes)
			f.Decider = f.Hinge.Name
		}
	}
}

// hingeOf finds the driver behind a reason, or names its fact.
func (t Tester) hingeOf(reason *Reason, r *analysis.Result, yes kb.Verdict) *Hinge {
	if reason.Fact == "" {
		return &Hinge{Name: reason.Text}
	}
	if reason.Layer != "" {
		return &Hinge{Name: t.title(reason.Fact) + " of " + reason.Layer, Layer: reason.Layer, Fact: reason.Fact, Material: materialOf(r, reason.Layer)}
	}
	drivers := r.Variants[0].Facts[reason.Fact].Drivers
	if len(drivers) == 0 {
		return &Hinge{Name: t.title(reason.Fact), Fact: reason.Fact}
	}
	var strongest *Hinge
	for i := range drivers {
		h := t.driven(&drivers[i], reason, yes)
		if strongest == nil {
			strongest = h
		}
		if len(h.Turns) == 2 && h.Turns[0].Answer != h.Turns[1].Answer {
			return h
		}
	}
	return strongest
}

// driven makes the hinge of a driver, with the answer at the ends of its range
// where it moves the fact alone.
func (t Tester) driven(d *analysis.Driver, reason *Reason, yes kb.Verdict) *Hinge {
	in := d.Input
	h := t.named(in)
	f := t.Base.Fact(reason.Fact)
	h.Unsought = f != nil && strings.HasPrefix(f.Model, "hourly")
	if reason.test == nil || f == nil || !d.Alone && !h.Unsought || h.Unsought && t.escalates(reason) {
		return h
	}
	ends := [2]float64{d.Low, d.High}
	if d.Falls {
		ends = [2]float64{d.High, d.Low}
	}
	words := t.endsOf(d)
	for i, v := range ends {
		verdict := compared(quantity.Exact(v), reason.test)
		if reason.negated {
			verdict = not(verdict)
		}
		h.Turns = append(h.Turns, Turn{
			At: words[i], Answer: answer(verdict, yes),
			Value: f.Title + " " + quantity.Format(v, f.Dimension, t.System),
		})
	}
	if h.Unsought { // runs hour by hour do not say which end is which
		if h.Turns[1].Answer == kb.Yes {
			slices.Reverse(h.Turns)
		}
		h.Turns[0].At, h.Turns[1].At = "one end of its range", "the other"
	}
	return h
}

// propertyOf names the property of an input.
func (t Tester) propertyOf(in analysis.Input) string {
	if p := t.Base.Property(in.Property); p != nil {
		return p.Title
	}
	return strings.ReplaceAll(in.Property, "-", " ")
}

// escalates says whether a comparison only leaves what is worse to a stronger
// finding: beyond it this one ends, and nothing is sounder for that.
func (t Tester) escalates(reason *Reason) bool {
	f := t.Base.Fact(reason.Fact)
	if f == nil || reason.test == nil || reason.negated {
		return false
	}
	low := reason.test.Op == "at-most" || reason.test.Op == "under"
	return f.Better == "lower" && low || f.Better == "higher" && !low
}

// endsOf words the low and the high end of the input of a driver.
func (t Tester) endsOf(of *analysis.Driver) [2]string {
	d := t.dimensionOf(of.Input)
	if d == "" || of.From == of.To {
		return [2]string{"the low end of its range", "the high end"}
	}
	return [2]string{quantity.Format(of.From, d, t.System), quantity.Format(of.To, d, t.System)}
}

// answer turns the verdict of conditions into the answer of a finding.
func answer(conditions, yes kb.Verdict) kb.Verdict {
	if conditions == kb.Yes {
		return yes
	}
	return not(conditions)
}

// materialOf gives the id of the material of a layer in the first variant that
// has it.
func materialOf(r *analysis.Result, layer string) string {
	for _, v := range r.Variants {
		for i := range v.Layers {
			if p := v.Layers[i].Part; p.Name == layer && p.Material != nil {
				return p.Material.ID
			}
		}
	}
	return ""
}

// nameOf gives the name of a material or a measured system.
func (t Tester) nameOf(id string) string {
	if m := t.Base.Material(id); m != nil {
		return m.Name
	}
	if s := t.Base.System(id); s != nil {
		return s.Name
	}
	return id
}

// turningDoubt finds the doubt that decides: one whose choices alone separate
// the answers, else the first that turns an answer while the others stand.
func turningDoubt(r *analysis.Result, verdicts []kb.Verdict, yes kb.Verdict) (*Hinge, string) {
	for d, doubt := range r.Assembly.Doubts {
		by, clean := choices(r, verdicts, d)
		if !clean || !differ(by) {
			continue
		}
		h := &Hinge{Name: doubt.Where, Layer: doubt.Layer, Doubt: string(doubt.Of), Choices: doubt.Choices}
		for _, c := range doubt.Choices {
			if v, ok := by[c]; ok {
				h.Turns = append(h.Turns, Turn{At: c, Answer: answer(v, yes)})
			}
		}
		h.Flip = between(h.Turns)
		return h, doubtText(doubt.Where, doubt.Choices, by)
	}
	for d, doubt := range r.Assembly.Doubts {
		if turns(r, verdicts, d) {
			return &Hinge{Name: doubt.Where, Layer: doubt.Layer, Doubt: string(doubt.Of), Choices: doubt.Choices}, doubt.Where
		}
	}
	return nil, ""
}

// choices gives the answer for each choice of a doubt; it is not clean when
// one choice has several answers.
func choices(r *analysis.Result, verdicts []kb.Verdict, doubt int) (by map[string]kb.Verdict, clean bool) {
	by = make(map[string]kb.Verdict)
	for i, v := range r.Variants {
		choice := v.Of.Settled[doubt].Choice
		if old, ok := by[choice]; ok && old != verdicts[i] {
			return nil, false
		}
		by[choice] = verdicts[i]
	}
	return by, true
}

// differ says whether the choices have more than one answer.
func differ(by map[string]kb.Verdict) bool {
	seen := make(map[kb.Verdict]bool)
	for _, v := range by {
		seen[v] = true
	}
	return len(seen) > 1
}

// turns says whether two variants that differ in this doubt alone have
// different answers.
func turns(r *analysis.Result, verdicts []kb.Verdict, doubt int) bool {
	first := make(map[string]kb.Verdict)
	for i, v := range r.Variants {
		others := ""
		for _, s := range v.Of.Settled {
			if s.Doubt != doubt {
				others += s.Choice + "\n"
			}
		}
		if old, ok := first[others]; ok && old != verdicts[i] {
			return true
		}
		first[others] = verdicts[i]
	}
	return false
}

// doubtText words how a finding turns over the choices of a doubt.
func doubtText(where string, choices []string, by map[string]kb.Verdict) string {
	words := map[kb.Verdict]string{kb.Yes: "it holds", kb.Depends: "it depends", kb.Unknown: "it is not known", kb.No: "it does not hold"}
	var parts []string
	for _, v := range []kb.Verdict{kb.Yes, kb.Depends, kb.Unknown, kb.No} {
		var such []string
		for _, c := range choices {
			if answer, ok := by[c]; ok && answer == v {
				such = append(such, c)
			}
		}
		if len(such) > 0 {
			parts = append(parts, fmt.Sprintf("with %s %s", strings.Join(such, ", "), words[v]))
		}
	}
	return where + ": " + strings.Join(parts, ", ")
}
