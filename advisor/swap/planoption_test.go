package swap

import (
	"context"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"relath/advisor/rule"
	"relath/kb"
)

// Which options can go together: runs side by side, additions at other places;
// not runs that overlap, not what goes behind a layer that comes out, not two
// layers put into the same place.
func TestClashes(t *testing.T) {
	run := func(from, to int) option { return option{from: from, to: to} }
	addition := func(behind int) option { return option{from: behind + 1, to: behind + 1} }
	besideInner, besideOuter := run(0, 2), run(2, 3)
	besideInner.inner, besideOuter.outer = true, true
	for name, x := range map[string]struct {
		a, b option
		want bool
	}{
		"side by side":                       {run(0, 2), run(2, 3), false},
		"overlap":                            {run(0, 2), run(1, 3), true},
		"the same":                           {run(1, 2), run(1, 2), true},
		"one within the other":               {run(0, 4), run(1, 2), true},
		"behind a layer that stays":          {addition(3), run(0, 2), false},
		"behind a layer that comes out":      {addition(1), run(0, 2), true},
		"within a run":                       {addition(0), run(0, 2), true},
		"before a run":                       {addition(1), run(2, 3), false},
		"before a run with a layer there":    {addition(1), besideOuter, true},
		"two in one place":                   {addition(1), addition(1), true},
		"two in two places":                  {addition(1), addition(2), false},
		"layers beside runs in one place":    {besideInner, besideOuter, true},
		"a layer beside one run only":        {besideInner, run(2, 3), false},
		"a layer beside the other side only": {run(0, 2), besideOuter, false},
	} {
		if x.a.clashes(&x.b) != x.want || x.b.clashes(&x.a) != x.want {
			t.Errorf("%s: %v and %v", name, x.a.clashes(&x.b), x.b.clashes(&x.a))
		}
	}
}

// Every set of options that do not clash is visited once: against all subsets.
func TestEachVisitsEverySet(t *testing.T) {
	s := &search{}
	for _, place := range [][2]int{{0, 1}, {0, 2}, {1, 2}, {1, 1}, {2, 3}, {3, 3}, {2, 4}} {
		s.options = append(s.options, option{from: place[0], to: place[1]})
	}
	slices.SortStableFunc(s.options, func(a, b option) int { return a.from - b.from })
	n := len(s.options)
	for i := range n {
		s.clash = append(s.clash, make([]bool, n))
		for j := range n {
			s.clash[i][j] = i != j && s.options[i].clashes(&s.options[j])
		}
	}
	visited := make(map[int]int)
	s.each(func(_ int, chosen []int) bool {
		set := 0
		for _, c := range chosen {
			set |= 1 << c
		}
		visited[set]++
		return true
	})
	want := 0
	for set := range 1 << n {
		clash := false
		for i := range n {
			for j := range i {
				clash = clash || set>>i&1 == 1 && set>>j&1 == 1 && s.options[i].clashes(&s.options[j])
			}
		}
		if clash {
			continue
		}
		want++
		if visited[set] != 1 {
			t.Errorf("the set %b is visited %d times", set, visited[set])
		}
	}
	if len(visited) != want {
		t.Errorf("%d sets are visited, want %d", len(visited), want)
	}
	s.opts.Most = want - 1
	if s.limit(); s.count > want-1 || s.atOnce == 0 {
		t.Errorf("%d combinations of %d at once, no more than %d are allowed", s.count, s.atOnce, want-1)
	}
}

// Pairs of which one does not fit beside the other are named and never combined;
// what the quick test of the conditions lets pass, the full one lets pass too.
func TestSwapsThatRuleEachOtherOut(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 5))
	pairs := 0
	for name, a := range shipped(t) {
		s := searchOf(t, a, PlanOptions{})
		pairs += len(s.apart)
		x := s.screener()
		s.each(func(_ int, chosen []int) bool {
			if len(chosen) < 3 || random.IntN(s.count) > 6 {
				return true
			}
			for i, c := range chosen {
				others := slices.Delete(slices.Clone(chosen), i, i+1)
				surely, err := x.surelyFits(c, others)
				if err != nil {
					t.Fatal(err)
				}
				with, _, cannot, err := s.computed(context.Background(), others)
				if err != nil || cannot != "" {
					t.Fatal(err, cannot)
				}
				if why := s.misfit(c, rule.SubjectsOf(with)); surely && len(why) > 0 {
					t.Errorf("%s: %s beside %v surely fits, and %q", name, s.options[c].proposal.ID, others, why)
				}
			}
			return true
		})
	}
	if pairs == 0 {
		t.Error("no swaps rule each other out")
	}
}

