package assembly

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"relath/kb/quantity"
	"relath/kb/strict"
)

// Taken is a reading on a layer and what became of it.
type Taken struct {
	Layer    string  // name of the layer
	Index    int     // of the layer in the description
	Date     string  // as written
	Month    int     // from January, 0 to 11
	What     string  // in words
	Before   string  // what the description left open and the reading settles; empty for wood moisture
	Moisture float64 // of wood, by mass; 0 for other readings
}

// mostNarrowed bounds the combinations of doubts that a count of all coats of a
// face is held against.
const mostNarrowed = 4096

// forReadings copies what readings change of a description; without any it is
// the description itself.
func forReadings(h *House) *House {
	if !slices.ContainsFunc(h.Assemblies, func(d Described) bool { return len(d.Readings) > 0 }) {
		return h
	}
	own := *h
	own.Assemblies = slices.Clone(h.Assemblies)
	for i := range own.Assemblies {
		d := &own.Assemblies[i]
		if len(d.Readings) == 0 {
			continue
		}
		d.Readings = slices.Clone(d.Readings)
		d.Layers = slices.Clone(d.Layers)
		for k := range d.Layers {
			l := &d.Layers[k]
			l.Fill = slices.Clone(l.Fill)
			if l.Coats != nil {
				l.Coats = &Coats{Pos: l.Coats.Pos, In: slices.Clone(l.Coats.In), Out: slices.Clone(l.Coats.Out)}
			}
		}
	}
	return &own
}

// readings checks what was found on site and writes into the description what
// it settles; the doubts that are left are collected anew. A count of coats that
// several runs share stays, to be held against each combination.
func (b *builder) readings() {
	d := b.of.Described
	if len(d.Readings) == 0 {
		return
	}
	before := len(b.problems)
	var kept []Reading
	for i := range d.Readings {
		if keep := b.reading(&d.Readings[i]); keep {
			kept = append(kept, d.Readings[i])
		}
	}
	d.Readings = kept
	b.of.Doubts, b.doubtOf = nil, make(map[any]int)
	if len(b.problems) == before {
		b.collect()
	}
}

// reading takes one reading, and says whether the description has to keep it.
func (b *builder) reading(r *Reading) (keep bool) {
	index := slices.IndexFunc(b.of.Described.Layers, func(l Layer) bool { return l.Name.Value == r.Layer.Value })
	if index < 0 {
		var names []string
		for _, l := range b.of.Described.Layers {
			names = append(names, l.Name.Value)
		}
		b.problem(r.Layer.Pos, fmt.Sprintf("reading: %q has no layer %q", b.of.Name, r.Layer.Value), strict.AllowedHint(r.Layer.Value, names))
		return false
	}
	taken := Taken{Layer: r.Layer.Value, Index: index, Date: r.Date.Value, Month: -1}
	if t, ok := b.day(r.Date, false); ok {
		taken.Month = int(t.Month()) - 1
	}
	given := 0
	for _, text := range []strict.Text{r.Is, r.Coats, r.Coating, r.WoodMoisture} {
		if !text.IsZero() {
			given++
		}
	}
	if given != 1 {
		b.problem(r.Pos, fmt.Sprintf("reading on %q needs exactly one of is, coats, coating and wood-moisture", r.Layer.Value), "write one reading for each thing found")
		return false
	}
	if r.Face != "" && r.Coats.IsZero() && r.Coating.IsZero() {
		b.problem(r.Pos, fmt.Sprintf("reading on %q: face belongs to coats", r.Layer.Value), "")
		return false
	}
	l := &b.of.Described.Layers[index]
	switch {
	case !r.Is.IsZero():
		b.readMaterial(r, l, &taken)
	case !r.Coating.IsZero():
		b.readCoating(r, l, &taken)
	case !r.Coats.IsZero():
		keep = b.readCoats(r, l, &taken)
	default:
		keep = b.readMoisture(r, &taken)
	}
	b.of.Taken = append(b.of.Taken, taken)
	return keep
}

