package rule_test

import (
	"strings"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/rule"
	"relath/kb"
)

func TestComparisons(t *testing.T) {
	tests := []struct {
		op              string
		limit           float64
		low, best, high float64
		want            kb.Verdict
	}{
		{"over", 5, 6, 7, 8, kb.Yes},
		{"over", 5, 3, 4, 5, kb.No}, // five is not over five
		{"over", 5, 4, 6, 8, kb.Depends},
		{"over", 5, 5, 5, 5, kb.No},
		{"under", 5, 3, 4, 4.9, kb.Yes},
		{"under", 5, 5, 6, 7, kb.No},
		{"under", 5, 4, 6, 7, kb.Depends},
		{"at-least", 5, 5, 5, 5, kb.Yes},
		{"at-least", 5, 4, 4.5, 4.9, kb.No},
		{"at-least", 5, 4, 5, 6, kb.Depends},
		{"at-most", 5, 5, 5, 5, kb.Yes},
		{"at-most", 5, 5.1, 6, 7, kb.No},
		{"at-most", 5, 4, 5, 6, kb.Depends},
		// Half a percent of rounding: nominal R-20 out of rounded inches.
		{"at-least", 5, 4.98, 4.98, 4.98, kb.Yes},
		{"at-least", 5, 4.97, 4.97, 4.97, kb.No},
		{"at-most", 5, 5.02, 5.02, 5.02, kb.Yes},
		{"at-most", 5, 5.03, 5.03, 5.03, kb.No},
		// A negative limit, such as a flow inward.
		{"at-least", -5, -5, -5, -5, kb.Yes},
		{"at-most", -5, -5, -5, -5, kb.Yes},
		{"at-least", 0, 0, 0, 0, kb.Yes},
		{"over", -5, -4, -3, -2, kb.Yes},
	}
	for _, test := range tests {
		s := rule.Subject{Facts: analysis.Facts{"peak": between(test.low, test.best, test.high)}}
		a := tester(registry()).All([]kb.Condition{limit("peak", test.op, test.limit)}, s)
		if a.Verdict != test.want {
			t.Errorf("%g..%g %s %g: %s, want %s", test.low, test.high, test.op, test.limit, a.Verdict, test.want)
		}
		if len(a.Because) != 1 || a.Because[0].Text == "" || a.Because[0].Verdict != a.Verdict {
			t.Errorf("%g..%g %s %g: reasons %+v", test.low, test.high, test.op, test.limit, a.Because)
		}
	}
}

func TestReasonsSayTheComparison(t *testing.T) {
	tests := []struct {
		op   string
		r    analysis.Estimate
		want string
	}{
		{"over", between(6, 6, 6), "is over"},
		{"over", between(4, 4, 4), "is not over"},
		{"under", between(6, 6, 6), "is not under"},
		{"at-least", between(4, 4, 4), "is less than"},
		{"at-most", between(6, 6, 6), "is more than"},
		{"at-most", between(4, 5, 6), "lies on both sides of"},
	}
	for _, test := range tests {
		s := rule.Subject{Facts: analysis.Facts{"peak": test.r}}
		a := tester(registry()).All([]kb.Condition{limit("peak", test.op, 5)}, s)
		text := a.Because[0].Text
		if !strings.HasPrefix(text, "peak ") || !strings.Contains(text, test.want) || !strings.HasSuffix(text, "5 kg/m²") {
			t.Errorf("%q does not say %q", text, test.want)
		}
	}
}

func TestWords(t *testing.T) {
	tests := []struct {
		name string
		fact analysis.Estimate
		want []string
		is   kb.Verdict
	}{
		{"one of the wanted", words("a"), []string{"a", "b"}, kb.Yes},
		{"none of the wanted", words("c"), []string{"a", "b"}, kb.No},
		{"several hold, one is wanted", words("a", "c"), []string{"a"}, kb.Yes},
		{"nothing holds", words(), []string{"a"}, kb.No},
		{"may be one that is wanted", oneOf("a", "c"), []string{"a"}, kb.Depends},
		{"may be several, all wanted", oneOf("a", "b"), []string{"a", "b", "c"}, kb.Yes},
		{"may be several, none wanted", oneOf("c", "d"), []string{"a", "b"}, kb.No},
		{"not known", analysis.Estimate{Missing: "not given"}, []string{"a"}, kb.Unknown},
	}
	for _, test := range tests {
		s := rule.Subject{Facts: analysis.Facts{"zone": test.fact}}
		if got := tester(registry()).All([]kb.Condition{isWord("zone", test.want...)}, s).Verdict; got != test.is {
			t.Errorf("%s: %s, want %s", test.name, got, test.is)
		}
	}
}

