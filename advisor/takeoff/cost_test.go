package takeoff

import (
	"math"
	"os"
	"strings"
	"testing"

	"relath/kb"
	"relath/kb/quantity"
	"relath/kb/strict"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// book reads one of the invented price books.
func book(t testing.TB, name string) *PriceBook {
	t.Helper()
	data, err := os.ReadFile("../../testdata/prices/" + name)
	if err != nil {
		t.Fatal(err)
	}
	b, problems := ReadPrices(loadBase(t), name, data)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return b
}

func lineCost(t *testing.T, all *Takeoff, c *Cost, item, layer string) LineCost {
	t.Helper()
	want := find(t, all, item, layer)
	for i := range all.Lines {
		if &all.Lines[i] == want {
			return c.Lines[i]
		}
	}
	return LineCost{}
}

// The demo by hand, quantities as worked in the test of quantities, prices
// invented: material by the order, labor by the net quantity.
//
//	siding     690.263 ft × 2.35 = 1622.12; 627.512 ft × 3.00 = 1882.54
//	furring    268/(16/12) = 201 ft; 221.1 × 0.55 = 121.61; 201 × 0.60 = 120.60
//	felt       294.8/100 × 32 = 94.34; 268/100 × 20 = 53.60
//	boards     313.756 × 1.17 = 367.095 board ft × 1.10 = 403.80; 313.756 × 1.50 = 470.63
//	framing    589.6 × 0.85 = 501.16; 536 × 1.20 = 643.20
//	plaster    labor 268 × 9.50 = 2546.00, its material is lime and sand
//	lime       7.1654 bags × 16 = 114.65
//	sand       24.2317 ft³ × 2.20 = 53.31
//	lath       464.677 × 0.55 = 255.57
//	limewash   20.5887 L / 3.785412 = 5.43896 gal × 24 = 130.53; 19.1523 L = 5.05950 gal × 60 = 303.57
//	board      3.35938 panels × 15 = 50.39; 3.125 × 22 = 68.75
//	floor      258 × 6.20 = 1599.60; 240 × 5.00 = 1200.00
//	trim       69.75 × 4.10 = 285.98; 62 × 3.50 = 217.00
//	doors      3 × 420 = 1260; 3 × 160 = 480
func TestCostByHand(t *testing.T) {
	all := take(t, demo)
	c := all.Price(loadBase(t), book(t, "demo.yaml"))
	for _, w := range []struct {
		item, layer     string
		material, labor int64
	}{
		{"bevel-wood-siding", "siding", 162212, 188254},
		{"furring-strips", "gap", 12161, 12060},
		{"asphalt-felt-15", "felt", 9434, 5360},
		{"diagonal-board-sheathing", "sheathing", 40380, 47063},
		{"spf-lumber", "bay", 50116, 64320},
		{"lime-plaster-on-wood-lath", "plaster", 0, 254600},
		{"hydrated-lime", "plaster", 11465, 0},
		{"plaster-sand", "plaster", 5331, 0},
		{"wood-lath-pieces", "plaster", 25557, 0},
		{"limewash", "plaster", 13053, 30357},
		{"gypsum-board", "board", 5039, 6875},
		{"oak-floor", "floor", 159960, 120000},
		{"solid-wood-trim", "baseboard", 28598, 21700},
		{"solid-wood-panel-door", "door", 126000, 48000},
	} {
		l := lineCost(t, all, c, w.item, w.layer)
		// A cent either way is the rounding of the hand calculation.
		if math.Abs(float64(l.Material.Best-w.material)) > 1 || math.Abs(float64(l.Labor.Best-w.labor)) > 1 {
			t.Errorf("%s: material %d and labor %d cents, want %d and %d", w.item, l.Material.Best, l.Labor.Best, w.material, w.labor)
		}
	}
	if siding := lineCost(t, all, c, "bevel-wood-siding", "siding").Material; siding.Low >= siding.Best || siding.Best >= siding.High {
		t.Errorf("a price from 2.10 to 2.60 gives %+v", siding)
	}
	if c.Incomplete {
		t.Errorf("the demo book lacks %v", c.Missing)
	}
}

// Whole panels and bags cost more than the shares: of the lime 8 − 7.1654 bags,
// 13.35; of gypsum and strand board 4 − 3.35938 panels each, 9.61 and 11.53; of the
// lath 465 − 464.677, 0.18; of the screws 60 − 59.0625, 0.02; of the cellulose
// what its last bag holds too much.
func TestRounding(t *testing.T) {
	all := take(t, demo)
	c := all.Price(loadBase(t), book(t, "demo.yaml"))
	bags, _ := find(t, all, "cellulose-dense-pack", "bay").Measure(Bags)
	cellulose := (math.Ceil(bags.Order.Best) - bags.Order.Best) * 14.50
	want := 13.35 + 9.61 + 11.53 + 0.18 + 0.02 + cellulose
	// Six amounts are each rounded to a cent.
	if got := float64(c.Rounding.Best) / 100; math.Abs(got-want) > 0.06 {
		t.Errorf("rounding %.2f, want %.2f", got, want)
	}
}

// The two forms of the invented book say the same.
func TestTableAndYAMLAgree(t *testing.T) {
	all, base := take(t, demo), loadBase(t)
	ignore := cmpopts.IgnoreTypes(strict.Pos{}, &PriceBook{})
	a, b := all.Price(base, book(t, "demo.yaml")), all.Price(base, book(t, "demo.csv"))
	if diff := cmp.Diff(a, b, ignore); diff != "" {
		t.Errorf("costs differ:\n%s", diff)
	}
	if x, y := book(t, "demo.yaml"), book(t, "demo.csv"); x.Invented != "yes" || y.Invented != "yes" {
		t.Error("the demonstration is not marked invented")
	}
}

// Lines, groups and layers each add up to the total, whatever the prices.
func TestCostsAddUp(t *testing.T) {
	all, base := take(t, demo), loadBase(t)
	b := book(t, "demo.yaml")
	rapid.Check(t, func(t *rapid.T) {
		for i := range b.Prices {
			b.Prices[i].CostsOf = quantity.Exact(rapid.Float64Range(0, 1000).Draw(t, "costs"))
		}
		c := all.Price(base, b)
		lines, groups, layers := Money{}, Money{}, Money{}
		for _, l := range c.Lines {
			if m := l.Total(); m.Low < 0 || m.Low > m.Best || m.Best > m.High {
				t.Fatalf("cost %+v", m)
			}
			lines = lines.plus(l.Total())
		}
		for _, g := range c.Groups {
			groups = groups.plus(g.Total)
			for _, l := range g.Layers {
				layers = layers.plus(l.Total)
			}
		}
		if lines != groups || lines != layers || lines.plus(c.Rounding) != c.Total {
			t.Fatalf("lines %+v, groups %+v, layers %+v, rounding %+v, total %+v", lines, groups, layers, c.Rounding, c.Total)
		}
	})
}

// read parses a price book of a few entries.
func read(t *testing.T, entries string) *PriceBook {
	t.Helper()
	b, problems := ReadPrices(loadBase(t), "prices.yaml", []byte("format: 1\ncurrency: USD\nprices:\n"+entries))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return b
}

// A price of the mix covers lime and sand; a complete one the lath too. What has
// no price is named, and so is a price in a measure that the quantity has not.
func TestWhatAPriceCovers(t *testing.T) {
	all, base := take(t, demo), loadBase(t)
	const lime = "  - {price: hydrated-lime, costs: 16, per: bag}\n  - {price: wood-lath-pieces, costs: 1, per: piece}\n"
	of := func(entries, item string) LineCost {
		return lineCost(t, all, all.Price(base, read(t, entries)), item, "plaster")
	}
	mix := "  - {price: lime-plaster-on-wood-lath, costs: 3, per: 1 ft2}\n"
	if l := of(mix+lime, "hydrated-lime"); !l.Covered || !l.Total().IsZero() {
		t.Errorf("lime is paid twice: %+v", l)
	}
	if l := of(mix+lime, "wood-lath-pieces"); l.Covered || l.Total().IsZero() {
		t.Errorf("lath is not in the price of plaster: %+v", l)
	}
	complete := strings.Replace(mix, "}", ", complete: yes}", 1)
	if l := of(complete+lime, "wood-lath-pieces"); !l.Covered {
		t.Errorf("lath is in a complete price: %+v", l)
	}
	c := all.Price(base, read(t, "  - {price: osb, costs: 1, per: 1 gal}\n"))
	text := strings.Join(c.Missing, "; ")
	for _, says := range []string{"no price of Asphalt felt", "Oriented strand board is per 1 gal"} {
		if !strings.Contains(strings.ToLower(text), strings.ToLower(says)) {
			t.Errorf("%q does not say %q", text, says)
		}
	}
	if !c.Incomplete || !c.Total.IsZero() {
		t.Errorf("total %+v of nothing that has a price", c.Total)
	}
}

// Prices laid over the base count where the book has none.
func TestPricesLaidOverTheBase(t *testing.T) {
	base, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	base.Prices = []*kb.Price{{Of: "osb", Costs: 20, Currency: "USD", PerSI: 32 * ft2, Dimension: quantity.Area}}
	all := take(t, demo)
	b := FromBase(base)
	if b == nil || b.Currency != "USD" {
		t.Fatalf("book of the base: %+v", b)
	}
	// 100 ft² × 1.075 / 32 × 20 = 67.19.
	if got := lineCost(t, all, all.Price(base, b), "osb", "panel").Material.Best; got != 6719 {
		t.Errorf("strand board costs %d cents, want 6719", got)
	}
	base.Prices = append(base.Prices, &kb.Price{Of: "osb", Currency: "EUR"})
	if FromBase(base) != nil {
		t.Error("two currencies make no book")
	}
}

// Wrong books: each problem is located and names what is allowed.
func TestWrongPrices(t *testing.T) {
	base := loadBase(t)
	const head = "format: 1\ncurrency: USD\nprices:\n"
	for _, c := range []struct{ name, file, text, says string }{
		{"unknown material", "p.yaml", head + "  - {price: osbb, costs: 1, per: 1 ft2}\n", `p.yaml:4:13: "osbb" is neither`},
		{"unknown key", "p.yaml", head + "  - {price: osb, cost: 1, per: 1 ft2}\n", `unknown field "cost"`},
		{"no costs", "p.yaml", head + "  - {price: osb, per: 1 ft2}\n", "neither costs nor labor"},
		{"no unit", "p.yaml", head + "  - {price: osb, costs: 1, per: 3}\n", `"3" is no amount that is sold`},
		{"temperature", "p.yaml", head + "  - {price: osb, costs: 1, per: 20 F}\n", "is no amount that is sold"},
		{"nothing", "p.yaml", head + "  - {price: osb, costs: 1, per: 0 ft2}\n", "is no amount that is sold"},
		{"below zero", "p.yaml", head + "  - {price: osb, costs: -1, per: 1 ft2}\n", "out of range"},
		{"words", "p.yaml", head + "  - {price: osb, costs: dear, per: 1 ft2}\n", "is no amount of money"},
		{"dollar sign", "p.yaml", head + "  - {price: osb, costs: $5, per: 1 ft2}\n", "is no amount of money"},
		{"twice", "p.yaml", head + "  - {price: osb, costs: 1, per: 1 ft2}\n  - {price: osb, costs: 2, per: 100 ft2}\n", "given twice"},
		{"currency", "p.yaml", strings.Replace(head, "USD", "dollars", 1) + "  - {price: osb, costs: 1, per: 1 ft2}\n", "three capital letters"},
		{"format", "p.yaml", strings.Replace(head, "1", "2", 1) + "  - {price: osb, costs: 1, per: 1 ft2}\n", "reads format 1"},
		{"empty table", "p.csv", "", "is empty"},
		{"unknown column", "p.csv", "price,cost,per,currency\nosb,1,1 ft2,USD\n", `p.csv:1:7: unknown column "cost"`},
		{"missing column", "p.csv", "price,costs,per\nosb,1,1 ft2\n", `column "currency" is missing`},
		{"short row", "p.csv", "price,costs,per,currency\nosb,1\n", "p.csv:2:1: the row has 2 columns, the table 4"},
		{"bad row", "p.csv", "price,costs,per,currency\nosb,x,1 ft2,USD\n", `p.csv:2:5: "x" is no amount of money`},
		{"two currencies", "p.csv", "price,costs,per,currency\nosb,1,1 ft2,USD\noak-floor,1,1 ft2,EUR\n", "keep one currency"},
		{"open quote", "p.csv", "price,costs,per,currency\n\"osb,1,1 ft2,USD\n", "p.csv:"},
		{"answer", "p.csv", "price,costs,per,currency,complete\nosb,1,1 ft2,USD,maybe\n", "allowed: yes, no"},
	} {
		b, problems := ReadPrices(base, c.file, []byte(c.text))
		var text strings.Builder
		for _, p := range problems {
			text.WriteString(p.String() + " " + p.Hint + "\n")
		}
		if b != nil || !strings.Contains(text.String(), c.says) {
			t.Errorf("%s: %q does not say %q", c.name, text.String(), c.says)
		}
	}
}

// A book of wrong ids, as long as a file may be, is refused and not searched
// through for what each of them may have meant.
func TestLongBookIsRefused(t *testing.T) {
	base := loadBase(t)
	for file, text := range map[string]string{
		"p.yaml": "format: 1\ncurrency: USD\nprices:\n" + strings.Repeat("  - {price: no-such-board, costs: 1, per: 1 ft2}\n", 12000),
		"p.csv":  "price,costs,per,currency\n" + strings.Repeat("no-such-board,1,1 ft2,USD\n", 30000),
	} {
		b, problems := ReadPrices(base, file, []byte(text))
		var all strings.Builder
		for _, p := range problems {
			all.WriteString(p.Message + "\n")
		}
		if b != nil || !strings.Contains(all.String(), "more than 5000 prices") {
			t.Errorf("%s: %d problems, none says that the book is too long", file, len(problems))
		}
	}
}

// Any bytes give a book or located problems, and a book gives costs that are not
// below zero.
func FuzzReadPrices(f *testing.F) {
	for _, name := range []string{"demo.yaml", "demo.csv"} {
		data, err := os.ReadFile("../../testdata/prices/" + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(name, data)
	}
	f.Add("p.yaml", []byte("format: 1\ncurrency: USD\nprices: [{price: osb, costs: 1e9, per: 1e-9 ft2}]"))
	f.Add("p.csv", []byte("price,costs,per,currency\nosb,1 to 2,panel,USD\n"))
	f.Add("p.csv", []byte("\ufeffprice;costs\n\"\n"))
	base := loadBase(f)
	h := resolved(f, base, demo)
	all := Take(base, Job{House: h})
	f.Fuzz(func(t *testing.T, name string, data []byte) {
		b, problems := ReadPrices(base, name, data)
		if (b == nil) != (len(problems) > 0) {
			t.Fatalf("book %v with %d problems", b != nil, len(problems))
		}
		for _, p := range problems {
			if p.Message == "" {
				t.Fatal("a problem without words")
			}
		}
		if b == nil {
			return
		}
		c := all.Price(base, b)
		if m := c.Total; m.Low < 0 || m.Low > m.Best || m.Best > m.High {
			t.Fatalf("total %+v", m)
		}
	})
}
