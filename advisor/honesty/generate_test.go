package honesty_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"relath/kb"
)

// generator makes houses of one assembly out of the base, from a fixed seed:
// some like what people build, some of whatever lies at hand.
type generator struct {
	*rand.Rand
	base *kb.Base
}

func newGenerator(base *kb.Base, seed uint64) generator {
	return generator{rand.New(rand.NewPCG(seed, 2021)), base}
}

// pick draws one of several.
func pick[T any](g generator, list ...T) T { return list[g.IntN(len(list))] }

// often is true in a share of cases.
func (g generator) often(share float64) bool { return g.Float64() < share }

// material draws a material of a form that has one of the terms; any material
// of the form where no term is given.
func (g generator) material(forms []kb.Form, terms ...string) *kb.Material {
	var list []*kb.Material
	for _, m := range g.base.Materials {
		has := len(terms) == 0 || slices.ContainsFunc(terms, func(t string) bool { return slices.Contains(m.Terms, t) })
		if has && slices.Contains(forms, m.Form) && (m.Form == kb.Sheet || m.Form == kb.Coat || m.Thickness.UsualSI > 0) {
			list = append(list, m)
		}
	}
	return pick(g, list...)
}

// solids are the forms of layers that stand by themselves.
func solids() []kb.Form { return []kb.Form{kb.Board, kb.Plaster, kb.Masonry} }

// layer writes a layer of a material.
func (g generator) layer(name string, m *kb.Material, more ...string) string {
	return "{" + strings.Join(append([]string{"name: " + name, "material: " + m.ID}, more...), ", ") + "}"
}

// coats writes the coats of an inner face, some in doubt.
func (g generator) coats(on *kb.Material) string {
	var runs []string
	for range g.IntN(3) {
		c := g.material([]kb.Form{kb.Coat})
		if c.Coating != nil && slices.ContainsFunc(c.Coating.Not, func(t string) bool { return slices.Contains(on.Terms, t) }) && g.often(0.8) {
			continue
		}
		runs = append(runs, fmt.Sprintf("{coating: %s, count: %s}", c.ID, pick(g, "1", "2", "3", "1-3")))
	}
	if len(runs) == 0 {
		return ""
	}
	return "coats: {in: [" + strings.Join(runs, ", ") + "]}"
}

// bay writes a framed layer.
func (g generator) bay() string {
	fill := g.material([]kb.Form{kb.Fill}, "cavity-fill", "fibrous-insulation", "loose-fill")
	id := fill.ID
	if g.often(0.1) {
		id = "{one-of: [" + id + ", none]}"
	}
	filled := ", fill: [{material: " + id + "}]"
	if g.often(0.15) {
		filled = ""
	}
	return fmt.Sprintf("{name: bay, framing: {material: spf-lumber, size: %s, spacing: %s}%s}", pick(g, "2x4", "2x6", "2x8"), pick(g, "16 in", "24 in"), filled)
}

// gap writes an air space.
func (g generator) gap(name string) string {
	return fmt.Sprintf("{name: %s, cavity: %s, air: %s}", name, pick(g, "3/8 in", "3/4 in", "1 in"), pick(g, "closed", "drained", "vented", "ventilated"))
}

// wall lists the layers of a framed wall or roof from outside.
func (g generator) wall(face string) []string {
	sheets := []kb.Form{kb.Sheet}
	list := []string{g.layer("face", g.material([]kb.Form{kb.Board, kb.Masonry, kb.Plaster}, face))}
	if g.often(0.7) {
		list = append(list, g.gap("gap"))
	}
	if g.often(0.7) {
		m := g.material(sheets, "water-resistive-barrier")
		id := m.ID
		if g.often(0.2) {
			id = "{one-of: [" + id + ", none]}"
		}
		list = append(list, fmt.Sprintf("{name: wrap, material: %s}", id))
	}
	if g.often(0.8) {
		m := g.material([]kb.Form{kb.Board}, "sheathing")
		var brace []string
		if slices.ContainsFunc(m.Duties, func(o kb.Offer) bool { return o.Duty == "brace" }) {
			brace = []string{"performs: [brace]"}
		}
		list = append(list, g.layer("sheathing", m, brace...))
	}
	list = append(list, g.bay())
	if g.often(0.5) {
		list = append(list, g.layer("sheet", g.material(sheets), "sealed: "+pick(g, "yes", "no")))
	}
	return append(list, g.inside()...)
}

// inside lists one or two linings.
func (g generator) inside() []string {
	m := g.material([]kb.Form{kb.Board, kb.Plaster}, "lining", "paneling", "lime-plaster", "clay-plaster", "gypsum-plaster")
	list := []string{g.coated("lining", m)}
	if g.often(0.2) {
		list = append(list, g.coated("finish", g.material([]kb.Form{kb.Plaster})))
	}
	return list
}

func (g generator) coated(name string, m *kb.Material) string {
	if coats := g.coats(m); coats != "" {
		return g.layer(name, m, coats)
	}
	return g.layer(name, m)
}

// heap lists layers of whatever lies at hand.
func (g generator) heap() []string {
	var list []string
	for i := range 2 + g.IntN(5) {
		name := fmt.Sprintf("part %d", i+1)
		switch {
		case g.often(0.15):
			list = append(list, g.gap(name))
		case g.often(0.3):
			list = append(list, g.layer(name, g.material([]kb.Form{kb.Sheet})))
		default:
			list = append(list, g.coated(name, g.material(solids())))
		}
	}
	return list
}

// house makes the n-th house.
func (g generator) house(n int) source {
	kind, between, layers := "wall", "[outdoors, room]", []string(nil)
	switch {
	case g.often(0.6):
		layers = g.wall("cladding")
	case g.often(0.3):
		kind, layers = "roof", g.wall("roofing")
	case g.often(0.3):
		kind, between, layers = "attic-floor", "[attic, room]", append([]string{g.bay()}, g.inside()...)
	case g.often(0.4):
		kind, between, layers = "partition", "[room, wet-room]", g.heap()
	default:
		layers = g.heap()
	}
	head := "place: " + pick(g, g.base.Places...).ID
	if g.often(0.8) {
		head += fmt.Sprintf("\ncode: {edition: %s, zone: %s}", pick(g, "IRC-2018", "IRC-2021", "IRC-2012"), pick(g, "2A", "4A", "4C", "5A", "6A", "7"))
	}
	if g.often(0.7) {
		head += fmt.Sprintf("\nbuilt: %d", 1880+g.IntN(140))
	}
	if g.often(0.5) {
		head += "\nindoor: {cooling: {temperature: 75 F, humidity: 50 %}}"
	}
	keys := "kind: " + kind + "\n    between: " + between
	if g.often(0.3) {
		keys += "\n    needs: [brace]"
	}
	if g.often(0.3) {
		keys += "\n    state: " + pick(g, "existing", "proposed")
	}
	return source{fmt.Sprintf("generated-%d.yaml", n), fmt.Sprintf(
		"format: 1\nhouse: Generated\n%s\nassemblies:\n  - name: part\n    %s\n    layers:\n      - %s\n", head, keys, strings.Join(layers, "\n      - "))}
}
