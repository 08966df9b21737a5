package kb

import "testing"

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
