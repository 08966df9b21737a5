package swap

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb/quantity"
)

// searchOf makes the search over an advice.
func searchOf(t testing.TB, a *Advice, opts PlanOptions) *search {
	t.Helper()
	pieces, _ := a.pieces()
	return newSearch(finderOf(tester(embedded(t)), a), pieces, opts)
}

// brute finds the front with nothing pruned: every combination with every
// mark, from the least sum of marks on. What beats a combination has a smaller
// sum, so that whatever is taken stays.
func brute(t testing.TB, s *search) []int {
	t.Helper()
	type scored struct {
		member
		sum  int64
		thin bool
	}
	var all []scored
	x := s.screener()
	s.each(func(index int, chosen []int) bool {
		m, err := x.full(chosen)
		if err != nil {
			t.Fatal(err)
		}
		_, sums, _ := x.light(chosen)
		c := scored{member{index, slices.Clone(chosen), m}, 0, !x.tooThick(sums) && (s.opts.Budget == 0 || x.cost.best <= s.opts.Budget)}
		for _, v := range m {
			c.sum += int64(v)
		}
		all = append(all, c)
		return true
	})
	slices.SortStableFunc(all, func(a, b scored) int { return int(a.sum - b.sum) })
	var taken []scored
	for _, c := range all {
		if !c.thin || s.out[c.index] || slices.ContainsFunc(taken, func(o scored) bool { return o.marks == c.marks || o.marks.beats(&c.marks) }) {
			continue
		}
		if _, _, err := x.light(c.chosen); err != nil {
			t.Fatal(err)
		}
		fits, err := x.allowed(c.chosen)
		if err != nil {
			t.Fatal(err)
		}
		if fits {
			taken = append(taken, c)
		}
	}
	var list []int
	for _, c := range taken {
		list = append(list, c.index)
	}
	slices.Sort(list)
	return list
}

func indices(members []member) []int {
	var list []int
	for _, m := range members {
		list = append(list, m.index)
	}
	return list
}

