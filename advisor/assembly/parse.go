package assembly

import (
	"relath/kb/strict"
)

// The limits of a description file.
const (
	MaxBytes      = 1 << 20
	MaxAssemblies = 200
	MaxLayers     = 60
	MaxCoatRuns   = 12
	MaxVariants   = 64
	format        = 1
)

// Parse reads a description file. It knows no base: ids, units and order are
// checked by Resolve. All problems come at once.
func Parse(file string, data []byte) (*House, *strict.Document, strict.Problems) {
	doc, problems := strict.Parse(file, data, strict.Limits{Bytes: MaxBytes})
	if len(problems) > 0 {
		return nil, nil, problems
	}
	house := new(House)
	problems = doc.Decode(house)
	problems = append(problems, checkShape(house, doc)...)
	problems.Sort()
	if len(problems) > 0 {
		return nil, doc, problems
	}
	return house, doc, nil
}

// checkShape holds the file to its format number and its limits.
func checkShape(h *House, doc *strict.Document) strict.Problems {
	var problems strict.Problems
	if h.Format != 0 && h.Format != format {
		problems = append(problems, doc.Problem(h.Pos, "format: this program reads format 1", "write format: 1"))
	}
	if len(h.Assemblies) > MaxAssemblies {
		problems = append(problems, doc.Problem(h.Pos, "assemblies: more than 200", "split the house into several files"))
	}
	for _, a := range h.Assemblies {
		if len(a.Layers) > MaxLayers {
			problems = append(problems, doc.Problem(a.Pos, "layers: more than 60", "put fills into their bay and coats on their layer"))
		}
		for _, l := range a.Layers {
			if l.Coats != nil && (len(l.Coats.In) > MaxCoatRuns || len(l.Coats.Out) > MaxCoatRuns) {
				problems = append(problems, doc.Problem(l.Coats.Pos, "coats: more than 12 entries on a face", "use count for coats of one coating"))
			}
		}
	}
	return problems
}

// Write gives the description as a file that Parse reads back to the same
// house.
func Write(h *House) ([]byte, error) { return strict.Encode(h) }
