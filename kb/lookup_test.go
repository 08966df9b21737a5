package kb

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestLookupFind(t *testing.T) {
	l := mustLoad(t, small(t)).Lookup("plank-spans")
	if l == nil {
		t.Fatal("plank-spans not found")
	}
	roof := [][]string{{"roof", "3/4", "2", "read"}}
	cases := []struct {
		words []string
		want  [][]string
	}{
		{[]string{"roof"}, roof},
		{[]string{"", "3/4"}, [][]string{{"floor", "3/4", "1.5", "read"}, roof[0]}},
		{[]string{"floor", "1/2", "not permitted"}, [][]string{{"floor", "1/2", "not permitted", "read"}}},
		{[]string{"Floor"}, nil},
		{[]string{"roof", "", "", "read", "more"}, nil},
	}
	for _, c := range cases {
		if diff := cmp.Diff(c.want, l.Find(c.words...)); diff != "" {
			t.Errorf("find %q (-want +got):\n%s", c.words, diff)
		}
	}
	if got := len(l.Find()); got != 4 {
		t.Errorf("without words %d rows; want all 4", got)
	}
	if got := l.Find("floor")[0]; l.Mark(got) != Read || l.Mark(l.Find("", "5/8")[0]) != Recalled {
		t.Errorf("marks %q and %q; want read and recalled, those of the rows", l.Mark(got), l.Mark(l.Find("", "5/8")[0]))
	}
	if l.Column("span") != 2 || l.Column("width") != -1 {
		t.Errorf("span is column %d, width %d; want 2 and -1", l.Column("span"), l.Column("width"))
	}
}

// Figures of the printed tables, IRC 2018 page 221 (top story up to 120 mph, 10 ft
// wall, 2 lines): spacing 10 to 60 ft gives let-in bracing 4.0 7.0 10.5 13.5 16.5
// 19.5, diagonal boards 2.5 4.0 6.0 8.0 9.5 11.5, continuous panels 2.0 3.5 5.0 6.5 8.0
// 9.5 ft; Table R503.1: 3/4 in for diagonal boards on joists at 24 in.
func TestPrintedLookups(t *testing.T) {
	b := mustLoad(t, Embedded())
	lengths := b.Lookup("bracing-lengths")
	printed := map[string][]string{
		"LIB": {"4", "7", "10.5", "13.5", "16.5", "19.5"},
		"DWB": {"2.5", "4", "6", "8", "9.5", "11.5"},
		"CS":  {"2", "3.5", "5", "6.5", "8", "9.5"},
	}
	for method, want := range printed {
		var got []string
		for _, row := range lengths.Find("120", "top") {
			got = append(got, row[lengths.Column(method)])
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s at 120 mph, top story (-printed +base):\n%s", method, diff)
		}
	}
	if got := len(lengths.Find()) * 4; got != 360 {
		t.Errorf("%d lengths of bracing; want 360", got)
	}
	// Table R602.10.5: let-in bracing 55, 62, 69 in at 8, 9, 10 ft and none above.
	for height, want := range map[string]string{"8": "55", "9": "62", "10": "69", "11": "not permitted"} {
		if got := b.Lookup("bracing-panel-lengths").Find("LIB", height); len(got) != 1 || got[0][3] != want {
			t.Errorf("let-in bracing in a wall of %s ft: %v; want %s", height, got, want)
		}
	}
	// Table R602.10.3(2), item 6: 1.40 without gypsum board inside, and let-in
	// bracing and gypsum board itself are not in its list.
	left := b.Lookup("bracing-factors").Find("gypsum left out")
	if len(left) != 1 || left[0][4] != "1.40" || strings.Contains(left[0][3], "LIB") || strings.Contains(left[0][3], "GB") {
		t.Errorf("without gypsum board: %v; want 1.40 for other methods than LIB and GB", left)
	}
	if got := b.Lookup("subfloor-boards").Find("24", "diagonal"); len(got) != 1 || got[0][2] != "3/4" {
		t.Errorf("diagonal boards on joists at 24 in: %v; want 3/4 in", got)
	}
}
