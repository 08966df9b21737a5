package honesty_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/internal/houses"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
	"relath/kb/quantity"
	"relath/kb/strict"
)

func embedded(t testing.TB) *kb.Base {
	t.Helper()
	return houses.Base(t)
}

// source is a house file by name.
type source struct{ name, text string }

// houseFiles are the labelled houses.
func houseFiles(t testing.TB) []source {
	t.Helper()
	paths, err := filepath.Glob("../../testdata/houses/*.yaml")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no houses: %v", err)
	}
	var list []source
	for _, p := range paths {
		if strings.HasSuffix(p, ".expect.yaml") {
			continue
		}
		text, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, source{filepath.Base(p), string(text)})
	}
	return list
}

// starters are the houses of the base to begin from.
func starters(base *kb.Base) []source {
	var list []source
	for _, s := range base.Starters {
		list = append(list, source{s.ID, s.House})
	}
	return list
}

// read ties a house to a base.
func read(base *kb.Base, s source) (*assembly.Resolved, strict.Problems) {
	house, doc, problems := assembly.Parse(s.name, []byte(s.text))
	if len(problems) > 0 {
		return nil, problems
	}
	return assembly.Resolve(house, doc, base)
}

// resolve ties a house that must be right to a base.
func resolve(t testing.TB, base *kb.Base, s source) *assembly.Resolved {
	t.Helper()
	r, problems := read(base, s)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return r
}

func tester(base *kb.Base) rule.Tester { return rule.Tester{Base: base, System: quantity.InchPound} }

// analyze runs an assembly.
func analyze(t testing.TB, base *kb.Base, a *assembly.Assembly) *analysis.Result {
	t.Helper()
	r, err := analysis.Run(context.Background(), base, a)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// propose finds swaps for an assembly, or for a layer of it.
func propose(t testing.TB, base *kb.Base, a *assembly.Assembly, layer string) *swap.Advice {
	t.Helper()
	advice, err := swap.Propose(context.Background(), tester(base), a, swap.Options{Layer: layer})
	if err != nil {
		t.Fatal(err)
	}
	return advice
}

// advised is the advice for every assembly of the labelled houses, made once.
func advised(t testing.TB) []*swap.Advice {
	t.Helper()
	adviseOnce.Do(func() { advice = adviseAll(t, embedded(t), houseFiles(t)) })
	if len(advice) == 0 {
		t.Fatal("no house was advised")
	}
	return advice
}

// adviseAll gives the advice for every assembly of some houses.
func adviseAll(t testing.TB, base *kb.Base, houses []source) []*swap.Advice {
	t.Helper()
	var list []*swap.Advice
	for _, s := range houses {
		for _, a := range resolve(t, base, s).Assemblies {
			list = append(list, propose(t, base, a, ""))
		}
	}
	return list
}

var (
	adviseOnce sync.Once
	advice     []*swap.Advice
)

// finding gives what a rule or table says, or nil.
func finding(list []rule.Finding, id string) *rule.Finding {
	for i := range list {
		if list[i].Rule == id {
			return &list[i]
		}
	}
	return nil
}

// materialsIn lists the materials of an assembly in all its variants.
func materialsIn(a *assembly.Assembly) []*kb.Material {
	seen := make(map[*kb.Material]bool)
	var list []*kb.Material
	add := func(m *kb.Material) {
		if m != nil && !seen[m] {
			seen[m] = true
			list = append(list, m)
		}
	}
	for _, v := range a.Variants {
		for _, p := range v.Layers {
			add(p.Material)
			for _, f := range p.Fills {
				add(f.Material)
			}
			for _, c := range append(append([]*kb.Material{}, p.CoatsIn...), p.CoatsOut...) {
				add(c)
			}
		}
	}
	return list
}
