package census

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
)

// Decider is a value that moves facts of typical houses. A value without a range
// was moved by a tenth.
type Decider struct {
	Material string      `json:"material"`
	Property string      `json:"property"`
	Source   string      `json:"source,omitempty"`
	Evidence kb.Evidence `json:"evidence"`
	First    int         `json:"first"` // facts that it moves the most of all values
	Moves    int         `json:"moves"` // facts that it moves by more than a twentieth
}

// deciders analyzes the houses of the starters and adds up the drivers of their
// facts.
func deciders(ctx context.Context, b *kb.Base) ([]Decider, error) {
	by := map[deciding]*Decider{}
	for _, s := range b.Starters {
		house, doc, problems := assembly.Parse(s.ID, []byte(s.House))
		if len(problems) > 0 {
			return nil, problems
		}
		resolved, problems := assembly.Resolve(house, doc, b)
		if len(problems) > 0 {
			return nil, problems
		}
		for _, a := range resolved.Assemblies {
			r, err := analysis.Run(ctx, b, a)
			if err != nil {
				return nil, errors.Join(errors.New("starter "+s.ID), err)
			}
			for _, v := range r.Variants {
				addDrivers(by, v.Facts)
			}
		}
	}
	return sorted(by), nil
}

// deciding names a value.
type deciding struct{ material, property, source string }

// least is the share of a fact by which an input must move it to be counted.
const least = 0.05

func addDrivers(by map[deciding]*Decider, facts analysis.Facts) {
	for _, e := range facts {
		for i, d := range e.Drivers {
			if moved := math.Abs(d.High - d.Low); !(moved > least*math.Abs(e.Range.Best)) {
				continue
			}
			x := deciderOf(by, d.Input)
			x.Moves++
			if i == 0 {
				x.First++
			}
		}
	}
}

func deciderOf(by map[deciding]*Decider, in analysis.Input) *Decider {
	key := deciding{material: in.Material, property: in.Property}
	mark := kb.Assumed
	if in.Value != nil {
		key.property, key.source, mark = in.Value.Property, in.Value.Source, in.Value.Mark()
	}
	if by[key] == nil {
		by[key] = &Decider{Material: key.material, Property: key.property, Source: key.source, Evidence: mark}
	}
	return by[key]
}

// sorted gives the deciders, those that are first the most often first.
func sorted(by map[deciding]*Decider) []Decider {
	list := make([]Decider, 0, len(by))
	for _, d := range by {
		list = append(list, *d)
	}
	slices.SortFunc(list, func(a, b Decider) int {
		return cmp.Or(cmp.Compare(b.First, a.First), cmp.Compare(b.Moves, a.Moves),
			cmp.Compare(a.Material, b.Material), cmp.Compare(a.Property, b.Property), cmp.Compare(a.Source, b.Source))
	})
	return list
}
