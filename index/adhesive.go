package index

import (
	"strings"

	"relath/kb"
)

// glue says whether a material holds glue; Fails means that it holds none. The
// base begins the words of an entry without glue with "none"; what follows may
// open a door again: "none, or a little starch", "none; at times acrylic
// additive".
func glue(m *kb.Material) Outcome {
	words := strings.ToLower(strings.TrimSpace(m.Composition.Adhesive))
	rest, none := strings.CutPrefix(words, "none")
	switch {
	case words == "":
		return NoData
	case strings.HasPrefix(words, "little or none"), strings.HasPrefix(words, "no resin in the core"), strings.HasPrefix(words, "0 to "),
		strings.Contains(words, " or none"), strings.HasSuffix(words, " in some"):
		return Possibly
	case !none:
		return Surely
	case rest == "", strings.HasPrefix(rest, " in itself"), strings.HasPrefix(rest, ";") && !strings.Contains(rest, "at times"):
		return Fails
	}
	return Possibly
}

// adhesive says whether a material meets what the query says of glue; empty
// where it says nothing.
func (c constraints) adhesive(m *kb.Material) Outcome {
	has := glue(m)
	switch c.glue {
	case "":
		return ""
	case "none":
		return opposite(has)
	case "some":
		return has
	}
	switch {
	case has == NoData:
		return NoData
	case strings.Contains(strings.ToLower(m.Composition.Adhesive), c.glue):
		return Surely
	}
	return Fails
}

func opposite(o Outcome) Outcome {
	switch o {
	case Surely:
		return Fails
	case Fails:
		return Surely
	}
	return o
}
