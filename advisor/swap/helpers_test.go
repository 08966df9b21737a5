package swap

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/internal/houses"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// loaded is the base with the recipes of these tests laid over it.
func loaded(t *testing.T) *kb.Base {
	t.Helper()
	base, err := loadOnce()
	if err != nil {
		t.Fatal(err)
	}
	return base
}

var loadOnce = sync.OnceValues(func() (*kb.Base, error) {
	over := fstest.MapFS{}
	for id, body := range recipes() {
		over["swaps/test-"+id+".yaml"] = &fstest.MapFile{Data: fmt.Appendf(nil,
			"id: test-%s\ntitle: test %s\npart: assembly\nwhy: a test\nbasis: [{source: relath, locator: test, evidence: assumed}]\n%s", id, id, body)}
	}
	for path, text := range entries() {
		over[path] = &fstest.MapFile{Data: []byte(text)}
	}
	return kb.Load(kb.Embedded(), over)
})

// withRecipe is the base with one of the recipes of these tests and no other.
func withRecipe(t *testing.T, id string) *kb.Base {
	t.Helper()
	base := *loaded(t)
	r := base.Recipe("test-" + id)
	if r == nil {
		t.Fatalf("no recipe %q", id)
	}
	base.Recipes = []*kb.Recipe{r}
	return &base
}

// house is an invented house with one assembly; head holds the other keys of
// the house, keys those of the assembly.
func house(head, keys string, layers ...string) string {
	return "format: 1\nhouse: Test\nplace: des-moines-ia\n" + head + "\nassemblies:\n  - name: part\n    " + keys + "\n    layers:\n      - " +
		strings.Join(layers, "\n      - ") + "\n"
}

const (
	today  = "code: {edition: IRC-2018, state: IA, zone: 5A, confirmed: yes}"
	cooled = today + "\nindoor: {heating: {temperature: 68 F, humidity: 35 %}, cooling: {temperature: 75 F, humidity: 50 %}}"
	old    = cooled + "\nbuilt: 1926"
	wall   = "kind: wall\n    between: [outdoors, room]"
	stands = wall + "\n    state: existing"

	siding    = "{name: siding, material: bevel-wood-siding}"
	gap       = "{name: gap, cavity: 3/4 in, air: vented}"
	felt      = "{name: felt, material: asphalt-felt-15}"
	strand    = "{name: sheathing, material: osb, thickness: 7/16 in, performs: [brace]}"
	bay       = "{name: bay, framing: {material: spf-lumber, size: 2x6, spacing: 16 in}, fill: [{material: fiberglass-batt, thickness: 5-1/2 in}]}"
	poly      = "{name: poly, material: polyethylene-6mil, sealed: yes}"
	board     = "{name: board, material: gypsum-board, thickness: 1/2 in, coats: {in: [{coating: latex-primer}, {coating: latex-paint, count: 2}]}}"
	limeFaced = "{name: plaster, material: lime-plaster, thickness: 3/4 in}"
)

// find analyzes the first assembly of a house.
func find(t *testing.T, base *kb.Base, text string) *finder {
	t.Helper()
	before, err := analysis.Run(context.Background(), base, resolve(t, base, text))
	if err != nil {
		t.Fatal(err)
	}
	return newFinder(tester(base), before)
}

func tester(base *kb.Base) rule.Tester { return rule.Tester{Base: base, System: quantity.InchPound} }

// resolve reads a house and gives its first assembly.
func resolve(t *testing.T, base *kb.Base, text string) *assembly.Assembly {
	t.Helper()
	return houses.Read(t, base, text).Assemblies[0]
}

// put applies a recipe at the n-th of its places and gives the layers that
// come of it, one line each, and what changed.
func put(t *testing.T, base *kb.Base, text string, n int) (layers []string, change applied) {
	t.Helper()
	f := find(t, base, text)
	places := f.places(base.Recipes[0])
	if n >= len(places) {
		t.Fatalf("the recipe has %d places", len(places))
	}
	change, err := f.apply(places[n])
	if err != nil {
		t.Fatal(err)
	}
	if _, problems := assembly.Resolve(change.house, nil, base); len(problems) > 0 {
		t.Fatal(problems)
	}
	for i := range change.house.Assemblies[0].Layers {
		layers = append(layers, line(&change.house.Assemblies[0].Layers[i]))
	}
	return layers, change
}

// line writes a described layer in short.
func line(l *assembly.Layer) string {
	parts := []string{l.Name.Value + ":"}
	add := func(words ...string) {
		for _, w := range words {
			if w != "" {
				parts = append(parts, w)
			}
		}
	}
	add(l.Thickness.Value, l.Material.String(), l.Cavity.Value, string(l.Air))
	if l.Framing != nil {
		add(l.Framing.Size.Value, l.Framing.Material.Value)
	}
	for _, f := range l.Fill {
		add("fill", f.Thickness.Value, f.Material.String())
	}
	if l.Coats != nil {
		for _, run := range l.Coats.In {
			add("in", run.Count.Value, run.Coating.String())
		}
		for _, run := range l.Coats.Out {
			add("out", run.Count.Value, run.Coating.String())
		}
	}
	for _, d := range l.Performs {
		add("performs", d.Value)
	}
	add(string(l.State))
	return strings.Join(parts, " ")
}
