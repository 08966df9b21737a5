package web

import (
	"fmt"
	"maps"
	"net/url"
	"slices"
)

// fieldWords names the fields that a reader may see and mend.
func fieldWords() map[string]string {
	return map[string]string{
		"house": "name of the house", "place": "place", "built": "year built", "edition": "edition of the code", "zone": "climate zone",
		"confirmed": "code confirmed with the building department", "tightness": "air tightness",
		"heating": "winter air", "cooling": "summer air", "heating-temperature": "winter temperature", "heating-humidity": "winter humidity",
		"cooling-temperature": "summer temperature", "cooling-humidity": "summer humidity", "supply-air": "supply air",
		"name": "name", "faces": "faces", "slope": "slope", "area": "area", "openings": "openings", "below-grade": "below grade",
		"footing-break": "capillary break on the footing", "edge-insulation": "insulation at the edge", "edge-depth": "depth of the insulation at the edge",
		"vents": "net free area of the vents", "high-vents": "share of the vents that lies high", "crawl-ground": "ground of the crawl space", "crawl-air": "air of the crawl space",
		"rain": "exposure to rain", "state": "standing or proposed", "material": "material", "thickness": "thickness",
		"cavity": "thickness of the gap", "air": "air of the gap", "size": "framing size", "spacing": "framing spacing", "fraction": "framing share",
		"framing": "framing material", "fill": "fill", "fill-thickness": "thickness of the fill", "color": "color", "sealed": "joints sealed",
		"coat-in": "coat toward the second side", "coat-in-count": "how many of it", "coat-out": "coat toward the first side",
		"coat-out-count": "how many of it", "why": "why", "first-side": "first side", "second-side": "second side", "room": "room", "part": "what it is there", "finish": "material", "finish-length": "length", "finish-area": "area",
		"finish-size": "size", "count": "how many pieces", "use": "use", "height": "height", "cold": "what it is", "inside": "temperature inside",
		"around": "what is around it", "insulation": "insulation", "diameter": "diameter", "own-amount": "so much water", "when": "when", "text": "the description",
	}
}

// againFields splits the fields of a form into those that a reader mends and
// those that are carried along.
func againFields(form url.Values, which *choose) (shown, hidden []againField) {
	words := fieldWords()
	for _, name := range slices.Sorted(maps.Keys(form)) {
		if name == "token" || name == "based" || name == "back" {
			continue
		}
		for i, value := range form[name] {
			f := againField{ID: fmt.Sprintf("f-%s-%d", name, i), Name: name, Label: words[name], Value: value, Long: name == "text"}
			if which != nil && which.field == name && value == which.typed {
				f.Options = which.options
			}
			if f.Label == "" {
				hidden = append(hidden, f)
			} else {
				shown = append(shown, f)
			}
		}
	}
	return shown, hidden
}
