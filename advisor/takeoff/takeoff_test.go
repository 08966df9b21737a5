package takeoff

import (
	"math"
	"strings"
	"testing"

	"relath/advisor/assembly"
	"relath/advisor/internal/houses"
	"relath/kb"
	"relath/kb/quantity"

	"pgregory.net/rapid"
)

// demo is an invented house that is built new.
const demo = `
format: 1
house: Invented
place: des-moines-ia
assemblies:
  - name: north wall
    kind: wall
    between: [outdoors, room]
    area: 310 ft2
    openings: 42 ft2
    layers:
      - {name: siding, material: bevel-wood-siding, thickness: 3/4 in, coats: {out: [{coating: acrylic-house-paint, count: 2}]}}
      - {name: gap, cavity: 3/4 in, air: vented}
      - {name: felt, material: asphalt-felt-15}
      - {name: sheathing, material: diagonal-board-sheathing, thickness: 3/4 in}
      - name: bay
        framing: {material: spf-lumber, size: 2x6, spacing: 16 in, fraction: 25 %}
        fill: [{material: cellulose-dense-pack, thickness: 5-1/2 in}]
      - {name: membrane, material: variable-retarder-polyamide, sealed: yes}
      - {name: plaster, material: lime-plaster-on-wood-lath, thickness: 7/8 in, coats: {in: [{coating: limewash, count: 5}]}}
  - name: partition
    kind: partition
    between: [room, room]
    area: 100 ft2
    layers:
      - {name: panel, material: osb, thickness: 7/16 in}
      - {name: bay, framing: {material: spf-lumber, size: 2x4, spacing: 16 in, fraction: 25 %}}
      - {name: board, material: gypsum-board, thickness: 1/2 in}
finishes:
  - {room: living room, part: floor, material: oak-floor, area: 240 ft2, coats: [{coating: tung-oil-finish, count: 2}]}
  - {room: living room, part: baseboard, material: solid-wood-trim, length: 62 ft, size: 3/4 in x 5-1/4 in}
  - {room: hall, part: door, material: solid-wood-panel-door, count: 3}
`

func loadBase(t testing.TB) *kb.Base {
	t.Helper()
	return houses.Base(t)
}

func resolved(t testing.TB, base *kb.Base, file string) *assembly.Resolved {
	t.Helper()
	return houses.Read(t, base, file)
}

func take(t testing.TB, file string) *Takeoff {
	t.Helper()
	base := loadBase(t)
	return Take(base, Job{House: resolved(t, base, file)})
}

// find gives the line of an item at a place.
func find(t *testing.T, all *Takeoff, item, layer string) *Line {
	t.Helper()
	for i := range all.Lines {
		if l := &all.Lines[i]; l.Item == item && l.Where.Layer+l.Where.Part == layer {
			return l
		}
	}
	t.Fatalf("no line of %s at %s", item, layer)
	return nil
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: got %.6g, want %.6g", what, got, want)
	}
}

// Units of the trade in SI, from their exact definitions.
const (
	inch = 0.0254
	foot = 12 * inch
	ft2  = foot * foot
	ft3  = foot * foot * foot
	lb   = 0.45359237
)

