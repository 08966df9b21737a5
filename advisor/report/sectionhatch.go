package report

import (
	"slices"

	"relath/advisor/drawing"
	"relath/kb"
)

// patternOf says how a material is hatched when it is cut, by its terms and by
// what it breaks down to.
func patternOf(m *kb.Material) drawing.Pattern {
	for _, x := range []struct {
		term    string
		pattern drawing.Pattern
	}{
		{"metal", drawing.Filled},
		{"carpet", drawing.Pile},
		{"foam-plastic", drawing.Cross},
		{"brick", drawing.Diagonal},
		{"block", drawing.Pairs},
		{"tile", drawing.Dense},
		{"adhered-veneer", drawing.Rubble},
		{"stone", drawing.Rubble},
		{"concrete", drawing.Aggregate},
		{"straw", drawing.Straw},
		{"gypsum-board", drawing.Sparse},
		{"gypsum-sheathing", drawing.Sparse},
		{"fiber-cement", drawing.Sparse},
	} {
		if slices.Contains(m.Terms, x.term) && (x.term != "metal" || m.Form == kb.Sheet) {
			return x.pattern
		}
	}
	return patternByForm(m)
}

// patternByForm is for materials without a hatch of their own.
func patternByForm(m *kb.Material) drawing.Pattern {
	switch m.Form {
	case "plaster":
		return drawing.Dots
	case "fill":
		if !slices.Contains(m.Terms, "air-permeable-insulation") {
			return drawing.Gravel
		}
		if m.Breakdown == "loose" || slices.Contains(m.Terms, "loose-fill") {
			return drawing.Loose
		}
		return drawing.Wave
	}
	if slices.Contains(m.Terms, "fibrous-insulation") {
		return drawing.Wave
	}
	switch m.Breakdown {
	case "solid":
		return drawing.LongGrain
	case "plies":
		return drawing.Plies
	case "strands":
		return drawing.Strands
	case "fibers":
		return drawing.Fibers
	case "particles":
		return drawing.Particles
	case "foam":
		return drawing.Cross
	case "loose":
		return drawing.Gravel
	case "film":
		return drawing.Filled
	}
	if slices.Contains(m.Terms, "clay") {
		return drawing.Straw
	}
	return drawing.Diagonal
}
