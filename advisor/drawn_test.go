package advisor_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"relath/kb"
)

// drawer draws houses of one assembly: any kind, any place, any material that
// does the job of a layer, with a seed of its own.
type drawer struct {
	*rand.Rand
	base *kb.Base
	out  []string // layers drawn so far
}

func newDrawer(base *kb.Base, seed uint64) *drawer {
	return &drawer{Rand: rand.New(rand.NewPCG(seed, 17)), base: base}
}

func (d *drawer) maybe(share float64) bool { return d.Float64() < share }

func (d *drawer) pick(list ...string) string { return list[d.IntN(len(list))] }

// material draws a material of a term and one of the forms.
func (d *drawer) material(term string, forms ...kb.Form) *kb.Material {
	var list []*kb.Material
	for _, m := range d.base.Materials {
		if slices.Contains(m.Terms, term) && slices.Contains(forms, m.Form) {
			list = append(list, m)
		}
	}
	return list[d.IntN(len(list))]
}

// layer adds a layer of a material at its usual thickness.
func (d *drawer) layer(name string, m *kb.Material, more string) {
	text := fmt.Sprintf("{name: %s, material: %s", name, m.ID)
	if m.Form != kb.Sheet && m.Thickness.UsualSI > 0 {
		text += fmt.Sprintf(", thickness: %.4g mm", 1000*m.Thickness.UsualSI)
	}
	d.out = append(d.out, text+more+"}")
}

// bay adds a framed layer with or without a fill.
func (d *drawer) bay(name string) {
	size, depth := "2x4", "3-1/2 in"
	if d.maybe(0.5) {
		size, depth = "2x6", "5-1/2 in"
	}
	text := fmt.Sprintf("{name: %s, framing: {material: spf-lumber, size: %s, spacing: 16 in}", name, size)
	if d.maybe(0.85) {
		text += fmt.Sprintf(", fill: [{material: %s, thickness: %s}]", d.material("cavity-fill", kb.Fill).ID, depth)
	}
	d.out = append(d.out, text+"}")
}

// inside adds a film or none, and the face toward the room with its paint.
func (d *drawer) inside() {
	if d.maybe(0.4) {
		d.layer("film", d.base.Material(d.pick("polyethylene-6mil", "kraft-facing", "variable-retarder-polyamide")), ", sealed: "+d.pick("yes", "no"))
	}
	paint := ""
	if d.maybe(0.7) {
		paint = fmt.Sprintf(", coats: {in: [{coating: %s, count: %d}]}", d.pick("latex-paint", "oil-paint", "limewash"), 1+d.IntN(4))
	}
	d.layer("face", d.material("lining", kb.Board, kb.Plaster), paint)
}

// wetFace adds the second face of a partition, as baths have it or not: with vinyl,
// paint or tile.
func (d *drawer) wetFace() {
	face := d.material("lining", kb.Board, kb.Plaster)
	if d.maybe(0.5) {
		face = d.base.Material(d.pick("gypsum-board", "moisture-resistant-gypsum-board", "plywood-paneling", "hardboard-panel"))
	}
	switch {
	case d.maybe(0.3):
		d.layer("second", face, "")
		d.layer("tile", d.base.Material("ceramic-tile"), "")
	default:
		d.layer("second", face, fmt.Sprintf(", coats: {in: [{coating: %s}]}", d.pick("vinyl-wallcovering", "latex-paint", "oil-paint")))
	}
}

// outside adds cladding, gap, barrier and sheathing.
func (d *drawer) outside() {
	d.layer("cladding", d.material("cladding", kb.Board, kb.Sheet, kb.Plaster), "")
	if d.maybe(0.5) {
		d.out = append(d.out, fmt.Sprintf("{name: gap, cavity: %s, air: %s}", d.pick("3/8 in", "3/4 in", "1 in"), d.pick("closed", "drained", "vented", "ventilated")))
	}
	if d.maybe(0.7) {
		d.layer("barrier", d.material("water-resistive-barrier", kb.Sheet), "")
	}
	if d.maybe(0.8) {
		d.layer("sheathing", d.material("sheathing", kb.Board), "")
	}
}

