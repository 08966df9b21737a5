package report

import (
	"fmt"

	"relath/advisor/house"
	"relath/kb"
	"relath/kb/quantity"
)

// movements writes how solid wood moves with the seasons.
func (p *page) movements(r *house.Result) {
	var rows [][]Text
	var said []string
	add := func(where string, m *kb.Material, v *house.Movement) {
		rows = append(rows, p.movementRow(where, m, v))
		for _, w := range v.Warnings {
			said = append(said, where+": "+stop(w))
		}
		if !v.WithinValidity {
			said = append(said, where+": the coefficients of movement do not hold for all of these moisture contents.")
		}
	}
	for _, f := range r.Finishes {
		if f.Movement != nil {
			w := f.Where()
			add(placeWords(w.Assembly, w.Layer, w.Room, w.Part), f.Material, f.Movement)
		}
	}
	for _, b := range r.Boards {
		if b.Movement != nil {
			add(placeWords(b.Where.Assembly, b.Where.Layer, b.Where.Room, b.Where.Part), b.Material, b.Movement)
		}
	}
	if len(rows) == 0 {
		return
	}
	p.heading(1, "Movement of solid wood")
	p.captioned(Table{
		Caption: "From the driest to the dampest month",
		Heads:   []string{"Where", "Material", "Moisture content", "Lay it at", "Each board moves", "Widest board", "Acclimatize", "Gap at the edges"}, Rows: rows,
	})
	for _, w := range unique(said) {
		p.para(warning, say(w))
	}
}

// inches words a small length in inches with decimals: a movement is measured,
// not cut.
func inches(r quantity.Range) string {
	const inch = 0.0254
	text := fmt.Sprintf("%.2g in", r.Best/inch)
	if r.Low != r.High {
		text += fmt.Sprintf(" (%.2g to %.2g)", r.Low/inch, r.High/inch)
	}
	return text
}

// movementRow is the movement of one finish or layer.
func (p *page) movementRow(where string, m *kb.Material, v *house.Movement) []Text {
	months := monthNames()
	content := say(p.value(v.Low.Range, quantity.Ratio) + " in " + months[v.Driest] + " to " + p.value(v.High.Range, quantity.Ratio) + " in " + months[v.Dampest])
	if !v.Low.Known || !v.High.Known {
		content = p.estimated(v.Low, quantity.Ratio)
	}
	moves := p.estimated(v.Total, quantity.Length)
	if v.Total.Known && p.Units == quantity.InchPound {
		moves.Words = inches(v.Total.Range)
	}
	if v.Width == 0 && v.PerWidth.Known {
		moves = p.estimated(v.PerWidth, quantity.Ratio)
		moves.Words += " of its width"
	}
	edge := say("")
	if v.Perimeter.Known {
		edge = p.estimated(v.Perimeter, quantity.Length)
	}
	return []Text{
		say(where), say(m.Name), content, p.estimated(v.Target, quantity.Ratio), moves,
		p.estimated(v.WidestBoard, quantity.Length), p.estimated(v.Acclimatize, quantity.Duration), edge,
	}
}