// What the search does not come to within its rounds is named.
func TestRoundsThatRunOut(t *testing.T) {
	a := shipped(t)["alder-court, north wall"]
	s := searchOf(t, a, PlanOptions{Front: true})
	for i := range s.options {
		if s.options[i].c.recipe == nil {
			continue
		}
		r := *s.options[i].c.recipe // no three of them go together
		r.Fits = []kb.Condition{{Fact: "thickness", Op: "under"}}
		s.options[i].c.recipe = &r
	}
	s.rounds = 1
	out := &Planning{}
	if err := s.pick(context.Background(), out); err != nil {
		t.Fatal(err)
	}
	if !slices.Contains(out.Open, "dries best") || out.Unjudged == 0 {
		t.Errorf("open %q, %d of the front not judged; plans %d, turned down %d", out.Open, out.Unjudged, len(out.Plans), len(out.TurnedDown))
	}
}

// In a renovation what stays behind the room side stays.
func TestReno(t *testing.T) {
	base := embedded(t)
	text := house(cooled, stands, siding, felt, strand, bay, poly, board)
	advice, err := Propose(context.Background(), tester(base), resolve(t, base, text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	f := finderOf(tester(base), advice)
	if got := f.nameAt(f.roomSide()); got != "board" {
		t.Fatalf("the room side begins at %q", got)
	}
	for i := range advice.Proposals {
		p := &advice.Proposals[i]
		if f.leftOut(p, PlanOptions{Reno: true}) == "" && p.Layer != "board" {
			t.Errorf("%s changes the %s", p.ID, p.Layer)
		}
	}
	out, err := Plans(context.Background(), tester(base), advice, PlanOptions{Reno: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range out.Plans {
		for _, ch := range p.Changes {
			if ch.Layer != "beside" && !strings.HasPrefix(ch.Layer, "board") && ch.From != "" {
				t.Errorf("%s changes the %s", p.ID, ch.Layer)
			}
		}
	}
}

// Drier room air is named where it clears what surely holds, and is recomputed.
func TestDrierAir(t *testing.T) {
	base := embedded(t)
	wet := strings.Replace(cooled, "humidity: 35 %", "humidity: 50 %", 1)
	text := strings.Replace(house(wet, wall, siding, gap, felt, strand, bay, board), "des-moines-ia", "fargo-nd", 1)
	f := find(t, base, text)
	m, err := f.drierAir(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if m == nil {
		t.Fatalf("drier air clears nothing of %v", f.found)
	}
	if m.To >= m.From || m.To < driestAt || len(m.Resolved) == 0 {
		t.Errorf("from %g to %g clears %v", m.From, m.To, m.Resolved)
	}
	peak := func(x Compared) bool { return x.Fact.ID == "peak-condensate" }
	i := slices.IndexFunc(m.Compare, peak)
	if i < 0 || m.Compare[i].After.Best >= m.Compare[i].Before.Best {
		t.Errorf("drier air leaves the condensate: %+v", m.Compare)
	}
}

// The front holds what nothing beats when all of it is asked for, each member
// judged in full.
func TestWholeFront(t *testing.T) {
	for name, a := range shipped(t) {
		s := searchOf(t, a, PlanOptions{})
		if s.count > 10 {
			continue
		}
		out, err := Plans(context.Background(), tester(embedded(t)), a, PlanOptions{Front: true})
		if err != nil {
			t.Fatal(err)
		}
		if len(out.Front) != out.OnFront || out.OnFront == 0 {
			t.Errorf("%s: %d of %d members are judged", name, len(out.Front), out.OnFront)
		}
		for _, p := range out.Front {
			for _, o := range out.Front {
				if o.Marks.beats(&p.Marks) {
					t.Errorf("%s: %s beats %s", name, o.ID, p.ID)
				}
			}
		}
	}
}
