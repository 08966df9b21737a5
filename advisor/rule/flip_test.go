package rule_test

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"relath/advisor/analysis"
	"relath/advisor/internal/houses"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// invented are materials of one number each, for walls that are reckoned by hand.
func invented(t *testing.T) *kb.Base {
	t.Helper()
	entry := func(id, form, values string) *fstest.MapFile {
		return &fstest.MapFile{Data: []byte("id: " + id + "\nname: " + id + "\nfamily: tests\nsummary: Invented.\nform: " + form + "\nvalues:\n" + values)}
	}
	base, err := kb.Load(kb.Embedded(), fstest.MapFS{
		"materials/tests/stone.yaml": entry("stone", "masonry", `  - {property: conductivity, value: 1 W/mK, source: relath, evidence: assumed}
  - {property: permeability, value: 10 ng/(Pa s m), source: relath, evidence: assumed}
`),
		"materials/tests/film.yaml": entry("film", "sheet", `  - {property: permeance, value: 4 perm, range: 0.5 to 8 perm, source: relath, evidence: assumed}
`),
		"materials/tests/panel.yaml": entry("panel", "board", `  - {property: conductivity, value: 0.1 W/mK, source: relath, evidence: assumed}
  - {property: permeance, value: 1.5 perm, at: {thickness: 1/2 in}, source: relath, evidence: assumed}
`),
	})
	if err != nil {
		t.Fatal(err)
	}
	return base
}

// flipped gives the hinge of a finding of a wall with where it turns.
func flipped(t *testing.T, base *kb.Base, text, id string) *rule.Finding {
	t.Helper()
	r := analyzed(t, base, "wall.yaml", text)[0]
	tester := rule.Tester{Base: base, System: quantity.InchPound}
	found := rule.Evaluate(tester, r)
	if err := tester.Flips(r, found); err != nil {
		t.Fatal(err)
	}
	for i := range found {
		if found[i].Rule == id {
			return &found[i]
		}
	}
	return nil
}

const stoneWall = `format: 1
house: Stone
place: des-moines-ia
indoor: {heating: {temperature: 20 C HUMIDITY}}
assemblies:
  - name: wall
    kind: wall
    between: [outdoors, room]
    layers:
      - {name: stone, material: stone, thickness: 254 mm}
`

// TestFlipOfHumidity: mold on the face of a wall of one layer. With surface
// resistances of 0.25 and 0.04 m²K/W (ISO 13788) the face stands at −6.3 + 26.3 ×
// (1 − 0.25/0.544) = 7.9 °C in the January of Des Moines, and 80 % there is the
// humidity of the room × p_sat(20)/p_sat(7.9) (Magnus form of ISO 13788, annex E).
// A description with a humidity on either side of the flip gives the two answers.
func TestFlipOfHumidity(t *testing.T) {
	base := invented(t)
	magnus := func(c float64) float64 { return 610.5 * math.Exp(17.269*c/(237.3+c)) }
	face := -6.3 + 26.3*(1-0.25/(0.25+0.254+0.04))
	want := 80 * magnus(face) / magnus(20)
	f := flipped(t, base, strings.Replace(stoneWall, " HUMIDITY", "", 1), "room-surface-mold")
	if f == nil || f.Verdict != kb.Depends || f.Hinge.Assumption != "heating-humidity" {
		t.Fatalf("%+v", f)
	}
	got, err := quantity.Parse(f.Hinge.Flip, quantity.Ratio)
	if err != nil {
		t.Fatal(err)
	}
	const digits = 0.5 // the flip is said in whole percents
	if math.Abs(100*got-want) > digits {
		t.Errorf("turns at %s, by hand at %.1f %%", f.Hinge.Flip, want)
	}
	if turns := f.Hinge.Turns; turns[0].Answer != kb.Yes || turns[1].Answer != kb.No || turns[0].At != "25 %" || turns[1].At != "45 %" {
		t.Errorf("turns %+v", turns)
	}
	const nudge = 0.6 // a digit and the difference of two equations
	for humidity, fires := range map[float64]bool{want - nudge: false, want + nudge: true} {
		text := strings.Replace(stoneWall, " HUMIDITY", ", humidity: "+quantity.Format(humidity/100, quantity.Ratio, quantity.SI), 1)
		if f := flipped(t, base, text, "room-surface-mold"); (f != nil && f.Verdict == kb.No) != fires {
			t.Errorf("at %.1f %%: %+v, want it to hold: %v", humidity, f, fires)
		}
	}
}

