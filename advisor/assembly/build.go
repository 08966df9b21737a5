package assembly

import (
	"fmt"
	"slices"

	"relath/kb"
	"relath/kb/quantity"
	"relath/kb/strict"
)

// assembly resolves one described assembly with all its variants.
func (r *resolver) assembly(d *Described, index int) *Assembly {
	a := &Assembly{
		House: r.out, Described: d, Index: index, Name: d.Name.Value, Kind: d.Kind,
		Faces: d.Faces, Rain: d.Rain, State: d.State, Needs: r.duties(d.Needs),
	}
	before := len(r.problems)
	r.sides(a)
	r.measures(a)
	r.ground(a)
	r.space(a)
	if a.Rain == "" {
		a.Rain = "normal"
	}
	if a.State == "" {
		a.State = "proposed"
		if r.out.House.Built != 0 {
			a.State = "existing"
		}
		r.byDefault(path(a.Name, "state"), "the assembly is "+string(a.State), "")
	}
	b := &builder{resolver: r, of: a, doubtOf: make(map[any]int)}
	b.collect()
	if len(r.problems) == before {
		b.readings()
	}
	if len(r.problems) == before {
		b.variants()
	}
	return a
}

// rank orders sides from the weather to the room.
func rank(s Side) int {
	switch s {
	case "outdoors", "ground":
		return 0
	case "crawl":
		return 1
	case "attic":
		return 2
	case "garage":
		return 3
	}
	return 4
}

// firstSides gives the sides a kind of assembly may have first.
func firstSides(k Kind) []Side {
	switch k {
	case "wall":
		return []Side{"outdoors", "garage", "attic", "crawl"}
	case "roof":
		return []Side{"outdoors"}
	case "attic-floor":
		return []Side{"attic"}
	case "ceiling":
		return []Side{"attic", "room", "wet-room", "outdoors"}
	case "floor":
		return []Side{"outdoors", "crawl", "garage", "room"}
	case "slab", "basement-wall":
		return []Side{"ground"}
	}
	return []Side{"room", "wet-room"}
}

// secondSides gives the sides a kind of assembly may have second: a room, a wet
// room or a garage; for walls and roofs also the space that they close.
func secondSides(k Kind) []Side {
	inside := []Side{"room", "wet-room", "garage"}
	switch k {
	case "wall", "basement-wall":
		return append(inside, "attic", "crawl")
	case "roof":
		return append(inside, "attic")
	}
	return inside
}

// sides checks between: two sides that suit the kind, the weather side first.
func (r *resolver) sides(a *Assembly) {
	d := a.Described
	if len(d.Between) != 2 {
		r.problem(d.Pos, fmt.Sprintf("between of %q needs two sides", a.Name), "for example between: [outdoors, room]")
		return
	}
	a.Between = [2]Side{d.Between[0], d.Between[1]}
	if rank(a.Between[0]) > rank(a.Between[1]) {
		r.problem(d.Pos, fmt.Sprintf("between of %q lists the inner side first", a.Name),
			fmt.Sprintf("write between: [%s, %s] and list the layers from there", a.Between[1], a.Between[0]))
		return
	}
	r.allowed(d, a.Between[0], firstSides(a.Kind), "begin")
	r.allowed(d, a.Between[1], secondSides(a.Kind), "end")
}

// allowed notes a side that does not suit the kind.
func (r *resolver) allowed(d *Described, side Side, allowed []Side, verb string) {
	if slices.Contains(allowed, side) {
		return
	}
	words := make([]string, len(allowed))
	for i, s := range allowed {
		words[i] = string(s)
	}
	r.problem(d.Pos, fmt.Sprintf("a %s does not %s at %q", d.Kind, verb, side), strict.AllowedHint(string(side), words))
}

// measures reads the quantities of an assembly.
func (r *resolver) measures(a *Assembly) {
	d := a.Described
	read := func(m strict.Text, dim quantity.Dimension, into *float64, low, high float64, what, allowed string) {
		if m.IsZero() {
			return
		}
		if v, ok := m.SI(dim, r.problem); ok {
			*into = v
			r.within(m, v, low, high, what, allowed)
		}
	}
	read(d.Slope, quantity.Slope, &a.Slope, 0, 5, "slope", "0/12 to 60/12")
	read(d.Area, quantity.Area, &a.Area, 1e-6, 1e5, "area", "more than 0 and at most 100,000 m2")
	read(d.Openings, quantity.Area, &a.Openings, 0, 1e5, "openings", "0 to the area")
	read(d.BelowGrade, quantity.Length, &a.BelowGrade, 1e-6, 30, "depth below grade", "more than 0 and at most 100 ft")
	if a.Area > 0 && a.Openings > a.Area {
		r.problem(d.Openings.Pos, fmt.Sprintf("openings of %q are larger than its area", a.Name), "give the gross area and the openings in it")
	}
	if a.BelowGrade > 0 && a.Kind != "basement-wall" && a.Kind != "slab" {
		r.problem(d.BelowGrade.Pos, fmt.Sprintf("below-grade belongs to a basement-wall or a slab, not to a %s", a.Kind), "")
	}
}

