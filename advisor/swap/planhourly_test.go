package swap

import (
	"context"
	"testing"

	"relath/advisor/analysis"
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
