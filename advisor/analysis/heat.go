package analysis

import (
	"fmt"

	"relath/advisor/assembly"
	"relath/advisor/steady"
	"relath/kb"
	"relath/kb/quantity"
)

// heatOf gives the thermal resistance of a material of a thickness [m²·K/W],
// with its inputs. Sheets and coats have none.
func heatOf(m *kb.Material, depth float64, layer string) (quantity.Range, []Input, string) {
	if m.Form == kb.Sheet || m.Form == kb.Coat {
		return quantity.Range{}, nil, ""
	}
	w, ok := m.Working("thermal-resistance", kb.AnyMethod, depth)
	if !ok {
		return quantity.Range{}, nil, fmt.Sprintf("thermal conductivity of %s (%s)", layer, m.Name)
	}
	var inputs []Input
	for _, v := range valuesOf(w) {
		inputs = append(inputs, Input{Layer: layer, Material: m.ID, Property: v.Property, Value: v})
	}
	return w.SI, inputs, ""
}

// flowOf is the direction of heat flow through an assembly in winter.
func flowOf(k assembly.Kind, slope float64) steady.HeatFlow {
	switch k {
	case "attic-floor", "ceiling":
		return steady.Up
	case "roof":
		if slope > 0.5 {
			return steady.SlantUp
		}
		return steady.Up
	case "floor", "slab":
		return steady.Down
	}
	return steady.Horizontal
}

// airSpace gives the resistance of an air space [m²·K/W]: ISO 6946 between
// ordinary surfaces, up to 0.3 m.
func airSpace(depth float64, flow steady.HeatFlow) float64 {
	const deepest = 0.3
	r, err := steady.AirSpaceISO(min(depth, deepest), flow)
	if err != nil {
		return 0
	}
	return r
}

// films gives the film resistances for the printed U-factor [m²·K/W]: ASHRAE
// Handbook—Fundamentals 2021, ch. 26, Table 10, still air on a side that is
// not outdoors, none against ground.
func films(a *assembly.Assembly) (inside, outside float64) {
	flow := flowOf(a.Kind, a.Slope)
	inside, _ = steady.InsideFilm(flow, steady.Emittance90)
	switch a.Between[0] {
	case "outdoors":
		outside = steady.OutsideFilmWinter
	case "ground":
		outside = 0
	default:
		outside = inside
	}
	return inside, outside
}

// filmsISO gives the film resistances of the monthly method (ISO 13788,
// recalled).
func filmsISO(a *assembly.Assembly) (inside, outside float64) {
	inside, _ = steady.InsideFilmISO(flowOf(a.Kind, a.Slope))
	switch a.Between[0] {
	case "outdoors":
		outside = steady.OutsideFilmISO
	case "ground":
		outside = 0
	default:
		outside = inside
	}
	return inside, outside
}
