package index

import (
	"fmt"
	"slices"
	"strings"

	"relath/kb"
	"relath/kb/quantity"
)

// Query is what is looked for. All that is given must hold.
type Query struct {
	Words    string   // as a builder would ask
	Duty     []string // each a duty, a place in a chain of duties, or a word of the vocabulary such as sheathing
	Filters  []Filter
	Adhesive string // empty or any: whatever; none: no glue; some: with glue; else words of the adhesive
	Kind     []Kind // empty: all kinds
	Family   string // folder of the materials
	Sort     string // a property, rising; with "-" before it falling; "name"; empty: by how well it answers
	Limit    int    // 0: all
}

// constraints is a query that has been read.
type constraints struct {
	duties  []dutyWord
	filters []Filter
	glue    string
	kinds   []Kind
	family  string
	sort    order
}

// dutyWord is one wanted duty.
type dutyWord struct {
	written string
	duty    string // id of a duty, or empty
	as      string // place in a chain, or empty
	term    string // word of the vocabulary, or empty
}

// order says by what hits are sorted.
type order struct {
	property *kb.Property
	falling  bool
	byName   bool
}

// ofMaterials says whether only materials and coatings can answer.
func (c constraints) ofMaterials() bool {
	return len(c.duties) > 0 || len(c.filters) > 0 || c.glue != "" || c.family != "" || c.sort.property != nil
}

// read checks the parts of a query. The error is an [*InputError].
func (ix *Index) read(q Query) (constraints, error) {
	c := constraints{filters: q.Filters, kinds: q.Kind}
	for _, k := range q.Kind {
		if !slices.Contains(Kinds(), k) {
			return c, wrongWord("kind", string(k), kindNames())
		}
	}
	for _, f := range q.Filters {
		if ix.base.Property(f.Property) == nil {
			return c, wrongWord("filter", f.Property, propertyNames(ix.base))
		}
	}
	for _, word := range q.Duty {
		d, err := ix.duty(word)
		if err != nil {
			return c, err
		}
		c.duties = append(c.duties, d)
	}
	if a := strings.ToLower(strings.TrimSpace(q.Adhesive)); a != "any" {
		c.glue = a
	}
	if err := ix.readFamily(&c, q.Family); err != nil {
		return c, err
	}
	if err := ix.readSort(&c, q.Sort); err != nil {
		return c, err
	}
	if !c.ofMaterials() {
		return c, nil
	}
	if len(c.kinds) == 0 {
		c.kinds = []Kind{Material, Coating}
	}
	for _, k := range c.kinds {
		if k != Material && k != Coating {
			return c, &InputError{Part: "kind", Text: string(k), Message: "duty, adhesive, family, filters and sorting by a property are about materials and coatings"}
		}
	}
	return c, nil
}

func kindNames() []string {
	var all []string
	for _, k := range Kinds() {
		all = append(all, string(k))
	}
	return all
}

// wrongWord makes the error for a word that is none of those allowed.
func wrongWord(part, word string, allowed []string) error {
	e := &InputError{Part: part, Text: word, Message: fmt.Sprintf("%q is not known", word)}
	if meant := quantity.Suggest(word, allowed); meant != "" {
		e.Hint = fmt.Sprintf("did you mean %q?", meant)
	} else if len(allowed) <= 30 {
		e.Hint = "allowed are " + strings.Join(allowed, ", ")
	}
	return e
}

// duty reads the name of a duty, of a place in a chain, or of a term.
func (ix *Index) duty(word string) (dutyWord, error) {
	id := strings.ToLower(strings.Join(strings.Fields(word), "-"))
	d := dutyWord{written: id}
	var known []string
	for _, duty := range ix.base.Duties {
		known = append(known, duty.ID)
		known = append(known, duty.Order...)
		switch {
		case duty.ID == id:
			d.duty = id
			return d, nil
		case slices.Contains(duty.Order, id) && ix.base.Term(id) == nil:
			d.duty, d.as = duty.ID, id
			return d, nil
		}
	}
	if ix.base.Term(id) != nil {
		d.term = id
		return d, nil
	}
	for _, t := range ix.base.Terms {
		known = append(known, t.ID)
	}
	return d, wrongWord("duty", word, known)
}

func (ix *Index) readFamily(c *constraints, family string) error {
	if family == "" {
		return nil
	}
	var known []string
	for _, m := range ix.base.Materials {
		if m.Family == family {
			c.family = family
			return nil
		}
		if !slices.Contains(known, m.Family) {
			known = append(known, m.Family)
		}
	}
	return wrongWord("family", family, known)
}

func (ix *Index) readSort(c *constraints, text string) error {
	name, falling := strings.CutPrefix(text, "-")
	switch name {
	case "":
		return nil
	case "name":
		c.sort = order{byName: true, falling: falling}
		return nil
	}
	about := findProperty(ix.base, name)
	if about == nil {
		return wrongWord("sort", name, append(propertyNames(ix.base), "name"))
	}
	c.sort = order{property: about, falling: falling}
	return nil
}
