package rule_test

import (
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/internal/checks"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// rValue is an R of 1 ft²·°F·h/Btu and uValue a U of 1 Btu/(h·ft²·°F), in SI.
const (
	rValue = 0.17611018
	uValue = 5.67826334
)

// codeFiles are the figures of codes as printed, by how they are known.
func codeFiles() []string {
	return []string{
		"codes-insulation.csv", "codes-insulation-2024.csv", "codes-insulation-recalled.csv",
		"codes-insulation-wisconsin.csv", "codes-insulation-minnesota.csv",
		"codes-u-factors.csv", "codes-u-factors-recalled.csv",
		"codes-class-iii.csv", "codes-unvented-roof.csv",
		"codes-attic-vents.csv", "codes-attic-vents-recalled.csv", "codes-crawl-vents.csv",
	}
}

// TestFiguresOfCodes looks for the least (of a U-factor the largest) figure that
// the one table of its subject accepts, all else being as bad as it may be.
func TestFiguresOfCodes(t *testing.T) {
	base := loadBase(t)
	for _, name := range codeFiles() {
		t.Run(name, func(t *testing.T) {
			f := checks.Open(t, name)
			for _, row := range f.Rows() {
				c := codeCase{
					edition: row.Text("edition"), state: row.Text("state"), zone: row.Text("zone"),
					part: row.Text("part"), way: row.Text("way"), want: kb.Verdict(row.Text("verdict")),
				}
				f.Check(t, row, "value", c.turn(t, base))
			}
		})
	}
}

// codeCase is a part of a house under a code, and the figure in question.
type codeCase struct {
	edition, state, zone, part, way string
	want                            kb.Verdict
}

// turn finds by halving the figure at which the table begins to accept.
func (c codeCase) turn(t *testing.T, base *kb.Base) float64 {
	t.Helper()
	base = c.tables(base)
	accepts := func(v float64) bool {
		got := c.answer(t, base, v)
		return got == kb.Yes || c.want == kb.Depends && got == kb.Depends
	}
	low, high := 1e-9, 100.0
	switch {
	case c.way == "U":
		low, high = 1, 1e-6 // a U-factor is accepted when it is small
	case strings.HasPrefix(c.way, "vents"):
		high = 1
	}
	if accepts(low) || !accepts(high) {
		t.Errorf("%+v: accepted at %g: %v, at %g: %v", c, low, accepts(low), high, accepts(high))
		return 0
	}
	for range 24 {
		if mid := (low + high) / 2; accepts(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return high
}

// answer asks the only table of the subject that applies.
func (c codeCase) answer(t *testing.T, base *kb.Base, v float64) kb.Verdict {
	t.Helper()
	found := rule.Tester{Base: base, System: quantity.InchPound, Mute: true}.Answers(one(c.facts(t, v)))
	if len(found) != 1 {
		t.Fatalf("%+v: %d tables apply", c, len(found))
	}
	return found[0].Verdict
}

// tables gives the base with the tables of the subject alone.
func (c codeCase) tables(base *kb.Base) *kb.Base {
	subject := map[string]string{"retarder": "retarder", "unvented roof": "roof", "attic vents": "roof", "crawl vents": "crawl"}[c.part]
	if subject == "" {
		subject = "energy"
	}
	out := *base
	out.Tables = slices.DeleteFunc(slices.Clone(base.Tables), func(t *kb.Table) bool {
		return t.Subject != subject || subject == "retarder" && !strings.HasPrefix(t.ID, "retarder-irc")
	})
	return &out
}

// sides gives kind and sides of a part.
func (c codeCase) sides() (kind, outer, inner string) {
	switch c.part {
	case "attic", "attic vents":
		return "attic-floor", "attic", "room"
	case "roof", "unvented roof":
		return "roof", "outdoors", "room"
	case "floor", "crawl vents":
		return "floor", "crawl", "room"
	case "slab":
		return "slab", "ground", "room"
	case "basement":
		return "basement-wall", "ground", "room"
	case "crawl":
		return "basement-wall", "ground", "crawl"
	}
	return "wall", "outdoors", "room"
}

// facts states the part with everything else at its worst.
func (c codeCase) facts(t *testing.T, v float64) analysis.Facts {
	t.Helper()
	kind, outer, inner := c.sides()
	number := func(v float64) analysis.Estimate { return between(v, v, v) }
	f := analysis.Facts{
		"kind": words(kind), "outer-side": words(outer), "inner-side": words(inner), "zone": words(c.zone), "state": words(c.state),
		"edition": words(c.edition), "regime": words("A"), "existing": flag(false), "framed": flag(c.part != "mass"), "mass-wall": flag(c.part == "mass"),
		"above-grade": flag(outer != "ground"), "insulated": flag(true), "bay-full": flag(false), "below-grade": number(0),
		"u-factor": number(uValue), "exterior-insulation": number(0), "cavity-insulation": number(0), "interior-insulation": number(0),
		"total-insulation": number(0), "air-impermeable-insulation": number(0), "framing-depth": number(0.0889),
		"edge-insulation": number(0), "edge-depth": number(0), "vent-share": {}, "high-vents": {}, "crawl-ground": {}, "crawl-air": {},
		"retarder-class-inside": words("III"), "retarder-responsive": flag(false), "cladding-vented-by-code": words("no"), "sheathing-terms": words("osb"),
	}
	if c.part == "floor" || c.part == "attic vents" || c.part == "crawl vents" {
		f["vent-share"] = number(0.5)
	}
	if c.edition == "" {
		f["edition"] = analysis.Estimate{Missing: "not given"}
	}
	maps.Copy(f, c.vary(t, v))
	return f
}

// vary gives the facts that the figure changes.
func (c codeCase) vary(t *testing.T, v float64) analysis.Facts {
	t.Helper()
	number := func(v float64) analysis.Estimate { return between(v, v, v) }
	r := number(v * rValue)
	with := func(place string, cavity float64) analysis.Facts {
		f := analysis.Facts{"total-insulation": number((v + cavity) * rValue), "cavity-insulation": number(cavity * rValue)}
		f[place+"-insulation"] = r
		return f
	}
	way, rest, _ := strings.Cut(c.way, " ")
	switch way {
	case "U":
		return analysis.Facts{"u-factor": number(v * uValue)}
	case "any":
		return analysis.Facts{"total-insulation": r}
	case "cavity":
		return analysis.Facts{"cavity-insulation": r, "total-insulation": r}
	case "air-impermeable":
		return analysis.Facts{"air-impermeable-insulation": r, "total-insulation": r}
	case "exterior", "interior":
		if depth, ok := strings.CutPrefix(rest, "over "); ok {
			f := with(way, 13)
			f["framing-depth"] = number(atof(t, strings.TrimSuffix(depth, " in")) * 0.0254)
			return f
		}
		return with(way, atof(t, strings.TrimPrefix(rest, "with cavity R-")))
	case "edge":
		return analysis.Facts{"edge-insulation": r, "edge-depth": number(atof(t, strings.TrimSuffix(rest, " ft deep")) * 0.3048)}
	case "depth":
		return analysis.Facts{"edge-insulation": number(10 * rValue), "edge-depth": number(v * 0.3048)}
	case "vents":
		return vents(t, rest, number(v))
	}
	t.Fatalf("no way %q", c.way)
	return nil
}

// vents gives openings with what goes with them.
func vents(t *testing.T, rest string, share analysis.Estimate) analysis.Facts {
	t.Helper()
	f := analysis.Facts{"vent-share": share, "crawl-ground": words("bare"), "crawl-air": words("still"), "high-vents": between(0, 0, 0)}
	if ground, ok := strings.CutPrefix(rest, "over "); ok {
		f["crawl-ground"] = words(strings.TrimSuffix(ground, " ground"))
		return f
	}
	high, class, _ := strings.Cut(rest, " high")
	if high != "" {
		h := atof(t, strings.TrimSuffix(high, "%")) / 100
		f["high-vents"] = between(h, h, h)
	}
	if class != "" {
		f["retarder-class-inside"] = words("II")
	}
	return f
}

// atof reads a number of a way; nothing is 0.
func atof(t *testing.T, s string) float64 {
	t.Helper()
	if s = strings.TrimSpace(s); s == "" {
		return 0
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
