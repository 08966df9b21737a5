package web

import (
	"slices"
	"strconv"
	"strings"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
	"relath/kb/strict"
)

// described finds the assembly that a form is about.
func (e *editor) described() (*assembly.Described, error) {
	name := e.form.Get("assembly")
	for i := range e.house.Assemblies {
		if e.house.Assemblies[i].Name.Value == name {
			return &e.house.Assemblies[i], nil
		}
	}
	return nil, wrong("the house has no assembly called %q any more", name)
}

// found finds the layer that a form is about.
func (e *editor) found() (*assembly.Described, int, error) {
	a, err := e.described()
	if err != nil {
		return nil, 0, err
	}
	name := e.form.Get("layer")
	at := slices.IndexFunc(a.Layers, func(l assembly.Layer) bool { return l.Name.Value == name })
	if at < 0 {
		return nil, 0, wrong("the %s has no layer called %q any more", a.Name, name)
	}
	return a, at, nil
}

// take puts a field of the form into a text, where the form has it.
func (e *editor) take(name string, into *strict.Text) {
	if e.form.Has(name) {
		into.Value = strings.TrimSpace(e.form.Get(name))
	}
}

// length is take for lengths, which builders write without a unit.
func (e *editor) length(name string, into *strict.Text) {
	e.take(name, into)
	into.Value = inches(into.Value)
}

// inches adds the unit to a bare number.
func inches(text string) string {
	last := len(text) - 1
	if last >= 0 && strings.ContainsRune("0123456789½¼¾⅛⅜⅝⅞", []rune(text)[len([]rune(text))-1]) {
		return text + " in"
	}
	return text
}

// layer changes the fields of a layer that the form has.
func (e *editor) layer() error {
	a, at, err := e.found()
	if err != nil {
		return err
	}
	l := &a.Layers[at]
	e.what = "change of the " + l.Name.Value
	e.take("name", &l.Name)
	if err := e.madeOf(l); err != nil {
		return err
	}
	e.length("thickness", &l.Thickness)
	e.length("cavity", &l.Cavity)
	if e.form.Has("air") {
		l.Air = assembly.AirSpace(e.form.Get("air"))
	}
	if e.form.Has("color") {
		l.Color = assembly.Color(e.form.Get("color"))
	}
	if e.form.Has("sealed") {
		l.Sealed = assembly.Answer(e.form.Get("sealed"))
	}
	if e.form.Has("state") {
		l.State = assembly.State(e.form.Get("state"))
	}
	if err := e.framing(l); err != nil {
		return err
	}
	return e.coats(l)
}

// madeOf changes the material of a layer. A sheet has no thickness; another
// material takes its usual one where none was typed.
func (e *editor) madeOf(l *assembly.Layer) error {
	if !e.form.Has("material") {
		return nil
	}
	was := l.Material.String()
	choice, err := e.choice("material", e.form.Get("material"), ofLayers)
	if err != nil {
		return err
	}
	l.Material = choice
	if choice.String() == was {
		return nil
	}
	m, typed := e.Base.Material(choice.OneOf[0].Value), l.Thickness.Value
	if e.form.Has("thickness") {
		typed = strings.TrimSpace(e.form.Get("thickness"))
	}
	switch {
	case m == nil:
	case m.Form == kb.Sheet:
		e.form.Del("thickness")
		l.Thickness = strict.Text{}
	case typed == "" || typed == l.Thickness.Value && !e.sold(m, typed):
		e.form.Set("thickness", m.Thickness.Usual.Value)
	}
	return nil
}

// sold says whether a material comes in a thickness.
func (e *editor) sold(m *kb.Material, thickness string) bool {
	return m.Thickness.Usual.Value == thickness || slices.ContainsFunc(m.Thickness.Sold, func(t strict.Text) bool { return t.Value == thickness })
}

// framing changes the framing and the fill of a framed layer.
func (e *editor) framing(l *assembly.Layer) error {
	if l.Framing == nil {
		return nil
	}
	e.take("framing", &l.Framing.Material)
	e.take("size", &l.Framing.Size)
	if !l.Framing.Size.IsZero() {
		l.Framing.Depth = strict.Text{}
	}
	e.length("spacing", &l.Framing.Spacing)
	e.take("fraction", &l.Framing.Fraction)
	if !e.form.Has("fill") {
		return nil
	}
	fills, thick := e.form["fill"], e.form["fill-thickness"]
	l.Fill = nil
	for i, name := range fills {
		if strings.TrimSpace(name) == "" {
			continue
		}
		choice, err := e.choice("fill", name, ofLayers)
		if err != nil {
			return err
		}
		f := assembly.Fill{Material: choice}
		if i < len(thick) {
			f.Thickness.Value = inches(strings.TrimSpace(thick[i]))
		}
		l.Fill = append(l.Fill, f)
	}
	return nil
}

