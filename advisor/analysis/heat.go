package analysis

import (
	"fmt"

	"relath/advisor/assembly"
	"relath/advisor/steady"
	"relath/kb"
	"relath/kb/quantity"
)

// heatOf gives the thermal resistance of a material of a thickness [m²·K/W],
// with its inputs, the preferred first. Sheets and coats have none.
func heatOf(read *kb.Reader, m *kb.Material, depth float64, layer string) (r quantity.Range, inputs []Input, lacks string) {
	if m.Form == kb.Sheet || m.Form == kb.Coat {
		return quantity.Range{}, nil, ""
	}
	w, ok := read.Working(m, "thermal-resistance", kb.AnyMethod, depth)
	if !ok {
		return quantity.Range{}, nil, fmt.Sprintf("thermal conductivity of %s (%s)", layer, m.Name)
	}
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
	inside, err := steady.InsideFilm(flowOf(a.Kind, a.Slope), steady.Emittance90)
	if err != nil {
		return 0, 0
	}
	return inside, outerFilm(a.Between[0], inside, steady.OutsideFilmWinter)
}

// filmsISO gives the film resistances of the monthly method [m²·K/W] (ISO
// 13788, recalled).
func filmsISO(a *assembly.Assembly) (inside, outside float64) {
	inside, err := steady.InsideFilmISO(flowOf(a.Kind, a.Slope))
	if err != nil {
		return 0, 0
	}
	return inside, outerFilm(a.Between[0], inside, steady.OutsideFilmISO)
}

// outerFilm is the film on the first side: wind outdoors, none against ground,
// still air elsewhere.
func outerFilm(side assembly.Side, still, wind float64) float64 {
	switch side {
	case "outdoors":
		return wind
	case "ground":
		return 0
	}
	return still
}