const filmWall = `format: 1
house: Film
place: des-moines-ia
indoor: {heating: {temperature: 68 F, humidity: 35 %}}
assemblies:
  - name: wall
    kind: wall
    between: [outdoors, room]
    layers:
      - {name: film, material: film}
      - {name: panel, material: panel, thickness: 1/2 in}
      - {name: bay, framing: {material: spf-lumber, size: 2x4, fraction: 25 %}, fill: [{material: mineral-wool-batt, thickness: 3-1/2 in}]}
      - {name: poly, material: polyethylene-6mil, sealed: yes}
`

// TestFlipOfPermeance: closed to both sides turns at 1 perm. A film outside of a
// panel of 1.5 perm makes 1 perm with it at 1/(1/1 − 1/1.5) = 3 perm.
func TestFlipOfPermeance(t *testing.T) {
	f := flipped(t, invented(t), filmWall, "closed-to-both-sides")
	if f == nil || f.Hinge == nil || f.Hinge.Flip != "3 perm" || f.Hinge.Layer != "film" {
		t.Fatalf("%+v", f)
	}
	if turns := f.Hinge.Turns; turns[0].Answer != kb.No || turns[1].Answer != kb.Yes || turns[0].At != "0.5 perm" {
		t.Errorf("turns %+v", turns)
	}
}

// TestNoFlipAlone: with a panel that is as tight as 1 perm at its best the film
// turns nothing by itself, and no flip is said.
func TestNoFlipAlone(t *testing.T) {
	base := invented(t)
	panel, film := base.Material("panel").Values, base.Material("film").Values
	for i := range panel {
		if v := &panel[i]; v.Property == "permeance" {
			v.SI = quantity.Range{Low: v.SI.Best / 2, Best: v.SI.Best / 1.6, High: v.SI.Best / 1.6}
		}
	}
	film[0].SI.High *= 2
	if f := flipped(t, base, filmWall, "closed-to-both-sides"); f != nil && f.Hinge != nil && f.Hinge.Flip != "" {
		t.Errorf("%+v", f.Hinge)
	}
}

