package web

import (
	"maps"
	"net/url"
	"slices"
	"strings"

	"relath/advisor/assembly"
)

// wasPrefix begins the names of hidden fields that say what a field held when
// its form was made: only what was changed since is an edit, so that a form never
// takes back what somebody else did to the other fields.
const wasPrefix = "was-"

// fields makes hidden fields of names and values.
func fields(pairs ...string) []againField {
	var list []againField
	for i := 0; i+1 < len(pairs); i += 2 {
		list = append(list, againField{Name: wasPrefix + pairs[i], Value: pairs[i+1]})
	}
	return list
}

// partners are the fields whose rows belong together.
func partners() [][]string {
	return [][]string{{"coat-in", "coat-in-count"}, {"coat-out", "coat-out-count"}, {"fill", "fill-thickness"}}
}

// onlyChanges drops the fields of a form that hold what they held when it was
// made.
func onlyChanges(form url.Values) {
	changed := func(name string) bool {
		was, known := form[wasPrefix+name]
		return !known || !slices.Equal(trimmed(form[name]), trimmed(was))
	}
	kept := make(map[string]bool)
	for _, group := range partners() {
		if slices.ContainsFunc(group, func(name string) bool { return form.Has(name) && changed(name) }) {
			for _, name := range group {
				kept[name] = true
			}
		}
	}
	for _, name := range slices.Collect(maps.Keys(form)) {
		if !strings.HasPrefix(name, wasPrefix) && !kept[name] && !changed(name) {
			delete(form, name)
		}
	}
	for name := range form {
		if strings.HasPrefix(name, wasPrefix) {
			delete(form, name)
		}
	}
}

func trimmed(list []string) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = strings.TrimSpace(strings.ReplaceAll(v, "\r\n", "\n"))
	}
	return out
}

// was gives what the form of a layer holds when it is made.
func (c *layerCard) was() []againField {
	d := c.D
	list := fields("name", c.Name, "material", c.Words, "thickness", d.Thickness.Value, "cavity", d.Cavity.Value, "air", string(d.Air),
		"color", string(d.Color), "sealed", string(d.Sealed), "state", string(d.State))
	if d.Framing != nil {
		list = append(list, fields("framing", d.Framing.Material.Value, "size", d.Framing.Size.Value, "spacing", d.Framing.Spacing.Value, "fraction", d.Framing.Fraction.Value)...)
	}
	for _, f := range c.Fills {
		list = append(list, fields("fill", f.Words, "fill-thickness", f.Thickness)...)
	}
	for _, x := range c.CoatIn {
		list = append(list, fields("coat-in", x.Words, "coat-in-count", x.Count)...)
	}
	for _, x := range c.CoatOut {
		list = append(list, fields("coat-out", x.Words, "coat-out-count", x.Count)...)
	}
	return list
}

// wasAssembly gives what the form of an assembly holds when it is made.
func wasAssembly(d *assembly.Described) []againField {
	edge, space := edgeOf(d), spaceOf(d)
	return fields("name", d.Name.Value, "faces", string(d.Faces), "slope", d.Slope.Value, "area", d.Area.Value, "openings", d.Openings.Value,
		"below-grade", d.BelowGrade.Value, "footing-break", string(d.Footing), "edge-insulation", edge.Insulation.Value, "edge-depth", edge.Depth.Value,
		"vents", space.Vents.Value, "high-vents", space.High.Value, "crawl-ground", string(space.Ground), "crawl-air", string(space.Air), "rain", string(d.Rain), "state", string(d.State),
		"first-side", string(d.Between[0]), "second-side", string(d.Between[1]))
}

// wasAbout gives what the form of a house holds when it is made.
func (b *houseBody) wasAbout(h *assembly.House) []againField {
	built := ""
	if h.Built != 0 {
		built = itoa(h.Built)
	}
	list := fields("house", h.House, "place", b.Place, "built", built, "tightness", h.Air.Tightness.Value, "edition", string(h.Code.Edition),
		"zone", h.Code.Zone.Value, "confirmed", string(h.Code.Confirmed))
	for _, season := range []struct {
		name string
		air  *assembly.RoomAir
	}{{"heating", h.Indoor.Heating}, {"cooling", h.Indoor.Cooling}} {
		air, said := season.air, ownAir
		if air == nil {
			air = &assembly.RoomAir{}
		}
		for _, c := range b.Indoor {
			if c.Season == season.name && c.Chosen {
				said = c.Said
			}
		}
		list = append(list, fields(season.name, said, season.name+"-temperature", air.Temperature.Value, season.name+"-humidity", air.Humidity.Value)...)
		if season.name == "cooling" {
			list = append(list, fields("supply-air", air.SupplyAir.Value)...)
		}
	}
	return list
}
