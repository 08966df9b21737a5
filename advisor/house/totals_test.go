package house

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
)

// amountAt gives the amount of an item by its place.
func amountAt(t *testing.T, h Holdings, w Where) analysis.Estimate {
	t.Helper()
	for _, i := range h.Items {
		if i.Where == w {
			return i.Amount
		}
	}
	t.Fatalf("nothing is held at %+v", w)
	return analysis.Estimate{}
}

// The glue of the invented house by hand, with density and share of the base:
// the wall is 268 ft² net, 268 × 0.09290304 = 24.89801 m², of 7/16 in =
// 0.0111125 m; the baseboard 62 ft of 9/16 in by 5-1/4 in, 18.8976 × 0.0142875 ×
// 0.13335 = 0.0360044 m³; three doors of 17 ft², 3 × 17 × 0.09290304 × 0.034925 =
// 0.1654766 m³; twelve boxes of 25 ft² of 3/4 in, 12 × 25 × 0.09290304 × 0.01905 =
// 0.5309409 m³.
func TestGlueByHand(t *testing.T) {
	base := loadBase(t)
	r := run(t, base, invented)
	for _, c := range []struct {
		where    Where
		material string
		volume   float64
	}{
		{Where{Assembly: "north wall", Layer: "sheathing"}, "osb", 24.89801 * 0.0111125},
		{Where{Room: "living room", Part: "baseboard"}, "mdf-trim", 0.0360044},
		{Where{Room: "bedroom", Part: "door"}, "hollow-core-door", 0.1654766},
		{Where{Room: "kitchen", Part: "cabinet"}, "particleboard-cabinet", 0.5309409},
	} {
		m := base.Material(c.material)
		density, _ := m.Density()
		share, _ := m.Working("adhesive-share", kb.AnyMethod, 0)
		near(t, "glue of "+c.material, amountAt(t, r.Glue, c.where).Range.Best, c.volume*density.Best*share.SI.Best, 1e-5)
	}
}

// The sum of every list is the sum of its items, and nothing is below zero.
func TestSumsOfPartsAreTotals(t *testing.T) {
	base := loadBase(t)
	for name, file := range shippedHouses(t, base) {
		r := run(t, base, file)
		for what, h := range map[string]Holdings{"glue": r.Glue, "cavity food": r.CavityFood, "room food": r.RoomFood} {
			low, best, high := 0.0, 0.0, 0.0
			for _, i := range h.Items {
				a := i.Amount.Range
				if a.Low < 0 || a.Low > a.Best || a.Best > a.High {
					t.Errorf("%s, %s at %+v: range %+v is out of order", name, what, i.Where, a)
				}
				if i.Amount.Known {
					low, best, high = low+a.Low, best+a.Best, high+a.High
				}
			}
			if s := h.Sum.Range; math.Abs(s.Low-low)+math.Abs(s.Best-best)+math.Abs(s.High-high) > 1e-9*(1+high) {
				t.Errorf("%s, %s: the sum %+v is not that of its items, %g %g %g", name, what, s, low, best, high)
			}
		}
	}
}

// shippedHouses are the houses and starters of the tree, and the invented one.
func shippedHouses(t *testing.T, base *kb.Base) map[string]string {
	t.Helper()
	all := map[string]string{"invented": invented}
	files, err := filepath.Glob("../../testdata/houses/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no houses: %v", err)
	}
	for _, file := range files {
		if strings.HasSuffix(file, ".expect.yaml") {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		all[filepath.Base(file)] = string(text)
	}
	for _, s := range base.Starters {
		all["starter "+s.ID] = s.House
	}
	return all
}

// The areas of the invented house by hand. The strand board looks into the bay
// where there is no framing, 0.75 of 24.89801 m² = 18.67351 m²; without the wrap
// its other face looks into the gap as well, 1.75 × 24.89801 = 43.57152 m². Two
// bare boards look into the bay of the partition, each 0.75 of 100 ft², 0.75 ×
// 9.290304 = 6.967728 m².
func TestFoodFacesByHand(t *testing.T) {
	r := run(t, loadBase(t), invented)
	sheathing := amountAt(t, r.CavityFood, Where{Assembly: "north wall", Layer: "sheathing"}).Range
	near(t, "strand board toward the bay", sheathing.Best, 18.67351, 1e-6)
	near(t, "strand board without a wrap", sheathing.High, 43.57152, 1e-6)
	near(t, "board of the partition", amountAt(t, r.CavityFood, Where{Assembly: "kitchen partition", Layer: "left board"}).Range.Best, 6.967728, 1e-6)
	near(t, "painted board toward the room", amountAt(t, r.RoomFood, Where{Assembly: "north wall", Layer: "board"}).Range.Best, 24.89801, 1e-6)
}

