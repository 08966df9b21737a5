package advisor_test

import (
	"context"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"

	"relath/advisor"
	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/advisor/rule"
	"relath/advisor/swap"
	"relath/kb"
	"relath/kb/quantity"
)

// walls are assemblies whose layers are bought: walls as described, and one with
// a swap.
func walls(t *testing.T, b *kb.Base, tester rule.Tester) map[string]*assembly.Assembly {
	t.Helper()
	all := houses(t, b)
	plan, err := advisor.Plan(context.Background(), tester, all["birch-corner"].Assemblies[0], []string{"lime-on-lath-with-variable-retarder@poly"})
	if err != nil {
		t.Fatal(err)
	}
	return map[string]*assembly.Assembly{
		"new wall": all["birch-corner"].Assemblies[1], "wall with a swap": plan.After.Assembly, "straw": all["oak-knoll"].Assemblies[0],
	}
}

func proposed(p *assembly.Part) bool { return p.State == "proposed" }

// heldIn puts all layers between their limits, or the ends of the search.
func heldIn(a *assembly.Assembly, b *kb.Base, limits []swap.Limit) []analysis.Held {
	var box []analysis.Held
	for _, x := range limits {
		h := analysis.AsBest(x.Layer, x.Fill)
		if x.Withheld == "" {
			h.Dry = span(&x.Dry)
			h.Wet = h.Dry
			if x.Wet.Asked {
				h.Wet = span(&x.Wet)
			}
		}
		box = append(box, h)
	}
	return box
}

func span(b *swap.Bound) quantity.Range {
	r := quantity.Exact(1)
	if b.Low.At > 0 {
		r.Low = b.Low.At / b.Best
	}
	if b.High.At > 0 {
		r.High = b.High.At / b.Best
	}
	return r
}

// saidOf gives the rules that find something worth acting on.
func saidOf(t *testing.T, tester rule.Tester, r *analysis.Result, err error) map[string]bool {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	found := make(map[string]bool)
	for _, f := range rule.Evaluate(tester, r) {
		if f.Level != "info" {
			found[f.Title] = true
		}
	}
	return found
}

// Products anywhere in their limits bring no finding that is not there with all
// of them as planned, and one number past a limit does, or takes the layer out of
// its vapor retarder class.
func TestLimitsHoldAndEnd(t *testing.T) {
	b := base(t)
	tester := rule.Tester{Base: b}
	ends := make(map[string]int)
	for name, a := range walls(t, b, tester) {
		ctx := context.Background()
		limits, err := swap.Limits(ctx, tester, a, proposed)
		if err != nil || len(limits) == 0 {
			t.Fatalf("%s: %d limits, %v", name, len(limits), err)
		}
		var best []analysis.Held
		for _, x := range limits {
			best = append(best, analysis.AsBest(x.Layer, x.Fill))
		}
		r, err := analysis.NewHolder(b, a).Run(ctx, best, false)
		now := saidOf(t, tester, r, err)
		// With moved not below 0 the thermal resistance of that layer is so many times
		// the best.
		more := func(box []analysis.Held, moved int, times float64) string {
			for _, heat := range []func(*swap.Bound) float64{
				func(*swap.Bound) float64 { return 1 },
				func(r *swap.Bound) float64 { return span(r).Low },
				func(r *swap.Bound) float64 { return span(r).High },
			} {
				for i := range box {
					box[i].Resistance = quantity.Exact(heat(&limits[i].Resistance))
				}
				if moved >= 0 {
					box[moved].Resistance = quantity.Exact(times)
				}
				r, err := analysis.NewHolder(b, a).Run(ctx, box, false)
				for title := range saidOf(t, tester, r, err) {
					if !now[title] {
						return title
					}
				}
			}
			return ""
		}
		box := heldIn(a, b, limits)
		if title := more(box, -1, 0); title != "" {
			t.Errorf("%s: within all limits it brings %q", name, title)
		}
		for i, x := range limits {
			for _, e := range endsOf(x) {
				if !e.edge.Set {
					continue
				}
				ends[e.name]++
				past, moved, times := append([]analysis.Held(nil), box...), -1, e.edge.Past/e.best
				if e.move == nil {
					moved = i
				} else {
					e.move(&past[i], times)
				}
				class := strings.Contains(strings.Join(e.edge.Breaks, " "), "Vapor retarder class")
				if more(past, moved, times) == "" && !class {
					t.Errorf("%s, %s, %s: past %g it brings nothing, though %v is promised", name, x.Part.Name, e.name, e.edge.Past, e.edge.Breaks)
				}
			}
		}
	}
	for _, end := range []string{"dry", "wet", "resistance"} {
		if ends[end+" low"]+ends[end+" high"] == 0 {
			t.Errorf("no limit of %s has an end: %v", end, ends)
		}
	}
}

