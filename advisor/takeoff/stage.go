package takeoff

// Stage is a step in the order of the trades.
type Stage string

// The stages, in the order in which they are built.
const (
	TearOut         Stage = "tear-out"
	Structure       Stage = "structure"
	Sheathing       Stage = "sheathing"
	Barrier         Stage = "water barrier"
	Cladding        Stage = "cladding"
	OutsidePainting Stage = "painting outside"
	Filling         Stage = "insulation"
	Retarder        Stage = "air and vapor layer inside"
	Lining          Stage = "lining"
	Plastering      Stage = "plastering"
	Painting        Stage = "painting inside"
	Floors          Stage = "floors"
	Trim            Stage = "trim, doors and cabinets"
	FinishCoats     Stage = "coats on wood"
)

// stages lists them in order.
func stages() []Stage {
	return []Stage{
		TearOut, Structure, Sheathing, Barrier, Cladding, OutsidePainting, Filling, Retarder, Lining, Plastering, Painting,
		Floors, Trim, FinishCoats,
	}
}

// holdBefore gives the hold point at the beginning of a stage, and holdAfter
// that at its end: what somebody looks at and writes down before it is covered.
func holdBefore(s Stage) string {
	switch s {
	case TearOut, Structure, Sheathing:
		return ""
	case Cladding:
		return "water barrier and flashing are looked at and photographed before the cladding covers them"
	case Filling:
		return "rough inspections of wires, pipes and framing; moisture of the framing is measured and written down"
	case Lining, Plastering:
		return "insulation and the air and vapor layer are looked at and photographed before they are covered"
	case Painting:
		return "plaster is dry and firm before it is painted; a test patch"
	case Floors:
		return "plaster is dry; moisture of floor and subfloor is measured at delivery"
	}
	return ""
}
