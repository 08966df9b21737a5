package index

import (
	"cmp"
	"slices"

	"relath/kb"
)

// Result is the answer to a query.
type Result struct {
	Hits  []Hit
	Total int // hits before the limit

	Failed  int       // materials left out because a filter, the duty, the adhesive or the family does not hold
	NoData  []Missing // materials left out because the base lacks what is asked about
	Read    []Reading // words that were taken for others
	Ignored []string  // words that nothing in the base has
	Without []string  // what a hit must not be
	Instead string    // id of the material to be replaced, if any
}

// Missing counts what is left out because the base lacks a value.
type Missing struct {
	Of  string   // the property, or adhesive
	IDs []string // of the materials, sorted
}

// Hit is one entry that was found.
type Hit struct {
	Kind     Kind
	ID       string
	Name     string
	Summary  string
	Score    float64 // 0 where no words were given
	Why      []Reason
	Checks   []Check    // one for each filter, in the order of the query
	Adhesive Outcome    // of what the query says of the adhesive; empty where it says nothing
	Duties   []kb.Offer // on which terms the material takes the duties asked for
	Sorted   *Check     // the value it was sorted by; nil where it has none
}

// Check is a filter held against the value of a material.
type Check struct {
	Filter  Filter // only Property and Method are set where it stands for sorting
	Outcome Outcome
	Value   kb.Working
}

// hit is a Hit while it is made.
type hit struct {
	ref
	score  float64
	checks []Check
	duties []kb.Offer
	glue   Outcome
	sorted *Check
}

// Search answers a query. Equal hits are ordered by kind and id. The error is an
// [*InputError] where the query is at fault.
func (ix *Index) Search(q Query) (*Result, error) {
	c, err := ix.read(q)
	if err != nil {
		return nil, err
	}
	result := &Result{}
	var found []hit
	var asked *answer
	if q.Words != "" {
		if asked, err = ix.answer(q.Words, c.kinds); err != nil {
			return nil, err
		}
		found = asked.hits
		result.Read, result.Ignored, result.Without, result.Instead = asked.readings, asked.ignored, asked.without, asked.instead
	} else {
		for _, r := range ix.refs {
			found = append(found, hit{ref: r})
		}
	}
	found = c.filter(found, result)
	c.order(ix.base, found)
	result.Total = len(found)
	if q.Limit > 0 && len(found) > q.Limit {
		found = found[:q.Limit]
	}
	for _, h := range found {
		result.Hits = append(result.Hits, ix.finish(h, asked))
	}
	return result, nil
}

// finish makes a Hit of what was found.
func (ix *Index) finish(h hit, asked *answer) Hit {
	e := entryOf(ix.base, h.ref)
	done := Hit{Kind: h.kind, ID: h.id, Name: e.title, Summary: e.text, Score: h.score, Checks: h.checks, Adhesive: h.glue, Duties: h.duties, Sorted: h.sorted}
	if asked != nil {
		done.Why = asked.why(e)
	}
	return done
}

// filter keeps what holds, and counts what is left out.
func (c constraints) filter(found []hit, result *Result) []hit {
	missing := map[string][]string{}
	kept := found[:0]
	for _, h := range found {
		if len(c.kinds) > 0 && !slices.Contains(c.kinds, h.kind) {
			continue
		}
		if !c.ofMaterials() {
			kept = append(kept, h)
			continue
		}
		switch lacks, ok := c.holds(&h); {
		case ok:
			kept = append(kept, h)
		case lacks != "":
			missing[lacks] = append(missing[lacks], h.id)
		default:
			result.Failed++
		}
	}
	for of, ids := range missing {
		slices.Sort(ids)
		result.NoData = append(result.NoData, Missing{of, ids})
	}
	slices.SortFunc(result.NoData, func(a, b Missing) int { return cmp.Compare(a.Of, b.Of) })
	return kept
}

// holds says whether a material meets the query; lacks names what the base does
// not know of it, where nothing that it knows speaks against it.
func (c constraints) holds(h *hit) (lacks string, ok bool) {
	m := h.material()
	if c.family != "" && m.Family != c.family {
		return "", false
	}
	for _, d := range c.duties {
		if !d.takenBy(m, h) {
			return "", false
		}
	}
	switch h.glue = c.adhesive(m); h.glue {
	case Fails:
		return "", false
	case NoData:
		lacks = "adhesive"
	}
	for _, f := range c.filters {
		check := f.check(m)
		switch check.Outcome {
		case Fails:
			return "", false
		case NoData:
			lacks = cmp.Or(lacks, f.Property)
		}
		h.checks = append(h.checks, check)
	}
	return lacks, lacks == ""
}

// check holds a filter against a material.
func (f Filter) check(m *kb.Material) Check {
	w, ok := m.Working(f.Property, f.Method, 0)
	if !ok {
		return Check{Filter: f, Outcome: NoData}
	}
	return Check{Filter: f, Outcome: f.judge(w.SI), Value: w}
}

// takenBy says whether a material takes the duty, and notes on which terms.
func (d dutyWord) takenBy(m *kb.Material, h *hit) bool {
	if d.term != "" {
		return slices.Contains(m.Terms, d.term)
	}
	taken := false
	for _, o := range m.Duties {
		if o.Duty == d.duty && (d.as == "" || o.As == d.as) {
			taken = true
			h.duties = append(h.duties, o)
		}
	}
	return taken
}

// order sorts what was found. What has no value of the property comes last.
func (c constraints) order(b *kb.Base, found []hit) {
	if c.sort.property != nil {
		f := Filter{Property: c.sort.property.ID}
		if hasCups(c.sort.property.Dimension) {
			f.Method = kb.DryCup
		}
		for i := range found {
			if w, ok := found[i].material().Working(f.Property, f.Method, 0); ok {
				found[i].sorted = &Check{Filter: f, Value: w}
			}
		}
	}
	kinds := Kinds()
	slices.SortStableFunc(found, func(x, y hit) int {
		return cmp.Or(c.sort.compare(b, x, y), cmp.Compare(y.score, x.score), cmp.Compare(x.doubts(), y.doubts()),
			cmp.Compare(slices.Index(kinds, x.kind), slices.Index(kinds, y.kind)), cmp.Compare(x.id, y.id))
	})
}

// doubts counts the filters that hold only possibly.
func (h hit) doubts() int {
	n := flag(h.glue == Possibly)
	for _, check := range h.checks {
		n += flag(check.Outcome == Possibly)
	}
	return n
}

func (o order) compare(b *kb.Base, x, y hit) int {
	n := 0
	switch {
	case o.byName:
		n = cmp.Compare(entryOf(b, x.ref).title, entryOf(b, y.ref).title)
	case o.property == nil:
		return 0
	case x.sorted == nil || y.sorted == nil:
		return cmp.Compare(flag(x.sorted == nil), flag(y.sorted == nil))
	default:
		n = cmp.Compare(best(x), best(y))
	}
	if o.falling {
		return -n
	}
	return n
}

func best(h hit) float64 { return h.sorted.Value.SI.Best }

func flag(b bool) int {
	if b {
		return 1
	}
	return 0
}
