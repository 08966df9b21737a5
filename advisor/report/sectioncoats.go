package report

import (
	"fmt"
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
)

// coatChoices says the coats of both faces over all variants, a line for each
// face that has any.
func (s *cutting) coatChoices(part *assembly.Part) []string {
	var lines []string
	for _, face := range []struct {
		name string
		of   func(*assembly.Part) []*kb.Material
	}{
		{"outside", func(p *assembly.Part) []*kb.Material { return p.CoatsOut }},
		{"inside", func(p *assembly.Part) []*kb.Material { return p.CoatsIn }},
	} {
		var choices [][]coatRun
		for _, p := range s.everyPart(part.Layer) {
			if p != nil {
				choices = append(choices, coatRunsOf(face.of(p)))
			}
		}
		if words := coatChoiceWords(choices); words != "" {
			lines = append(lines, face.name+": "+words)
		}
	}
	return lines
}

// coatRun is a number of equal coats, one over the other.
type coatRun struct {
	name string
	n    int
}

func coatRunsOf(coats []*kb.Material) []coatRun {
	var runs []coatRun
	for _, c := range coats {
		if name := lower(c.Name); len(runs) > 0 && runs[len(runs)-1].name == name {
			runs[len(runs)-1].n++
		} else {
			runs = append(runs, coatRun{name, 1})
		}
	}
	return runs
}

// coatChoiceWords says choices of coats in short: what differs in number only
// is said once.
func coatChoiceWords(choices [][]coatRun) string {
	var words []string
	for len(choices) > 0 {
		first := choices[0]
		var alike, others [][]coatRun
		for _, c := range choices {
			if slices.EqualFunc(c, first, func(a, b coatRun) bool { return a.name == b.name }) {
				alike = append(alike, c)
			} else {
				others = append(others, c)
			}
		}
		words = append(words, runWords(alike))
		choices = others
	}
	if len(words) == 1 && words[0] == "bare" {
		return ""
	}
	return join(words, "or")
}

// runWords says runs that differ in number only.
func runWords(alike [][]coatRun) string {
	var words []string
	for i := range alike[0] {
		var counts []int
		for _, c := range alike {
			counts = append(counts, c[i].n)
		}
		word := alike[0][i].name
		if text := countsWords(counts); text != "1" {
			word = text + " × " + word
		}
		words = append(words, word)
	}
	if len(words) == 0 {
		return "bare"
	}
	return join(words, "and")
}

// countsWords says numbers in short: 2 or 3; 8 to 15.
func countsWords(counts []int) string {
	slices.Sort(counts)
	counts = slices.Compact(counts)
	first, last := counts[0], counts[len(counts)-1]
	if len(counts) > 2 && last-first == len(counts)-1 {
		return fmt.Sprintf("%d to %d", first, last)
	}
	var words []string
	for _, n := range counts {
		words = append(words, fmt.Sprint(n))
	}
	return join(words, "or")
}
