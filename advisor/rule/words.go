package rule

import (
	"fmt"
	"strings"

	"relath/advisor/analysis"
	"relath/kb"
	"relath/kb/quantity"
)

// title gives the title of a fact.
func (t Tester) title(id string) string {
	if f := t.Base.Fact(id); f != nil {
		return f.Title
	}
	return id
}

// Value words an estimate: a range with its unit, words, or yes and no.
func (t Tester) Value(id string, e analysis.Estimate) string {
	f := t.Base.Fact(id)
	switch {
	case f == nil:
		return ""
	case !e.Known:
		return "not known"
	case f.Type == "words" && len(e.Words) == 0:
		return "none"
	case f.Type == "words":
		return strings.Join(e.Words, joiner(e.Mixed))
	case f.Type == "flag":
		return flagWord(e)
	}
	return quantity.FormatRange(e.Range, f.Dimension, t.System)
}

func joiner(mixed bool) string {
	if mixed {
		return " or "
	}
	return ", "
}

func flagWord(e analysis.Estimate) string {
	switch {
	case e.Mixed:
		return "depends"
	case e.Flag:
		return "yes"
	}
	return "no"
}

func missing(title string, e analysis.Estimate) string {
	if e.Missing != "" {
		return title + " is not known: " + e.Missing
	}
	return title + " is not known"
}

func (t Tester) flagText(c *kb.Condition, e analysis.Estimate) string {
	return t.title(c.Fact) + ": " + flagWord(e)
}

func (t Tester) wordText(c *kb.Condition, e analysis.Estimate) string {
	verb := "is"
	if worded(e, c.Words) == kb.No {
		verb = "is not"
	}
	want := strings.Join(c.Words, " or ")
	if f := t.Base.Fact(c.Fact); f != nil && f.Of == "" && len(e.Words) == 1 {
		return fmt.Sprintf("%s is %s", f.Title, e.Words[0])
	}
	return fmt.Sprintf("%s %s %s", t.title(c.Fact), verb, want)
}

// limitText words a comparison: "permeance 0.7 perm (0.3 to 0.8) is under 1 perm".
func (t Tester) limitText(c *kb.Condition, e analysis.Estimate) string {
	f := t.Base.Fact(c.Fact)
	if f == nil {
		return c.Fact
	}
	words := map[string][2]string{
		"over": {"is over", "is not over"}, "under": {"is under", "is not under"},
		"at-least": {"is at least", "is less than"}, "at-most": {"is at most", "is more than"},
	}[c.Op]
	verb := words[0]
	switch compared(e.Range, c) {
	case kb.No:
		verb = words[1]
	case kb.Depends:
		verb = "may or may not be on the right side of"
		if c.Op != "" {
			verb = "lies on both sides of"
		}
	}
	limit := quantity.Format(c.LimitSI.Best, f.Dimension, t.System)
	return fmt.Sprintf("%s %s %s %s", f.Title, t.Value(c.Fact, e), verb, limit)
}

// fill puts the layer and the values of facts into a sentence.
func (t Tester) fill(text, layer string, s Subject) string {
	for _, piece := range placeholders(text) {
		value := layer
		if piece != "layer" {
			at := -1
			for i := range s.Layers {
				if s.Layers[i].Part.Name == layer {
					at = i
				}
			}
			e, _, _ := t.lookup(piece, s, at)
			value = t.Value(piece, e)
		}
		text = strings.ReplaceAll(text, "{"+piece+"}", value)
	}
	return text
}

// placeholders lists what stands in braces.
func placeholders(text string) []string {
	var list []string
	for {
		_, rest, ok := strings.Cut(text, "{")
		if !ok {
			return list
		}
		name, after, ok := strings.Cut(rest, "}")
		if !ok {
			return list
		}
		list = append(list, name)
		text = after
	}
}
