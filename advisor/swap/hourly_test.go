package swap

import (
	"context"
	"os"
	"testing"

	"relath/advisor/analysis"
	"relath/kb"
	"relath/kb/quantity"
)

// facts makes hourly facts of a mold index and of wet hours.
func hourlyFacts(index, room, wet quantity.Range) analysis.Facts {
	known := func(r quantity.Range) analysis.Estimate { return analysis.Estimate{Known: true, Range: r} }
	return analysis.Facts{
		"heat-loss": known(quantity.Exact(3)), "mold-index-cavity": known(index), "mold-index-room": known(room),
		"wood-wet-hours": known(wet),
	}
}

// A swap is turned down when it takes mold or wet wood past a limit, and open when
// it does so at some corner only. One that stays below, or betters what is past
// the limit already, holds.
func TestHourlyVerdict(t *testing.T) {
	exact := quantity.Exact
	sound := hourlyFacts(exact(0.5), exact(0), exact(0))
	moldy := hourlyFacts(exact(4), exact(0), exact(900))
	for name, test := range map[string]struct {
		before, after analysis.Facts
		want          kb.Verdict
	}{
		"below its limit":        {sound, hourlyFacts(exact(2.9), exact(0.9), exact(20)), kb.Yes},
		"better than before":     {moldy, hourlyFacts(exact(3.5), exact(0), exact(800)), kb.Yes},
		"as bad as before":       {moldy, moldy, kb.Yes},
		"mold in the cavity":     {sound, hourlyFacts(exact(3.2), exact(0), exact(0)), kb.No},
		"mold at the room":       {sound, hourlyFacts(exact(0), exact(1.2), exact(0)), kb.No},
		"wet wood":               {sound, hourlyFacts(exact(0), exact(0), exact(100)), kb.No},
		"worse than moldy":       {moldy, hourlyFacts(exact(4.5), exact(0), exact(0)), kb.No},
		"mold at some corner":    {sound, hourlyFacts(quantity.Range{Low: 0, Best: 1, High: 3.5}, exact(0), exact(0)), kb.Depends},
		"no answer":              {sound, analysis.Facts{"mold-index-cavity": {Missing: "sorption of a layer"}}, kb.Unknown},
		"food only in the after": {analysis.Facts{"heat-loss": {Known: true}}, hourlyFacts(exact(3.2), exact(0), exact(0)), kb.No},
	} {
		if got := verdict(test.before, test.after); got.Verdict != test.want || (test.want != kb.Yes) != (len(got.Because) > 0) {
			t.Errorf("%s: %+v, want %s", name, got, test.want)
		}
	}
}

// The shortlist of a shipped house is verified, and every proposal that stays
// shows its hours before and after.
func TestVerifyTheShortlist(t *testing.T) {
	text, err := os.ReadFile("../../testdata/houses/alder-court.yaml")
	if err != nil {
		t.Fatal(err)
	}
	base, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	advice, err := Propose(context.Background(), tester(base), resolve(t, base, string(text)), Options{})
	if err != nil {
		t.Fatal(err)
	}
	candidates := len(advice.Proposals) + len(advice.Rejections)
	if err := Verify(context.Background(), base, advice, analysis.Hourly{Years: 1}); err != nil {
		t.Fatal(err)
	}
	if got := len(advice.Proposals) + len(advice.Rejections); got != candidates {
		t.Errorf("%d candidates, %d before", got, candidates)
	}
	for i, p := range advice.Proposals {
		if (i < 1) && p.Hourly == nil {
			t.Errorf("%s was not verified", p.ID)
		}
		if p.Hourly == nil {
			continue
		}
		if p.Hourly.Verdict == kb.No {
			t.Errorf("%s stays although the hours speak against it", p.ID)
		}
		shown := false
		for _, c := range p.Compare {
			shown = shown || c.Fact.ID == "mold-index-cavity"
		}
		if shown != (p.Hourly.Verdict != kb.Unknown) {
			t.Errorf("%s: verdict %s, mold index shown %v", p.ID, p.Hourly.Verdict, shown)
		}
	}
}
