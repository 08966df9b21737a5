package analysis

import (
	"context"
	"strings"
	"testing"

	"relath/advisor/assembly"
)

// Each choice of a doubt gets the leak that it would get alone, and the doubt that
// moves the drying time is named with the choices in their order.
func TestLeakChoices(t *testing.T) {
	base := loadBase(t)
	text := strings.Replace(openWall, "      - name: board\n", "      - {name: film, material: {one-of: [none, polyethylene-6mil]}, sealed: yes}\n      - name: board\n", 1)
	a := resolve(t, base, wallText("des-moines-ia", text)).Assemblies[0]
	o := Leak{On: []LeakDay{{7, 15}}}
	both, err := RunLeak(context.Background(), base, a, o)
	if err != nil {
		t.Fatal(err)
	}
	if len(both.Choices) != 1 || both.NotRun != 0 || len(both.Choices[0].Cases) != 1 {
		t.Fatalf("%d other choices, %d not run", len(both.Choices), both.NotRun)
	}
	alone := *a
	alone.Variants = a.Variants[1:]
	one, err := RunLeak(context.Background(), base, &alone, o)
	if err != nil {
		t.Fatal(err)
	}
	got, want := both.Choices[0].Cases[0], one.Cases[0]
	if got.Dry.Time.Best != want.Dry.Time.Best || got.Kept.Best != want.Kept.Best || got.Residual.Best != want.Residual.Best {
		t.Errorf("as a choice dry after %g s with %g kg/m², alone after %g s with %g", got.Dry.Time.Best, got.Kept.Best, want.Dry.Time.Best, want.Kept.Best)
	}
	if got.Course != nil {
		t.Error("the courses of a choice are kept")
	}
	if len(both.Deciders) != 1 {
		t.Fatalf("%d deciders: dry after %g and %g s", len(both.Deciders), both.Cases[0].Dry.Time.Best, got.Dry.Time.Best)
	}
	d := both.Deciders[0]
	if a.Doubts[d.Doubt].Choices[0] == d.Slow || d.Long.Time.Best < d.Short.Time.Best {
		t.Errorf("%s is named fast, %s slow: a film on the room side never speeds drying", d.Fast, d.Slow)
	}
}

// Of many variants those are wetted that differ from the first in one doubt alone.
func TestManyChoices(t *testing.T) {
	a := &assembly.Assembly{}
	for i := range 5 {
		for k := range 5 {
			a.Variants = append(a.Variants, &assembly.Variant{Settled: []assembly.Settled{
				{Doubt: 0, Choice: string(rune('a' + i))}, {Doubt: 1, Choice: string(rune('a' + k))},
			}})
		}
	}
	list := otherVariants(a)
	if len(list) != 8 {
		t.Errorf("%d of 24 further variants, not the 8 that differ in one doubt", len(list))
	}
	for _, v := range list {
		if differing(a.Variants[0], v) < 0 {
			t.Errorf("%v differs from the first in more than one doubt", v.Settled)
		}
	}
	a.Variants = a.Variants[:mostChoices]
	if got := len(otherVariants(a)); got != mostChoices-1 {
		t.Errorf("%d of %d further variants", got, mostChoices-1)
	}
}