func TestKnown(t *testing.T) {
	s := rule.Subject{Facts: analysis.Facts{"zone": words("5"), "edition": {Missing: "not given"}}}
	for _, test := range []struct {
		fact, known string
		want        kb.Verdict
	}{
		{"zone", "yes", kb.Yes},
		{"zone", "no", kb.No},
		{"edition", "yes", kb.No},
		{"edition", "no", kb.Yes},
	} {
		c := kb.Condition{Fact: test.fact, Known: test.known}
		if got := tester(registry()).All([]kb.Condition{c}, s).Verdict; got != test.want {
			t.Errorf("%s known: %s gives %s, want %s", test.fact, test.known, got, test.want)
		}
	}
}

func TestUnknownNamesWhatIsMissing(t *testing.T) {
	s := rule.Subject{Facts: fourFacts()}
	a := tester(registry()).All([]kb.Condition{is("vague")}, s)
	if a.Verdict != kb.Unknown || a.Because[0].Text != "vague is not known: nobody has looked" {
		t.Errorf("%+v", a)
	}
	// A fact that the analysis did not make is unknown, never no.
	a = tester(registry()).All([]kb.Condition{is("built")}, rule.Subject{Facts: analysis.Facts{}})
	if a.Verdict != kb.Unknown {
		t.Errorf("a fact that is not there: %s", a.Verdict)
	}
}

func TestLayerConditions(t *testing.T) {
	food, plain := analysis.Facts{"food": flag(true), "depth": between(1, 1, 1)}, analysis.Facts{"food": flag(false), "depth": between(2, 2, 2)}
	maybe, unknown := analysis.Facts{"food": {Known: true, Mixed: true}, "depth": between(1, 1, 1)}, analysis.Facts{"depth": between(1, 1, 1)}
	tests := []struct {
		name   string
		join   string
		layers []analysis.Facts
		want   kb.Verdict
		layer  string
	}{
		{"one has it", "some-layer", []analysis.Facts{plain, food}, kb.Yes, "b"},
		{"none has it", "some-layer", []analysis.Facts{plain, plain}, kb.No, ""},
		{"one may have it", "some-layer", []analysis.Facts{plain, maybe}, kb.Depends, "b"},
		{"one is not known", "some-layer", []analysis.Facts{unknown, plain}, kb.Unknown, "a"},
		{"one has it, one is not known", "some-layer", []analysis.Facts{unknown, food}, kb.Yes, "b"},
		{"no layer at all", "some-layer", nil, kb.No, ""},
		{"one has it", "no-layer", []analysis.Facts{plain, food}, kb.No, ""},
		{"none has it", "no-layer", []analysis.Facts{plain, plain}, kb.Yes, ""},
		{"one may have it", "no-layer", []analysis.Facts{plain, maybe}, kb.Depends, ""},
		{"all have it", "every-layer", []analysis.Facts{food, food}, kb.Yes, ""},
		{"one has it not", "every-layer", []analysis.Facts{food, plain, unknown}, kb.No, ""},
		{"one is not known", "every-layer", []analysis.Facts{food, unknown}, kb.Unknown, ""},
	}
	for _, test := range tests {
		a := tester(registry()).All([]kb.Condition{join(test.join, is("food"))}, layered(test.layers...))
		if a.Verdict != test.want || a.Layer != test.layer {
			t.Errorf("%s, %s: %s of layer %q, want %s of %q", test.join, test.name, a.Verdict, a.Layer, test.want, test.layer)
		}
		if len(a.Because) == 0 && len(test.layers) > 0 {
			t.Errorf("%s, %s: no reason", test.join, test.name)
		}
	}
	// All conditions must hold for one and the same layer.
	both := join("some-layer", is("food"), limit("depth", "over", 1.5))
	if got := tester(registry()).All([]kb.Condition{both}, layered(food, plain)).Verdict; got != kb.No {
		t.Errorf("two conditions of different layers: %s", got)
	}
}

