package index

import (
	"math"
	"slices"
)

// literalFactor is for a name that has the words as they were asked, not only
// others of the same meaning.
const literalFactor = 1.5

// fit says how well one of the names fits the question: about 1 where it has all
// that is asked for and nothing else.
func (a *answer) fit(names []name) float64 {
	best := 0.0
	for _, n := range names {
		recall, precision := a.recall(n), a.precision(n)
		if recall > 0 && precision > 0 {
			best = math.Max(best, 2*recall*precision/(recall+precision))
		}
	}
	return best
}

// recall gives the share of the question that a name has.
func (a *answer) recall(n name) float64 {
	has, sum, factor := 0.0, 0.0, 1.0
	literal := true
	for _, u := range a.units {
		if u.pair {
			continue
		}
		sum += u.weight
		if u.in(n.tokens) {
			has += u.weight
		}
		if u.noun && !u.in(n.head) {
			factor = notOne
		}
		literal = literal && (u.place || containsAll(n.tokens[:n.plain], u.stems))
	}
	if has == 0 {
		return 0
	}
	if literal {
		has *= literalFactor
	}
	return factor * has / sum
}

func containsAll(all, some []string) bool {
	return !slices.ContainsFunc(some, func(s string) bool { return !slices.Contains(all, s) })
}

// precision gives the share of the words of a name that are asked for.
func (a *answer) precision(n name) float64 {
	count, has, word := 0, 0, 0
	for _, p := range n.pieces {
		if !p.isStop() {
			count++
			if a.asksFor(p, n.pairs, word) {
				has++
			}
		}
		word += len(p.words)
	}
	if count == 0 {
		return 0
	}
	return float64(has) / float64(count)
}

// asksFor says whether a piece of a name, which begins at a word, is asked for,
// alone or written together with its neighbor.
func (a *answer) asksFor(p piece, pairs []string, word int) bool {
	first, last := word-1, word+len(p.words)-1
	for _, u := range a.units {
		for _, t := range u.tokens {
			if t == p.group || t == p.stem || first >= 0 && t == pairs[first] || last < len(pairs) && t == pairs[last] {
				return true
			}
		}
	}
	return false
}

// in says whether one of the tokens of the unit is among those of a text.
func (u unit) in(tokens []string) bool {
	return slices.ContainsFunc(u.tokens, func(t string) bool { return slices.Contains(tokens, t) })
}
