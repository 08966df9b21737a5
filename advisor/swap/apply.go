package swap

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/strict"
)

// applied is a house with a candidate in place.
type applied struct {
	house   *assembly.House
	changes []Change
	asks    []string // further changes that are due when what is not known turns out so
}

// apply makes a copy of the house with the candidate in place and says in
// words what changed. The copy goes through the text form, so that what is
// analyzed is what a file would hold.
func (f *finder) apply(c candidate) (applied, error) {
	house := *f.house
	house.Assemblies = slices.Clone(house.Assemblies)
	house.Assemblies[f.of.Index] = f.house.Assemblies[f.of.Index].Clone()
	e := &edit{finder: f, described: &house.Assemblies[f.of.Index], c: c}
	switch {
	case c.recipe == nil:
		e.single()
	case c.coatsOnly():
		e.coat()
	default:
		e.run()
	}
	e.described.Readings = f.standing(e.described)
	changed, err := reread(&house, f.of.Index)
	return applied{changed, e.changes, e.asks}, err
}

// reread writes a house and reads it back, down to one assembly: the others,
// which no swap touches, stay as they are.
func reread(h *assembly.House, index int) (*assembly.House, error) {
	alone := *h
	alone.Assemblies, alone.Finishes, alone.ColdSurfaces = h.Assemblies[index:index+1], nil, nil
	text, err := assembly.Write(&alone)
	if err != nil {
		return nil, err
	}
	house, _, problems := assembly.Parse(h.House, text)
	if len(problems) > 0 {
		return nil, problems
	}
	changed := house.Assemblies[0]
	house.Assemblies, house.Finishes, house.ColdSurfaces = slices.Clone(h.Assemblies), h.Finishes, h.ColdSurfaces
	house.Assemblies[index] = changed
	return house, nil
}

// edit is one application to one described assembly.
type edit struct {
	*finder
	described *assembly.Described
	c         candidate
	changes   []Change
	asks      []string
}

// single replaces the material of one layer, at its usual thickness, and keeps
// the coats that may go on the new one.
func (e *edit) single() {
	l, m := &e.described.Layers[e.c.at], e.c.material
	l.Material = assembly.Pick(m.ID)
	l.Thickness = strict.Text{}
	if m.Form != kb.Sheet {
		l.Thickness = strict.Text{Value: m.Thickness.Usual.Value}
	}
	e.changes = append(e.changes, Change{Layer: l.Name.Value, From: e.was(e.c.at), To: e.newWords(l)})
	if l.Coats != nil {
		l.Coats.In, l.Coats.Out = e.suited(l.Coats.In, m, l.Name.Value), e.suited(l.Coats.Out, m, l.Name.Value)
	}
	e.propose(l)
}

// suited keeps the coats that may go on a material and notes those that do not
// come back.
func (e *edit) suited(runs []assembly.CoatRun, on *kb.Material, layer string) []assembly.CoatRun {
	var kept []assembly.CoatRun
	for _, run := range runs {
		if e.mustNot(run, on) {
			e.changes = append(e.changes, Change{Layer: layer, From: e.nameOf(run.Coating.String())})
			continue
		}
		kept = append(kept, run)
	}
	return kept
}

// mustNot says whether a coating that a run may be must not go on a material.
func (e *edit) mustNot(run assembly.CoatRun, on *kb.Material) bool {
	for _, id := range run.Coating.OneOf {
		coat := e.base.Material(id.Value)
		if coat != nil && coat.Coating != nil && slices.ContainsFunc(coat.Coating.Not, func(term string) bool { return slices.Contains(on.Terms, term) }) {
			return true
		}
	}
	return false
}

// was says what a described layer is made of.
func (e *edit) was(layer int) string {
	if part := e.partOf(layer); part >= 0 {
		return wordsOf(e.of.Variants[0].Layers[part])
	}
	return ""
}

// propose marks a layer as proposed where the assembly stands.
func (e *edit) propose(l *assembly.Layer) {
	if e.of.State == "existing" || l.State == "existing" {
		l.State = "proposed"
	}
}

