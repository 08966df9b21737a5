package mold

import (
	"math"
	"testing"
)

// TestDeclineWithoutDocument: a face declines by a tenth of pine, which loses
// 0.00133 an hour in its first six dry hours, unless a material has a documented
// decline (Vereecken and Roels 2012, eq. 13 and Table 5, class "almost none").
func TestDeclineWithoutDocument(t *testing.T) {
	for _, c := range []Class{VerySensitive, Sensitive, MediumResistant, Resistant} {
		s := State{index: 2}
		hold(&s, ForFace(c), 6, 20, 40)
		if fall, want := 2-s.Index(), 6*0.1*0.00133; math.Abs(fall-want) > 1e-12 {
			t.Errorf("%s: six dry hours lower the index by %g, want %g", c, fall, want)
		}
	}
}
