package advisor_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"relath/advisor"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/advisor/takeoff"
)

// The baseboard of the demonstration house, 62 ft of MDF, is chosen in solid wood:
// every paper has the new trim and says what comes off, with the caution of solid
// wood, and the finishes without a swap stay.
func TestChosenFinish(t *testing.T) {
	b := base(t)
	ctx, tester, m := context.Background(), rule.Tester{Base: b}, report.Maker{Base: b}
	h := houses(t, b)["birch-corner"]
	c := advisor.Choice{Plans: []string{"living room baseboard=solid-wood-trim-for-mdf"}}
	s, err := advisor.Spec(ctx, tester, h, c, advisor.Wishes{Whole: true})
	if err != nil {
		t.Fatal(err)
	}
	o, err := advisor.Order(ctx, tester, h, advisor.Ordering{Choice: c})
	if err != nil {
		t.Fatal(err)
	}
	spec, order, client := flat(text(t, m.Spec(s))), flat(text(t, m.Order(o))), flat(text(t, m.Client(s)))
	for _, x := range []struct{ name, page, says string }{
		{"spec", spec, "living room, baseboard: solid wood trim, pine or poplar instead of mdf trim"},
		{"spec", spec, "section 02 41 19"},
		{"spec", spec, "section 06 20 00"},
		{"spec", spec, "bring wood to the moisture of its use"},
		{"order", order, "comes off: baseboard (mdf trim)"},
		{"client", client, "mdf trim gives way to solid wood trim, pine or poplar"},
		{"client", client, "wood moves"},
	} {
		if !strings.Contains(x.page, x.says) {
			t.Errorf("%s does not say %q", x.name, x.says)
		}
	}
	const feet = 62 * 0.3048 // m
	bought := 0.0
	for _, l := range o.Takeoff.Lines {
		if l.Where.Part == "baseboard" && l.Item == "solid-wood-trim" {
			if x, ok := l.Measure(takeoff.Length); ok {
				bought += x.Net.Best
			}
		}
		if l.Where.Part == "door" || l.Where.Part == "cabinet" {
			t.Errorf("%s is bought, though nothing was chosen for it", l.Where.Part)
		}
	}
	if bought < feet-1e-6 || bought > feet+1e-6 {
		t.Errorf("%g m of trim are bought, want %g", bought, feet)
	}
	for _, plan := range []string{"living room baseboard=no-such-swap", "living room ceiling=solid-wood-trim-for-mdf"} {
		_, err := advisor.Spec(ctx, tester, h, advisor.Choice{Plans: []string{plan}}, advisor.Wishes{})
		var choice *advisor.ChoiceError
		if !errors.As(err, &choice) || len(choice.Allowed) == 0 {
			t.Errorf("%s gives %v", plan, err)
		}
	}
}

// Two baseboards of one room are chosen by their own names, and order and
// specification tell them apart.
func TestTwoFinishesOfOnePart(t *testing.T) {
	b := base(t)
	ctx, tester, m := context.Background(), rule.Tester{Base: b}, report.Maker{Base: b}
	h, err := advisor.Load(b, "two.yaml", []byte(`format: 1
house: Two Baseboards
place: des-moines-ia
built: 1994
finishes:
  - {room: hall, part: baseboard, material: mdf-trim, length: 30 ft, size: 9/16 in x 5-1/4 in}
  - {room: hall, part: baseboard, material: mdf-trim, length: 12 ft, size: 9/16 in x 3-1/4 in}
`))
	if err != nil {
		t.Fatal(err)
	}
	c := advisor.Choice{Plans: []string{
		"hall baseboard (9/16 in x 5-1/4 in)=solid-wood-trim-for-mdf", "hall baseboard (9/16 in x 3-1/4 in)=solid-wood-trim-for-mdf",
	}}
	s, err := advisor.Spec(ctx, tester, h, c, advisor.Wishes{})
	if err != nil {
		t.Fatal(err)
	}
	o, err := advisor.Order(ctx, tester, h, advisor.Ordering{Choice: c})
	if err != nil {
		t.Fatal(err)
	}
	for page, words := range map[string]string{"specification": flat(proseOf(m.Spec(s))), "order": flat(proseOf(m.Order(o)))} {
		for _, name := range []string{"baseboard (9/16 in x 5-1/4 in)", "baseboard (9/16 in x 3-1/4 in)"} {
			if !strings.Contains(words, name) {
				t.Errorf("the %s does not name %s", page, name)
			}
		}
	}
	c.Plans = []string{"hall baseboard=solid-wood-trim-for-mdf"}
	if _, err := advisor.Order(ctx, tester, h, advisor.Ordering{Choice: c}); err == nil {
		t.Error("a name that means two finishes is taken")
	}
}
