package swap

import (
	"context"
	"slices"
	"testing"

	"relath/advisor/analysis"
	"relath/kb"
	"relath/kb/quantity"
)

// Hour by hour no plan passes the limits of the mold index, 1 toward rooms and 3
// in cavities, at any corner.
func TestPlansHourByHour(t *testing.T) {
	a := shipped(t)["mill-row, north wall"]
	out, err := Plans(context.Background(), tester(embedded(t)), a, PlanOptions{Hourly: &analysis.Hourly{}})
	if err != nil {
		t.Fatal(err)
	}
	if len(out.Plans)+len(out.TurnedDown) == 0 {
		t.Fatal("no plan was run")
	}
	for _, p := range out.Plans {
		if p.Hourly == nil {
			t.Errorf("%s was not run", p.ID)
		}
		f := p.After.Variants[0].Facts
		if c, r := f["mold-index-cavity"], f["mold-index-room"]; c.Known && c.Range.High > 3 || r.Known && r.Range.High > 1 {
			t.Errorf("%s reaches %v inside and %v at the room", p.ID, c.Range, r.Range)
		}
	}
	if got := moldy(analysis.Facts{"mold-index-cavity": known(quantity.Range{Best: 2, High: 3.1}), "mold-index-room": known(quantity.Exact(1))}); len(got) != 1 {
		t.Errorf("an index of 3.1 in the cavity at some corner gives %q", got)
	}
}

// A plan of one swap that was run already compares each hourly fact once.
func TestHourlyFactsAreComparedOnce(t *testing.T) {
	base := embedded(t)
	facts := analysis.Facts{"mold-index-cavity": known(quantity.Exact(1)), "wood-moisture": known(quantity.Exact(0.2))}
	once := withHourly(nil, base, facts, facts)
	if twice := withHourly(once, base, facts, facts); len(once) != 2 || len(twice) != len(once) {
		t.Errorf("%d facts, run again %d", len(once), len(twice))
	}
}

// What the hours say comes before what the screening says: of two members the one
// that holds at every corner is named for all aims, whatever its marks, and the
// one with the lower mold index for mold.
func TestHoursChoose(t *testing.T) {
	s := searchOf(t, shipped(t)["alder-court, north wall"], PlanOptions{Hourly: &analysis.Hourly{}})
	members, err := s.front(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	able := s.able(members)
	first := s.choose(able, nil)[0]
	if len(s.shortlist(able)) <= len(s.choose(able, nil)) {
		t.Error("no more are run than are named")
	}
	plan := func(v kb.Verdict, index float64) *Plan {
		p := &Plan{}
		p.Hourly = &Verified{Verdict: v}
		p.After = &analysis.Result{Variants: []*analysis.Variant{{Facts: analysis.Facts{"mold-index-cavity": known(quantity.Range{High: index})}}}}
		return p
	}
	other := able[len(able)-1]
	run := map[int]*Plan{first.index: plan(kb.Depends, 0.3), other.index: plan(kb.Yes, 1.5)}
	picks := s.choose(able, run)
	if picks[0].index != other.index || slices.Contains(picks[0].good, "least mold hour by hour") {
		t.Errorf("%d is named for %q before %d", picks[0].index, picks[0].good, other.index)
	}
	if len(picks) != 2 || picks[1].index != first.index || !slices.Equal(picks[1].good, []string{"least mold hour by hour"}) {
		t.Errorf("picks %+v", picks)
	}
	run[first.index] = plan(kb.Yes, 0.3)
	if picks := s.choose(able, run); picks[0].index != first.index {
		t.Error("with the same verdict the screening does not choose")
	}
}
