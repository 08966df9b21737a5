package report

import (
	"fmt"
	"slices"
	"strings"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// partsOf lists every described layer once, from the first variant that has it.
func partsOf(r *analysis.Result) []*assembly.Part {
	var parts []*assembly.Part
	for _, v := range r.Variants {
		for _, l := range v.Layers {
			if !slices.ContainsFunc(parts, func(p *assembly.Part) bool { return p.Layer == l.Part.Layer }) {
				parts = append(parts, l.Part)
			}
		}
	}
	slices.SortStableFunc(parts, func(a, b *assembly.Part) int { return a.Layer - b.Layer })
	return parts
}

// layers writes the table of layers.
func (p *page) layers(r *analysis.Result) {
	var rows [][]Text
	for _, part := range partsOf(r) {
		rows = append(rows, p.layerRow(r, part))
	}
	p.table(Table{
		Caption: fmt.Sprintf("Layers from the %s to the %s", sideWord(r.Assembly.Between[0]), sideWord(r.Assembly.Between[1])),
		Heads:   []string{"Layer", "Thickness", "R", "Permeance at 50 % humidity", "Dry cup", "Class"},
		Right:   []int{1, 2},
		Rows:    rows,
	})
	p.para(quiet, say("Permeance is read at 50 % relative humidity for the physics; the code goes by the dry cup: Class I up to 0.1 perm, II up to 1, III up to 10.", p.model("retarder-class")))
}

// layerRow writes one layer with its coats.
func (p *page) layerRow(r *analysis.Result, part *assembly.Part) []Text {
	fact := func(id string) analysis.Estimate { return layerAcross(r, part.Layer, id) }
	thickness := "sheet"
	if part.Depth > 0 {
		thickness = quantity.Format(part.Depth, quantity.Length, p.Units)
	}
	resistance, permeance, dry, class := fact("layer-resistance"), fact("permeance"), fact("permeance-dry"), fact("retarder-class")
	rText, wet := say("–"), p.permeance(permeance)
	if resistance.Range.High > 0 {
		rText = marked(p.value(resistance.Range, quantity.ThermalResistance), resistance.Evidence, p.inputSources(resistance.Inputs)...)
	}
	wet.Notes = tidy(append(wet.Notes, p.inputSources(permeance.Inputs)...))
	name := say(p.layerWords(r, part), p.layerAssumptions(r, part)...)
	return []Text{name, say(thickness), rText, wet, p.permeance(dry), say(classText(class, part))}
}

// permeance words the permeance of a layer with its mark.
func (p *page) permeance(e analysis.Estimate) Text {
	if !e.Known {
		return say("not known")
	}
	return marked(p.value(e.Range, quantity.Permeance), e.Evidence)
}

// classText words a vapor retarder class.
func classText(e analysis.Estimate, part *assembly.Part) string {
	switch {
	case part.Cavity:
		return "–"
	case !e.Known:
		return "not known"
	}
	return join(e.Words, "or")
}

// layerWords says what a layer is: its name, material and coats.
func (p *page) layerWords(r *analysis.Result, part *assembly.Part) string {
	text := capital(part.Name) + ": " + madeOf(part)
	if choices := choicesOf(r, part); len(choices) > 1 {
		text = capital(part.Name) + ": " + join(choices, "or")
	}
	if part.Framed {
		text += ", " + quantity.Format(part.Spacing, quantity.Length, p.Units) + " on center"
	}
	if coats := coatRuns(part); coats != "" {
		text += "; " + coats
	}
	if part.State != r.Assembly.State && part.State != "" {
		text += " (" + string(part.State) + ")"
	}
	return text
}

// choicesOf lists what a layer may be made of over the variants.
func choicesOf(r *analysis.Result, part *assembly.Part) []string {
	var words []string
	for _, v := range r.Variants {
		found := false
		for _, l := range v.Layers {
			if l.Part.Layer == part.Layer {
				words, found = append(words, madeOf(l.Part)), true
			}
		}
		if !found {
			words = append(words, "nothing")
		}
	}
	return unique(words)
}

// madeOf says what a part is made of.
func madeOf(part *assembly.Part) string {
	switch {
	case part.Cavity:
		return string(part.Air) + " air space"
	case part.Framed:
		var fills []string
		for _, f := range part.Fills {
			if f.Material == nil {
				fills = append(fills, "air")
				continue
			}
			fills = append(fills, f.Material.Name)
		}
		return join(fills, "and") + " between " + part.Material.Name
	}
	return part.Material.Name
}

// coatRuns says the coats of both faces.
func coatRuns(part *assembly.Part) string {
	var words []string
	for _, face := range []struct {
		name  string
		coats []*kb.Material
	}{{"outside", part.CoatsOut}, {"inside", part.CoatsIn}} {
		if len(face.coats) > 0 {
			words = append(words, face.name+": "+coatWords(face.coats))
		}
	}
	return strings.Join(words, "; ")
}

// coatWords says a sequence of coats: latex primer, 2 x latex wall paint.
func coatWords(coats []*kb.Material) string {
	var words []string
	for i := 0; i < len(coats); {
		n := 1
		for i+n < len(coats) && coats[i+n] == coats[i] {
			n++
		}
		word := lower(coats[i].Name)
		if n > 1 {
			word = fmt.Sprintf("%d × %s", n, word)
		}
		words = append(words, word)
		i += n
	}
	return strings.Join(words, ", ")
}

// layerAssumptions gives the footnotes of what was assumed for a layer.
func (p *page) layerAssumptions(r *analysis.Result, part *assembly.Part) []int {
	var notes []int
	prefix := r.Assembly.Name + " / " + part.Name
	for _, a := range r.Assumptions {
		if strings.HasPrefix(a.Text, prefix+" / ") || strings.HasPrefix(a.Text, prefix+": ") {
			notes = append(notes, p.assumption(a))
		}
	}
	return notes
}

// assumption gives the footnote of an assumption.
func (p *page) assumption(a analysis.Assumption) int {
	return p.note("assumption", assumptionWords(a)+". "+p.basisWords(a.Basis)+".")
}

// assumptionWords shortens the path to the place in the file to the layer:
// "north wall / bay / fraction: ..." becomes "Bay: ...".
func assumptionWords(a analysis.Assumption) string {
	where, what, ok := strings.Cut(a.Text, ": ")
	steps := strings.Split(where, " / ")
	if !ok || len(steps) < 2 {
		return capital(a.Text)
	}
	return capital(steps[1]) + ": " + what
}

// sideWord names a side of an assembly within a sentence.
func sideWord(s assembly.Side) string {
	if s == "outdoors" {
		return "outside"
	}
	return strings.ReplaceAll(string(s), "-", " ")
}

// toward names the air on a side.
func toward(s assembly.Side) string {
	switch s {
	case "outdoors":
		return "to the outside"
	case "attic", "crawl", "ground", "garage":
		return "to the " + string(s)
	}
	return "to the inside"
}

// chokes says which layers hold most of the vapor resistance on each path.
func (p *page) chokes(r *analysis.Result) {
	var items []Text
	for _, side := range []struct{ share, word string }{{"share-outward", "outward"}, {"share-inward", "inward"}} {
		for _, l := range r.Variants[0].Layers {
			if e := l.Facts["choke"]; !slices.Contains(e.Words, side.word) {
				continue
			}
			share := l.Facts[side.share]
			items = append(items, say(fmt.Sprintf("On the way %s the choke layer is the %s: %s of the vapor resistance.",
				side.word, l.Part.Name, p.value(share.Range, quantity.Ratio)), p.model("steady-vapor")))
		}
	}
	p.list(items...)
}