// coat changes the coats of one layer on the faces that the recipe names.
func (e *edit) coat() {
	l, coats := &e.described.Layers[e.c.at], e.c.recipe.Coats
	if l.Coats == nil {
		l.Coats = &assembly.Coats{}
	}
	change := func(face string, now *[]assembly.CoatRun, put []kb.NewCoat) {
		if len(put) == 0 {
			return
		}
		from := e.runWords(*now)
		if coats.Keep == "yes" {
			*now = append(*now, runs(put)...)
		} else {
			*now = runs(put)
		}
		e.changes = append(e.changes, Change{Layer: l.Name.Value + ", " + face, From: from, To: e.runWords(*now)})
	}
	change("inner face", &l.Coats.In, coats.In)
	change("outer face", &l.Coats.Out, coats.Out)
	e.propose(l)
}

// runWords says which coats lie on a face: "latex primer, 2 x latex paint".
func (e *edit) runWords(list []assembly.CoatRun) string {
	if len(list) == 0 {
		return "no coat"
	}
	names := make([]string, len(list))
	for i, run := range list {
		names[i] = e.nameOf(run.Coating.String())
		if n := run.Count.Value; n != "" && n != "1" {
			names[i] = n + " x " + names[i]
		}
	}
	return strings.Join(names, ", ")
}

// nameOf gives the name of a material, or the words of a doubt.
func (e *edit) nameOf(id string) string {
	if m := e.base.Material(id); m != nil {
		return m.Name
	}
	return id
}

func runs(list []kb.NewCoat) []assembly.CoatRun {
	var out []assembly.CoatRun
	for _, c := range list {
		out = append(out, assembly.CoatRun{Coating: assembly.Pick(c.Coating), Count: strict.Text{Value: strconv.Itoa(max(1, c.Count))}})
	}
	return out
}

// run replaces a run of layers by the new one, with what goes beside it.
func (e *edit) run() {
	first, last := e.c.at, e.c.at+e.c.length
	if e.c.length == 0 {
		first, last = e.c.at+1, e.c.at+1
	}
	old := e.described.Layers[first:last]
	var fresh []assembly.Layer
	kept := 0
	for i := range e.c.recipe.With {
		n := &e.c.recipe.With[i]
		if n.Keep == "layer" && kept < len(old) {
			fresh = append(fresh, keptLayer(n, &old[kept]))
		} else {
			fresh = append(fresh, e.layer(n, old))
		}
		if n.Keep != "" {
			kept++
		}
	}
	e.describe(old, fresh)
	before, after := e.beside()
	fresh = slices.Concat(before, fresh, after)
	e.described.Layers = slices.Concat(e.described.Layers[:first], fresh, e.described.Layers[last:])
	e.unique(first, first+len(fresh))
}

// BesideLayers stands for the layer where a change is work that is no layer.
const BesideLayers = "beside"

// beside gives the layers that go with a swap before and after its run. What
// is due only when something turns out so is asked for.
func (e *edit) beside() (before, after []assembly.Layer) {
	for i := range e.c.recipe.Beside {
		b := &e.c.recipe.Beside[i]
		switch a := e.tester.Over(b.When, e.now); a.Verdict {
		case kb.No:
			continue
		case kb.Depends, kb.Unknown:
			e.asks = append(e.asks, fmt.Sprintf("%s Whether this is due is open: %s.", b.Do, open(a)))
			continue
		}
		change := Change{Layer: BesideLayers, To: b.Do, Counted: b.Item != ""}
		if b.Layer == nil {
			e.changes = append(e.changes, change)
			continue
		}
		l := e.layer(b.Layer, nil)
		change.Layer = l.Name.Value
		e.changes = append(e.changes, change)
		if b.Place == "before" {
			before = append(before, l)
		} else {
			after = append(after, l)
		}
	}
	return before, after
}

// describe notes what goes and what comes, line by line: what keeps its
// material or its name stands beside what it was, the rest in order.
func (e *edit) describe(old, fresh []assembly.Layer) {
	into := pair(old, fresh)
	taken := make([]bool, len(fresh))
	for i := range old {
		ch := Change{Layer: old[i].Name.Value, From: e.was(e.c.at + i)}
		if j := into[i]; j >= 0 {
			ch.To, taken[j] = e.newWords(&fresh[j]), true
			if news, stays := e.news(&old[i], &fresh[j]); stays {
				ch = Change{Layer: ch.Layer, To: news, Stays: true}
			}
			if ch.Stays && ch.To == "" {
				continue
			}
		}
		if ch.From != ch.To { // a layer that only takes another duty stays as it is
			e.changes = append(e.changes, ch)
		}
	}
	for j := range fresh {
		if !taken[j] {
			e.changes = append(e.changes, Change{Layer: fresh[j].Name.Value, To: e.newWords(&fresh[j])})
		}
	}
}

