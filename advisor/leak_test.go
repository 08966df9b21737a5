package advisor_test

import (
	"bytes"
	"context"
	"flag"
	"math"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"relath/advisor"
	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

var updateLeak = flag.Bool("update-leak", false, "write the golden file of the shipped comparison anew")

// mapleBend is the house of the shipped comparison.
func mapleBend(t *testing.T, b *kb.Base) *assembly.Resolved {
	t.Helper()
	const file = "../testdata/houses/leak/maple-bend.yaml"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	h, err := advisor.Load(b, file, data)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// The third wall of the comparison is what a plan makes of the second one.
func TestAdvisedWallIsAPlan(t *testing.T) {
	b := base(t)
	h := mapleBend(t, b)
	tester := rule.Tester{Base: b, System: quantity.InchPound}
	plan, err := advisor.Plan(context.Background(), tester, h.Assemblies[1], []string{
		"diagonal-boards-for-panels@sheathing", "wood-siding-on-vented-gap@siding", "variable-retarder-for-plastic-film@poly",
	})
	if err != nil {
		t.Fatal(err)
	}
	type layer struct {
		Name, Material string
		Depth          float64
		Out, In        int
		Fill           string
	}
	layers := func(a *assembly.Assembly) []layer {
		var list []layer
		for _, p := range a.Variants[0].Layers {
			l := layer{Name: p.Name, Depth: p.Depth, Out: len(p.CoatsOut), In: len(p.CoatsIn)}
			if p.Material != nil {
				l.Material = p.Material.ID
			}
			for _, f := range p.Fills {
				l.Fill += f.Material.ID
			}
			list = append(list, l)
		}
		return list
	}
	if diff := cmp.Diff(layers(plan.After.Assembly), layers(h.Assemblies[2])); diff != "" {
		t.Errorf("the advised wall (-plan +file):\n%s", diff)
	}
}

// A wall of 1926, one of today and the advised one take the same leak under the
// same weather, in winter and in summer. Whatever the numbers say is what the page
// says: go test ./advisor -run Comparison -update-leak.
func TestShippedComparison(t *testing.T) {
	b := base(t)
	h := mapleBend(t, b)
	tester := rule.Tester{Base: b, System: quantity.InchPound}
	results, err := advisor.Leak(context.Background(), tester, h.Assemblies, advisor.Wetting{})
	if err != nil {
		t.Fatal(err)
	}
	checkComparison(t, results)
	d := (report.Maker{Base: b, Units: quantity.InchPound}).Leak(results)
	var got bytes.Buffer
	if err := d.Text(&got); err != nil {
		t.Fatal(err)
	}
	const name = "../testdata/golden/maple-bend.leak.txt"
	if *updateLeak {
		if err := os.WriteFile(name, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got.String()); diff != "" {
		t.Errorf("the comparison (-file +now):\n%s", diff)
	}
}

// checkComparison holds what must be so whatever the base says: the same water is
// offered everywhere and all of it is accounted for.
func checkComparison(t *testing.T, results []*analysis.LeakResult) {
	t.Helper()
	for _, r := range results {
		if r.Missing != "" {
			t.Errorf("%s: %s", r.Assembly.Name, r.Missing)
		}
		for _, c := range r.Cases {
			sum := c.Outside.Best + c.Inside.Best + c.Stored.Best + c.Drained.Best
			const offered = 2.0 // kg/m², the default
			if math.Abs(c.Supplied.Best-offered) > 1e-9 || math.Abs(sum-offered) > 1e-4*offered {
				t.Errorf("%s, %s: %g kg/m² accounted for of %g", r.Assembly.Name, c.On, sum, c.Supplied.Best)
			}
		}
	}
}