// The number of food faces is that of the analysis: both count the same faces,
// this package by area.
func TestFoodFacesAreThoseOfTheAnalysis(t *testing.T) {
	base := loadBase(t)
	for name, file := range shippedHouses(t, base) {
		for _, r := range analyzed(t, base, resolved(t, base, file)) {
			for _, v := range r.Variants {
				cavity, room := 0.0, 0.0
				bare := assembly.Variant{}
				for _, p := range v.Of.Layers {
					whole := *p
					whole.Fraction = 0
					bare.Layers = append(bare.Layers, &whole)
				}
				for i := range bare.Layers {
					c, m := foodShares(r.Assembly, &bare, i, v.Layers[i].Facts)
					cavity, room = cavity+c, room+m
				}
				if want := v.Facts["cavity-food"].Range.Best; cavity != want {
					t.Errorf("%s, %s: %g food faces toward cavities, the analysis has %g", name, r.Assembly.Name, cavity, want)
				}
				if want := v.Facts["room-food"].Range.Best; room != want {
					t.Errorf("%s, %s: %g food faces toward rooms, the analysis has %g", name, r.Assembly.Name, room, want)
				}
			}
		}
	}
}

// A house that says no area has no amounts, and says so.
func TestAnAreaThatIsNotGivenIsNamed(t *testing.T) {
	r := run(t, loadBase(t), strings.NewReplacer("    area: 310 ft2\n", "", "    openings: 42 ft2\n", "").Replace(invented))
	for what, h := range map[string]Holdings{"glue": r.Glue, "cavity food": r.CavityFood} {
		if text := strings.Join(h.Sum.Warnings, "; "); !strings.Contains(text, "the area of north wall is not given") {
			t.Errorf("%s: nothing says that an area is missing: %q", what, text)
		}
	}
}

func TestRegulatedWoodIsCounted(t *testing.T) {
	r := run(t, loadBase(t), invented).Regulated
	if r.Pieces != 12 {
		t.Errorf("%d pieces, want the 12 boxes", r.Pieces)
	}
	near(t, "trim", r.Length, 62*0.3048, 1e-9)
	for _, p := range r.Items {
		if !hasTerm(p.Material, regulatedTerm) || p.Emission == "" {
			t.Errorf("%+v is listed without being regulated, or without its emission", p.Where)
		}
	}
}

// Findings at the strongest level come first, then their number; equals keep
// the order of the file.
func TestWorstFirst(t *testing.T) {
	base := loadBase(t)
	h := resolved(t, base, fmt.Sprintf(`
format: 1
house: Invented
place: des-moines-ia
assemblies:
%s%s%s%s`, plainWall("one"), plainWall("two"), plainWall("three"), plainWall("four")))
	finding := func(level kb.Level, v kb.Verdict) Finding {
		return Finding{ID: "some-rule", Kind: "moisture", Level: level, Verdict: v}
	}
	said := []Said{
		{Assembly: "one", Findings: []Finding{finding("warn", kb.No), finding("warn", kb.No), finding("block", kb.Depends)}},
		{Assembly: "two", Findings: []Finding{finding("warn", kb.Yes)}},
		{Assembly: "three", Findings: []Finding{finding("block", kb.No)}},
		{Assembly: "four", Findings: []Finding{finding("warn", kb.Yes)}},
	}
	var names []string
	for _, s := range order(h, said) {
		names = append(names, s.Assembly)
	}
	if got := strings.Join(names, " "); got != "three one two four" {
		t.Errorf("order %q, want three one two four", got)
	}
}

func plainWall(name string) string {
	return "  - {name: " + name + ", kind: wall, between: [outdoors, room], area: 100 ft2, layers: [{name: siding, material: vinyl-siding}, {name: board, material: gypsum-board}]}\n"
}

func TestOpenCodeQuestionsAndCautions(t *testing.T) {
	base := loadBase(t)
	said := []Said{{
		Assembly: "north wall",
		Findings: []Finding{
			{ID: "retarder-irc-2018", Kind: "code", Verdict: kb.Depends},
			{ID: "energy-wall", Kind: "code", Verdict: kb.Yes},
			{ID: "closed-to-both-sides", Kind: "moisture", Verdict: kb.No},
		},
		Cautions: []Caution{{ID: "lead-paint", For: []string{"old paint"}}},
	}}
	r := run(t, base, invented, said...)
	if len(r.Questions) != 1 || r.Questions[0].Finding.ID != "retarder-irc-2018" {
		t.Errorf("open questions %+v, want the one code finding that is not yes", r.Questions)
	}
	got := make(map[string]Called)
	for _, c := range r.Cautions {
		got[c.Caution.ID] = c
	}
	if c := got["lead-paint"]; c.Caution == nil || c.Certain || c.For[0] != "north wall: old paint" {
		t.Errorf("caution of the wall: %+v", c)
	}
	if c := got["formaldehyde"]; c.Caution == nil || !c.Certain || len(c.For) != 2 {
		t.Errorf("formaldehyde is called for by trim and cabinets: %+v", c)
	}
}
