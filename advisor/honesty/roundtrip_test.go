package honesty_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/advisor/swap"
)

// TestRoundTrip writes the house of every proposal to a file, reads it and
// analyzes it anew: that gives what was printed as after, in every digit, and
// the same findings.
func TestRoundTrip(t *testing.T) {
	base := embedded(t)
	count := 0
	for _, a := range advised(t) {
		for i := range a.Proposals {
			p := &a.Proposals[i]
			count++
			again := reread(t, a, p)
			var printed, anew dump
			printed.result(p.After)
			r := analyze(t, base, again)
			anew.result(r)
			differ(t, a.Assembly.House.House.House+", "+p.ID, anew.String(), printed.String())
			found := ruleIDs(rule.Evaluate(tester(base), r))
			if said := ruleIDs(slices.Concat(p.Introduced, p.Remaining)); !slices.Equal(found, said) {
				t.Errorf("%s: the file has the findings %q, the proposal %q", p.ID, found, said)
			}
		}
	}
	if count < 20 {
		t.Errorf("only %d proposals for all houses", count)
	}
}

// reread writes the house of a proposal and reads its assembly back.
func reread(t *testing.T, a *swap.Advice, p *swap.Proposal) *assembly.Assembly {
	t.Helper()
	text, err := assembly.Write(p.House)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "house.yaml")
	if err := os.WriteFile(file, text, 0o600); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return resolve(t, embedded(t), source{file, string(data)}).Assemblies[a.Assembly.Index]
}

func ruleIDs(list []rule.Finding) []string {
	ids := make([]string, len(list))
	for i, f := range list {
		ids[i] = f.Rule
	}
	slices.Sort(ids)
	return ids
}