// pair gives for each old layer the new one that takes its place, or -1.
func pair(old, fresh []assembly.Layer) []int {
	into := make([]int, len(old))
	taken := make([]bool, len(fresh))
	match := func(fits func(o, n *assembly.Layer) bool) {
		for i := range old {
			for j := range fresh {
				if into[i] < 0 && !taken[j] && fits(&old[i], &fresh[j]) {
					into[i], taken[j] = j, true
				}
			}
		}
	}
	for i := range into {
		into[i] = -1
	}
	match(func(o, n *assembly.Layer) bool {
		return !o.Material.IsZero() && o.Material.String() == n.Material.String()
	})
	match(func(o, n *assembly.Layer) bool { return o.Name.Value == n.Name.Value })
	match(func(*assembly.Layer, *assembly.Layer) bool { return true })
	return into
}

// newWords says what a new layer is made of.
func (e *edit) newWords(l *assembly.Layer) string {
	switch {
	case !l.Cavity.IsZero():
		return fmt.Sprintf("%s %s air space", l.Cavity.Value, l.Air)
	case l.Framing != nil && len(l.Fill) > 0:
		return e.nameOf(l.Fill[0].Material.String()) + " between the framing"
	case l.Framing != nil:
		return "empty bay between the framing"
	}
	words := e.nameOf(l.Material.String())
	if !l.Thickness.IsZero() {
		words = l.Thickness.Value + " " + words
	}
	return words
}

// layer makes a described layer of a recipe's.
func (e *edit) layer(n *kb.NewLayer, old []assembly.Layer) assembly.Layer {
	l := assembly.Layer{Name: strict.Text{Value: n.Name}, Sealed: assembly.Answer(n.Sealed), Air: assembly.AirSpace(n.Air)}
	for _, d := range n.Performs {
		l.Performs = append(l.Performs, strict.Text{Value: d})
	}
	framed := framedOf(old)
	switch {
	case (n.Keep == "framing" || n.Keep == emptyFraming) && framed != nil:
		keepFraming(&l, n, framed)
	case n.Cavity.Value != "":
		l.Cavity = strict.Text{Value: n.Cavity.Value}
	default:
		l.Material = assembly.Pick(n.Material)
		l.Thickness = strict.Text{Value: n.Thickness.Value}
		if n.Thickness.Value == same {
			l.Thickness = thicknessOf(old, n.Material)
		}
	}
	if n.Coats != nil {
		l.Coats = newCoats(n.Coats, old)
	}
	e.propose(&l)
	return l
}

// thicknessOf gives the thickness of the old layer of a material, else of the
// first of the run.
func thicknessOf(old []assembly.Layer, material string) strict.Text {
	for i := range old {
		if old[i].Material.String() == material {
			return old[i].Thickness
		}
	}
	if len(old) > 0 {
		return old[0].Thickness
	}
	return strict.Text{}
}

// same is how a recipe asks for the thickness of the layer that it replaces.
const same = "same"

// newCoats are the coats of a new layer, over those of the last layer of the
// run where the recipe keeps them.
func newCoats(n *kb.NewCoats, old []assembly.Layer) *assembly.Coats {
	coats := &assembly.Coats{}
	if n.Keep == "yes" && len(old) > 0 {
		if had := old[len(old)-1].Coats; had != nil {
			coats.In, coats.Out = slices.Clone(had.In), slices.Clone(had.Out)
		}
	}
	coats.In = append(coats.In, runs(n.In)...)
	coats.Out = append(coats.Out, runs(n.Out)...)
	return coats
}

// framedOf gives the framed layer of a run, or nil.
func framedOf(run []assembly.Layer) *assembly.Layer {
	for i := range run {
		if run[i].Framing != nil {
			return &run[i]
		}
	}
	return nil
}

// unique renames new layers whose name is taken.
func (e *edit) unique(from, to int) {
	layers := e.described.Layers
	taken := make(map[string]bool)
	for i := range layers {
		if i < from || i >= to {
			taken[layers[i].Name.Value] = true
		}
	}
	for i := from; i < to; i++ {
		name := layers[i].Name.Value
		for n := 2; taken[layers[i].Name.Value]; n++ {
			layers[i].Name = strict.Text{Value: fmt.Sprintf("%s %d", name, n)}
		}
		taken[layers[i].Name.Value] = true
	}
}
