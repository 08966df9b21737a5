package drawing

import "strings"

// fit breaks a text into lines that each fit; a word that does not is broken.
func fit(text string, fits func(string) bool) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && fits(line+" "+word) {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for !fits(word) && len([]rune(word)) > 1 {
			head := longestFitting(word, fits)
			lines, word = append(lines, head), word[len(head):]
		}
		line = word
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// longestFitting gives the beginning of a word that fits, at least one letter.
func longestFitting(word string, fits func(string) bool) string {
	runes := []rune(word)
	n := 1
	for n < len(runes) && fits(string(runes[:n+1])) {
		n++
	}
	return string(runes[:n])
}
