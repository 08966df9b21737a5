package takeoff

import (
	"fmt"

	"relath/advisor/assembly"
	"relath/kb"
	"relath/kb/quantity"
)

// finish takes the quantities of one line of the finish schedule, in its first
// material.
func (t *taker) finish(f *assembly.ResolvedFinish) {
	if len(f.Materials) == 0 || f.State != "proposed" && !t.job.All {
		return
	}
	m := f.Materials[0]
	if len(f.Materials) > 1 {
		t.warn(fmt.Sprintf("%s, %s is in doubt and taken as %s", f.Finish.Room, f.Name, m.Name))
	}
	l := Line{
		Where: Where{Room: f.Finish.Room.Value, Part: f.Name}, Item: m.ID, Name: m.Name, Material: m,
		Supplier: supplierOf(m), Of: -1, Stage: Trim,
	}
	if hasTerm(m, "flooring", "carpet") {
		l.Stage = Floors
	}
	face := t.measureFinish(&l, f)
	t.add(l)
	if face <= 0 && len(f.Coats) > 0 {
		t.warn(fmt.Sprintf("%s, %s: the area of its coats is not given", f.Finish.Room, f.Name))
		return
	}
	t.finishCoats(f, l.Where, face)
}

// measureFinish measures a finish and gives its face, m².
func (t *taker) measureFinish(l *Line, f *assembly.ResolvedFinish) float64 {
	m := l.Material
	depth := f.Thickness
	if depth == 0 {
		depth = m.Thickness.UsualSI
	}
	face := f.Area
	switch {
	case f.Finish.Count > 0:
		l.Waste = t.assumedWaste(l, "takeoff-waste-pieces")
		l.measure(Pieces, quantity.Exact(float64(f.Finish.Count)))
	case f.Length > 0:
		l.Waste = t.waste(l, "", "takeoff-waste-trim")
		l.measure(Length, quantity.Exact(f.Length))
		face = f.Length * f.Width
		l.How = append(l.How, show(f.Length, quantity.Length))
	case f.Area > 0:
		id := "takeoff-waste-floor"
		if !hasTerm(m, "flooring", "carpet") {
			id = "takeoff-waste-panels"
		}
		l.Waste = t.waste(l, "", id)
		l.measure(Area, quantity.Exact(f.Area))
		l.How = append(l.How, show(f.Area, quantity.Area))
	default:
		l.Missing = fmt.Sprintf("how much of %s, %s there is is not given", f.Finish.Room, f.Name)
	}
	if face > 0 {
		l.Glue = t.glue(l, m, quantity.Exact(face), depth)
	} else if share, ok := m.Working("adhesive-share", kb.AnyMethod, 0); ok && share.SI.High > 0 && l.Missing == "" {
		t.warn(fmt.Sprintf("%s, %s: its glue is not counted here, a piece has no size", f.Finish.Room, f.Name))
	}
	return face
}

// finishCoats takes the coats of a finish.
func (t *taker) finishCoats(f *assembly.ResolvedFinish, where Where, face float64) {
	for from := 0; from < len(f.Coats); {
		to := from
		for to < len(f.Coats) && f.Coats[to].ID == f.Coats[from].ID {
			to++
		}
		m := f.Coats[from]
		l := Line{Where: where, Item: m.ID, Name: m.Name, Material: m, Supplier: supplierOf(m), Of: -1, Stage: FinishCoats}
		l.How = append(l.How, show(face, quantity.Area))
		t.coat(&l, "", quantity.Exact(face), to-from)
		t.add(l)
		from = to
	}
}
