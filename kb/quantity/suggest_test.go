package quantity

import "testing"

func TestSuggest(t *testing.T) {
	fields := []string{"thickness", "material", "name", "area", "air", "faces", "supply-air"}
	for word, want := range map[string]string{
		"thicknes":   "thickness",
		"thikcness":  "thickness", // neighbors swapped
		"Material":   "material",
		"supply_air": "supply-air",
		"supply air": "supply-air",
		"aera":       "area",
		"nme":        "name",
		"xyzzy":      "",
		"":           "",
		"r":          "",
	} {
		if got := Suggest(word, fields); got != want {
			t.Errorf("%q suggests %q, want %q", word, got, want)
		}
	}
	if got := Suggest("bat", []string{"rat", "cat"}); got != "cat" {
		t.Errorf("of two equally close words %q came first", got)
	}
}