// coats changes the coats on both faces of a layer.
func (e *editor) coats(l *assembly.Layer) error {
	coats := assembly.Coats{}
	if l.Coats != nil {
		coats = *l.Coats
	}
	for _, face := range []struct {
		field string
		into  *[]assembly.CoatRun
	}{{"coat-in", &coats.In}, {"coat-out", &coats.Out}} {
		if !e.form.Has(face.field) {
			continue
		}
		runs, err := e.coatRuns(face.field)
		if err != nil {
			return err
		}
		*face.into = runs
	}
	l.Coats = nil
	if len(coats.In)+len(coats.Out) > 0 {
		l.Coats = &coats
	}
	return nil
}

// coatRuns reads the coats of a face.
func (e *editor) coatRuns(field string) ([]assembly.CoatRun, error) {
	var runs []assembly.CoatRun
	counts := e.form[field+"-count"]
	for i, name := range e.form[field] {
		if strings.TrimSpace(name) == "" {
			continue
		}
		choice, err := e.choice(field, name, ofCoats)
		if err != nil {
			return nil, err
		}
		run := assembly.CoatRun{Coating: choice}
		if i < len(counts) {
			run.Count.Value = strings.ReplaceAll(strings.TrimSpace(counts[i]), " ", "")
		}
		if run.Count.Value == "1" {
			run.Count.Value = ""
		}
		runs = append(runs, run)
	}
	return runs, nil
}

// addLayer adds a layer before or after another.
func (e *editor) addLayer() error {
	a, at, err := e.found()
	if err != nil {
		return err
	}
	fresh, err := e.fresh()
	if err != nil {
		return err
	}
	e.take("name", &fresh.Name)
	if fresh.Name.IsZero() {
		fresh.Name.Value = e.freeName(a, &fresh)
	}
	if e.form.Get("side") != "before" {
		at++
	}
	a.Layers = slices.Insert(a.Layers, at, fresh)
	e.what = "new layer " + fresh.Name.Value
	return nil
}

// fresh makes a layer of what the form has of it: a gap, framing or a material.
func (e *editor) fresh() (assembly.Layer, error) {
	var l assembly.Layer
	switch gap := strings.TrimSpace(e.form.Get("cavity")); {
	case gap != "":
		l.Cavity.Value, l.Air = inches(gap), assembly.AirSpace(e.form.Get("air"))
	case e.form.Get("framing") != "":
		l.Framing = &assembly.Framing{}
		if thick := e.form["fill-thickness"]; len(thick) == 1 && strings.TrimSpace(thick[0]) == "" {
			thick[0] = depthOf(e.form.Get("size"))
		}
		return l, e.framing(&l)
	default:
		if err := e.madeOf(&l); err != nil {
			return l, err
		}
		e.length("thickness", &l.Thickness)
	}
	return l, nil
}

// depthOf gives the actual depth of framing of a nominal size.
func depthOf(size string) string {
	_, depth, err := quantity.ParseSize(size)
	if err != nil {
		return ""
	}
	return quantity.Format(depth, quantity.Length, quantity.InchPound)
}

// freeName makes a name for a new layer that no other has.
func (e *editor) freeName(a *assembly.Described, l *assembly.Layer) string {
	name := "gap"
	if l.Framing != nil {
		name = "framing"
	}
	if !l.Material.IsZero() {
		name = "new layer"
		if m := e.Base.Material(l.Material.OneOf[0].Value); m != nil {
			name = strings.ToLower(strings.Split(m.Name, ",")[0])
		}
	}
	free := name
	for n := 2; slices.ContainsFunc(a.Layers, func(l assembly.Layer) bool { return l.Name.Value == free }); n++ {
		free = name + " " + strconv.Itoa(n)
	}
	return free
}

// removeLayer takes a layer out.
func (e *editor) removeLayer() error {
	a, at, err := e.found()
	if err != nil {
		return err
	}
	if len(a.Layers) == 1 {
		return wrong("the %s has no other layer; change this one instead", a.Name)
	}
	e.what = "the " + a.Layers[at].Name.Value + " taken out"
	a.Layers = slices.Delete(a.Layers, at, at+1)
	return nil
}

// moveLayer moves a layer one place toward a side.
func (e *editor) moveLayer() error {
	a, at, err := e.found()
	if err != nil {
		return err
	}
	to := at + 1
	if e.form.Get("side") == "before" {
		to = at - 1
	}
	if to < 0 || to >= len(a.Layers) {
		return wrong("the %s is the last layer on that side", a.Layers[at].Name)
	}
	e.what = "the " + a.Layers[at].Name.Value + " moved"
	a.Layers[at], a.Layers[to] = a.Layers[to], a.Layers[at]
	return nil
}