// TestFlipOfShippedHouses: for every finding of the shipped houses that turns on
// one value, the whole analysis with that value written into the base gives one
// answer below the flip and the other above, by the best value of every fact. The
// flip is said to two digits, so the value goes 6 % to either side.
func TestFlipOfShippedHouses(t *testing.T) {
	files, err := filepath.Glob("../../testdata/houses/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	base, checked := loadBase(t), 0
	tester := rule.Tester{Base: base, System: quantity.InchPound}
	for _, file := range files {
		if strings.Contains(file, ".expect.") {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range analyzed(t, base, file, string(text)) {
			found := rule.Evaluate(tester, r)
			if err := tester.Flips(r, found); err != nil {
				t.Fatal(err)
			}
			for i := range found {
				if h := found[i].Hinge; h != nil && h.Flip != "" && h.Doubt == "" {
					nudged(t, tester, r, &found[i])
					checked++
				}
			}
		}
	}
	const enough = 3
	if checked < enough {
		t.Errorf("only %d flips", checked)
	}
}

// nudged puts the value of a hinge to both sides of its flip.
func nudged(t *testing.T, tester rule.Tester, r *analysis.Result, f *rule.Finding) {
	t.Helper()
	values := valuesBehind(t, tester.Base, f.Hinge)
	dimension := quantity.AirChange
	if f.Hinge.Property != "" {
		dimension = quantity.Permeance
	}
	at, err := quantity.Parse(f.Hinge.Flip, dimension)
	if err != nil {
		t.Fatal(err)
	}
	now := values.best(r, f.Hinge)
	const nudge = 0.06
	for side, want := range map[float64]kb.Verdict{1 - nudge: f.Hinge.Turns[0].Answer, 1 + nudge: f.Hinge.Turns[1].Answer} {
		back := values.scale(at * side / now)
		again, err := analysis.Run(context.Background(), tester.Base, r.Assembly)
		if err != nil {
			t.Fatal(err)
		}
		back()
		if got := bestAnswer(tester, again, f.Rule); !slices.Contains(got, want) {
			t.Errorf("%s: %s at %.2f of %s: %v, want %s", r.Assembly.Name, f.Title, side, f.Hinge.Flip, got, want)
		}
	}
}

// bestAnswer answers a rule by the best values of all facts, over the variants.
func bestAnswer(tester rule.Tester, r *analysis.Result, id string) []kb.Verdict {
	var answers []kb.Verdict
	for _, v := range r.Variants {
		s := rule.Subject{Facts: exact(v.Facts)}
		for _, l := range v.Layers {
			s.Layers = append(s.Layers, analysis.LayerFacts{Part: l.Part, Facts: exact(l.Facts)})
		}
		for _, of := range tester.Base.Rules {
			if of.ID != id {
				continue
			}
			switch tester.Verdict(of.When, s) {
			case kb.Yes:
				answers = append(answers, kb.No)
			case kb.No:
				answers = append(answers, kb.Yes)
			}
		}
	}
	return answers
}

func exact(facts analysis.Facts) analysis.Facts {
	out := make(analysis.Facts, len(facts))
	for id, e := range facts {
		e.Range = quantity.Exact(e.Range.Best)
		out[id] = e
	}
	return out
}

// behind is the values of the base behind a hinge.
type behind struct {
	assumption *kb.Assumption
	values     []*kb.Value
}

func valuesBehind(t *testing.T, base *kb.Base, h *rule.Hinge) behind {
	t.Helper()
	if h.Assumption != "" {
		return behind{assumption: base.Assumption(h.Assumption)}
	}
	var b behind
	if m := base.Material(h.Material); m != nil {
		for i := range m.Values {
			v := &m.Values[i]
			if v.Property == h.Property || h.Property == "permeance" && v.Property == "permeability" {
				b.values = append(b.values, v)
			}
		}
	}
	if len(b.values) == 0 {
		t.Fatalf("no values behind %+v", h)
	}
	return b
}

// best is what the hinge reads now.
func (b behind) best(r *analysis.Result, h *rule.Hinge) float64 {
	if b.assumption != nil {
		return b.assumption.SI.Best
	}
	if h.Property != "permeance" {
		return b.values[0].SI.Best
	}
	for _, l := range r.Variants[0].Layers {
		if l.Part.Name == h.Layer {
			return l.Facts["permeance"].Range.Best
		}
	}
	return math.NaN()
}

// scale multiplies the values, and gives what puts them back.
func (b behind) scale(by float64) (back func()) {
	if a := b.assumption; a != nil {
		was := a.SI
		a.SI = was.Scale(by)
		return func() { a.SI = was }
	}
	var undo []func()
	for _, v := range b.values {
		si := v.SI
		v.SI = si.Scale(by)
		undo = append(undo, func() { v.SI = si })
		if c := v.Curve; c != nil {
			was := slices.Clone(c.SI)
			for i := range c.SI {
				c.SI[i] *= by
			}
			undo = append(undo, func() { copy(c.SI, was) })
		}
	}
	return func() {
		for _, f := range undo {
			f()
		}
	}
}

// BenchmarkFlips looks for what turns the findings of the shipped house that has
// most of them.
func BenchmarkFlips(b *testing.B) {
	text, err := os.ReadFile("../../testdata/houses/elm-terrace.yaml")
	if err != nil {
		b.Fatal(err)
	}
	base := houses.Base(b)
	r, err := analysis.Run(context.Background(), base, houses.Read(b, base, string(text)).Assemblies[0])
	if err != nil {
		b.Fatal(err)
	}
	tester := rule.Tester{Base: base, System: quantity.InchPound}
	found := rule.Evaluate(tester, r)
	for b.Loop() {
		if err := tester.Flips(r, slices.Clone(found)); err != nil {
			b.Fatal(err)
		}
	}
}
