package advisor_test

import (
	"os"
	"strings"
	"testing"

	"relath/advisor"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// TestReadingsDecide: without what was read on site much condensate is open on the
// shipped house that was read, and turns on the humidity of its rooms below 45 %;
// with the readings, 27 % and six coats, it is settled. By hand six coats let
// (660 − 310) Pa × 3 perm × 31 days = 0.16 kg/m² in January, under the limit of
// 0.5 kg/m² for a winter.
func TestReadingsDecide(t *testing.T) {
	text, err := os.ReadFile("../testdata/houses/aspen-way.yaml")
	if err != nil {
		t.Fatal(err)
	}
	house := string(text)
	begin, end := strings.Index(house, "  readings:"), strings.Index(house, "assemblies:")
	bare := house[:begin] + house[end:strings.Index(house, "    readings:")]
	open := condensate(t, bare)
	if open == nil || open.Verdict != kb.Depends || open.Hinge.Assumption != "heating-humidity" || open.Hinge.Flip == "" {
		t.Fatalf("without readings: %+v", open)
	}
	if settled := condensate(t, house); settled != nil {
		t.Errorf("with readings: %+v", settled)
	}
}

// condensate gives the finding of much condensate in winter.
func condensate(t *testing.T, text string) *rule.Finding {
	t.Helper()
	b := base(t)
	h, err := advisor.Load(b, "house.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	list, err := advisor.Analyze(t.Context(), rule.Tester{Base: b, System: quantity.InchPound}, h.Assemblies)
	if err != nil {
		t.Fatal(err)
	}
	for i := range list[0].Findings {
		if f := &list[0].Findings[i]; f.Rule == "heavy-condensate" {
			return f
		}
	}
	return nil
}
