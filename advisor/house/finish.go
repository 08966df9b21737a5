package house

import (
	"fmt"

	"relath/advisor/analysis"
	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// Finish is one line of the finish schedule in one material.
type Finish struct {
	Of        *assembly.ResolvedFinish
	Material  *kb.Material
	Thickness float64           // m
	Area      float64           // m² of face, 0 where it is not known
	Volume    analysis.Estimate // m³
	Mass      analysis.Estimate // kg
	PerArea   analysis.Estimate // kg/m²
	Glue      analysis.Estimate // kg of adhesive
	Movement  *Movement         // nil for what does not move with the seasons
}

// Where names the finish.
func (f Finish) Where() Where {
	return Where{Room: f.Of.Finish.Room.Value, Part: f.Of.Name}
}

// Finish studies a finish in a material: that of the description, or one that
// may take its place. A material that is not the described one takes the
// described size when the finish is trim, else its usual thickness.
func (s *Study) Finish(f *assembly.ResolvedFinish, m *kb.Material) Finish {
	size := analysis.SizeOfFinish(s.base, f, m)
	out := Finish{Of: f, Material: m, Thickness: size.Thickness}
	t := &trace{}
	faces := size.Faces
	if size.Assumed != "" {
		faces = s.take(t, size.Assumed).Scale(float64(f.Finish.Count))
	}
	out.Area = faces.Best
	out.Volume = missing("how much of %s, %s there is is not given", f.Finish.Room.Value, f.Name)
	switch {
	case faces.High > 0 && out.Thickness > 0:
		out.Volume = t.estimate(faces.Scale(out.Thickness))
	case faces.High > 0:
		out.Volume = missing("the thickness of %s is not known", m.Name)
	}
	out.weigh(t, size)
	out.Movement = s.movement(f, m)
	return out
}

// weigh fills in mass, mass per area and glue.
func (f *Finish) weigh(t *trace, size analysis.FinishSize) {
	density, ok := f.Material.Working("density", kb.AnyMethod, 0)
	share, _ := f.Material.Working("adhesive-share", kb.AnyMethod, 0)
	switch {
	case !ok:
		f.Mass = missing("the base has no density for %s", f.Material.Name)
		f.PerArea = f.Mass
	default:
		t.value(f.Of.Name, f.Material, density)
		f.PerArea = t.estimate(density.SI.Scale(f.Thickness))
		f.Mass = f.Volume
		if f.Volume.Known {
			f.Mass = t.estimate(times(f.Volume.Range, density.SI))
		}
	}
	glue, lacks := size.Glue(f.Material)
	switch {
	case lacks != "":
		f.Glue = analysis.Estimate{Missing: lacks}
	case glue.High == 0:
		f.Glue = exact(0)
		f.Glue.Evidence = share.Evidence
	default:
		t.value(f.Of.Name, f.Material, share)
		f.Glue = t.estimate(glue)
	}
}

// Change is what another material in the place of a finish does to what stands
// around it.
type Change struct {
	Thickness float64           // m, above 0 when it grows
	PerArea   analysis.Estimate // kg/m², above 0 when it gets heavier
	Notes     []string
}

// Change compares a finish with what may take its place.
func (s *Study) Change(old, fresh Finish) Change {
	c := Change{Thickness: fresh.Thickness - old.Thickness}
	c.PerArea = missing("the weight of one of them is not known")
	if old.PerArea.Known && fresh.PerArea.Known {
		a, b := fresh.PerArea.Range, old.PerArea.Range
		c.PerArea = analysis.Estimate{
			Known: true, Range: quantity.Range{Low: a.Low - b.High, Best: a.Best - b.Best, High: a.High - b.Low},
			Evidence: fresh.PerArea.Evidence.Weaker(old.PerArea.Evidence),
		}
	}
	const slight = 1e-4
	switch {
	case hasTerm(fresh.Material, "flooring") && c.Thickness > slight:
		c.Notes = s.higher(c.Thickness)
	case hasTerm(fresh.Material, "flooring") && c.Thickness < -slight:
		c.Notes = s.lower(-c.Thickness)
	case hasTerm(fresh.Material, "trim") && c.Thickness > slight:
		c.Notes = append(c.Notes, "baseboard that is thicker than the door casing stands out beside it: use a plinth block or thicker casing")
	}
	if hasTerm(fresh.Material, "door") && c.PerArea.Known && c.PerArea.Range.Best > slight {
		c.Notes = append(c.Notes, "a heavier leaf needs hinges and screws for its weight, and a third hinge")
	}
	return c
}

// higher says what a floor that gets thicker needs.
func (s *Study) higher(by float64) []string {
	size := quantity.Format(by, quantity.Length, quantity.InchPound)
	notes := []string{
		fmt.Sprintf("the floor stands %s higher: cut doors and jambs, look at dishwasher and range, and ease the edge to other floors", size),
	}
	return append(notes, s.risers(by, size, "the lowest riser gets smaller and the highest larger"))
}

// lower says what a floor that gets thinner needs.
func (s *Study) lower(by float64) []string {
	size := quantity.Format(by, quantity.Length, quantity.InchPound)
	notes := []string{
		fmt.Sprintf("the floor stands %s lower: baseboards and door bottoms show a gap, and the edge to other floors needs a strip", size),
	}
	return append(notes, s.risers(by, size, "the risers at its ends change"))
}

// risers says whether the stairs stay within the difference that the code
// allows between risers.
func (s *Study) risers(by float64, size, how string) string {
	limit := s.take(&trace{}, "riser-difference").Best
	allowed := quantity.Format(limit, quantity.Length, quantity.InchPound)
	if by > limit {
		return fmt.Sprintf("stairs: %s by %s, more than the %s by which risers of one flight may differ, unless the flight is changed too", how, size, allowed)
	}
	return fmt.Sprintf("stairs: %s by %s; risers of one flight may differ by %s in all, so measure them first", how, size, allowed)
}
