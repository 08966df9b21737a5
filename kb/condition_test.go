package kb

import (
	"testing"

	"relath/kb/strict"
)

// Any bytes give conditions or located problems, never a panic; a condition
// without problems has exactly one form.
func FuzzCondition(f *testing.F) {
	for _, seed := range []string{
		"- framed: yes", "- zone: [5, 6]", "- {x: {over: 0.2 kg/m2}}", "- x: {known: no}", "- any: [{a: yes}, {not: [{b: no}]}]",
		"- some-layer: [{terms: [foam-plastic]}]", "- {}", "- a: {over: 1, under: 2}", "- a", "- a: ", "- any: {a: yes}", "- a: []",
		"- not: []", "- a: {over: [1]}", "- {a: yes, b: no}", "- 1: 2", "- [a]", "- a: true",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var list []Condition
		_, problems := strict.Load("x.yaml", data, strict.Limits{}, &list)
		for _, p := range problems {
			if p.Message == "" || p.File != "x.yaml" {
				t.Errorf("problem without message or place: %+v", p)
			}
		}
		if len(problems) == 0 {
			for i := range list {
				checkForm(t, &list[i])
			}
		}
	})
}

func checkForm(t *testing.T, c *Condition) {
	forms := 0
	for _, given := range []bool{c.Join != "", len(c.Words) > 0, c.Flag != "", c.Known != "", c.Op != ""} {
		if given {
			forms++
		}
	}
	if forms != 1 || (c.Join == "") == (c.Fact == "") || (c.Join != "") != (len(c.Nested) > 0) {
		t.Errorf("condition without one clear form: %+v", *c)
	}
	for i := range c.Nested {
		checkForm(t, &c.Nested[i])
	}
}