// limitEnd is one end of a limit, with what moves a layer there by a factor on its
// best value; nil for its thermal resistance.
type limitEnd struct {
	name string
	edge swap.Edge
	best float64
	move func(h *analysis.Held, f float64)
}

// endsOf lists the ends of the limits of a layer. Where the wet cup is not asked
// it goes with the dry cup.
func endsOf(x swap.Limit) []limitEnd {
	both := func(h *analysis.Held) {
		if !x.Wet.Asked {
			h.Wet = h.Dry
		}
	}
	return []limitEnd{
		{"dry low", x.Dry.Low, x.Dry.Best, func(h *analysis.Held, f float64) { h.Dry.Low = f; both(h) }},
		{"dry high", x.Dry.High, x.Dry.Best, func(h *analysis.Held, f float64) { h.Dry.High = f; both(h) }},
		{"wet low", x.Wet.Low, x.Wet.Best, func(h *analysis.Held, f float64) { h.Wet.Low = f }},
		{"wet high", x.Wet.High, x.Wet.Best, func(h *analysis.Held, f float64) { h.Wet.High = f }},
		{"resistance low", x.Resistance.Low, x.Resistance.Best, nil},
		{"resistance high", x.Resistance.High, x.Resistance.Best, nil},
	}
}

// A product that has just the limit, as an entry of the base, keeps every check
// of the analysis itself; one that is a tenth past it fails where the limit is
// that of a code table, which asks for the dry cup alone.
func TestLimitsHoldForRealProducts(t *testing.T) {
	planned := base(t)
	tester := rule.Tester{Base: planned}
	ctx := context.Background()
	a := houses(t, planned)["birch-corner"].Assemblies[1]
	limits, err := swap.Limits(ctx, tester, a, proposed)
	if err != nil {
		t.Fatal(err)
	}
	r, err := analysis.Run(ctx, planned, a)
	now := saidOf(t, tester, r, err)
	with := func(x *swap.Limit, factor float64) map[string]bool {
		other := base(t)
		scalePermeance(other.Material(x.Material.ID), factor)
		wall := houses(t, other)["birch-corner"].Assemblies[1]
		r, err := analysis.Run(ctx, other, wall)
		return saidOf(t, rule.Tester{Base: other}, r, err)
	}
	tried := 0
	for i := range limits {
		x := &limits[i]
		if x.Part.Framed || len(x.Part.CoatsIn)+len(x.Part.CoatsOut) > 0 || !x.Dry.High.Set {
			continue
		}
		tried++
		for title := range with(x, x.Dry.High.At/x.Dry.Best) {
			if !now[title] {
				t.Errorf("%s with the dry cup of its limit brings %q", x.Part.Name, title)
			}
		}
		const table = "Vapor retarder on framed walls, model code through 2018"
		if slices.Contains(x.Dry.High.Breaks, table) && !with(x, 1.1*x.Dry.High.At/x.Dry.Best)[table] {
			t.Errorf("%s a tenth past its limit passes the code table", x.Part.Name)
		}
	}
	if tried == 0 {
		t.Error("no layer has an upper limit")
	}
}

// scalePermeance makes a material so many times as open.
func scalePermeance(m *kb.Material, factor float64) {
	for i := range m.Values {
		v := &m.Values[i]
		switch v.Property {
		case "permeance", "permeability":
		default:
			continue
		}
		v.SI = v.SI.Scale(factor)
		if v.Curve != nil {
			for k := range v.Curve.SI {
				v.Curve.SI[k] *= factor
			}
		}
	}
}

// What a run holds is gone in the next one.
func TestHolderForgets(t *testing.T) {
	b, ctx := base(t), context.Background()
	for _, a := range largeHouse(t, b, shipped(t), 12).Assemblies {
		var best, far []analysis.Held
		for _, p := range analysis.Products(b, a, a.Variants[0]) {
			h := analysis.AsBest(p.Part.Layer, p.Fill)
			best = append(best, h)
			h.Dry.High, h.Wet.High, h.Resistance.High = 9, 9, 2
			far = append(far, h)
		}
		holder := analysis.NewHolder(b, a)
		var said [3][]any // by run, as the next one writes over it
		for i, held := range [][]analysis.Held{best, far, best} {
			r, err := holder.Run(ctx, held, false)
			if err != nil {
				t.Fatal(err)
			}
			for _, v := range r.Variants {
				said[i] = append(said[i], maps.Clone(v.Facts))
				for _, l := range v.Layers {
					said[i] = append(said[i], maps.Clone(l.Facts), l.Dew)
				}
			}
		}
		if reflect.DeepEqual(said[0], said[1]) {
			t.Errorf("%s: bounds move nothing", a.Name)
		}
		if !reflect.DeepEqual(said[0], said[2]) {
			t.Errorf("%s: the third run differs from the first", a.Name)
		}
	}
}
