package swap

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"relath/advisor/assembly"
	"relath/advisor/internal/houses"
	"relath/kb"
)

// embedded is the base without the recipes of these tests.
func embedded(t testing.TB) *kb.Base {
	t.Helper()
	return houses.Base(t)
}

// shipped gives the assemblies of the shipped houses for which swaps are
// proposed, with the advice on them.
func shipped(t testing.TB) map[string]*Advice {
	t.Helper()
	base := embedded(t)
	files, err := filepath.Glob("../../testdata/houses/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no houses: %v", err)
	}
	list := make(map[string]*Advice)
	for _, file := range files {
		if strings.HasSuffix(file, ".expect.yaml") {
			continue
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		h, doc, problems := assembly.Parse(filepath.Base(file), data)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		r, problems := assembly.Resolve(h, doc, base)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		for _, a := range r.Assemblies {
			advice, err := Propose(context.Background(), tester(base), a, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if len(advice.Proposals) > 0 {
				list[strings.TrimSuffix(filepath.Base(file), ".yaml")+", "+a.Name] = advice
			}
		}
	}
	return list
}
