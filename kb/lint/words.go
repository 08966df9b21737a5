package lint

import (
	"regexp"

	"relath/kb"
	"relath/kb/strict"
)

// tradeMark matches what marks a trade name or a company, in any text.
var tradeMark = regexp.MustCompile(`[®™℠]|\((?:R|TM|r|tm)\)|\b(?:Inc|LLC|Corp|GmbH|Ltd|Pty|S\.A)\b`)

// joinedCapitals matches a word with a capital inside, as trade names are
// written. Units and chemical formulas have no such run of small letters.
var joinedCapitals = regexp.MustCompile(`\b[A-Z][a-z]{2,}[A-Z][A-Za-z]*\b`)

// namesNotIn are fields where a capital inside a word is an author or a title.
var namesNotIn = map[string]bool{"Source": true, "Locator": true, "Note": true, "Formula": true, "Sources": true, "Places": true}

// TradeName gives what looks like a trade name or a company in a text, or
// nothing. It is for what is printed: names of sources may look like one.
func TradeName(text string) string {
	if m := tradeMark.FindString(text); m != "" {
		return m
	}
	return joinedCapitals.FindString(text)
}

func checkNames(b *kb.Base, say report) {
	seen := map[string]bool{}
	texts(b, nil, func(t text) {
		if m := tradeMark.FindString(t.value); m != "" {
			say(t.pos, "%q marks a trade name or a company: %s", m, clip(t.value))
			seen[t.value] = true
		}
	})
	texts(b, namesNotIn, func(t text) {
		if m := joinedCapitals.FindString(t.value); m != "" && !seen[t.value] {
			say(t.pos, "%q looks like a trade name", m)
		}
	})
}

// british matches spellings that are not American.
var british = regexp.MustCompile(`(?i)\b(vapours?|mould(s|y|ing)?|fib(re|res|reboard|reglass)|colours?|cent(re|res)|met(re|res)|lit(re|res)|aluminium|sulphate|grey|labour|moulded|catalogue|storeys?|tyres?)\b`)

// spellingNotIn are fields that repeat what others print, or what people type.
var spellingNotIn = map[string]bool{"Source": true, "Locator": true, "Also": true, "Synonyms": true, "Sources": true, "Places": true}

func checkSpelling(b *kb.Base, say report) {
	texts(b, spellingNotIn, func(t text) {
		if m := british.FindString(t.value); m != "" {
			say(t.pos, "%q is not American spelling", m)
		}
	})
}

func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

// checkUnused finds sources, terms, properties, models, cautions and duties
// that nothing in the base refers to.
func checkUnused(b *kb.Base, say report) {
	used := usedWords(b)
	for _, s := range b.Sources {
		used.want("source", s.ID, s.Pos, say)
	}
	for _, t := range b.Terms {
		used.want("term", t.ID, t.Pos, say)
	}
	for _, p := range b.Properties {
		used.want("property", p.ID, p.Pos, say)
	}
	for _, m := range b.Models {
		used.want("model", m.ID, m.Pos, say)
	}
	for _, d := range b.Duties {
		used.want("duty", d.ID, d.Pos, say)
	}
	for _, c := range b.Cautions {
		if len(c.When) == 0 {
			used.want("caution", c.ID, c.Pos, say)
		}
	}
	// A condition on a term that no material carries can never hold.
	b.Conditions(func(c *kb.Condition) {
		f := b.Fact(c.Fact)
		if f == nil || f.Of != "terms" {
			return
		}
		for _, w := range c.Words {
			if !used["term of a material "+w] {
				say(c.Pos, "no material carries the term %q", w)
			}
		}
	})
}

// uses holds what is referred to, as "source irc".
type uses map[string]bool

func (u uses) want(sort, id string, pos strict.Pos, say report) {
	if !u[sort+" "+id] {
		say(pos, "%s %q is not used", sort, id)
	}
}

func (u uses) add(sort string, ids ...string) {
	for _, id := range ids {
		u[sort+" "+id] = true
	}
}

func usedWords(b *kb.Base) uses {
	u := uses{}
	bases(b, func(basis kb.Basis, _ strict.Pos) { u.add("source", basis.Source) })
	values(b, func(v *kb.Value) {
		u.add("source", v.ReplacedBy)
		u.add("property", v.Property)
	})
	for _, m := range b.Materials {
		u.add("term", m.Terms...)
		u.add("term of a material", m.Terms...)
		u.add("caution", m.Cautions...)
		for _, o := range m.Duties {
			u.add("duty", o.Duty)
		}
	}
	for _, p := range b.Properties {
		u.add("source", p.Source)
	}
	for _, f := range b.Facts {
		u.add("model", f.Model)
	}
	for _, r := range b.Recipes {
		u.add("caution", r.Cautions...)
	}
	for _, r := range b.Rules {
		u.add("caution", r.Cautions...)
	}
	for _, t := range b.Tables {
		u.add("caution", t.Cautions...)
	}
	for _, m := range b.Measurements {
		u.add("caution", m.Cautions...)
	}
	return u
}