// The demo house by hand. Its wall is 310 − 42 = 268 ft² net.
//
//	siding      268 ft² × 12/5.125 = 627.512 ft; order × 1.10 = 690.263 ft
//	            627.512 ft × 1/2 board ft = 313.756 board ft
//	nails       627.512 ft / (16/12 ft) = 470.634 bearings × 2 = 941.268
//	felt        268 × 1.10 = 294.8 ft²
//	boards      laid diagonally: 627.512 × 1.17 = 734.189 ft
//	framing     0.25 × 268 = 67 ft² / (1.5/12 ft) = 536 ft; 2 × 6/12 = 1 board ft each;
//	            order × 1.10 = 589.6 ft
//	cellulose   0.75 × 268 = 201 ft² × 5.5/12 ft = 92.125 ft³
//	plaster     268 × 0.875/12 = 19.5417 ft³
//	sand        19.5417 × 1.24 = 24.2317 ft³ (24 % is the middle of 15 to 33 %)
//	lime        19.5417 × 0.333 × 44.4 = 288.93 lb; × 1.24 = 358.27 lb = 7.165 bags of 50 lb
//	lath        268/0.62 = 432.258; × 1.075 = 464.677
//	limewash    268 × 0.09290304 = 24.8980 m² × 5/6.5 m²/L = 19.1523 L; × 1.075 = 20.5887 L
//	panels      100/32 = 3.125; × 1.075 = 3.35938
//	screws      100/(16/12 × 16/12) = 56.25
//	floor       240 × 1.075 = 258 ft²
//	trim        62 × 1.125 = 69.75 ft
//	oil         240 × 0.09290304 = 22.2967 m² × 2/16 m²/L = 2.78709 L
func TestDemoByHand(t *testing.T) {
	all := take(t, demo)
	for _, c := range []struct {
		item, layer string
		kind        Kind
		unit        float64
		net, order  float64
	}{
		{"bevel-wood-siding", "siding", Area, ft2, 268, 294.8},
		{"bevel-wood-siding", "siding", Length, foot, 627.512, 690.263},
		{"bevel-wood-siding", "siding", BoardFeet, 1, 313.756, 345.132},
		{"nails-8d", "siding", Pieces, 1, 941.268, 988.331},
		{"asphalt-felt-15", "felt", Area, ft2, 268, 294.8},
		{"diagonal-board-sheathing", "sheathing", Length, foot, 627.512, 734.189},
		{"spf-lumber", "bay", Length, foot, 536, 589.6},
		{"spf-lumber", "bay", BoardFeet, 1, 536, 589.6},
		{"cellulose-dense-pack", "bay", Volume, ft3, 92.125, 96.7313},
		{"lime-plaster-on-wood-lath", "plaster", Volume, ft3, 19.5417, 24.2317},
		{"plaster-sand", "plaster", Volume, ft3, 19.5417, 24.2317},
		{"hydrated-lime", "plaster", Mass, lb, 288.93, 358.27},
		{"hydrated-lime", "plaster", Bags, 1, 5.7786, 7.1654},
		{"wood-lath-pieces", "plaster", Pieces, 1, 432.258, 464.677},
		{"limewash", "plaster", Volume, 0.001, 19.1523, 20.5887},
		{"gypsum-board", "board", Panels, 1, 3.125, 3.35938},
		{"gypsum-board-screws", "board", Pieces, 1, 56.25, 59.0625},
		{"oak-floor", "floor", Area, ft2, 240, 258},
		{"solid-wood-trim", "baseboard", Length, foot, 62, 69.75},
		{"solid-wood-panel-door", "door", Pieces, 1, 3, 3},
		{"tung-oil-finish", "floor", Volume, 0.001, 2.78709, 2.99612},
	} {
		l := find(t, all, c.item, c.layer)
		m, ok := l.Measure(c.kind)
		if !ok {
			t.Errorf("%s is not measured by %s: %s", c.item, c.kind, l.Missing)
			continue
		}
		near(t, c.item+" net, "+string(c.kind), m.Net.Best/c.unit, c.net, 2e-5)
		near(t, c.item+" order, "+string(c.kind), m.Order.Best/c.unit, c.order, 2e-5)
	}
}

