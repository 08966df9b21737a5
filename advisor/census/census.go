// Package census owns the state of the evidence in a base: how its numbers were
// obtained, where sources disagree, what cannot be simulated hour by hour, and
// which values decide the most. It counts; it judges no single value.
package census

import (
	"cmp"
	"context"
	"slices"

	"relath/advisor/analysis"
	"relath/kb"
)

// Census is the state of the evidence in a base.
type Census struct {
	Values     int     `json:"values"`     // that count; withdrawn ones stand apart
	Withdrawn  int     `json:"withdrawn"`  // kept for the record
	Marks      Tally   `json:"marks"`      // of all values
	Properties []Tally `json:"properties"` // the most values first
	Families   []Tally `json:"families"`   // the same; measured systems are a family
	Sources    []Tally `json:"sources"`

	Gaps          []Gap          `json:"gaps"`
	Disagreements []Disagreement `json:"disagreements"` // the widest apart first
	Hourly        Hourly         `json:"hourly"`
	Deciders      []Decider      `json:"deciders"` // those that decide the most first
}

// Tally counts values by mark of evidence, in the order of [kb.Evidence.Allowed].
type Tally struct {
	Name     string `json:"name"`
	Values   int    `json:"values"`
	ByMark   []int  `json:"by-mark"`
	Doubtful int    `json:"doubtful"` // of high doubt
}

// Gap names the layer materials that lack what the methods need.
type Gap struct {
	Property  string   `json:"property"`
	Materials []string `json:"materials"`
}

// Hourly says which materials the hourly model can take as layers.
type Hourly struct {
	Own      int         `json:"own"`       // with data of their own
	Borrowed []Shortfall `json:"stands-in"` // with stand-ins and defaults
	Unknown  []Shortfall `json:"unknown"`   // not at all
}

// Shortfall is what the hourly model misses of a material.
type Shortfall struct {
	Material string   `json:"material"`
	Why      []string `json:"why"`
}

// Take counts a base. The houses of its starters are analyzed to find the values
// that decide the most; it is an error when the context ends or an analysis
// fails.
func Take(ctx context.Context, b *kb.Base) (*Census, error) {
	c := &Census{}
	c.count(b)
	c.Gaps = gaps(b)
	c.Disagreements = disagreements(b)
	c.Hourly = hourly(b)
	var err error
	c.Deciders, err = deciders(ctx, b)
	return c, err
}

// count tallies every value.
func (c *Census) count(b *kb.Base) {
	all, properties, families, sources := tallies{}, tallies{}, tallies{}, tallies{}
	take := func(family string, values []kb.Value) {
		for i := range values {
			v := &values[i]
			if v.Withdrawn != "" {
				c.Withdrawn++
				continue
			}
			c.Values++
			all.add("all", v)
			properties.add(v.Property, v)
			families.add(family, v)
			sources.add(v.Source, v)
		}
	}
	for _, m := range b.Materials {
		take(m.Family, m.Values)
	}
	for _, s := range b.Systems {
		take("systems", s.Values)
	}
	if list := all.list(); len(list) > 0 {
		c.Marks = list[0]
	}
	c.Properties, c.Families, c.Sources = properties.list(), families.list(), sources.list()
}

// tallies counts by name.
type tallies map[string]*Tally

func (t tallies) add(name string, v *kb.Value) {
	x := t[name]
	if x == nil {
		x = &Tally{Name: name, ByMark: make([]int, len(kb.Evidence("").Allowed()))}
		t[name] = x
	}
	x.Values++
	if rank := v.Evidence.Rank(); rank < len(x.ByMark) {
		x.ByMark[rank]++
	}
	if v.Doubt == "high" {
		x.Doubtful++
	}
}

// list gives the tallies, the largest first, then by name.
func (t tallies) list() []Tally {
	list := make([]Tally, 0, len(t))
	for _, x := range t {
		list = append(list, *x)
	}
	slices.SortFunc(list, func(a, b Tally) int { return cmp.Or(cmp.Compare(b.Values, a.Values), cmp.Compare(a.Name, b.Name)) })
	return list
}

// gaps looks for what the steady methods need.
func gaps(b *kb.Base) []Gap {
	var list []Gap
	for _, property := range []string{"permeance", "thermal-resistance", "density", "area-density"} {
		g := Gap{Property: property}
		for _, m := range b.Materials {
			if _, ok := m.Working(property, kb.AnyMethod, 0); !ok && needs(m.Form, property) {
				g.Materials = append(g.Materials, m.ID)
			}
		}
		if len(g.Materials) > 0 {
			list = append(list, g)
		}
	}
	return list
}

// needs says whether the methods ask a property of a form: sheets and coats are
// vapor resistances with a mass per area, units and joints are no layers.
func needs(f kb.Form, property string) bool {
	switch f {
	case kb.Unit, kb.Joint:
		return false
	case kb.Sheet:
		return property == "permeance" || property == "area-density"
	case kb.Coat:
		return property == "permeance"
	case kb.Framing:
		return property != "permeance" && property != "area-density"
	}
	return property != "area-density"
}

// hourly tries every material that can be a layer with storage.
func hourly(b *kb.Base) Hourly {
	var h Hourly
	for _, m := range b.Materials {
		switch m.Form {
		case kb.Sheet, kb.Coat, kb.Unit, kb.Joint, kb.Framing:
			continue
		}
		s := analysis.Simulate(b, m)
		switch {
		case s.Lacks != "":
			h.Unknown = append(h.Unknown, Shortfall{Material: m.ID, Why: []string{s.Lacks}})
		case len(s.Assumed) > 0:
			h.Borrowed = append(h.Borrowed, Shortfall{Material: m.ID, Why: s.Assumed})
		default:
			h.Own++
		}
	}
	return h
}
