package report

import "strings"

// pattern says the sentence of a rule or table without an assembly: where a
// value would stand it names the fact in brackets.
func (p *page) pattern(text string) string {
	for _, f := range p.Base.Facts {
		text = strings.ReplaceAll(text, "{"+f.ID+"}", "["+f.Title+"]")
	}
	return strings.ReplaceAll(text, "{layer}", "[the layer]")
}