// day reads a date as YYYY-MM-DD, with months also as YYYY-MM.
func (r *resolver) day(text strict.Text, months bool) (time.Time, bool) {
	t, err := time.Parse(time.DateOnly, text.Value)
	if err == nil {
		return t, true
	}
	hint := "for example 2026-01-14"
	if months {
		if t, err = time.Parse("2006-01", text.Value); err == nil {
			return t, true
		}
		hint += ", or 2026-01 for the mean of a month"
	}
	if !text.IsZero() {
		r.problem(text.Pos, fmt.Sprintf("date %q is no date", text.Value), hint)
	}
	return t, false
}

// readMaterial settles what a layer, or the fill of a bay, is made of.
func (b *builder) readMaterial(r *Reading, l *Layer, taken *Taken) {
	of := []*Choice{&l.Material}
	if l.Framing != nil {
		of = nil
		for i := range l.Fill {
			of = append(of, &l.Fill[i].Material)
		}
	}
	taken.What = fmt.Sprintf("%s is %s", l.Name.Value, b.nameOf(r.Is.Value))
	b.settle(r.Is, l, of, taken)
}

// readCoating settles what a coating is.
func (b *builder) readCoating(r *Reading, l *Layer, taken *Taken) {
	runs, face, ok := b.coatedFace(r, l)
	if !ok {
		return
	}
	var of []*Choice
	for i := range runs {
		of = append(of, &runs[i].Coating)
	}
	taken.What = fmt.Sprintf("the coating on the %s of %s is %s", face, l.Name.Value, b.nameOf(r.Coating.Value))
	b.settle(r.Coating, l, of, taken)
}

// settle writes what was found over the doubt that names it.
func (b *builder) settle(found strict.Text, l *Layer, of []*Choice, taken *Taken) {
	var all []string
	for _, c := range of {
		if slices.ContainsFunc(c.OneOf, func(id strict.Text) bool { return id.Value == found.Value }) {
			if len(c.OneOf) > 1 {
				taken.Before = c.String()
			}
			*c = Choice{Pos: c.Pos, OneOf: []strict.Text{{Value: found.Value, Pos: c.Pos}}}
			return
		}
		all = append(all, ids(c)...)
	}
	hint := "nothing that it could be is described"
	if len(all) > 0 {
		hint = strict.AllowedHint(found.Value, all)
	}
	b.problem(found.Pos, fmt.Sprintf("reading: the description does not allow %q for %q", found.Value, l.Name.Value), hint)
}

// coatedFace finds the face that a reading of coats is about.
func (b *builder) coatedFace(r *Reading, l *Layer) (runs []CoatRun, face string, ok bool) {
	if l.Coats == nil {
		l.Coats = &Coats{}
	}
	if r.Face == "" && len(l.Coats.In) > 0 && len(l.Coats.Out) > 0 {
		b.problem(r.Pos, fmt.Sprintf("reading: both faces of %q have coats", l.Name.Value), "add face: in or face: out")
		return nil, "", false
	}
	if r.Face == "out" || r.Face == "" && len(l.Coats.Out) > 0 {
		return l.Coats.Out, "outer face", true
	}
	return l.Coats.In, "inner face", true
}

// readCoats narrows the numbers of coats of a face to those that can make up the
// count, and says whether more than one way is left.
func (b *builder) readCoats(r *Reading, l *Layer, taken *Taken) (keep bool) {
	runs, face, ok := b.coatedFace(r, l)
	if !ok {
		return false
	}
	total, err := strconv.Atoi(r.Coats.Value)
	if err != nil || strconv.Itoa(total) != r.Coats.Value || total < 0 {
		b.problem(r.Coats.Pos, fmt.Sprintf("reading: coats %q is no number of coats", r.Coats.Value), "the number of all coats on the face, such as 4")
		return false
	}
	low, high := 0, 0
	for i := range runs {
		l, h := numbers(&runs[i])
		low, high = low+l, high+h
	}
	if total < low || total > high {
		allowed := fmt.Sprintf("%d to %d", low, high)
		if low == high {
			allowed = strconv.Itoa(low)
		}
		b.problem(r.Coats.Pos, fmt.Sprintf("reading: %d coats on the %s of %q, the description allows %s", total, face, l.Name.Value, allowed),
			"a primer is a coat; mend the count in the description, or the reading")
		return false
	}
	taken.What = fmt.Sprintf("%s on the %s of %s", counted(total), face, l.Name.Value)
	if low < high {
		taken.Before = fmt.Sprintf("%d to %d", low, high)
	}
	open := 0
	for i := range runs {
		l, h := numbers(&runs[i])
		othersLow, othersHigh := low-l, high-h
		l, h = max(l, total-othersHigh), min(h, total-othersLow)
		if slices.ContainsFunc(runs[i].Coating.OneOf, func(id strict.Text) bool { return id.Value == None }) {
			open++
			continue
		}
		text := strconv.Itoa(l)
		if h > l {
			open++
			text = fmt.Sprintf("%d-%d", l, h)
		}
		runs[i].Count = strict.Text{Value: text, Pos: runs[i].Count.Pos}
	}
	return open > 0
}

