package assembly_test

import (
	"fmt"
	"strings"
	"testing"

	"relath/advisor/assembly"
)

// A plaster that may stand outside too is no sign of layers in the wrong order
// where it is the inner face; a siding is.
func TestFaceThatMayBeOutside(t *testing.T) {
	base := loadBase(t)
	for face, refused := range map[string]bool{"hydraulic-lime-plaster-2": false, "bevel-wood-siding": true} {
		h, doc, problems := assembly.Parse("x.yaml", []byte("format: 1\nhouse: X\nplace: des-moines-ia\nassemblies:\n  - name: attic\n    kind: attic-floor\n    between: [attic, room]\n    layers:\n"+
			"      - {name: joists, framing: {material: spf-lumber, size: 2x6, spacing: 16 in}}\n      - {name: face, material: "+face+"}\n"))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		_, problems = assembly.Resolve(h, doc, base)
		if got := strings.Contains(fmt.Sprint(problems), "listed from the inside"); got != refused {
			t.Errorf("%s: %v", face, problems)
		}
	}
}