// Published quantities for 100 square yards, 900 ft²: 1,400 to 1,500 lath and 10
// lb of nails (an old textbook, read); 1x6 takes 2.34 ft and 1.17 board ft for a
// square foot (coverage factors of the trade, read); 200 lb of hydrate make 4.5
// ft³ of putty, so that 7/8 in of plaster 1 to 3 takes 66 ft³ of sand and about 970
// lb or 20 bags of lime (read and derived).
func TestAgainstPublishedCoverage(t *testing.T) {
	all := take(t, `
format: 1
house: Invented
place: des-moines-ia
assemblies:
  - name: wall
    kind: wall
    between: [outdoors, room]
    area: 900 ft2
    layers:
      - {name: siding, material: bevel-wood-siding, thickness: 3/4 in}
      - {name: bay, framing: {material: spf-lumber, size: 2x4, spacing: 16 in, fraction: 25 %}}
      - {name: plaster, material: lime-plaster-on-wood-lath, thickness: 7/8 in}
`)
	net := func(item, layer string, k Kind) quantity.Range {
		m, _ := find(t, all, item, layer).Measure(k)
		return m.Net
	}
	if lath := net("wood-lath-pieces", "plaster", Pieces); lath.Low < 1399 || lath.High > 1501 {
		t.Errorf("lath %+v, printed are 1,400 to 1,500", lath)
	}
	near(t, "lath nails, lb", net("lath-nails", "plaster", Mass).Best/lb, 10, 2e-3)
	near(t, "siding, ft for each ft²", net("bevel-wood-siding", "siding", Length).Best/foot/900, 2.34, 2e-3)
	near(t, "siding, board ft for each ft²", net("bevel-wood-siding", "siding", BoardFeet).Best/900, 1.17, 2e-3)
	near(t, "sand, ft³", net("plaster-sand", "plaster", Volume).Best/ft3, 66, 0.01)
	near(t, "lime, lb", net("hydrated-lime", "plaster", Mass).Best/lb, 970, 0.01)
	near(t, "lime, bags", math.Ceil(net("hydrated-lime", "plaster", Bags).Best), 20, 1e-9)
}

// 100 m² of 20 mm of plaster bring 600 to 800 L of water (trade, derived).
func TestWaterOfPlaster(t *testing.T) {
	all := take(t, `
format: 1
house: Invented
place: des-moines-ia
assemblies:
  - {name: wall, kind: partition, between: [room, room], area: 100 m2, layers: [{name: block, material: concrete-block, state: existing}, {name: plaster, material: lime-plaster, thickness: 20 mm}]}
`)
	waste := find(t, all, "lime-plaster", "plaster").Waste.Ratio
	near(t, "least", all.Water.Low/(1+waste.Low), 600, 1e-6)
	near(t, "most", all.Water.High/(1+waste.High), 800, 1e-6)
}

// A panel of 4 by 8 ft on studs at 16 in has 17 nails on each long edge, 7 between
// the corners of each short one, and 7 on each of the two studs in its field: 34 +
// 14 + 14 = 62. At 24 in there is one stud in the field: 55.
func TestNailsOfAPanel(t *testing.T) {
	for spacing, want := range map[float64]float64{16: 62, 24: 55} {
		if got := nailsOfPanel(4*foot, 8*foot, 6*inch, 12*inch, spacing*inch); got != want {
			t.Errorf("studs at %g in: %g nails, want %g", spacing, got, want)
		}
	}
}

// The glue of the strand board is net mass times adhesive share: 100 ft² × 7/16 in
// = 9.290304 × 0.0111125 m³.
func TestGlueIsNet(t *testing.T) {
	base := loadBase(t)
	m := base.Material("osb")
	density, _ := m.Density()
	share, _ := m.Working("adhesive-share", kb.AnyMethod, 0)
	got := find(t, take(t, demo), "osb", "panel").Glue
	near(t, "glue", got.Best, 9.290304*0.0111125*density.Best*share.SI.Best, 1e-6)
}

// Whatever the waste, the glue stays.
func TestWasteIsNeverInTheGlue(t *testing.T) {
	wasteful, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range wasteful.Assumptions {
		if strings.HasPrefix(a.ID, "takeoff-waste") {
			a.SI = quantity.Exact(3)
		}
	}
	before, after := take(t, demo), Take(wasteful, Job{House: resolved(t, wasteful, demo)})
	if before.Glue != after.Glue || before.Glue.Best <= 0 {
		t.Errorf("glue %+v, with a waste of 300 %% %+v", before.Glue, after.Glue)
	}
	a, _ := find(t, before, "osb", "panel").Measure(Area)
	b, _ := find(t, after, "osb", "panel").Measure(Area)
	if b.Net != a.Net || b.Order.Best != 4*b.Net.Best {
		t.Errorf("panels: net %+v and %+v, order %+v", a.Net, b.Net, b.Order)
	}
}