// numbers gives the least and the largest number of coats of a run.
func numbers(run *CoatRun) (low, high int) {
	counts, problem := countChoices(run.Count.Value)
	if problem != "" {
		return 0, 0
	}
	low, _ = strconv.Atoi(counts[0])
	high, _ = strconv.Atoi(counts[len(counts)-1])
	if slices.ContainsFunc(run.Coating.OneOf, func(id strict.Text) bool { return id.Value == None }) {
		low = 0
	}
	return low, high
}

func counted(n int) string {
	if n == 1 {
		return "1 coat"
	}
	return fmt.Sprintf("%d coats", n)
}

// readMoisture takes a reading of a moisture meter in wood; it settles nothing
// and stays, for the analysis to hold against what it computes.
func (b *builder) readMoisture(r *Reading, taken *Taken) (keep bool) {
	v, ok := r.WoodMoisture.SI(quantity.Ratio, b.problem)
	if !ok {
		return false
	}
	b.within(r.WoodMoisture, v, 0.03, 0.6, "wood moisture", "3 % to 60 %")
	l := &b.of.Described.Layers[taken.Index]
	if !b.wooden(l) {
		b.problem(r.Pos, fmt.Sprintf("reading: %q is not of wood", l.Name.Value), "a pin meter reads wood, plywood and strand board")
		return false
	}
	taken.What, taken.Moisture = fmt.Sprintf("%s of moisture in the wood of %s", r.WoodMoisture.Value, l.Name.Value), v
	return true
}

// wooden says whether a layer is of wood, or framed with it, in any choice.
func (b *builder) wooden(l *Layer) bool {
	if l.Framing != nil {
		return true
	}
	return slices.ContainsFunc(l.Material.OneOf, func(id strict.Text) bool {
		m := b.base.Material(id.Value)
		return m != nil && (hasTerm(m, "solid-wood") || hasTerm(m, "wood-structural-panel"))
	})
}

// nameOf gives the name of a material in words.
func (r *resolver) nameOf(id string) string {
	if m := r.base.Material(id); m != nil {
		return m.Name
	}
	return id
}

// contradicted says whether a variant has another number of coats than counted.
func (b *builder) contradicted(v *Variant) bool {
	for i := range b.of.Described.Readings {
		r := &b.of.Described.Readings[i]
		if r.Coats.IsZero() {
			continue
		}
		at := slices.IndexFunc(v.Layers, func(p *Part) bool { return p.Name == r.Layer.Value })
		if at < 0 {
			return true
		}
		n := len(v.Layers[at].CoatsIn)
		if r.Face == "out" || r.Face == "" && n == 0 {
			n = len(v.Layers[at].CoatsOut)
		}
		if strconv.Itoa(n) != r.Coats.Value {
			return true
		}
	}
	return false
}

// mostCombinations bounds the combinations of doubts: what counts of coats will
// take away again may be more.
func (b *builder) mostCombinations() int {
	if slices.ContainsFunc(b.of.Described.Readings, func(r Reading) bool { return !r.Coats.IsZero() }) {
		return mostNarrowed
	}
	return MaxVariants
}
