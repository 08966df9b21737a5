package analysis

import (
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// FinishSize is how much there is of a finish in a material.
type FinishSize struct {
	Faces     quantity.Range // m² of face, 0 where it is not given
	Thickness float64        // m, 0 where it is not known
	Assumed   string         // id of the assumption that gives the face of a piece, or ""
}

// SizeOfFinish measures a finish in a material, that of the description or one
// that may take its place. The face is an area as given, that of trim its length
// and width, that of doors and cabinets their count and a usual size. A material
// that is not the described one takes the described thickness when the finish is
// trim, else its usual thickness.
func SizeOfFinish(base *kb.Base, f *assembly.ResolvedFinish, m *kb.Material) FinishSize {
	size := FinishSize{Thickness: m.Thickness.UsualSI}
	described := slices.ContainsFunc(f.Materials, func(x *kb.Material) bool { return x.ID == m.ID })
	if f.Thickness > 0 && (described || hasTerm(m, "trim")) {
		size.Thickness = f.Thickness
	}
	count := float64(f.Finish.Count)
	switch {
	case f.Area > 0:
		size.Faces = quantity.Exact(f.Area)
	case f.Length > 0:
		size.Faces = quantity.Exact(f.Length * f.Width)
	case count > 0 && hasTerm(m, "door"):
		size.Assumed = "door-face"
	case count > 0 && hasTerm(m, "cabinet"):
		size.Assumed = "cabinet-board"
	}
	if a := base.Assumption(size.Assumed); a != nil {
		size.Faces = a.SI.Scale(count)
	}
	return size
}

// Glue is the adhesive in a finish of this size, kg: volume times density times
// adhesive share. It says what is missing where that is not known.
func (s FinishSize) Glue(m *kb.Material) (glue quantity.Range, missing string) {
	share, ok := m.Working("adhesive-share", kb.AnyMethod, 0)
	if !ok {
		return glue, "the base has no adhesive share for " + m.Name
	}
	if share.SI.High == 0 {
		return glue, ""
	}
	density, ok := m.Working("density", kb.AnyMethod, 0)
	switch {
	case !ok:
		return glue, "the base has no density for " + m.Name
	case s.Faces.High == 0:
		return glue, "a length with a cross section, an area or a count is not given"
	case s.Thickness == 0:
		return glue, "the thickness of " + m.Name + " is not known"
	}
	volume := s.Faces.Scale(s.Thickness)
	return quantity.Range{
		Low: volume.Low * density.SI.Low * share.SI.Low, Best: volume.Best * density.SI.Best * share.SI.Best, High: volume.High * density.SI.High * share.SI.High,
	}, ""
}
