package rule

import (
	"fmt"
	"slices"
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
	f := t.Base.Fact(c.Fact)
	switch {
	case f == nil:
	case f.Of == "" && len(e.Words) == 1 && slices.Contains(f.Words, "yes"):
		return f.Title + ": " + e.Words[0]
	case f.Of == "" && len(e.Words) == 1, f.Of == "" && e.Mixed:
		return fmt.Sprintf("%s is %s", f.Title, strings.Join(e.Words, " or "))
	case f.Of != "":
		want = strings.ReplaceAll(want, "-", " ")
	}
	return fmt.Sprintf("%s %s %s", t.title(c.Fact), verb, want)
}

// limitText words a comparison: "permeance 0.7 perm (0.3 to 0.8) is under 1 perm".
func (t Tester) limitText(c *kb.Condition, e analysis.Estimate) string {
	f := t.Base.Fact(c.Fact)
	if f == nil {
		return c.Fact
	}
	holds, fails := verbs(c.Op)
	verb := holds
	switch compared(e.Range, c) {
	case kb.No:
		verb = fails
	case kb.Depends:
		verb = "lies on both sides of"
	}
	return fmt.Sprintf("%s %s %s %s", f.Title, t.Value(c.Fact, e), verb, t.limit(c))
}

// verbs words a comparison that holds and one that fails.
func verbs(op string) (holds, fails string) {
	switch op {
	case "over":
		return "is over", "is not over"
	case "under":
		return "is under", "is not under"
	case "at-least":
		return "is at least", "is less than"
	}
	return "is at most", "is more than"
}

// limit words the limit of a comparison.
func (t Tester) limit(c *kb.Condition) string {
	f := t.Base.Fact(c.Fact)
	if f == nil {
		return c.Limit
	}
	return quantity.Format(c.LimitSI.Best, f.Dimension, t.System)
}

// phrases words what conditions ask for, without saying whether it is so:
// "kind of material: osb or plywood, side of the bay: outside".
func (t Tester) phrases(conditions []kb.Condition) string {
	list := make([]string, len(conditions))
	for i := range conditions {
		list[i] = t.phrase(&conditions[i])
	}
	return strings.Join(list, ", ")
}

func (t Tester) phrase(c *kb.Condition) string {
	switch {
	case c.Join == "not":
		return "not " + t.phrases(c.Nested)
	case c.Join == "any":
		list := make([]string, len(c.Nested))
		for i := range c.Nested {
			list[i] = t.phrase(&c.Nested[i])
		}
		return strings.Join(list, " or ")
	case c.Join != "":
		return t.phrases(c.Nested)
	case c.Known == "yes":
		return t.title(c.Fact) + " known"
	case c.Known == "no":
		return t.title(c.Fact) + " not known"
	case c.Flag != "":
		return t.title(c.Fact) + ": " + c.Flag
	case len(c.Words) > 0:
		return t.title(c.Fact) + ": " + strings.Join(c.Words, " or ")
	}
	holds, _ := verbs(c.Op)
	return t.title(c.Fact) + " " + strings.TrimPrefix(holds, "is ") + " " + t.limit(c)
}

// Fill puts the name of a layer and the values of facts into a sentence.
func (t Tester) Fill(text, layer string, s Subject) string {
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