// What stands is not bought: of a wall whose plaster stands, a plan that adds
// limewash takes the new coats alone.
func TestWhatStandsIsNotBoughtAgain(t *testing.T) {
	base := loadBase(t)
	const house = `
format: 1
house: Invented
place: des-moines-ia
built: 1920
assemblies:
  - name: wall
    kind: wall
    between: [outdoors, room]
    area: 100 ft2
    state: existing
    layers:
      - {name: siding, material: bevel-wood-siding}
      - {name: bay, framing: {material: spf-lumber, size: 2x4, spacing: 16 in, fraction: 25 %}FILL}
      - {name: plaster, material: lime-plaster-on-wood-lath, thickness: 7/8 in, STATE coats: {in: [{coating: limewash, count: COUNT}]}}
`
	read := func(fill, state, count string) *assembly.Resolved {
		return resolved(t, base, strings.NewReplacer("FILL", fill, "STATE", state, "COUNT", count).Replace(house))
	}
	before := read("", "", "2")
	if n := len(Take(base, Job{House: before}).Lines); n != 0 {
		t.Errorf("%d lines for a house that stands", n)
	}
	after := Take(base, Job{Before: before, House: read("", "state: proposed,", "5")})
	if len(after.Lines) != 1 || after.Lines[0].Item != "limewash" || after.Lines[0].Coats != 3 {
		t.Errorf("three coats of limewash are wanted, taken are %+v", after.Lines)
	}
	filled := read(", fill: [{material: cellulose-dense-pack}], state: proposed", "", "2")
	after = Take(base, Job{Before: before, House: filled})
	if len(after.Lines) != 1 || after.Lines[0].Item != "cellulose-dense-pack" {
		t.Errorf("a fill is wanted, taken are %+v", after.Lines)
	}
	if n := len(Take(base, Job{House: before, All: true}).Lines); n < 5 {
		t.Errorf("%d lines for all that stands", n)
	}
}

// A recipe's waste counts where the material has none of its own and the recipe
// puts in nothing else.
func TestWasteOfARecipe(t *testing.T) {
	base := loadBase(t)
	h := resolved(t, base, strings.Replace(demo, "material: diagonal-board-sheathing, thickness: 3/4 in", "material: diagonal-board-sheathing", 1))
	r := base.Recipe("diagonal-boards-for-panels")
	if r == nil || len(r.With) != 1 {
		t.Fatal("the recipe for diagonal boards puts in more than boards")
	}
	all := Take(base, Job{House: h, Recipes: map[string][]*kb.Recipe{"north wall": {r}}})
	w := find(t, all, "diagonal-board-sheathing", "sheathing").Waste
	if w.From != r.ID || w.Ratio.Low != 0.15 || w.Ratio.High != 0.20 || w.Basis.Source == "" {
		t.Errorf("waste %+v, want that of the recipe, 15 to 20 %%", w)
	}
}

// Doubts and gaps are said.
func TestGapsAreNamed(t *testing.T) {
	all := take(t, strings.NewReplacer("    area: 310 ft2\n    openings: 42 ft2\n", "", "material: osb", "material: {one-of: [osb, plywood-sheathing]}").Replace(demo))
	text := strings.Join(all.Warnings, "; ")
	for _, says := range []string{"the area of north wall is not given", "is in doubt and taken as osb"} {
		if !strings.Contains(text, says) {
			t.Errorf("%q does not say %q", text, says)
		}
	}
	for _, l := range all.Lines {
		if l.Where.Assembly == "north wall" && (l.Missing == "" || len(l.Measures) > 0) {
			t.Errorf("%s has a quantity without an area", l.Name)
		}
	}
}

