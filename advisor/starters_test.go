package advisor_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
	"relath/kb/quantity"
	"relath/kb/strict"
)

// TestStarters: every starter is a house that can be analyzed, with something
// to confirm on site.
func TestStarters(t *testing.T) {
	base := loadBase(t)
	tester := rule.Tester{Base: base, System: quantity.InchPound}
	if len(base.Starters) < 17 {
		t.Errorf("%d starters, 17 are wanted", len(base.Starters))
	}
	for _, s := range base.Starters {
		t.Run(s.ID, func(t *testing.T) {
			if len(s.Confirm) == 0 {
				t.Error("nothing to confirm on site")
			}
			house := resolve(t, base, s.ID, []byte(s.House))
			for _, a := range house.Assemblies {
				advice := propose(t, tester, a, "")
				if a.Cornered {
					t.Errorf("%s: more doubts than are analyzed", a.Name)
				}
				if u := advice.Before.Variants[0].Facts["u-factor"]; a.Between[0] == "outdoors" && !u.Known {
					t.Errorf("%s: no U-factor: %s", a.Name, u.Missing)
				}
				if p := advice.Before.Variants[0].Facts["peak-condensate"]; a.Between[0] == "outdoors" && !p.Known {
					t.Errorf("%s: no monthly moisture: %s", a.Name, p.Missing)
				}
			}
			if advice := swap.Finishes(tester, house); len(house.Assemblies) == 0 && len(advice) == 0 {
				t.Error("a starter without assemblies and finishes")
			}
		})
	}
}

func loadBase(t *testing.T) *kb.Base {
	t.Helper()
	base, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	return base
}

// houseFiles lists the shipped houses that have labels.
func houseFiles(t *testing.T) []string {
	t.Helper()
	all, err := filepath.Glob(filepath.Join(houseFolder, "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, file := range all {
		if !strings.HasSuffix(file, ".expect.yaml") {
			list = append(list, file)
		}
	}
	if len(list) < 6 {
		t.Fatalf("%d houses in %s, six are wanted", len(list), houseFolder)
	}
	return list
}

func read(t *testing.T, file string) []byte {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func readLabels(t *testing.T, file string) *labels {
	t.Helper()
	doc, problems := strict.Parse(filepath.Base(file), read(t, file), strict.Limits{Bytes: 1 << 20})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	l := new(labels)
	if problems := doc.Decode(l); len(problems) > 0 {
		t.Fatal(problems)
	}
	return l
}

func resolve(t *testing.T, base *kb.Base, name string, data []byte) *assembly.Resolved {
	t.Helper()
	house, doc, problems := assembly.Parse(filepath.Base(name), data)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	resolved, problems := assembly.Resolve(house, doc, base)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return resolved
}

func propose(t *testing.T, tester rule.Tester, a *assembly.Assembly, layer string) *swap.Advice {
	t.Helper()
	advice, err := swap.Propose(context.Background(), tester, a, swap.Options{Layer: layer})
	if err != nil {
		t.Fatal(err)
	}
	return advice
}
