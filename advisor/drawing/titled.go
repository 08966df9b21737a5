package drawing

// Titled gives the picture with its title written above it, for where it stands
// alone.
func (p *Picture) Titled() *Picture {
	const size, lead, margin = 3.4, 4.6, 2.0
	lines := NewRuler().Fit(p.Title, size, p.Width-2*margin, true)
	down := lead*float64(len(lines)) + 3
	out := &Picture{Width: p.Width, Height: p.Height + down, Title: p.Title, About: p.About}
	for i, line := range lines {
		out.Add(Item{Words: &Words{At: At(margin, lead*float64(i+1)), Text: line, Size: size, Bold: true, Ink: Full}})
	}
	out.Place(p, 0, down)
	return out
}

// Place adds all that another picture shows, moved to the right and down.
func (p *Picture) Place(other *Picture, right, down float64) {
	for _, it := range other.Items {
		if w := it.Words; w != nil {
			moved := *w
			moved.At = At(w.At.X+right, w.At.Y+down)
			p.Add(Item{Words: &moved})
			continue
		}
		moved := *it.Path
		moved.Points = make([]Point, len(it.Path.Points))
		for i, q := range it.Path.Points {
			moved.Points[i] = At(q.X+right, q.Y+down)
		}
		p.Add(Item{Path: &moved})
	}
}
