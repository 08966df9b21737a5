package rule

import (
	"relath/advisor/analysis"
	"relath/kb"
)

// Verdict gives the verdict of [Tester.All] alone. Most conditions do not hold,
// and their reasons are never read, so that this stops as soon as it is settled
// and words nothing.
func (t Tester) Verdict(conditions []kb.Condition, s Subject) kb.Verdict {
	return t.verdict(conditions, s, -1)
}

func (t Tester) verdict(conditions []kb.Condition, s Subject, layer int) kb.Verdict {
	v := kb.Yes
	for i := 0; i < len(conditions) && v != kb.No; i++ {
		v = and(v, t.verdictOf(&conditions[i], s, layer))
	}
	return v
}

// verdictOf is the verdict of one condition.
func (t Tester) verdictOf(c *kb.Condition, s Subject, layer int) kb.Verdict {
	switch c.Join {
	case "all":
		return t.verdict(c.Nested, s, layer)
	case "any":
		v := kb.No
		for i := 0; i < len(c.Nested) && v != kb.Yes; i++ {
			v = or(v, t.verdictOf(&c.Nested[i], s, layer))
		}
		return v
	case "not":
		return not(t.verdict(c.Nested, s, layer))
	case "some-layer":
		return t.someVerdict(c.Nested, s)
	case "no-layer":
		return not(t.someVerdict(c.Nested, s))
	case "every-layer":
		v := kb.Yes
		for i := 0; i < len(s.Layers) && v != kb.No; i++ {
			v = and(v, t.verdict(c.Nested, s, i))
		}
		return v
	}
	e, _, ok := t.lookup(c.Fact, s, layer)
	return leafVerdict(c, e, ok)
}

func (t Tester) someVerdict(conditions []kb.Condition, s Subject) kb.Verdict {
	v := kb.No
	for i := 0; i < len(s.Layers) && v != kb.Yes; i++ {
		v = or(v, t.verdict(conditions, s, i))
	}
	return v
}

// leafVerdict holds a fact to its condition.
func leafVerdict(c *kb.Condition, e analysis.Estimate, ok bool) kb.Verdict {
	switch {
	case c.Known != "":
		return truth(e.Known == (c.Known == "yes"))
	case !ok || !e.Known:
		return kb.Unknown
	case c.Flag != "":
		return flagged(e, c.Flag == "yes")
	case len(c.Words) > 0:
		return worded(e, c.Words)
	}
	return compared(e.Range, c)
}

// verdictsOf asks for the verdict on each of several subjects.
func verdictsOf(subjects []Subject, verdict func(Subject) kb.Verdict) []kb.Verdict {
	list := make([]kb.Verdict, len(subjects))
	for i, s := range subjects {
		list[i] = verdict(s)
	}
	return list
}
