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
	for _, it := range p.Items {
		if w := it.Words; w != nil {
			moved := *w
			moved.At = At(w.At.X, w.At.Y+down)
			out.Add(Item{Words: &moved})
			continue
		}
		moved := *it.Path
		moved.Points = make([]Point, len(it.Path.Points))
		for i, q := range it.Path.Points {
			moved.Points[i] = At(q.X, q.Y+down)
		}
		out.Add(Item{Path: &moved})
	}
	return out
}
