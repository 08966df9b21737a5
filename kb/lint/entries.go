package lint

import (
	"regexp"
	"strings"

	"relath/kb"
	"relath/kb/strict"
)

// checkEvidence holds the mark of every value to the kind of its source.
func checkEvidence(b *kb.Base, say report) {
	bases(b, func(basis kb.Basis, pos strict.Pos) {
		source := b.Source(basis.Source)
		if source == nil {
			return
		}
		practice, ours := source.Kind == "practice", source.Kind == "ours"
		switch basis.Evidence {
		case kb.Practice:
			if !practice {
				say(pos, "evidence practice with source %q of kind %s: common practice has no source but itself", basis.Source, source.Kind)
			}
		case kb.Read, kb.Reported, kb.Recalled:
			if practice || ours {
				say(pos, "evidence %s with source %q of kind %s", basis.Evidence, basis.Source, source.Kind)
			}
			if basis.Evidence == kb.Read && basis.Locator == "" {
				say(pos, "evidence read without a locator")
			}
		case kb.Assumed:
			if !ours {
				say(pos, "evidence assumed with source %q of kind %s: a default of ours has a source of kind ours", basis.Source, source.Kind)
			}
		}
	})
	values(b, func(v *kb.Value) {
		if v.Evidence == kb.Derived && v.Formula == "" {
			say(v.Pos, "evidence derived without a formula")
		}
	})
}

// checkBasis asks for a reason and a source of what is said in words.
func checkBasis(b *kb.Base, say report) {
	for _, m := range b.Materials {
		c := m.Composition
		said := c.Adhesive + c.Mineral + c.Plastic + c.Formaldehyde + c.Treatment + strings.Join(c.Food, "")
		if said != "" && c.Basis.Source == "" {
			say(m.Pos, "composition of %q has no basis", m.ID)
		}
		if m.Mold.Face != "" && (m.Mold.Why == "" || m.Mold.Basis.Source == "") {
			say(m.Pos, "mold class of %q needs why and basis", m.ID)
		}
		if m.Mold.Face == "" && m.Mold.Back != "" {
			say(m.Pos, "mold class of %q: the back has a class, the face none", m.ID)
		}
	}
}

// checkRecipes asks for everything that a trade needs. Cautions are not asked
// for: they are printed wherever their own conditions hold.
func checkRecipes(b *kb.Base, say report) {
	for _, r := range b.Recipes {
		needed := []struct{ name, text string }{
			{"worse", r.Worse},
			{"specify", r.Specify},
			{"build", r.Build},
			{"cure", r.Cure},
			{"inspect", r.Inspect},
			{"care", r.Care},
		}
		for _, n := range needed {
			if strings.TrimSpace(n.text) == "" {
				say(r.Pos, "swap %q: %s is missing", r.ID, n.name)
			}
		}
		if r.Part == "assembly" && len(r.Replaces) > 0 && strings.TrimSpace(r.Remove) == "" {
			say(r.Pos, "swap %q replaces layers: remove is missing, how they are opened and taken out", r.ID)
		}
		if len(r.Replaces) == 0 && len(r.After) == 0 && r.Coats == nil {
			say(r.Pos, "swap %q names nothing to replace, no place to add to and no coats", r.ID)
		}
		// A finish stands in a room, which has no facts that could turn it down.
		if r.Part != "finish" && len(r.Fits) == 0 && len(r.Unfit) == 0 {
			say(r.Pos, "swap %q fits everywhere: say where it does and where not", r.ID)
		}
	}
}

// checkLookups looks at tables that are only read.
func checkLookups(b *kb.Base, say report) {
	for _, l := range b.Lookups {
		if len(l.Editions) > 0 && len(l.Cautions) == 0 {
			say(l.Pos, "table %q is of a code and carries no caution about the adopted edition", l.ID)
		}
		evidence := l.Column("evidence")
		seen := map[string]int{}
		for _, row := range l.Rows {
			key := ""
			for i, cell := range row {
				if i != evidence {
					key += cell.Value + "|"
				}
			}
			if first, twice := seen[key]; twice {
				say(row[0].Pos, "the row stands twice (first in line %d)", first)
			}
			seen[key] = row[0].Pos.Line
			if evidence >= 0 && row[evidence].Value == "" {
				say(row[0].Pos, "the row has no mark of evidence")
			}
		}
	}
}

// checkExamples looks for houses, which other packages read.
func checkExamples(b *kb.Base, say report) {
	isHouse := func(pos strict.Pos, what, text string) {
		if !strings.HasPrefix(text, "format: 1") {
			say(pos, "%s is not a house: it begins with format: 1", what)
		}
	}
	pair := func(pos strict.Pos, avoid, prefer string) {
		isHouse(pos, "avoid", avoid)
		isHouse(pos, "prefer", prefer)
		if avoid == prefer {
			say(pos, "avoid and prefer are the same house")
		}
	}
	for _, r := range b.Rules {
		pair(r.Pos, r.Avoid, r.Prefer)
	}
	for _, t := range b.Tables {
		pair(t.Pos, t.Avoid, t.Prefer)
	}
	for _, s := range b.Starters {
		isHouse(s.Pos, "house", s.House)
	}
}

// kebab is an id: words of small letters and digits joined by hyphens.
var kebab = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

func checkIDs(b *kb.Base, say report) {
	entries(b, func(_, id string, pos strict.Pos) {
		if !kebab.MatchString(id) {
			say(pos, "id %q is not of small letters and digits joined by hyphens", id)
		}
	})
}

// checkPlaces orders the monthly figures.
func checkPlaces(b *kb.Base, say report) {
	for _, p := range b.Places {
		by := map[string]*kb.Series{}
		for i := range p.Months {
			by[p.Months[i].Quantity] = &p.Months[i]
		}
		if by["temperature"] == nil || by["humidity"] == nil && by["vapor-pressure"] == nil {
			say(p.Pos, "place %q needs temperature, and humidity or vapor-pressure", p.ID)
		}
		below(by["daily-minimum"], by["temperature"], say)
		below(by["temperature"], by["daily-maximum"], say)
		if h := by["humidity"]; h != nil {
			for _, x := range h.SI {
				if x <= 0 || x > 1 {
					say(h.Pos, "humidity %.3g lies outside 0 to 1", x)
				}
			}
		}
	}
}

// below reports months in which the lower series is above the upper one.
func below(lower, upper *kb.Series, say report) {
	if lower == nil || upper == nil {
		return
	}
	for i := range min(len(lower.SI), len(upper.SI)) {
		if lower.SI[i] > upper.SI[i] {
			say(lower.Pos, "month %d: %s is above %s", i+1, lower.Quantity, upper.Quantity)
		}
	}
}