// Of any size: nothing is below zero, an order is never less than the net
// quantity, totals are the sums of lines, and twice the wall takes twice of
// everything.
func TestProperties(t *testing.T) {
	base := loadBase(t)
	h, twice := resolved(t, base, demo), resolved(t, base, demo)
	rapid.Check(t, func(t *rapid.T) {
		for i := range h.Assemblies {
			h.Assemblies[i].Area = rapid.Float64Range(1, 1e4).Draw(t, "area")
			h.Assemblies[i].Openings = h.Assemblies[i].Area * rapid.Float64Range(0, 0.9).Draw(t, "openings")
			twice.Assemblies[i].Area, twice.Assemblies[i].Openings = 2*h.Assemblies[i].Area, 2*h.Assemblies[i].Openings
		}
		a, b := Take(base, Job{House: h}), Take(base, Job{House: twice})
		var glue quantity.Range
		for i, l := range a.Lines {
			glue = plus(glue, l.Glue)
			for k, m := range l.Measures {
				n := m.Net
				if n.Low < 0 || n.Low > n.Best || n.Best > n.High || m.Order.Low < n.Low || m.Order.Best < n.Best || m.Order.High < n.High {
					t.Fatalf("%s: %+v", l.Name, m)
				}
				double := b.Lines[i].Measures[k].Net.Best
				if l.Where.Assembly != "" && math.Abs(double-2*n.Best) > 1e-9*double {
					t.Fatalf("%s: %g, of twice the wall %g", l.Name, n.Best, double)
				}
			}
		}
		if glue != a.Glue {
			t.Fatalf("glue %+v, the lines have %+v", a.Glue, glue)
		}
	})
}

// The order list holds each line once, and its sums are those of the lines.
func TestOrders(t *testing.T) {
	all := take(t, demo)
	seen := make(map[int]int)
	for _, s := range all.Orders() {
		for _, o := range s.Items {
			for _, i := range o.Lines {
				seen[i]++
				if all.Lines[i].Supplier != s.Supplier || all.Lines[i].Item != o.Item {
					t.Errorf("line %d is under %s at %s", i, o.Item, s.Supplier)
				}
			}
			for _, m := range o.Measures {
				sum := 0.0
				for _, i := range o.Lines {
					one, _ := all.Lines[i].Measure(m.Kind)
					sum += one.Order.Best
				}
				near(t, o.Item, m.Order.Best, sum, 1e-12)
				if m.Kind == o.WholeOf && (float64(o.Whole) < m.Order.Best-1e-6 || float64(o.Whole) >= m.Order.Best+1) {
					t.Errorf("%s: %d whole for %g", o.Item, o.Whole, m.Order.Best)
				}
			}
		}
	}
	for i, l := range all.Lines {
		if seen[i] != 1 && len(l.Measures) > 0 {
			t.Errorf("%s is ordered %d times", l.Name, seen[i])
		}
	}
	// 7.165 bags of lime are 8, 464.7 lath are 465, 3.36 panels are 4.
	whole := make(map[string]int64)
	for _, s := range all.Orders() {
		for _, o := range s.Items {
			whole[o.Item] = o.Whole
		}
	}
	if whole["hydrated-lime"] != 8 || whole["wood-lath-pieces"] != 465 || whole["gypsum-board"] != 4 {
		t.Errorf("lime %d, lath %d, board %d; want 8, 465 and 4", whole["hydrated-lime"], whole["wood-lath-pieces"], whole["gypsum-board"])
	}
}

// Every shipped house and starter can be taken, new or standing.
func TestEveryStarterCanBeTaken(t *testing.T) {
	base := loadBase(t)
	for _, s := range base.Starters {
		all := Take(base, Job{House: resolved(t, base, s.House), All: true})
		for _, l := range all.Lines {
			if l.Missing == "" && len(l.Measures) == 0 {
				t.Errorf("%s: %s has neither a quantity nor a reason", s.ID, l.Name)
			}
			if l.Supplier == "" || l.Stage == "" {
				t.Errorf("%s: %s has no supplier or no stage", s.ID, l.Name)
			}
		}
	}
}