// house draws a house of one assembly of a kind.
func (d *drawer) house(kind string) string {
	d.out = nil
	between, keys := "[outdoors, room]", ""
	switch kind {
	case "wall":
		if d.maybe(0.2) {
			d.layer("masonry", d.material("mass", kb.Masonry), "")
			d.inside()
			break
		}
		d.outside()
		d.bay("bay")
		d.inside()
	case "roof":
		keys = "\n    slope: 6/12"
		d.layer("roofing", d.material("roofing", kb.Sheet, kb.Board), "")
		d.layer("underlay", d.material("water-resistive-barrier", kb.Sheet), "")
		d.layer("deck", d.material("sheathing", kb.Board), "")
		if d.maybe(0.25) {
			d.out = append(d.out, "{name: vent, cavity: 1-1/2 in, air: vented}")
		}
		d.bay("rafters")
		d.inside()
	case "attic-floor", "ceiling":
		between = "[attic, room]"
		d.bay("joists")
		d.inside()
	case "floor":
		first := d.pick("crawl", "garage", "outdoors")
		between = "[" + first + ", room]"
		if first == "crawl" && d.maybe(0.5) {
			keys = "\n    area: 900 ft2\n    space: {vents: " + d.pick("none", "1 ft2", "8 ft2") + ", ground: " + d.pick("bare", "laid", "sealed") + "}"
		}
		d.bay("joists")
		d.layer("subfloor", d.material("subfloor", kb.Board), "")
		d.layer("floor", d.material("flooring", kb.Board), "")
	case "slab":
		between = "[ground, room]"
		if d.maybe(0.5) {
			keys = "\n    edge: {insulation: " + d.pick("R-5", "R-10") + ", depth: " + d.pick("2 ft", "4 ft") + "}"
		}
		if d.maybe(0.3) {
			d.layer("gravel", d.base.Material("gravel-bed"), "")
		}
		if d.maybe(0.4) {
			d.layer("film", d.base.Material("under-slab-retarder"), "")
		}
		d.layer("slab", d.base.Material("concrete"), "")
		d.layer("floor", d.material("flooring", kb.Board), "")
	case "basement-wall":
		between, keys = "[ground, room]", "\n    below-grade: 5 ft"+d.pick("", "\n    footing-break: yes", "\n    footing-break: no")
		d.layer("masonry", d.material("mass", kb.Masonry), "")
		if d.maybe(0.6) {
			d.bay("studs")
			d.inside()
		}
	case "partition":
		between = "[room, " + d.pick("room", "wet-room") + "]"
		d.layer("first", d.material("lining", kb.Board, kb.Plaster), "")
		d.bay("studs")
		d.wetFace()
	}
	return d.head() + fmt.Sprintf("assemblies:\n  - name: part\n    kind: %s\n    between: %s%s\n    state: %s\n    layers:\n      - ", kind, between, keys, d.pick("existing", "proposed")) +
		strings.Join(d.out, "\n      - ") + "\n"
}

// head draws the house around: place, age, code, rooms.
func (d *drawer) head() string {
	place := d.base.Places[d.IntN(len(d.base.Places))]
	text := fmt.Sprintf("format: 1\nhouse: Drawn\nplace: %s\nbuilt: %d\n", place.ID, 1900+d.IntN(125))
	if d.maybe(0.8) {
		text += fmt.Sprintf("code: {edition: %s, zone: %s, confirmed: yes}\n", d.pick("IRC-2009", "IRC-2015", "IRC-2018", "IRC-2021", "IRC-2024"), d.pick("1A", "2A", "2B", "3A", "3C", "4A", "4C", "5A", "6A", "7", "8"))
	}
	text += fmt.Sprintf("air: {tightness: %s}\nindoor:\n  heating: {temperature: 68 F, humidity: %d %%}\n", d.pick("leaky", "typical", "tight"), 25+5*d.IntN(6))
	if d.maybe(0.7) {
		text += "  cooling: {temperature: 75 F, humidity: 50 %}\n"
	}
	return text
}
