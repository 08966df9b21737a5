package kb

import (
	"fmt"
	"slices"

	"relath/kb/strict"
)

// The words that join conditions. The last three look at the layers of an
// assembly: their conditions are about one layer, and all must hold for it.
const (
	joinAny        = "any"
	joinAll        = "all"
	joinNot        = "not"
	joinSomeLayer  = "some-layer"
	joinNoLayer    = "no-layer"
	joinEveryLayer = "every-layer"
)

func joins() []string {
	return []string{joinAny, joinAll, joinNot, joinSomeLayer, joinNoLayer, joinEveryLayer}
}

// aboutLayers says whether the nested conditions are about a layer.
func aboutLayers(join string) bool {
	return join == joinSomeLayer || join == joinNoLayer || join == joinEveryLayer
}

// operators compare a quantity with a limit.
func operators() []string { return []string{"over", "under", "at-least", "at-most"} }

// UnmarshalNode reads a mapping with exactly one key; see [Condition]. Whether
// the fact exists and takes such a test is checked when the base is complete.
func (c *Condition) UnmarshalNode(v *strict.Value, report strict.Report) {
	c.Pos = v.Pos
	if v.Kind != strict.Mapping || len(v.Fields) != 1 {
		report(v.Pos, "a condition is a mapping with exactly one key", "write one list item for each condition, such as: - framed: yes")
		return
	}
	key, test := v.Fields[0].Key, v.Fields[0].Value
	if slices.Contains(joins(), key) {
		c.Join = key
		test.Decode(&c.Nested, report)
		if test.Kind == strict.Sequence && len(test.Items) == 0 {
			report(test.Pos, fmt.Sprintf("%s: no condition is given", key), "")
		}
		return
	}
	c.Fact = key
	switch test.Kind {
	case strict.Sequence:
		c.readWords(test, report)
	case strict.Mapping:
		c.readTest(test, report)
	case strict.Scalar:
		c.Flag = readFlag(test, report)
	default:
		report(test.Pos, fmt.Sprintf("fact %q has no test", key), testHint)
	}
}

// testHint says how a fact is tested.
const testHint = "write yes or no, a list of words [a, b], or a limit {over: 0.2 kg/m2}"

func (c *Condition) readWords(v *strict.Value, report strict.Report) {
	v.Decode(&c.Words, report)
	if len(v.Items) == 0 {
		report(v.Pos, "the list of words is empty", testHint)
	}
}

// readTest reads {over: 0.2 kg/m2} or {known: no}.
func (c *Condition) readTest(v *strict.Value, report strict.Report) {
	if len(v.Fields) != 1 {
		report(v.Pos, "a test of a fact has exactly one key", "for two limits write two conditions")
		return
	}
	key, value := v.Fields[0].Key, v.Fields[0].Value
	switch {
	case key == "known":
		c.Known = readFlag(value, report)
	case slices.Contains(operators(), key):
		c.Op = key
		value.Decode(&c.Limit, report)
	default:
		report(v.Fields[0].Pos, fmt.Sprintf("unknown test %q", key), strict.AllowedHint(key, append(operators(), "known")))
	}
}

// readFlag reads yes or no.
func readFlag(v *strict.Value, report strict.Report) string {
	if v.Kind == strict.Scalar && (v.Text == "yes" || v.Text == "no") {
		return v.Text
	}
	report(v.Pos, "yes or no is needed here", testHint)
	return ""
}

// Conditions visits every condition of the base.
func (b *Base) Conditions(visit func(*Condition)) {
	var each func(list []Condition)
	each = func(list []Condition) {
		for i := range list {
			visit(&list[i])
			each(list[i].Nested)
		}
	}
	for _, r := range b.Rules {
		each(r.When)
	}
	for _, c := range b.Cautions {
		each(c.When)
	}
	for _, t := range b.Tables {
		each(t.Applies)
		for _, rows := range [][]Row{t.Except, t.Accept} {
			for i := range rows {
				each(rows[i].When)
			}
		}
	}
	for _, r := range b.Recipes {
		for _, layer := range r.Replaces {
			each(layer)
		}
		each(r.After)
		each(r.Fits)
		for _, u := range r.Unfit {
			each(u.When)
		}
		for _, n := range r.Needs {
			each(n.When)
		}
		for _, s := range r.Beside {
			each(s.When)
		}
	}
}
