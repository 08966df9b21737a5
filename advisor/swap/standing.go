package swap

import (
	"slices"
	"strings"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/strict"
)

// standing lists the readings on layers that a changed description leaves as
// they are: what was found on another layer says nothing about the new one.
func (f *finder) standing(d *assembly.Described) []assembly.Reading {
	old := f.of.Described
	return slices.DeleteFunc(slices.Clone(d.Readings), func(r assembly.Reading) bool {
		return layerText(old, r.Layer.Value) != layerText(d, r.Layer.Value)
	})
}

// layerText gives a layer as it is written, or "" where there is none.
func layerText(d *assembly.Described, name string) string {
	for i := range d.Layers {
		if d.Layers[i].Name.Value == name {
			return written(&d.Layers[i])
		}
	}
	return ""
}

// written gives a layer as text.
func written(l *assembly.Layer) string {
	text, err := strict.Encode(l)
	if err != nil {
		return ""
	}
	return string(text)
}

// keptLayer is a layer of the run that stays: only its seal and its duties may
// change.
func keptLayer(n *kb.NewLayer, old *assembly.Layer) assembly.Layer {
	l := *old
	l.Performs = slices.Clone(old.Performs)
	for _, d := range n.Performs {
		if !slices.ContainsFunc(l.Performs, func(t strict.Text) bool { return t.Value == d }) {
			l.Performs = append(l.Performs, strict.Text{Value: d})
		}
	}
	if n.Sealed != "" {
		l.Sealed = assembly.Answer(n.Sealed)
	}
	return l
}

// news says whether a layer stays as it is but for its seal and its duties, and
// what is new about them.
func (e *edit) news(old, fresh *assembly.Layer) (news string, stays bool) {
	same := *fresh
	same.Sealed, same.Performs, same.State = old.Sealed, old.Performs, old.State
	if written(old) != written(&same) {
		return "", false
	}
	var list []string
	if fresh.Sealed == "yes" && old.Sealed != "yes" {
		list = append(list, "its joints are sealed")
	}
	for _, d := range fresh.Performs {
		known := slices.ContainsFunc(old.Performs, func(t strict.Text) bool { return t.Value == d.Value })
		if duty := e.base.Duty(d.Value); duty != nil && !known {
			list = append(list, "it is now there to "+duty.Title)
		}
	}
	return strings.Join(list, ", and "), true
}

// emptyFraming is how a recipe leaves the fill out.
const emptyFraming = "empty-framing"

// keepFraming takes over the framing of a replaced layer with its duties, and
// its fill where the recipe names no other.
func keepFraming(l *assembly.Layer, n *kb.NewLayer, framed *assembly.Layer) {
	l.Framing, l.Fill = framed.Framing, framed.Fill
	l.Performs = append(l.Performs, framed.Performs...)
	if n.Keep == emptyFraming {
		l.Fill = nil
		return
	}
	if n.Material == "" {
		return
	}
	thickness := strict.Text{Value: n.Thickness.Value}
	if n.Thickness.Value == same {
		thickness = strict.Text{}
		if len(framed.Fill) > 0 {
			thickness = framed.Fill[0].Thickness
		}
	}
	l.Fill = []assembly.Fill{{Material: assembly.Pick(n.Material), Thickness: thickness}}
}
