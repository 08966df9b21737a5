package report

import (
	"encoding/json"
	"io"
)

// Answer is what the JSON face writes: the results in SI, unrounded, with the
// document that the other faces show.
type Answer struct {
	Format   int       `json:"format"`          // of this object, 1
	Kind     string    `json:"kind"`            // analysis, advice, material, ...
	Base     string    `json:"base"`            // version of the base
	Data     any       `json:"data"`            // results, SI with unit names
	House    any       `json:"house,omitempty"` // of an analysis: the house as a whole
	Document *Document `json:"document"`        // as the other faces show it
}

// JSON writes an answer, indented, with a line end.
func (a Answer) JSON(w io.Writer) error {
	a.Format = 1
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(a)
}
