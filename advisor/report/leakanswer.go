package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/kb"
	"relath/kb/quantity"
)

// beside is one of several walls with the same leak.
type beside struct {
	name string
	of   *analysis.LeakResult
}

// leakAnswer says in a few sentences how walls with the same leak compare.
func (p *page) leakAnswer(names []string, list []*analysis.LeakResult) {
	var walls []beside
	for i, r := range list {
		if r.Missing == "" {
			walls = append(walls, beside{names[i], r})
		}
	}
	if len(walls) < 2 || walls[0].of.Share > 0 {
		return
	}
	first := walls[0].of
	p.para(lead, marked(fmt.Sprintf("Each wall gets the same water: %s onto one of its layers within %g hours, the sheathing unless another is named. %s",
		p.both(first.Amount, quantity.AreaDensity), first.Over, everFirst(walls)), kb.Assumed))
	for i := range first.Cases {
		p.para(plain, say("On "+leakDate(first.Cases[i].On)+":"))
		p.list(caseAnswer(walls, i)...)
	}
	p.para(plain, say("These are the best values; the tables have the ranges. Normal means within 5 % of the water taken up of the same wall without the leak, for 7 days."))
}

// everFirst names the wall that is back to normal first in every case.
func everFirst(walls []beside) string {
	first := ""
	for i := range walls[0].of.Cases {
		spans := byTime(walls, func(c *analysis.LeakCase) analysis.Span { return c.Dry }, i)
		if len(spans) == 0 || !spans[0].span.Best || first != "" && spans[0].name != first {
			return ""
		}
		first = spans[0].name
	}
	return fmt.Sprintf("%s is back to normal first, whenever it leaks.", capital(first))
}

// caseAnswer compares the walls after one wetting, a line for each question.
func caseAnswer(walls []beside, i int) []Text {
	var lines []Text
	if words := ranked(walls, func(c *analysis.LeakCase) analysis.Span { return c.Wood }, i); words != "" {
		lines = append(lines, say("Wood is below 20 % again: "+words+"."))
	}
	return append(lines,
		say("Every layer is back to normal: "+ranked(walls, func(c *analysis.LeakCase) analysis.Span { return c.Dry }, i)+"."),
		say(takenWords(walls, i)), say(moldAnswer(walls, i)))
}

// timed is a wall with one of its times.
type timed struct {
	name string
	span analysis.Span
}

// byTime lists the walls by a time, the shortest first.
func byTime(walls []beside, of func(*analysis.LeakCase) analysis.Span, i int) []timed {
	var list []timed
	for _, w := range walls {
		if s := of(&w.of.Cases[i]); s.Applies {
			list = append(list, timed{w.name, s})
		}
	}
	slices.SortStableFunc(list, func(a, b timed) int { return cmp.Compare(a.span.Time.Best, b.span.Time.Best) })
	return list
}

// ranked words the walls by a time.
func ranked(walls []beside, of func(*analysis.LeakCase) analysis.Span, i int) string {
	var words []string
	for _, t := range byTime(walls, of, i) {
		words = append(words, t.name+" "+bestSpan(t.span))
	}
	return strings.Join(words, ", ")
}

// takenWords says what part of the water each wall takes up, and how much of that is
// there after a year.
func takenWords(walls []beside, i int) string {
	var taken, left []string
	for _, w := range walls {
		c := &w.of.Cases[i]
		taken = append(taken, fmt.Sprintf("%s takes up %.0f %%", w.name, 100*c.Kept.Best/c.Supplied.Best))
		if share := c.Residual.Best / c.Kept.Best; share > 0.01 {
			left = append(left, fmt.Sprintf("%s still has %.0f %% of that", w.name, 100*share))
		}
	}
	words := "Of the water: " + strings.Join(taken, ", ") + "; the rest runs off as liquid, and where it goes is not followed."
	if len(left) > 0 {
		words += " After a year " + strings.Join(left, ", ") + "."
	}
	return words
}

// moldAnswer says whether the mold index passes its limits, and where it is
// highest.
func moldAnswer(walls []beside, i int) string {
	var past []string
	most, where := 0.0, ""
	for _, w := range walls {
		for _, s := range w.of.Cases[i].Spots {
			if s.With.Best > most {
				most, where = s.With.Best, fmt.Sprintf("%s, %s", w.name, faceWords(w.of.Variant, s.Part, s.Side))
			}
			if s.With.Best > s.Limit && !slices.Contains(past, w.name) {
				past = append(past, w.name)
			}
		}
	}
	switch {
	case len(past) > 0:
		return fmt.Sprintf("The mold index passes its limit in %s; it is highest, %.1f, at %s.", join(past, "and"), most, where)
	case most < 0.05:
		return "The mold index stays at nothing."
	}
	return fmt.Sprintf("The mold index passes its limit of 3 inside and 1 toward rooms in none; it is highest, %.1f, at %s.", most, where)
}
