package swap

import (
	"fmt"
	"strconv"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/strict"
)

// apply makes a copy of the house with the candidate in place and says in
// words what changed. The copy goes through the text form, so that what is
// analyzed is what a file would hold.
func (f *finder) apply(c candidate) (*assembly.House, []Change, error) {
	text, err := assembly.Write(f.house)
	if err != nil {
		return nil, nil, err
	}
	house, _, problems := assembly.Parse(f.house.House, text)
	if len(problems) > 0 {
		return nil, nil, problems
	}
	e := &edit{finder: f, of: &house.Assemblies[f.of.Index], c: c}
	switch {
	case c.recipe == nil:
		e.single()
	case c.recipe.Coats != nil && len(c.recipe.With) == 0:
		e.coat()
	default:
		e.run()
	}
	out, err := assembly.Write(house)
	if err != nil {
		return nil, nil, err
	}
	house, _, problems = assembly.Parse(f.house.House, out)
	if len(problems) > 0 {
		return nil, nil, problems
	}
	return house, e.changes, nil
}

// edit is one application to one described assembly.
type edit struct {
	*finder
	of      *assembly.Described
	c       candidate
	changes []Change
}

// single replaces the material of one layer and keeps what fits: the coats and
// the thickness only where the new material is sold in it.
func (e *edit) single() {
	l := &e.of.Layers[e.c.at]
	e.changes = append(e.changes, Change{Layer: l.Name.Value, From: e.was(e.c.at), To: e.c.material.Name})
	l.Material = assembly.Pick(e.c.material.ID)
	if e.c.material.Form != kb.Sheet {
		l.Thickness = strict.Text{Value: e.c.material.Thickness.Usual.Value}
	}
	e.propose(l)
}

// was says what a described layer is made of.
func (e *edit) was(layer int) string {
	if part := e.partOf(layer); part >= 0 {
		return wordsOf(e.finder.of.Variants[0].Layers[part])
	}
	return ""
}

// propose marks a layer as proposed where the assembly stands.
func (e *edit) propose(l *assembly.Layer) {
	if e.finder.of.State == "existing" || l.State == "existing" {
		l.State = "proposed"
	}
}

// coat changes the coats of one layer.
func (e *edit) coat() {
	l := &e.of.Layers[e.c.at]
	coats := e.c.recipe.Coats
	if l.Coats == nil || coats.Keep != "yes" {
		l.Coats = &assembly.Coats{}
	}
	l.Coats.In = append(l.Coats.In, runs(coats.In)...)
	l.Coats.Out = append(l.Coats.Out, runs(coats.Out)...)
	e.changes = append(e.changes, Change{Layer: l.Name.Value, From: "its coats", To: e.coatWords(coats)})
	e.propose(l)
}

// coatWords says which coats a recipe puts on.
func (e *edit) coatWords(coats *kb.NewCoats) string {
	words := ""
	for _, c := range append(append([]kb.NewCoat(nil), coats.In...), coats.Out...) {
		if words != "" {
			words += ", "
		}
		name := c.Coating
		if m := e.base.Material(c.Coating); m != nil {
			name = m.Name
		}
		words += fmt.Sprintf("%d x %s", max(1, c.Count), name)
	}
	return words
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
	old := e.of.Layers[e.c.at : e.c.at+e.c.length]
	first, last := e.c.at, e.c.at+e.c.length
	if e.c.length == 0 {
		first, last = e.c.at+1, e.c.at+1
	}
	var fresh []assembly.Layer
	for i := range e.c.recipe.With {
		fresh = append(fresh, e.layer(&e.c.recipe.With[i], old))
	}
	var before, after []assembly.Layer
	for i := range e.c.recipe.Beside {
		b := &e.c.recipe.Beside[i]
		if len(b.When) > 0 && e.tester.All(b.When, e.subject).Verdict != kb.Yes {
			continue
		}
		e.changes = append(e.changes, Change{Layer: "beside", To: b.Do})
		if b.Layer == nil {
			continue
		}
		l := e.layer(b.Layer, nil)
		if b.Place == "before" {
			before = append(before, l)
		} else {
			after = append(after, l)
		}
	}
	e.describe(old, fresh)
	fresh = append(append(before, fresh...), after...)
	e.of.Layers = append(append(append([]assembly.Layer(nil), e.of.Layers[:first]...), fresh...), e.of.Layers[last:]...)
	e.unique(first, first+len(fresh))
}

// describe notes what goes and what comes, line by line.
func (e *edit) describe(old, fresh []assembly.Layer) {
	for i := range max(len(old), len(fresh)) {
		var ch Change
		if i < len(old) {
			ch.Layer, ch.From = old[i].Name.Value, e.was(e.c.at+i)
		}
		if i < len(fresh) {
			if ch.Layer == "" {
				ch.Layer = fresh[i].Name.Value
			}
			ch.To = e.newWords(&fresh[i])
		}
		e.changes = append([]Change{ch}, e.changes...)
	}
}

func (e *edit) newWords(l *assembly.Layer) string {
	name := func(id string) string {
		if m := e.base.Material(id); m != nil {
			return m.Name
		}
		return id
	}
	switch {
	case !l.Cavity.IsZero():
		return fmt.Sprintf("%s %s air space", l.Cavity.Value, l.Air)
	case l.Framing != nil && len(l.Fill) > 0:
		return name(l.Fill[0].Material.String()) + " between the framing"
	case l.Framing != nil:
		return "framing"
	}
	words := name(l.Material.String())
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
	if framed := framedOf(old); n.Keep == "framing" && framed != nil {
		l.Framing = framed.Framing
		l.Performs = append(l.Performs, framed.Performs...)
		if n.Material != "" {
			l.Fill = []assembly.Fill{{Material: assembly.Pick(n.Material), Thickness: n.Thickness}}
		}
	} else if n.Cavity.Value != "" {
		l.Cavity = strict.Text{Value: n.Cavity.Value}
	} else {
		l.Material = assembly.Pick(n.Material)
		l.Thickness = strict.Text{Value: n.Thickness.Value}
		if n.Thickness.Value == "same" && len(old) > 0 {
			l.Thickness = old[0].Thickness
		}
	}
	if n.Coats != nil {
		l.Coats = &assembly.Coats{In: runs(n.Coats.In), Out: runs(n.Coats.Out)}
		if n.Coats.Keep == "yes" && len(old) > 0 && old[len(old)-1].Coats != nil {
			l.Coats.In = append(l.Coats.In, old[len(old)-1].Coats.In...)
			l.Coats.Out = append(l.Coats.Out, old[len(old)-1].Coats.Out...)
		}
	}
	e.propose(&l)
	return l
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
	taken := make(map[string]bool)
	for i := range e.of.Layers {
		if i < from || i >= to {
			taken[e.of.Layers[i].Name.Value] = true
		}
	}
	for i := from; i < to; i++ {
		name := e.of.Layers[i].Name.Value
		for n := 2; taken[e.of.Layers[i].Name.Value]; n++ {
			e.of.Layers[i].Name = strict.Text{Value: fmt.Sprintf("%s %d", name, n)}
		}
		taken[e.of.Layers[i].Name.Value] = true
	}
}