// TestMissingLayerIsAReason: that no layer is of a kind is said in words, also
// when it is what a rule asks for.
func TestMissingLayerIsAReason(t *testing.T) {
	s := layered(analysis.Facts{"class": words("I"), "depth": between(1, 1, 1)})
	c := []kb.Condition{isWord("class", "II"), limit("depth", "over", 2)}
	a := tester(registry()).All([]kb.Condition{join("some-layer", c...)}, s)
	if len(a.Because) != 1 || a.Because[0].Verdict != kb.No || a.Because[0].Text != "no layer with class: II, depth over 2 m" {
		t.Errorf("some-layer: %+v", a)
	}
	a = tester(registry()).All([]kb.Condition{join("no-layer", c...)}, s)
	if len(a.Because) != 1 || a.Because[0].Verdict != kb.Yes || a.Because[0].Text != "no layer with class: II, depth over 2 m" {
		t.Errorf("no-layer: %+v", a)
	}
}

// TestReasonsTurnWithNegation: a reason stands with the verdict that it lends
// to the whole.
func TestReasonsTurnWithNegation(t *testing.T) {
	s := rule.Subject{Facts: fourFacts()}
	a := tester(registry()).All([]kb.Condition{join("not", is("built"))}, s)
	if a.Verdict != kb.No || a.Because[0].Verdict != kb.No || a.Because[0].Text != "built: yes" {
		t.Errorf("%+v", a)
	}
	a = tester(registry()).All([]kb.Condition{join("not", is("existing"))}, s)
	if a.Verdict != kb.Yes || a.Because[0].Verdict != kb.Yes || a.Because[0].Text != "existing: no" {
		t.Errorf("%+v", a)
	}
}

func TestAnyKeepsTheReasonsOfWhatHolds(t *testing.T) {
	s := rule.Subject{Facts: fourFacts()}
	a := tester(registry()).All([]kb.Condition{join("any", is("existing"), is("built"), is("open"))}, s)
	if len(a.Because) != 1 || a.Because[0].Fact != "built" {
		t.Errorf("one holds: %+v", a.Because)
	}
	a = tester(registry()).All([]kb.Condition{join("any", is("existing"), isWord("zone", "5"))}, rule.Subject{Facts: analysis.Facts{"existing": flag(false), "zone": words("4")}})
	if a.Verdict != kb.No || len(a.Because) != 2 {
		t.Errorf("none holds: %+v", a.Because)
	}
}

func TestWorkFacts(t *testing.T) {
	conditions := []kb.Condition{isWord("adds", "lime")}
	s := rule.Subject{Facts: analysis.Facts{}}
	if got := tester(registry()).All(conditions, s).Verdict; got != kb.No {
		t.Errorf("nothing is done: %s", got)
	}
	if got := tester(registry()).All([]kb.Condition{{Fact: "raises", Flag: "no"}}, s).Verdict; got != kb.Yes {
		t.Errorf("nothing is raised when nothing is done: %s", got)
	}
	s.Work = analysis.Facts{"adds": words("lime", "wood")}
	if got := tester(registry()).All(conditions, s).Verdict; got != kb.Yes {
		t.Errorf("lime is added: %s", got)
	}
	s.Work = analysis.Facts{"adds": words("wood")}
	if got := tester(registry()).All(conditions, s).Verdict; got != kb.No {
		t.Errorf("wood is added: %s", got)
	}
}

func TestOver(t *testing.T) {
	yes, no := rule.Subject{Facts: analysis.Facts{"built": flag(true)}}, rule.Subject{Facts: analysis.Facts{"built": flag(false)}}
	unknown := rule.Subject{Facts: analysis.Facts{}}
	for _, test := range []struct {
		subjects []rule.Subject
		want     kb.Verdict
	}{
		{[]rule.Subject{yes, yes}, kb.Yes},
		{[]rule.Subject{no, no}, kb.No},
		{[]rule.Subject{no, yes}, kb.Depends},
		{[]rule.Subject{yes, unknown}, kb.Unknown},
		{[]rule.Subject{no, unknown}, kb.Unknown},
	} {
		if got := tester(registry()).Over([]kb.Condition{is("built")}, test.subjects).Verdict; got != test.want {
			t.Errorf("over %d subjects: %s, want %s", len(test.subjects), got, test.want)
		}
	}
}
