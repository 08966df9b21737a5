package quantity

import "strings"

// Suggest gives the candidate closest to a misspelled word, and "" when none is close. Closeness is the number of
// letters inserted, dropped, changed or swapped with a neighbor, without regard to case and to the difference between
// space, underscore and hyphen; about a third of the letters may differ. Of equal candidates the first in the alphabet wins.
func Suggest(word string, candidates []string) string {
	const longest = 64
	w := plainWord(word)
	if len(w) == 0 || len(w) > longest {
		return ""
	}
	best, bestDistance := "", 1+len(w)/3
	for _, c := range candidates {
		p := plainWord(c)
		if len(p) > longest {
			continue
		}
		d := distance(w, p)
		if d < bestDistance || d == bestDistance && (best == "" || c < best) {
			best, bestDistance = c, d
		}
	}
	return best
}

func plainWord(s string) []rune {
	return []rune(strings.NewReplacer("_", "-", " ", "-").Replace(strings.ToLower(s)))
}

// distance is the optimal string alignment distance of two words.
func distance(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
