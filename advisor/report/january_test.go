package report_test

import (
	"context"
	"math"
	"testing"

	"relath/advisor"
	"relath/advisor/drawing"
	"relath/advisor/report"
	"relath/advisor/rule"
)

// The sections of every starter with all that was computed stay on their sheet,
// January included.
func TestComputedSectionsOfStarters(t *testing.T) {
	b := loaded(t)
	m := report.Maker{Base: b}
	for _, s := range b.Starters {
		house, err := advisor.Load(b, s.ID, []byte(report.StarterFile(s)))
		if err != nil {
			t.Fatal(err)
		}
		results, err := advisor.Analyze(context.Background(), rule.Tester{Base: b}, house.Assemblies)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range results {
			for _, over := range []report.Overlay{{Chokes: true}, {January: true}} {
				if err := onSheet(m.Section(r.Result, over)); err != nil {
					t.Errorf("%s, %+v: %v", s.ID, over, err)
				}
			}
		}
	}
}

// A bay of 5-1/2 in holds 2 in of air on its first side and 3-1/2 in of batt: the
// plane between them is drawn 2 in into the bay, and the temperature of each end
// is that of the air.
func TestJanuaryPlanesAreWhereTheyBelong(t *testing.T) {
	const file = `format: 1
house: January
place: des-moines-ia
indoor:
  heating: {temperature: 68 F, humidity: 35 %}
assemblies:
  - name: wall
    kind: wall
    between: [outdoors, room]
    layers:
      - {name: boards, material: osb, thickness: 1/2 in}
      - name: bay
        framing: {material: spf-lumber, size: 2x6, spacing: 16 in}
        fill: [{material: fiberglass-batt, thickness: 3-1/2 in}]
      - {name: board, material: gypsum-board, thickness: 1/2 in}
`
	b := loaded(t)
	house, err := advisor.Load(b, "january", []byte(file))
	if err != nil {
		t.Fatal(err)
	}
	results, err := advisor.Analyze(context.Background(), rule.Tester{Base: b}, house.Assemblies)
	if err != nil {
		t.Fatal(err)
	}
	p := report.Maker{Base: b}.Section(results[0].Result, report.Overlay{January: true})
	var course []drawing.Point // temperature: the first line with a point for each plane and both airs
	for _, it := range p.Items {
		if it.Path != nil && !it.Path.Closed && len(it.Path.Points) == 7 && it.Path.Line == drawing.Full {
			course = it.Path.Points
			break
		}
	}
	if course == nil {
		t.Fatal("no line with seven points: two airs and five planes")
	}
	// 6-1/2 in at 1:4 are 41.275 mm.
	if got := course[5].X - course[1].X; math.Abs(got-41.275) > 0.02 {
		t.Errorf("the wall is %g mm thick, want 41.275", got)
	}
	// 1/2 in of board and 2 in of air at 1:4 are 15.875 mm.
	if got := course[3].X - course[1].X; math.Abs(got-15.875) > 0.02 {
		t.Errorf("the batt begins at %g mm, want 15.875", got)
	}
	for i := 1; i < len(course); i++ {
		if course[i].Y > course[i-1].Y {
			t.Errorf("it gets colder inward at point %d", i)
		}
	}
}
