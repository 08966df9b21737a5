package rule_test

import (
	"slices"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/rule"
	"relath/kb"
)

func TestCautions(t *testing.T) {
	base := registry()
	base.Cautions = []*kb.Caution{
		{ID: "built", When: []kb.Condition{is("built")}},
		{ID: "lime", When: []kb.Condition{isWord("adds", "lime")}},
		{ID: "named"},
	}
	lime := analysis.Facts{"adds": words("lime")}
	subject := func(built analysis.Estimate, work analysis.Facts) rule.Subject {
		return rule.Subject{Facts: analysis.Facts{"built": built}, Work: work}
	}
	tests := []struct {
		name     string
		subjects []rule.Subject
		found    []rule.Finding
		named    map[string][]string
		want     []string
		certain  []bool
	}{
		{"nothing", []rule.Subject{subject(flag(false), nil)}, nil, nil, nil, nil},
		{"a condition holds", []rule.Subject{subject(flag(true), nil)}, nil, nil, []string{"built"}, []bool{true}},
		{"a condition may hold", []rule.Subject{subject(analysis.Estimate{Known: true, Mixed: true}, nil)}, nil, nil, []string{"built"}, []bool{false}},
		{"a condition is not known", []rule.Subject{subject(analysis.Estimate{}, nil)}, nil, nil, []string{"built"}, []bool{false}},
		{"the work calls", []rule.Subject{subject(flag(false), lime)}, nil, nil, []string{"lime"}, []bool{true}},
		{"something names it", []rule.Subject{subject(flag(false), nil)}, nil, map[string][]string{"named": {"a rule"}}, []string{"named"}, []bool{true}},
		{"named and in doubt", []rule.Subject{subject(analysis.Estimate{}, nil)}, nil, map[string][]string{"built": {"a rule"}}, []string{"built"}, []bool{true}},
		{"a finding names it", nil, []rule.Finding{{Title: "A", Verdict: kb.No, Cautions: []string{"named"}}}, nil, []string{"named"}, []bool{true}},
		{"a finding that depends names it", nil, []rule.Finding{{Title: "A", Verdict: kb.Depends, Cautions: []string{"named"}}}, nil, []string{"named"}, []bool{false}},
		// A doubt: the caution is printed when one choice calls for it.
		{"the second variant calls", []rule.Subject{subject(flag(false), nil), subject(flag(true), nil)}, nil, nil, []string{"built"}, []bool{false}},
		{"both variants call", []rule.Subject{subject(flag(true), nil), subject(flag(true), nil)}, nil, nil, []string{"built"}, []bool{true}},
	}
	for _, test := range tests {
		var ids []string
		var certain []bool
		for _, c := range tester(base).Cautions(test.subjects, test.found, test.named) {
			ids, certain = append(ids, c.Caution.ID), append(certain, c.Certain)
			if len(c.For) == 0 || slices.Contains(c.For, "") {
				t.Errorf("%s: %s does not say what called for it: %q", test.name, c.Caution.ID, c.For)
			}
		}
		if !slices.Equal(ids, test.want) || !slices.Equal(certain, test.certain) {
			t.Errorf("%s: %v %v, want %v %v", test.name, ids, certain, test.want, test.certain)
		}
	}
}

func TestCautionSaysWhatCalled(t *testing.T) {
	base := registry()
	base.Cautions = []*kb.Caution{{ID: "a", When: []kb.Condition{is("built"), join("any", is("existing"), isWord("zone", "5"))}}}
	s := rule.Subject{Facts: analysis.Facts{"built": flag(true), "existing": flag(false), "zone": words("5")}}
	list := tester(base).Cautions([]rule.Subject{s, s}, nil, map[string][]string{"a": {"recipe b", "recipe a", "recipe b"}})
	want := []string{"built: yes; zone is 5", "recipe a", "recipe b"}
	if len(list) != 1 || !slices.Equal(list[0].For, want) {
		t.Errorf("%+v, want %q", list, want)
	}
}