// builder makes the variants of one assembly.
type builder struct {
	*resolver
	of      *Assembly
	doubtOf map[any]int // pointer into the description -> index of the doubt
}

// doubt registers a choice that has more than one answer.
func (b *builder) doubt(key any, d Doubt) {
	if len(d.Choices) < 2 {
		return
	}
	b.doubtOf[key] = len(b.of.Doubts)
	b.of.Doubts = append(b.of.Doubts, d)
}

// settled gives the choice of a doubt, or the only one there is.
func (b *builder) settled(key any, choices []string, pick []int) string {
	if i, ok := b.doubtOf[key]; ok {
		return choices[pick[i]]
	}
	return choices[0]
}

// ids gives the choices of a Choice as words.
func ids(c *Choice) []string {
	words := make([]string, len(c.OneOf))
	for i, one := range c.OneOf {
		words[i] = one.Value
	}
	return words
}

// variants builds one variant for each combination of doubts.
func (b *builder) variants() {
	for _, pick := range b.combinations() {
		v := &Variant{}
		for i, d := range b.of.Doubts {
			v.Settled = append(v.Settled, Settled{Doubt: i, Choice: d.Choices[pick[i]]})
		}
		for i := range b.of.Described.Layers {
			if part := b.part(i, pick); part != nil {
				v.Layers = append(v.Layers, part)
			}
		}
		if b.contradicted(v) {
			continue
		}
		if len(v.Layers) == 0 {
			b.problem(b.of.Described.Pos, fmt.Sprintf("assembly %q has no layer left when every doubt is none", b.of.Name), "give at least one layer that is there")
			return
		}
		b.of.Variants = append(b.of.Variants, v)
	}
	if len(b.of.Variants) == 0 && b.mostCombinations() > MaxVariants {
		b.problem(b.of.Described.Pos, fmt.Sprintf("readings of %q fit no way in which it may be built", b.of.Name), "mend the counts of coats in the description or in the readings")
	}
	b.corner()
}

// corner keeps the number of variants within its limit where readings left too
// many: every so many of them, the ends with them.
func (b *builder) corner() {
	all := b.of.Variants
	if len(all) <= MaxVariants {
		return
	}
	b.of.Cornered = true
	b.of.Variants = nil
	for i := range MaxVariants {
		b.of.Variants = append(b.of.Variants, all[i*(len(all)-1)/(MaxVariants-1)])
	}
}

// combinations lists the choices of all doubts, first choices first. Beyond
// MaxVariants it takes the ends of each doubt, and beyond that one doubt at a
// time.
func (b *builder) combinations() [][]int {
	sizes := make([][]int, len(b.of.Doubts))
	for i, d := range b.of.Doubts {
		for c := range d.Choices {
			sizes[i] = append(sizes[i], c)
		}
	}
	if product(sizes, b.mostCombinations()) {
		return cross(sizes)
	}
	b.of.Cornered = true
	for i, d := range b.of.Doubts {
		sizes[i] = []int{0, len(d.Choices) - 1}
	}
	if product(sizes, MaxVariants) {
		return cross(sizes)
	}
	out := [][]int{make([]int, len(sizes))}
	for i, ends := range sizes {
		if len(out) == MaxVariants {
			break
		}
		pick := make([]int, len(sizes))
		pick[i] = ends[1]
		out = append(out, pick)
	}
	return out
}

// product says whether the combinations of choices are at most so many.
func product(sizes [][]int, most int) bool {
	n := 1
	for _, s := range sizes {
		n *= len(s)
		if n > most {
			return false
		}
	}
	return true
}

// cross lists every combination, the last doubt moving fastest.
func cross(sizes [][]int) [][]int {
	out := [][]int{{}}
	for _, choices := range sizes {
		var next [][]int
		for _, prefix := range out {
			for _, c := range choices {
				next = append(next, append(append([]int(nil), prefix...), c))
			}
		}
		out = next
	}
	return out
}

// materialOf finds the material of a settled choice; nil means none.
func (b *builder) materialOf(key *Choice, pick []int) *kb.Material {
	id := b.settled(key, ids(key), pick)
	if id == None {
		return nil
	}
	return b.base.Material(id)
}