// The search finds what brute force finds, and nothing else.
func TestSearchAgreesWithBruteForce(t *testing.T) {
	for name, a := range shipped(t) {
		for _, opts := range []PlanOptions{{}, {MaxThickness: 0.2}, {No: []string{noGlue}}} {
			s := searchOf(t, a, opts)
			if s.count > 50_000 || s.atOnce != 0 {
				t.Fatalf("%s has %d combinations", name, s.count)
			}
			got, err := s.front(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			if want := brute(t, s); !slices.Equal(indices(got), want) {
				t.Errorf("%s %+v: the search finds %v, brute force %v", name, opts, indices(got), want)
			}
		}
	}
}

// Of the front of brute force by pairs, without any order, the same holds: a
// check of the check on a small case.
func TestBruteForceByPairs(t *testing.T) {
	for name, a := range shipped(t) {
		s := searchOf(t, a, PlanOptions{})
		if len(s.options) > 8 {
			s.options = s.options[:8]
			s.limit()
		}
		x := s.screener()
		var all []member
		s.each(func(index int, chosen []int) bool {
			m, err := x.full(chosen)
			if err != nil {
				t.Fatal(err)
			}
			if fits, err := x.allowed(chosen); err != nil || !fits {
				return err == nil
			}
			all = append(all, member{index, nil, m})
			return true
		})
		var want []int
		for i, m := range all {
			if !slices.ContainsFunc(all, func(o member) bool { return o.marks.beats(&m.marks) }) &&
				!slices.ContainsFunc(all[:i], func(o member) bool { return o.marks == m.marks }) {
				want = append(want, m.index)
			}
		}
		if got := brute(t, s); !slices.Equal(got, want) {
			t.Errorf("%s: %v, by pairs %v", name, got, want)
		}
	}
}

// What the screening says of a combination is what the analysis says of the
// house with it: the same input, the same numbers.
func TestScreeningIsTheAnalysis(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for name, a := range shipped(t) {
		s := searchOf(t, a, PlanOptions{})
		x := s.screener()
		var combinations [][]int
		s.each(func(_ int, chosen []int) bool {
			if len(chosen) > 0 && (len(chosen) == 1 || random.IntN(s.count) < 12) {
				combinations = append(combinations, slices.Clone(chosen))
			}
			return true
		})
		for _, chosen := range combinations {
			after, _, cannot, err := s.computed(context.Background(), chosen)
			if err != nil || cannot != "" {
				t.Fatal(name, err, cannot)
			}
			screened(t, fmt.Sprint(name, " ", s.turnedAway(member{chosen: chosen}, nil).ID), x, chosen, after.Variants[0].Facts)
		}
	}
}

func screened(t *testing.T, name string, x *screener, chosen []int, facts analysis.Facts) {
	t.Helper()
	_, sums, err := x.light(chosen)
	if err != nil {
		t.Fatal(err)
	}
	same := func(id string, got float64) {
		t.Helper()
		if e := facts[id]; !e.Known || math.Abs(e.Range.Best-got) > 1e-12*max(1, math.Abs(got)) {
			t.Errorf("%s: %s is %g, the analysis has %g (%s)", name, id, got, e.Range.Best, e.Missing)
		}
	}
	same("u-factor", sums.U)
	same("temperature-ratio", sums.Ratio)
	same("adhesive-mass", sums.Glue)
	same("thickness", sums.Thickness)
	if got, want := float64(sums.Food), facts["cavity-food"].Range.Best+facts["room-food"].Range.Best; got != want {
		t.Errorf("%s: %g food faces, the analysis has %g", name, got, want)
	}
	if !x.screen.Judged() {
		t.Errorf("%s is not judged", name)
		return
	}
	atMost := x.screen.DryingAtMost()
	drying, err := x.screen.Drying(func(float64) bool { return false })
	if err != nil {
		t.Fatal(err)
	}
	if drying > atMost {
		t.Errorf("%s dries at %g, more than the bound %g", name, drying, atMost)
	}
	peak, err := x.screen.Peak()
	if err != nil {
		t.Fatal(err)
	}
	// Flows are some 1E−7 kg/(m²·s): relative to themselves.
	if e := facts["drying-capacity"]; math.Abs(e.Range.Best-drying) > 1e-9*math.Abs(drying) {
		t.Errorf("%s: drying %g, the analysis has %g", name, drying, e.Range.Best)
	}
	same("peak-condensate", peak)
}

// Options that do not clash can be applied together: every layer that none of
// them changes is still there, and every layer that they put in has come.
func TestOptionsThatDoNotClash(t *testing.T) {
	for name, a := range shipped(t) {
		s := searchOf(t, a, PlanOptions{})
		s.each(func(_ int, chosen []int) bool {
			if len(chosen) != 2 {
				return true
			}
			house, _, err := s.together(chosen)
			if err != nil {
				t.Fatal(name, err)
			}
			if _, problems := assembly.Resolve(house, nil, s.base); len(problems) > 0 {
				t.Errorf("%s %v: %v", name, chosen, problems)
			}
			want := len(a.Assembly.Described.Layers)
			for _, c := range chosen {
				want += len(s.options[c].proposal.After.Assembly.Described.Layers) - len(a.Assembly.Described.Layers)
			}
			if got := len(house.Assemblies[a.Assembly.Index].Layers); got != want {
				t.Errorf("%s %v: %d layers, want %d", name, chosen, got, want)
			}
			return true
		})
	}
}

// The grid of the goals, by its definition: half a step away is another mark.
func TestMarks(t *testing.T) {
	var a, b Marks
	a.put(analysis.Sums{U: 0.3, Ratio: 0.9, Glue: 1, Food: 2, Thickness: 0.2}, sidingTrade|paintTrade, 3)
	b.put(analysis.Sums{U: 0.3 + 0.8*heatStep, Ratio: 0.9 - 0.8*warmthStep, Glue: 1 + 0.8*glueStep, Food: 3, Thickness: 0.2 + 0.8*thicknessStep}, sidingTrade, 4)
	for i, want := range (Marks{0, 0, 1, 1, 1, 1, 1, -1, 1}) {
		if got := b[i] - a[i]; got != want {
			t.Errorf("%s: %d steps, want %d", Goal("").Allowed()[i], got, want)
		}
	}
	if a.beats(&b) || b.beats(&a) || a.beats(&a) {
		t.Error("one beats the other")
	}
	b[atTrades] = a[atTrades]
	if !a.beats(&b) {
		t.Error("the better one does not beat the other")
	}
	// 1E−7 kg/(m²·s) lies 91.39 steps above the floor, half as much again 99.70.
	if got := dryingMark(1e-7) - dryingMark(1.5e-7); got != 9 {
		t.Errorf("half as much again is %d steps of drying", got)
	}
	perPound, _ := quantity.Parse("1 lb", quantity.Mass)
	if got := perPound / (100 * 0.3048 * 0.3048); math.Abs(got-glueStep) > 1e-6 {
		t.Errorf("1 lb/100 ft² is %g kg/m²", got)
	}
}
