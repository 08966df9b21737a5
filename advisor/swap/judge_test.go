package swap

import (
	"slices"
	"strings"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

func finding(id string, level kb.Level, verdict kb.Verdict) rule.Finding {
	return rule.Finding{Rule: id, Kind: "moisture", Level: level, Verdict: verdict}
}

func ids(list []rule.Finding) string {
	var words []string
	for _, f := range list {
		words = append(words, f.Rule)
	}
	return strings.Join(words, " ")
}

func TestSortFindings(t *testing.T) {
	said := []rule.Finding{
		finding("gone", "warn", kb.No), finding("stays", "warn", kb.No), finding("softer", "warn", kb.No),
		finding("harder", "warn", kb.Depends), finding("stronger", "info", kb.No), finding("softened", "info", kb.No),
		{Rule: "gap", Kind: "data-gap", Level: "info", Verdict: kb.Unknown},
	}
	asWork := append(slices.Clone(said[:5]), finding("softened", "block", kb.No), finding("unsaid", "block", kb.No))
	after := []rule.Finding{
		finding("stays", "warn", kb.No), finding("softer", "warn", kb.Depends), finding("harder", "warn", kb.No),
		finding("stronger", "block", kb.No), finding("softened", "block", kb.No), finding("unsaid", "block", kb.No), finding("new", "info", kb.Depends),
	}
	resolved, introduced, remaining := sortFindings(said, asWork, after)
	if got := ids(resolved); got != "gone" {
		t.Errorf("resolved %s", got)
	}
	if got := ids(introduced); got != "harder stronger new" {
		t.Errorf("introduced %s", got)
	}
	if got := ids(remaining); got != "stays softer softened unsaid" {
		t.Errorf("remaining %s", got)
	}
}

func TestStanding(t *testing.T) {
	caution, official, engineer := []rule.Caution{{}}, []kb.Need{{Who: "official"}}, []kb.Need{{Who: "official"}, {Who: "engineer"}}
	tests := []struct {
		name string
		p    Proposal
		want Standing
	}{
		{"nothing", Proposal{}, Free},
		{"information", Proposal{Introduced: []rule.Finding{finding("a", "info", kb.No)}}, Free},
		{"a caution", Proposal{Cautions: caution}, Warned},
		{"somebody must agree", Proposal{Needs: official}, Warned},
		{"something is open", Proposal{Asks: []string{"x"}}, Warned},
		{"an engineer", Proposal{Needs: engineer}, NeedsEngineer},
		{"it may bring a block", Proposal{Introduced: []rule.Finding{finding("a", "block", kb.Depends)}}, Warned},
		{"it may bring a block, not known", Proposal{Introduced: []rule.Finding{finding("a", "block", kb.Unknown)}}, Warned},
		{"it brings a block", Proposal{Introduced: []rule.Finding{finding("a", "block", kb.No)}}, Blocked},
		{"it brings a block and needs an engineer", Proposal{Needs: engineer, Introduced: []rule.Finding{finding("a", "engineer", kb.No), finding("b", "block", kb.No)}}, Blocked},
		{"it brings what needs an engineer", Proposal{Introduced: []rule.Finding{finding("a", "engineer", kb.Depends)}}, NeedsEngineer},
		{"it needs an engineer and may bring a block", Proposal{Needs: engineer, Introduced: []rule.Finding{finding("a", "block", kb.Depends)}}, NeedsEngineer},
		{"a block stays", Proposal{Remaining: []rule.Finding{finding("a", "block", kb.No)}}, Warned},
	}
	for _, test := range tests {
		if got := standing(&test.p); got != test.want {
			t.Errorf("%s: %s, want %s", test.name, got, test.want)
		}
	}
}

func TestUseless(t *testing.T) {
	base := loaded(t)
	compared := func(id string, before, after float64) []Compared {
		return []Compared{{Fact: base.Fact(id), Before: quantity.Exact(before), After: quantity.Exact(after), Change: better}}
	}
	hazard := finding("lead", "warn", kb.Depends)
	hazard.Kind = "hazard"
	food := finding("paper", "info", kb.No)
	food.Kind = "food"
	mold := finding("mold", "block", kb.No)
	mold.Kind = "mold"
	tests := []struct {
		name string
		p    Proposal
		want bool
	}{
		{"nothing is gained", Proposal{}, true},
		{"a finding is cleared", Proposal{Resolved: []rule.Finding{finding("a", "warn", kb.No)}}, false},
		{"information is cleared", Proposal{Resolved: []rule.Finding{finding("a", "info", kb.No)}}, true},
		{"mold food is cleared", Proposal{Resolved: []rule.Finding{food}}, false},
		{"what may be a hazard is no reason to disturb it", Proposal{Resolved: []rule.Finding{hazard}}, true},
		{"less glue", Proposal{Compare: compared("adhesive-mass", 0.5, 0.1)}, false},
		{"a little less glue", Proposal{Compare: compared("adhesive-mass", 0.5, 0.45)}, true},
		{"half of next to nothing", Proposal{Compare: compared("peak-condensate", 0.004, 0.002)}, true},
		{"less heat lost, by a single material", Proposal{Compare: compared("u-factor", 0.5, 0.2)}, true},
		{"less heat lost, by a recipe", Proposal{Recipe: &kb.Recipe{}, Compare: compared("u-factor", 0.5, 0.2)}, false},
		{"less weight", Proposal{Compare: compared("weight", 50, 10)}, true},
		{"it clears one and brings a moisture block", Proposal{
			Resolved: []rule.Finding{finding("a", "warn", kb.No)}, Introduced: []rule.Finding{finding("b", "block", kb.No)},
		}, true},
		{"it clears one and brings a mold block", Proposal{
			Resolved: []rule.Finding{finding("a", "warn", kb.No)}, Introduced: []rule.Finding{mold},
		}, true},
		{"it clears one and may bring a block", Proposal{
			Resolved: []rule.Finding{finding("a", "warn", kb.No)}, Introduced: []rule.Finding{finding("b", "block", kb.Depends)},
		}, false},
	}
	for _, test := range tests {
		if got := useless(&test.p, 0.25); test.want != (len(got) > 0) {
			t.Errorf("%s: %q", test.name, got)
		}
	}
}

// TestSinglesBringNothing: a material that needs more beside it is no swap of
// one material; a recipe may deal with what it brings.
func TestSinglesBringNothing(t *testing.T) {
	food := finding("glue", "info", kb.No)
	food.Kind = "food"
	for _, test := range []struct {
		name string
		in   rule.Finding
		want bool
	}{
		{"a warning", finding("a", "warn", kb.Depends), true},
		{"a block", finding("a", "block", kb.No), true},
		{"information", finding("a", "info", kb.No), false},
		{"mold food", food, true},
	} {
		single, recipe := Proposal{Introduced: []rule.Finding{test.in}}, Proposal{Recipe: &kb.Recipe{}, Introduced: []rule.Finding{test.in}}
		if got := slices.Concat(brings(&single, true), brings(&single, false)); test.want != (len(got) > 0) {
			t.Errorf("%s by a single: %q", test.name, got)
		}
		if got := slices.Concat(brings(&recipe, true), brings(&recipe, false)); len(got) > 0 {
			t.Errorf("%s by a recipe: %q", test.name, got)
		}
	}
}

func TestChange(t *testing.T) {
	r := func(low, best, high float64) quantity.Range { return quantity.Range{Low: low, Best: best, High: high} }
	tests := []struct {
		name          string
		wanted        string
		before, after quantity.Range
		want          string
	}{
		{"more of what should be more", "higher", r(1, 1, 1), r(2, 2, 2), better},
		{"more of what should be less", "lower", r(1, 1, 1), r(2, 2, 2), poorer},
		{"less of what should be less", "lower", r(2, 2, 2), r(1, 1, 1), better},
		{"less of what should be more", "higher", r(2, 2, 2), r(1, 1, 1), poorer},
		{"within two percent", "higher", r(100, 100, 100), r(101, 101.9, 102), even},
		{"nothing before and after", "lower", r(0, 0, 0), r(0, 0, 0), even},
		{"each holds the other's best", "higher", r(1, 2, 5), r(1, 4, 6), unclear},
		{"only one holds the other's best", "higher", r(1, 2, 5), r(3, 4, 6), better},
		{"flows of two signs", "higher", r(-2, -1, -0.5), r(1, 2, 3), better},
		{"no side is better", "", r(1, 1, 1), r(2, 2, 2), even},
	}
	for _, test := range tests {
		if got := change(test.wanted, test.before, test.after); got != test.want {
			t.Errorf("%s: %s, want %s", test.name, got, test.want)
		}
	}
}

func TestDutiesThatAreLost(t *testing.T) {
	tests := []struct {
		name string
		d    DutyChange
		lost bool
	}{
		{"covered before and after", DutyChange{Duty: "finish", Before: []string{"board"}, After: []string{"plaster"}, Was: kb.Yes, Verdict: kb.Yes}, false},
		{"no longer covered", DutyChange{Duty: "finish", Before: []string{"board"}, Was: kb.Yes, Verdict: kb.No}, true},
		{"no longer perhaps covered", DutyChange{Duty: "brace", Before: []string{"sheathing"}, Was: kb.Depends, Verdict: kb.No}, true},
		{"less surely", DutyChange{Duty: "stop-air", Before: []string{"wrap"}, Was: kb.Yes, Verdict: kb.Depends}, false},
		// A chain with a link missing: some layers take part, and it was never whole.
		{"not covered before either", DutyChange{Duty: "shed-rain", Before: []string{"siding"}, After: []string{"siding"}, Was: kb.No, Verdict: kb.No}, false},
		{"gained", DutyChange{Duty: "insulate", After: []string{"bay"}, Was: kb.No, Verdict: kb.Yes}, false},
	}
	for _, test := range tests {
		if got := lost(&Proposal{Duties: []DutyChange{test.d}}); test.lost != (len(got) > 0) {
			t.Errorf("%s: %q", test.name, got)
		}
	}
}

// TestCoversOverDoubts: a duty that only some of the variants cover depends.
func TestCoversOverDoubts(t *testing.T) {
	base := loaded(t)
	wrap := func(choices string) string {
		return house(cooled, wall, siding, gap, "{name: wrap, material: "+choices+"}", bay, board)
	}
	for choices, want := range map[string]kb.Verdict{
		"asphalt-felt-15":                       kb.Yes,
		"{one-of: [asphalt-felt-15, none]}":     kb.Depends,
		"{one-of: [none, asphalt-felt-15]}":     kb.Depends,
		"{one-of: [rosin-paper, kraft-facing]}": kb.No,
	} {
		c, ok := coverOf(coversOf(base, resolve(t, base, wrap(choices))), "shed-rain")
		if !ok || c.Verdict != want {
			t.Errorf("wrap %s: %+v, want %s", choices, c, want)
		}
		if want == kb.Depends && !slices.Contains(c.Asks, inDoubt) {
			t.Errorf("wrap %s: the doubt is not asked for: %q", choices, c.Asks)
		}
	}
}

func TestRankAndPrune(t *testing.T) {
	drying := &kb.Fact{ID: "drying-capacity", Better: "higher"}
	glue := &kb.Fact{ID: "adhesive-mass", Better: "lower"}
	single := func(name string, s Standing, resolved int, dry, mass float64) Proposal {
		p := Proposal{
			ID: name + "@layer", Title: name, Material: &kb.Material{ID: name, Name: name}, Layer: "layer", Standing: s,
			Compare: []Compared{{Fact: drying, After: quantity.Exact(dry)}, {Fact: glue, After: quantity.Exact(mass)}},
		}
		for range resolved {
			p.Resolved = append(p.Resolved, finding("x", "warn", kb.No))
		}
		return p
	}
	recipe := func(name string, s Standing, dry, mass float64) Proposal {
		p := single(name, s, 0, dry, mass)
		p.Recipe, p.Material = &kb.Recipe{ID: name}, nil
		return p
	}
	order := func(list ...Proposal) (string, []Rejection) {
		a := &Advice{Proposals: list}
		rank(a, weightsOf(embedded(t)))
		var names []string
		for _, p := range a.Proposals {
			names = append(names, p.Title)
		}
		return strings.Join(names, " "), a.Rejections
	}
	tests := []struct {
		name string
		list []Proposal
		want string
	}{
		{"blocked last, then what clears more, then drying", []Proposal{
			recipe("a", Blocked, 9, 1), recipe("b", Warned, 1, 1), recipe("c", Warned, 2, 1),
		}, "c b a"},
		{"beaten in every respect", []Proposal{single("a", Warned, 0, 1, 2), single("b", Warned, 0, 2, 1)}, "b"},
		{"better here, poorer there", []Proposal{single("a", Warned, 0, 1, 1), single("b", Warned, 0, 2, 2)}, "b a"},
		{"of equals the first by title stays", []Proposal{single("b", Warned, 0, 1, 1), single("a", Warned, 0, 1, 1)}, "a"},
		{"what needs less is not beaten by what needs more", []Proposal{single("a", NeedsEngineer, 0, 2, 1), single("b", Warned, 0, 1, 2)}, "a b"},
		{"recipes are not beaten", []Proposal{recipe("a", Warned, 1, 2), single("b", Warned, 0, 2, 1)}, "b a"},
		// Each is within two percent of the next: one of them must stay.
		{"a circle of near equals", []Proposal{single("a", Warned, 0, 1.00, 1.00), single("b", Warned, 0, 1.015, 1.015), single("c", Warned, 0, 1.03, 1.03)}, "c a"},
	}
	for _, test := range tests {
		got, rejected := order(test.list...)
		if got != test.want {
			t.Errorf("%s: %s, want %s", test.name, got, test.want)
		}
		if kept := len(strings.Fields(got)); kept+len(rejected) != len(test.list) {
			t.Errorf("%s: %d kept and %d turned down of %d", test.name, kept, len(rejected), len(test.list))
		}
		for _, r := range rejected {
			if len(r.Because) == 0 || !strings.Contains(got, strings.Fields(r.Because[0])[0]) {
				t.Errorf("%s: %s is turned down for what is not there: %q", test.name, r.ID, r.Because)
			}
		}
	}
}

// TestAsWork: an assembly that stands is held against itself as work, so
// that a swap does not bring what stood before.
func TestAsWork(t *testing.T) {
	v := &analysis.Variant{Facts: analysis.Facts{"existing": flag(true), "framed": flag(true)}}
	r := &analysis.Result{Variants: []*analysis.Variant{v}}
	w := asWork(r)
	if w.Variants[0].Facts["existing"].Flag || !w.Variants[0].Facts["framed"].Flag {
		t.Errorf("%+v", w.Variants[0].Facts)
	}
	if !v.Facts["existing"].Flag {
		t.Error("the analysis itself has changed")
	}
}
