package kb

import (
	"io/fs"
	"testing"

	"relath/kb/strict"
)

// The shipped base must load without a single problem.
func TestEmbeddedBaseLoads(t *testing.T) {
	b, err := Load(Embedded())
	if err != nil {
		t.Fatalf("the embedded base (paths below kb/data):\n%v", err)
	}
	if len(b.Materials) == 0 || len(b.Rules) == 0 || b.Version == "" {
		t.Errorf("got %d materials, %d rules, version %q; want some of each", len(b.Materials), len(b.Rules), b.Version)
	}
}

// What the code scales by thickness is a property of the layer in the glossary.
func TestGlossaryKnowsLayers(t *testing.T) {
	var properties []*Property
	data, err := fs.ReadFile(Embedded(), "properties.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if _, problems := strict.Load("properties.yaml", data, strict.Limits{}, &properties); len(problems) > 0 {
		t.Fatal(problems)
	}
	found := 0
	for _, p := range properties {
		if isOfLayer(p.ID) {
			found++
			if p.Scales != "layer" {
				t.Errorf("%s scales with %q in the glossary; want layer", p.ID, p.Scales)
			}
		}
	}
	if found != 4 {
		t.Errorf("%d of the four properties that follow thickness are in the glossary", found)
	}
}
