package rule_test

import (
	"slices"
	"strings"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

func one(facts analysis.Facts) *analysis.Result {
	return result(nil, nil, []analysis.Facts{facts})
}

func TestVerdictOfARule(t *testing.T) {
	built := []kb.Condition{is("built")}
	tests := []struct {
		name string
		rule kb.Rule
		fact analysis.Estimate
		want kb.Verdict // empty: no finding
	}{
		{"its conditions hold: not sound", kb.Rule{When: built}, flag(true), kb.No},
		{"its conditions hold: the verdict it names", kb.Rule{When: built, Verdict: kb.Depends}, flag(true), kb.Depends},
		{"its conditions do not hold", kb.Rule{When: built}, flag(false), ""},
		{"they may hold", kb.Rule{When: built}, analysis.Estimate{Known: true, Mixed: true}, kb.Depends},
		{"they may hold, whatever verdict it names", kb.Rule{When: built, Verdict: kb.No}, analysis.Estimate{Known: true, Mixed: true}, kb.Depends},
		{"not known", kb.Rule{When: built}, analysis.Estimate{Missing: "x"}, kb.Unknown},
	}
	for _, test := range tests {
		f := only(t, withRule(&test.rule), one(analysis.Facts{"built": test.fact, "existing": flag(false)}))
		switch {
		case f == nil && test.want != "":
			t.Errorf("%s: no finding, want %s", test.name, test.want)
		case f != nil && f.Verdict != test.want:
			t.Errorf("%s: %s, want %q", test.name, f.Verdict, test.want)
		}
	}
}

// TestDataGaps: what waits only for the edition or the zone is left to the rule
// that says so; any other gap is a finding of its own.
func TestDataGaps(t *testing.T) {
	gap := analysis.Estimate{Missing: "not given"}
	edition := kb.Rule{Kind: "code", When: []kb.Condition{isWord("edition", "IRC-2018"), is("built")}}
	f := only(t, withRule(&edition), one(analysis.Facts{"built": flag(true), "existing": flag(false), "edition": gap}))
	if f != nil {
		t.Errorf("a rule that waits for the edition speaks: %s", f.Verdict)
	}
	f = only(t, withRule(&edition), one(analysis.Facts{"built": gap, "existing": flag(false), "edition": gap}))
	if f == nil || f.Verdict != kb.Unknown {
		t.Errorf("another gap is not told: %+v", f)
	}
	own := kb.Rule{Kind: "data-gap", Verdict: kb.Unknown, When: []kb.Condition{{Fact: "edition", Known: "no"}}}
	f = only(t, withRule(&own), one(analysis.Facts{"existing": flag(false), "edition": gap}))
	if f == nil || f.Verdict != kb.Unknown {
		t.Errorf("the data gap itself is not told: %+v", f)
	}
}

// TestUntouchedAssemblies: code judges proposed work; of what stands it is
// information, and rules about work are silent.
func TestUntouchedAssemblies(t *testing.T) {
	stands := analysis.Facts{"built": flag(true), "existing": flag(true)}
	work := analysis.Facts{"built": flag(true), "existing": flag(false)}
	tests := []struct {
		name  string
		rule  kb.Rule
		facts analysis.Facts
		level kb.Level // empty: no finding
	}{
		{"code, work", kb.Rule{Kind: "code", Level: "block"}, work, "block"},
		{"code, stands", kb.Rule{Kind: "code", Level: "block"}, stands, "info"},
		{"moisture, stands", kb.Rule{Kind: "moisture", Level: "block"}, stands, "block"},
		{"hazard, stands", kb.Rule{Kind: "hazard", Level: "warn"}, stands, "warn"},
		{"about work, work", kb.Rule{Kind: "moisture", Level: "warn", Judges: "proposed"}, work, "warn"},
		{"about work, stands", kb.Rule{Kind: "moisture", Level: "warn", Judges: "proposed"}, stands, ""},
	}
	for _, test := range tests {
		test.rule.When = []kb.Condition{is("built")}
		f := only(t, withRule(&test.rule), one(test.facts))
		if f == nil && test.level != "" || f != nil && f.Level != test.level {
			t.Errorf("%s: %+v, want level %q", test.name, f, test.level)
		}
	}
}

func TestVariants(t *testing.T) {
	yes, no, gap := flag(true), flag(false), analysis.Estimate{Missing: "x"}
	tests := []struct {
		name     string
		variants []analysis.Estimate
		want     kb.Verdict
	}{
		{"all", []analysis.Estimate{yes, yes}, kb.No},
		{"none", []analysis.Estimate{no, no}, ""},
		{"some", []analysis.Estimate{no, yes}, kb.Depends},
		{"some, one not known", []analysis.Estimate{no, gap}, kb.Unknown},
		{"one surely, one not known", []analysis.Estimate{yes, gap}, kb.Unknown},
	}
	for _, test := range tests {
		var facts []analysis.Facts
		var choices [][]string
		for i, e := range test.variants {
			facts = append(facts, analysis.Facts{"built": e, "existing": flag(false)})
			choices = append(choices, []string{string(rune('a' + i))})
		}
		r := result([]assembly.Doubt{{Where: "material of wrap", Choices: []string{"a", "b"}}}, choices, facts)
		f := only(t, withRule(&kb.Rule{When: []kb.Condition{is("built")}}), r)
		if f == nil && test.want != "" || f != nil && f.Verdict != test.want {
			t.Errorf("%s: %+v, want %q", test.name, f, test.want)
		}
	}
}

// TestDeciderOfDoubts: the doubt that turns a finding is named with its
// choices, or, where several turn it together, the first that turns it while
// the others stand.
func TestDeciderOfDoubts(t *testing.T) {
	doubts := []assembly.Doubt{
		{Where: "material of wrap", Choices: []string{"felt", "paper"}},
		{Where: "number of coats", Choices: []string{"1", "2"}},
	}
	choices := [][]string{{"felt", "1"}, {"felt", "2"}, {"paper", "1"}, {"paper", "2"}}
	yes, no, maybe := flag(true), flag(false), analysis.Estimate{Known: true, Mixed: true}
	tests := []struct {
		name    string
		answers [4]analysis.Estimate
		want    string
	}{
		{"the first", [4]analysis.Estimate{yes, yes, no, no}, "material of wrap: with felt it holds, with paper it does not hold"},
		{"the second", [4]analysis.Estimate{no, yes, no, yes}, "number of coats: with 2 it holds, with 1 it does not hold"},
		{"the second, less surely", [4]analysis.Estimate{no, maybe, no, maybe}, "number of coats: with 2 it depends, with 1 it does not hold"},
		{"the second, more or less", [4]analysis.Estimate{maybe, yes, maybe, yes}, "number of coats: with 2 it holds, with 1 it depends"},
		{"both together", [4]analysis.Estimate{no, no, no, yes}, "material of wrap"},
	}
	for _, test := range tests {
		var facts []analysis.Facts
		for _, e := range test.answers {
			facts = append(facts, analysis.Facts{"built": e, "existing": flag(false)})
		}
		f := only(t, withRule(&kb.Rule{When: []kb.Condition{is("built")}}), result(doubts, choices, facts))
		if f == nil || f.Decider != test.want {
			t.Errorf("%s: %+v, want the decider %q", test.name, f, test.want)
		}
	}
	// A doubt that turns nothing is not named, even when it comes first.
	f := only(t, withRule(&kb.Rule{When: []kb.Condition{is("built")}}), result(
		[]assembly.Doubt{{Where: "idle", Choices: []string{"x", "y"}}, {Where: "a", Choices: []string{"1", "2"}}, {Where: "b", Choices: []string{"1", "2"}}},
		[][]string{{"x", "1", "1"}, {"y", "1", "1"}, {"x", "2", "1"}, {"y", "2", "1"}, {"x", "1", "2"}, {"y", "1", "2"}, {"x", "2", "2"}, {"y", "2", "2"}},
		[]analysis.Facts{{"built": no}, {"built": no}, {"built": no}, {"built": no}, {"built": no}, {"built": no}, {"built": yes}, {"built": yes}},
	))
	if f == nil || f.Decider != "a" {
		t.Errorf("a doubt that turns nothing: %+v", f)
	}
}

// TestDeciderOfRanges: without a doubt the strongest driver of the fact that
// lies on both sides of its limit decides.
func TestDeciderOfRanges(t *testing.T) {
	base := withRule(&kb.Rule{When: []kb.Condition{limit("peak", "over", 0.5)}})
	base.Materials = []*kb.Material{{ID: "m", Name: "Some board"}}
	base.Systems = []*kb.System{{ID: "s", Name: "Painted board"}}
	base.Assumptions = []*kb.Assumption{{ID: "a", Title: "air change of a gap"}}
	for material, want := range map[string]string{
		"m": "permeance of board (Some board)",
		"s": "permeance of board (Painted board)",
		"a": "air change of a gap",
	} {
		peak := between(0.2, 0.4, 0.9)
		peak.Drivers = []analysis.Driver{
			{Input: analysis.Input{Layer: "board", Material: material, Property: "permeance"}, Low: 0.2, High: 0.9},
			{Input: analysis.Input{Layer: "wrap", Material: "other", Property: "permeance"}, Low: 0.35, High: 0.45},
		}
		f := only(t, base, one(analysis.Facts{"peak": peak, "existing": flag(false)}))
		if f == nil || f.Verdict != kb.Depends || f.Decider != want {
			t.Errorf("%s: %+v, want the decider %q", material, f, want)
		}
	}
	// Of a layer the layer is named.
	base = withRule(&kb.Rule{When: []kb.Condition{join("some-layer", limit("depth", "over", 1))}})
	r := one(analysis.Facts{"existing": flag(false)})
	r.Variants[0].Layers = layered(analysis.Facts{"depth": between(0.5, 1, 2)}).Layers
	if f := only(t, base, r); f == nil || f.Decider != "depth of a" || f.Layer != "a" {
		t.Errorf("of a layer: %+v", f)
	}
	// What is not known is named, too.
	f := only(t, withRule(&kb.Rule{When: []kb.Condition{is("vague")}}), one(fourFacts()))
	if f == nil || f.Verdict != kb.Unknown || f.Decider != "vague" {
		t.Errorf("not known: %+v", f)
	}
}

// TestDeciderOfHours: what hourly runs show turns between the ends of an input; at
// which value is not sought. A bound that leaves the worse to a stronger rule turns
// nothing.
func TestDeciderOfHours(t *testing.T) {
	hours := between(100, 300, 900)
	hours.Drivers = []analysis.Driver{{Input: analysis.Input{Layer: "board", Material: "m", Property: "permeance"}, Low: 200, High: 800}}
	for op, want := range map[string]int{"over": 2, "at-most": 0} {
		base := withRule(&kb.Rule{When: []kb.Condition{limit("wet", op, 500)}})
		base.Facts = append(base.Facts, &kb.Fact{ID: "wet", Scope: "assembly", Type: "quantity", Dimension: quantity.Count, Title: "wet hours", Model: "hourly-moisture", Better: "lower"})
		slices.SortFunc(base.Facts, func(a, b *kb.Fact) int { return strings.Compare(a.ID, b.ID) })
		f := only(t, base, one(analysis.Facts{"wet": hours, "existing": flag(false)}))
		if f == nil || f.Hinge == nil || !f.Hinge.Unsought || len(f.Hinge.Turns) != want {
			t.Fatalf("%s: %+v", op, f)
		}
		if want > 0 && (f.Hinge.Turns[0].Answer != kb.Yes || f.Hinge.Turns[1].Answer != kb.No || !strings.HasSuffix(f.Hinge.Turns[0].Value, "200")) {
			t.Errorf("%+v", f.Hinge.Turns)
		}
	}
}

func TestSurelyHasNoDecider(t *testing.T) {
	f := only(t, withRule(&kb.Rule{When: []kb.Condition{is("built")}}), one(fourFacts()))
	if f == nil || f.Decider != "" {
		t.Errorf("%+v", f)
	}
}

func TestSentencesAreFilledIn(t *testing.T) {
	r := one(analysis.Facts{"existing": flag(false), "zone": words("5"), "peak": between(0.25, 0.25, 0.25), "open": {Known: true, Mixed: true}})
	r.Variants[0].Layers = layered(analysis.Facts{"food": flag(false)}, analysis.Facts{"food": flag(true), "depth": between(0.1, 0.1, 0.1)}).Layers
	f := only(t, withRule(&kb.Rule{
		When: []kb.Condition{join("some-layer", is("food"))},
		Say:  "{layer} of {depth} in zone {zone}: {peak}, {open}, {vague}.",
	}), r)
	if f == nil || f.Say != "b of 100 mm in zone 5: 0.25 kg/m², depends, not known." {
		t.Errorf("%+v", f)
	}
}

// TestOrder: strongest first: by level, then by verdict, then by id.
func TestOrder(t *testing.T) {
	base := registry()
	for _, r := range []struct {
		id    string
		level kb.Level
		when  string
	}{
		{"a", "info", "built"},
		{"b", "warn", "open"},
		{"c", "warn", "built"},
		{"d", "block", "vague"},
		{"e", "block", "built"},
		{"f", "engineer", "built"},
		{"g", "warn", "built"},
	} {
		base.Rules = append(base.Rules, &kb.Rule{ID: r.id, Kind: "moisture", Level: r.level, When: []kb.Condition{is(r.when)}})
	}
	var ids []string
	for _, f := range rule.Evaluate(tester(base), one(fourFacts())) {
		ids = append(ids, f.Rule)
	}
	if got := strings.Join(ids, " "); got != "e d f c g b a" {
		t.Errorf("order %s", got)
	}
}

// TestMark: a finding carries the weakest mark among its facts and its limits;
// limits are as well founded as their best source.
func TestMark(t *testing.T) {
	fact := between(1, 1, 1)
	for _, test := range []struct {
		fact  kb.Evidence
		bases []kb.Evidence
		want  kb.Evidence
	}{
		{kb.Read, []kb.Evidence{kb.Read}, kb.Read},
		{kb.Practice, []kb.Evidence{kb.Read}, kb.Practice},
		{kb.Read, []kb.Evidence{kb.Practice}, kb.Practice},
		{kb.Read, []kb.Evidence{kb.Practice, kb.Reported}, kb.Reported},
		{kb.Assumed, []kb.Evidence{kb.Practice}, kb.Assumed},
	} {
		fact.Evidence = test.fact
		r := &kb.Rule{When: []kb.Condition{limit("peak", "over", 0.5)}}
		for _, b := range test.bases {
			r.Basis = append(r.Basis, kb.Basis{Source: "s", Evidence: b})
		}
		if f := only(t, withRule(r), one(analysis.Facts{"peak": fact, "existing": flag(false)})); f == nil || f.Mark != test.want {
			t.Errorf("fact %s, limits %v: %+v, want %s", test.fact, test.bases, f, test.want)
		}
	}
}

// TestRuleCarriesItsWords: nothing that a rule gives its reader is dropped.
func TestRuleCarriesItsWords(t *testing.T) {
	r := kb.Rule{
		ID: "r", Title: "title", Kind: "mold", Level: "warn", When: []kb.Condition{is("open")}, Say: "say", Why: "why", Settle: "settle",
		Cautions: []string{"c"}, Basis: []kb.Basis{{Source: "s", Locator: "l", Evidence: kb.Read}},
	}
	f := only(t, withRule(&r), one(fourFacts()))
	if f == nil || f.Rule != "r" || f.Title != "title" || f.Kind != "mold" || f.Say != "say" || f.Why != "why" || f.Settle != "settle" ||
		!slices.Equal(f.Cautions, r.Cautions) || !slices.Equal(f.Basis, r.Basis) || len(f.Because) == 0 {
		t.Errorf("%+v", f)
	}
}
